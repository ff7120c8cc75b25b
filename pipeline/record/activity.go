package record

import (
	"time"

	"saltpan/pipeline/quantity"
)

// Sports that get an effort. Every other sport is kept under its own name
// ("cycling", "swimming", "transition", "other" …), in lower case.
const (
	Running = "running"
	Walking = "walking"
	// UnknownSport stands where a file does not say.
	UnknownSport = "unknown"
)

// Activity is one bout as one file tells it. A file with several sessions
// gives several activities.
type Activity struct {
	// ID is the source's SHA-256, a colon and the bout's number in the file
	// (from 0): the same content always has the same ID.
	ID       string `json:"id"`
	Athlete  string `json:"athlete"`
	Sport    string `json:"sport"`
	SubSport string `json:"sub_sport,omitempty"` // "treadmill", "trail", "indoor" …, lower case
	// Start is the first moment of the bout, UTC.
	Start time.Time `json:"start"`
	// Elapsed runs from start to stop, pauses included.
	Elapsed time.Duration `json:"elapsed"`
	// Moving is the timer's time, pauses left out; nil when the file has none.
	Moving *time.Duration `json:"moving,omitempty"`
	// UTCOffset is local time minus UTC where the file says so believably.
	UTCOffset *time.Duration     `json:"utc_offset,omitempty"`
	Distance  *quantity.Distance `json:"distance_m,omitempty"`
	Ascent    *quantity.Distance `json:"ascent_m,omitempty"`
	MeanHRBpm *float64           `json:"mean_hr_bpm,omitempty"`
	// MeanTemp is what the watch's own sensor read on average: warm by the wrist.
	MeanTemp *quantity.Temperature `json:"mean_temp_c,omitempty"`
	Laps     []Lap                 `json:"laps,omitempty"`
	// Device tells two recorders apart without naming them: the file's own
	// class of device and a short hash, empty when the file says nothing.
	Device string `json:"device,omitempty"`
	// StartAt and StopAt are rounded to 0.01 degrees; the track is not kept.
	StartAt *Position `json:"start_at,omitempty"`
	StopAt  *Position `json:"stop_at,omitempty"`
	// Salvaged says what was wrong with a damaged file; totals then come from
	// the samples before the damage.
	Salvaged string `json:"salvaged,omitempty"`
	// Second holds the totals of the second reader, if it was asked.
	Second  *Totals  `json:"second,omitempty"`
	Samples []Sample `json:"-"`
	Origin  Origin   `json:"origin"`
}

// Stop is the last moment of the bout, UTC.
func (a Activity) Stop() time.Time { return a.Start.Add(a.Elapsed) }

// Lap is one lap as the file tells it.
type Lap struct {
	Start    time.Time          `json:"start"`
	Elapsed  time.Duration      `json:"elapsed"`
	Distance *quantity.Distance `json:"distance_m,omitempty"`
}

// Position is a place in degrees, rounded to 0.01.
type Position struct {
	Lat float64 `json:"lat"`
	Lon float64 `json:"lon"`
}

// Totals is what a second, independent reader found in the same bout.
type Totals struct {
	Reader    string             `json:"reader"`
	Start     *time.Time         `json:"start,omitempty"`
	Elapsed   *time.Duration     `json:"elapsed,omitempty"`
	Moving    *time.Duration     `json:"moving,omitempty"`
	Distance  *quantity.Distance `json:"distance_m,omitempty"`
	MeanHRBpm *float64           `json:"mean_hr_bpm,omitempty"`
	Samples   int                `json:"samples"`
	// Failed is the second reader's own complaint, if it could not read the file.
	Failed string `json:"failed,omitempty"`
}

// Sample is one moment of an activity. Missing values are NaN (floats) or 0
// (heart rate). Samples are ordered by time; no two share an instant.
type Sample struct {
	At       time.Duration // since Activity.Start; may be slightly negative
	Distance float32       // m, cumulative
	Altitude float32       // m
	Speed    float32       // m/s
	Temp     float32       // °C, the watch's own sensor
	HRBpm    uint8         // 0 is missing
}
