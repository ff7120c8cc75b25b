package weather

import (
	"fmt"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
)

// clockwork turns what rows say into instants.
type clockwork struct {
	columns columns
	order   string
	fixed   *time.Duration // the offset in the header
	zone    *time.Location // the declared zone, nil if none
	unknown string         // a declared zone that is none
	// last and falling are the time of the station's row before, and whether
	// its rows run backwards: they tell the two hours apart that share a name
	// when clocks go back.
	last    map[string]time.Time
	falling map[string]bool
}

func newClockwork(c columns, h importer.Hints) *clockwork {
	k := &clockwork{columns: c, order: h.Dates, last: map[string]time.Time{}, falling: map[string]bool{}}
	if o := offsetRE.FindStringSubmatch(strings.ToLower(sign.Replace(c.zone))); o != nil {
		k.fixed = offset(o[2], o[3], o[4])
	}
	if h.Zone != "" {
		var err error
		if k.zone, err = time.LoadLocation(h.Zone); err != nil {
			k.unknown = h.Zone
		}
	}
	return k
}

// instant is the time of a row.
func (k *clockwork) instant(r table.Row, station string) (time.Time, *fault) {
	text := r.Cell(k.columns.when[0])
	s := parseStamp(text, k.order)
	if len(k.columns.when) == 2 {
		cell := r.Cell(k.columns.when[1])
		text += " " + cell
		c := parseStamp(cell, k.order)
		s.hasClock = c.hasClock && !c.hasDate
		s.wall, s.offset = s.wall.Add(c.wall.Sub(time.Time{})), c.offset
	}
	switch {
	case !s.hasDate:
		return time.Time{}, &fault{importer.BadTime, fmt.Sprintf("time %q: want a date and a time of day such as 2019-05-12T14:00Z", text), ""}
	case !s.hasClock:
		return time.Time{}, &fault{importer.BadTime, fmt.Sprintf("time %q: want a time of day after the date, such as 2019-05-12T14:00Z", text), ""}
	case s.open:
		return time.Time{}, &fault{importer.UnclearDates, fmt.Sprintf("date %q: day and month could be either", text), "say which it is with --dates dmy or --dates mdy"}
	}
	t, f := k.absolute(s, text, station)
	if f == nil {
		f = credible(t, text)
	}
	return t, f
}

// absolute is the instant of a stamp: by its own offset, by the header's, or in the declared zone.
func (k *clockwork) absolute(s stamp, text, station string) (time.Time, *fault) {
	switch {
	case s.abs:
		return s.wall, nil
	case s.offset != nil:
		return s.wall.Add(-*s.offset), nil
	case k.fixed != nil:
		return s.wall.Add(-*k.fixed), nil
	case k.unknown != "":
		return time.Time{}, &fault{importer.NoZone, fmt.Sprintf("zone %q: want a zone such as Europe/Lisbon or Etc/GMT-1", k.unknown), "correct --zone"}
	case k.zone == nil:
		return time.Time{}, &fault{importer.NoZone, fmt.Sprintf("time %q: a local time without a zone", text), "say it with --zone UTC or another zone"}
	}
	both := readings(s.wall, k.zone)
	if len(both) == 0 {
		return time.Time{}, &fault{importer.BadTime, fmt.Sprintf("time %q: clocks in %s were put forward over it", text, k.zone), "correct --zone; standard time all year is --zone Etc/GMT-1 or the like"}
	}
	return k.follow(both, station), nil
}

// readings are the instants at which clocks in a zone show a wall time,
// earliest first: one, two when clocks go back, none when they go forward.
func readings(wall time.Time, zone *time.Location) []time.Time {
	var out []time.Time
	for _, away := range []time.Duration{-24 * time.Hour, 24 * time.Hour} {
		_, offset := wall.Add(away).In(zone).Zone()
		t := wall.Add(-time.Duration(offset) * time.Second)
		_, there := t.In(zone).Zone()
		if there == offset && (len(out) == 0 || !out[0].Equal(t)) {
			out = append(out, t)
		}
	}
	return out
}

// follow picks the reading that goes on from the station's row before.
func (k *clockwork) follow(both []time.Time, station string) time.Time {
	last, seen := k.last[station]
	t := both[0]
	switch {
	case !seen || len(both) < 2:
	case k.falling[station]:
		if both[1].Before(last) {
			t = both[1]
		}
	case !both[0].After(last):
		t = both[1]
	}
	if seen {
		k.falling[station] = t.Before(last)
	}
	k.last[station] = t
	return t
}
