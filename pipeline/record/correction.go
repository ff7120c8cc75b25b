package record

import "time"

// Answer is a person's answer to a question of the matcher.
type Answer struct {
	Question string    `json:"question"`
	At       time.Time `json:"at"`
	// Choice is a choice's id, "neither" or "unknown".
	Choice string `json:"choice"`
	// Session and Slot say what was asked about, WeighIn what was chosen, so
	// that an answer stays true when questions are numbered anew.
	Session string `json:"session,omitempty"`
	Slot    string `json:"slot,omitempty"` // "before" or "after"
	WeighIn string `json:"weigh_in,omitempty"`
}

// CorrectionKind is what a person put right.
type CorrectionKind string

const (
	// DropActivity leaves activities out.
	DropActivity CorrectionKind = "drop-activity"
	// MoveActivity gives activities to another athlete.
	MoveActivity CorrectionKind = "move-activity"
	// Join makes one session of several activities.
	Join CorrectionKind = "join"
	// Split keeps activities apart that would be joined.
	Split CorrectionKind = "split"
	// DropWeighIn leaves a reading out.
	DropWeighIn CorrectionKind = "drop-weigh-in"
)

// Correction is a person's correction; it supersedes, nothing is overwritten.
type Correction struct {
	Kind       CorrectionKind `json:"kind"`
	At         time.Time      `json:"at"`
	Activities []string       `json:"activities,omitempty"` // activity IDs
	WeighIn    string         `json:"weigh_in,omitempty"`   // weigh-in ID
	Athlete    string         `json:"athlete,omitempty"`    // the new athlete of a move
}

// Weather is one observation of the air.
type Weather struct {
	At       time.Time `json:"at"`
	AirTempC float64   `json:"air_temp_c"`
	// DewPointC, HumidityPct, WindMPerS, SunWPerM2 and PressureHPa are nil when not observed.
	DewPointC   *float64  `json:"dew_point_c,omitempty"`
	HumidityPct *float64  `json:"humidity_pct,omitempty"`
	WindMPerS   *float64  `json:"wind_m_per_s,omitempty"`
	SunWPerM2   *float64  `json:"sun_w_per_m2,omitempty"`
	PressureHPa *float64  `json:"pressure_hpa,omitempty"`
	Place       *Position `json:"place,omitempty"`
	AltitudeM   *float64  `json:"altitude_m,omitempty"`
	Station     string    `json:"station,omitempty"`
	Origin      Origin    `json:"origin"`
}
