package fit

import (
	"time"

	"saltpan/importers/importer"
)

// epoch is the start of FIT time.
var epoch = time.Date(1989, 12, 31, 0, 0, 0, 0, time.UTC)

// sinceBoot bounds the times that count from power-on: the clock was not set.
const sinceBoot = 0x10000000

const (
	day = 24 * 60 * 60
	// slack is how far records may lie outside their session, in seconds.
	slack = 60
)

// moment is FIT seconds as a time.
func moment(s uint32) time.Time { return epoch.Add(time.Duration(s) * time.Second) }

// earliest is importer.Earliest in FIT seconds.
var earliest = uint32(importer.Earliest.Sub(epoch) / time.Second)

// isDate reports whether FIT seconds can be a date: not missing, not counted
// from power-on, not the default of a clock never set.
func isDate(s uint32) bool { return s >= sinceBoot && s >= earliest }
