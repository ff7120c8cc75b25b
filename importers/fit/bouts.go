package fit

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"math"
	"slices"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// bouts makes an activity of each session, or one of all records if no session
// was read. Rows must be tidy.
func (p *part) bouts(rows []row) []record.Activity {
	sessions := p.dated(rows)
	if p.fault.text != "" || len(p.sessions) == 0 {
		sessions = append(sessions, orphan(rows, sessions)...)
	}
	var out []record.Activity
	for i, s := range sessions {
		next := int64(math.MaxInt64)
		if i+1 < len(sessions) {
			next = int64(sessions[i+1].start)
		}
		from := int64(s.start)
		if i == 0 {
			from -= slack
		}
		mine := between(rows, from, min(next, s.end(rows)+slack+1))
		out = append(out, p.bout(s, mine, i == 0, next))
	}
	return out
}

// dated is the sessions whose start is a date, in order of time, each once.
func (p *part) dated(rows []row) []session {
	var out []session
	for _, s := range p.sessions {
		s.start = s.began(rows, len(p.sessions) == 1)
		if isDate(s.start) && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b session) int { return cmp.Compare(a.start, b.start) })
	return out
}

// began is a session's start; where that is no date, or of another week than
// the records, it is told by its end or by the records of the only session.
func (s session) began(rows []row, alone bool) uint32 {
	switch {
	case alone && len(rows) > 0 && (!isDate(s.start) || !inReach(rows[0].at, s.start)):
		return rows[0].at
	case s.start == 0 && s.elapsed >= 0 && isDate(s.stop):
		return s.stop - uint32(s.elapsed/1000)
	}
	return s.start
}

// orphan is the bout after the last session, if any, whose own session message
// was lost to damage.
func orphan(rows []row, sessions []session) []session {
	if n := len(sessions); n > 0 {
		rows = between(rows, sessions[n-1].end(rows)+slack+1, math.MaxInt64)
	}
	if len(rows) < 2 {
		return nil
	}
	return []session{whole(rows)}
}

// whole is the session that all rows make when the file names none.
func whole(rows []row) session {
	return session{start: rows[0].at, elapsed: -1, timer: -1, distance: -1, sport: -1, subSport: -1,
		hr: -1, ascent: -1, temp: none, lat: noPlace, lon: noPlace}
}

// end is the last second of a session: by its elapsed time, its timestamp, or
// the last record there is, the first that can be.
func (s session) end(rows []row) int64 {
	switch {
	case s.elapsed > 0 && s.elapsed <= 7*day*1000:
		return int64(s.start) + (s.elapsed+999)/1000
	case s.stop > s.start && inReach(s.stop, s.start):
		return int64(s.stop)
	case len(rows) > 0 && rows[len(rows)-1].at > s.start:
		return int64(rows[len(rows)-1].at)
	}
	return int64(s.start)
}

// bout is one activity: what the session says, else what the rows say.
func (p *part) bout(s session, rows []row, first bool, next int64) record.Activity {
	a := record.Activity{
		Start: moment(s.start), Elapsed: s.duration(rows), Moving: millis(s.timer),
		Distance: distance(s, rows, first), MeanHRBpm: mean(rows, row.heartRate),
		Device: p.device.String(), UTCOffset: p.offset, Samples: samples(rows, s.start),
	}
	a.Sport, a.SubSport = p.sportOf(s)
	if v := bpm(s.hr); v != 0 {
		hr := float64(v)
		a.MeanHRBpm = &hr
	}
	if t := mean(rows, row.temperature); t != nil {
		a.MeanTemp = ptr(quantity.Celsius(*t))
	} else if s.temp != none {
		a.MeanTemp = ptr(quantity.Celsius(float64(s.temp)))
	}
	if s.ascent >= 0 {
		a.Ascent = ptr(quantity.Distance(s.ascent))
	}
	a.StartAt, a.StopAt = ends(s, rows)
	a.Laps = p.lapsOf(s, first, next)
	return a
}

func ptr[T any](v T) *T { return &v }

// millis is a time in ms, nil if it is missing.
func millis(ms int64) *time.Duration {
	if ms < 0 {
		return nil
	}
	return ptr(time.Duration(ms) * time.Millisecond)
}

// duration is the session's elapsed time to the millisecond where it says so.
func (s session) duration(rows []row) time.Duration {
	if s.elapsed > 0 && s.elapsed <= 7*day*1000 {
		return time.Duration(s.elapsed) * time.Millisecond
	}
	return time.Duration(s.end(rows)-int64(s.start)) * time.Second
}

// distance is the session's, else what the records cover. Records count on
// through the sessions of a file, so a later one starts from its least.
func distance(s session, rows []row, first bool) *quantity.Distance {
	if s.distance >= 0 {
		return ptr(quantity.Distance(float64(s.distance) / 100))
	}
	lo, hi := distances(rows)
	if hi != hi {
		return nil
	}
	if first {
		lo = 0
	}
	// Back to the file's own step of 1 cm, which float32 blurs.
	return ptr(quantity.Distance(cent(hi - lo)))
}

// ends is where the session starts and stops.
func ends(s session, rows []row) (start, stop *record.Position) {
	start = place(s.lat, s.lon)
	for _, r := range rows {
		if start != nil {
			break
		}
		start = place(r.lat, r.lon)
	}
	for i := len(rows) - 1; i >= 0 && stop == nil; i-- {
		stop = place(rows[i].lat, rows[i].lon)
	}
	return start, stop
}

// lapsOf is the laps that start in a session.
func (p *part) lapsOf(s session, first bool, next int64) []record.Lap {
	from := int64(s.start)
	if first {
		from -= slack
	}
	var out []record.Lap
	for _, l := range p.laps {
		if at := int64(l.start); isDate(l.start) && at >= from && at < next && inReach(l.start, s.start) {
			out = append(out, l.record())
		}
	}
	return out
}

func (l lap) record() record.Lap {
	r := record.Lap{Start: moment(l.start), Elapsed: time.Duration(max(l.elapsed, 0)) * time.Millisecond}
	if l.distance >= 0 {
		r.Distance = ptr(quantity.Distance(float64(l.distance) / 100))
	}
	return r
}

// String tells recorders apart without naming them; empty if the file says
// neither product nor serial number.
func (d identity) String() string {
	if d.product == 0 && d.serial == 0 && d.name == "" {
		return ""
	}
	sum := sha256.Sum256(fmt.Appendf(nil, "%d/%d/%d/%s", d.manufacturer, d.product, d.serial, d.name))
	return fmt.Sprintf("recorder-%x", sum[:4])
}
