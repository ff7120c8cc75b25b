package record

import (
	"time"

	"saltpan/pipeline/quantity"
)

// Weighing is how an athlete steps on the scale.
type Weighing string

const (
	// Body is undressed, or in the same light kit both times, with nothing carried.
	Body Weighing = "body"
	// Carrying is dressed, with bottles, food and pack; leftovers are weighed again.
	Carrying Weighing = "carrying"
)

// Units is how quantities are shown to an athlete.
type Units = quantity.Units

// The units an athlete can choose.
const (
	Metric = quantity.Metric
	US     = quantity.US
)

// Athlete is a person whose sessions are kept. All but Key may be unknown.
type Athlete struct {
	Key       string         `json:"key"` // lower-case word, unique in a store
	Name      string         `json:"name,omitempty"`
	Sex       string         `json:"sex,omitempty"` // "f", "m" or unknown
	Born      int            `json:"born,omitempty"`
	HeightM   float64        `json:"height_m,omitempty"`
	UsualMass *quantity.Mass `json:"usual_mass_kg,omitempty"`
	Zone      string         `json:"zone,omitempty"`  // home zone, IANA name
	Trips     []Trip         `json:"trips,omitempty"` // other zones for a time
	Weighing  Weighing       `json:"weighing,omitempty"`
	Units     Units          `json:"units,omitempty"`
	MaxHRBpm  int            `json:"max_hr_bpm,omitempty"`
	RestHRBpm int            `json:"rest_hr_bpm,omitempty"`
	Inbox     string         `json:"inbox,omitempty"`
	// Medical lists the conditions the athlete named; nil is "not answered",
	// an empty list is "none".
	Medical *[]string `json:"medical,omitempty"`
}

// Trip is a stretch of dates spent in another zone; both days are included.
type Trip struct {
	Zone string `json:"zone"`
	From string `json:"from"` // YYYY-MM-DD
	To   string `json:"to"`   // YYYY-MM-DD
}

// ZoneOn is the zone the athlete lives by on a local date (YYYY-MM-DD), the
// home zone if no trip covers it. Where trips overlap the last one told holds.
func (a Athlete) ZoneOn(date string) string {
	zone := a.Zone
	for _, t := range a.Trips {
		if t.From <= date && date <= t.To {
			zone = t.Zone
		}
	}
	return zone
}

// Screen is one set of answers to the salt screen, in the printed order.
type Screen struct {
	Athlete string    `json:"athlete"`
	At      time.Time `json:"at"`
	Yes     [5]bool   `json:"yes"`
	// Safety lists what was named under safety (faintness, feeling ill,
	// swelling); never counted as salt.
	Safety []string `json:"safety,omitempty"`
}

// SodiumTest is a measured sweat sodium concentration.
type SodiumTest struct {
	Athlete       string                 `json:"athlete"`
	At            time.Time              `json:"at"`
	Concentration quantity.Concentration `json:"concentration_mmol_per_l"`
	Method        string                 `json:"method"`         // "whole-body" or "patch"
	Site          string                 `json:"site,omitempty"` // where the patch sat
}

// Scopes of a consent: what a person agreed to.
const (
	ScopePublic     = "public"     // the public data set
	ScopeRestricted = "restricted" // the data set given under an agreement
	ScopeContact    = "contact"    // being asked again
)

// Consent is what a person agreed to, or took back, about giving data away.
// The last one told about a scope holds.
type Consent struct {
	Athlete string    `json:"athlete"`
	At      time.Time `json:"at"`
	// Document is the name of what was agreed to, DocumentSHA256 its content.
	Document       string   `json:"document"`
	DocumentSHA256 string   `json:"document_sha256"`
	Scopes         []string `json:"scopes"`
	Withdrawn      bool     `json:"withdrawn,omitempty"`
	// How it was given: "on paper", "by mail", "by a guardian".
	How string `json:"how,omitempty"`
}
