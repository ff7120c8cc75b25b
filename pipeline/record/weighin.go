package record

import (
	"time"

	"saltpan/pipeline/quantity"
)

// WeighIn is one step-on of a scale. The time stays as the scale wrote it:
// what instant it means depends on zones and clocks that may be corrected
// later, so resolving it is part of matching.
type WeighIn struct {
	// ID is the source's SHA-256 and line, or a number for what a person told.
	ID string `json:"id"`
	// Scale is the key of the scale that made it.
	Scale string `json:"scale"`
	// Athlete is set when a person or a person column said whose it is.
	Athlete string `json:"athlete,omitempty"`
	// Wall is the date and time as written, with UTC as a stand-in zone.
	Wall time.Time `json:"wall"`
	// UTCOffset is set when the row itself says it; Wall - UTCOffset is then the instant.
	UTCOffset *time.Duration `json:"utc_offset,omitempty"`
	// Zone is the zone declared for the file (--zone), if any.
	Zone string `json:"zone,omitempty"`
	// Resolution is the coarsest step of the time as written: a second, a minute or a day.
	Resolution time.Duration `json:"resolution"`
	Mass       quantity.Mass `json:"mass_kg"`
	// MassStep is the finest difference between masses in the file.
	MassStep quantity.Mass `json:"mass_step_kg"`
	// Person is the person column as written, empty if there is none.
	Person string `json:"person,omitempty"`
	// Carrying is set for what a person declared: true for a weighing with kit.
	Carrying *bool `json:"carrying,omitempty"`
	// Also lists other rows of the same step-on (repeats, settling readings).
	Also   []Origin `json:"also,omitempty"`
	Origin Origin   `json:"origin"`
}

// Scale is a thing that weighs, with a clock of its own.
type Scale struct {
	Key string `json:"key"`
	// Athletes who use it; empty means everyone in the store.
	Athletes []string `json:"athletes,omitempty"`
	// Unit ("kg", "lb", "st") for files that do not say.
	Unit string `json:"unit,omitempty"`
	Zone string `json:"zone,omitempty"`
	// Step is the smallest difference it shows; nil means as seen in its rows.
	Step *quantity.Mass `json:"step_kg,omitempty"`
	// Shift is what to add to its clock to have the right time; nil is not told.
	Shift *time.Duration `json:"shift,omitempty"`
}

// Background counts the readings of a scale that were not kept, by whole
// kilogram and hour of the day: what else this scale weighs.
type Background struct {
	Scale string         `json:"scale"`
	Count map[[2]int]int `json:"-"` // {kilogram, hour} → readings
}
