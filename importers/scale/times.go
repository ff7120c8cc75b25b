package scale

import (
	"fmt"
	"time"

	"saltpan/importers/importer"
)

// times settles the date order and gives every entry its wall time.
func (j *job) times(entries []*entry) ([]*entry, *importer.Problem) {
	order, why, refused := dateOrder(entries, j.src.Hints.Dates)
	if refused != nil {
		return nil, refused
	}
	j.say(why)
	var out []*entry
	for _, e := range entries {
		wall, ok := e.stamp.wallTime(order)
		switch {
		case !e.stamp.hasDate || !ok:
			j.problem(importer.BadTime, e.line, "", "time %q: want a date and a time of day", e.text)
		case wall.Before(importer.Earliest) || !wall.Before(latest):
			j.problem(importer.BadTime, e.line, "set the clock of the scale", "time %q: the clock was not set; want a time from 2000-01-02 on", e.text)
		default:
			e.wall = wall
			if !e.stamp.hasClock {
				e.stamp.resolution = day
			}
			out = append(out, e)
		}
	}
	j.say(coarsen(out), j.zoneWhy(out))
	return out, nil
}

// zoneWhy says how the times become instants.
func (j *job) zoneWhy(entries []*entry) string {
	local := 0
	for _, e := range entries {
		if e.stamp.offset == nil {
			local++
		}
	}
	zone := "the zone of the scale or the athlete, as none is declared with --zone"
	if j.src.Hints.Zone != "" {
		zone = j.src.Hints.Zone + ", as declared"
	}
	switch {
	case local == 0 && j.columns.utc:
		return "zone: UTC, by the header"
	case local == 0:
		return "zone: each time says its offset from UTC"
	}
	return fmt.Sprintf("zone: %d local times in %s", local, zone)
}

// coarsen makes seconds that are all zero minutes, and says what the times tell.
func coarsen(entries []*entry) string {
	days := 0
	for _, e := range entries {
		if e.stamp.resolution == day {
			days++
		}
		if e.stamp.clock%time.Minute != 0 || !e.stamp.abs.IsZero() && e.wall.Second() != 0 {
			return "time of day: to the second"
		}
	}
	for _, e := range entries {
		if e.stamp.resolution == time.Second && len(entries) >= 5 {
			e.stamp.resolution = time.Minute
		}
	}
	if days > 0 {
		return fmt.Sprintf("time of day: missing in %d of %d rows, which cannot be matched", days, len(entries))
	}
	return "time of day: to the minute"
}
