package fit

import (
	"slices"
	"sort"
)

// tidy is the rows with a believable time, in order, one for each instant.
// Untimed and stray count those left out.
func tidy(rows []row, sessions []session) (kept []row, untimed, stray int) {
	kept = rows[:0]
	for _, r := range rows {
		if isDate(r.at) {
			kept = append(kept, r)
		}
	}
	untimed = len(rows) - len(kept)
	n := len(kept)
	kept = near(kept, sessions)
	stray = n - len(kept)
	return merge(kept), untimed, stray
}

// near drops rows more than a day before or seven days after the file's start:
// damaged data can look like a record of another decade. The start is that of
// a session, of the first record or of the middle one, whichever keeps most.
func near(rows []row, sessions []session) []row {
	if len(rows) == 0 || within(rows, rows[0].at) == len(rows) {
		return rows
	}
	var starts []uint32
	for _, s := range sessions {
		if isDate(s.start) {
			starts = append(starts, s.start)
		}
	}
	best, most := uint32(0), 0
	for _, start := range append(starts, rows[0].at, middle(rows)) {
		if n := within(rows, start); n > most {
			best, most = start, n
		}
	}
	return slices.DeleteFunc(rows, func(r row) bool { return !inReach(r.at, best) })
}

// middle is the median of the rows' times.
func middle(rows []row) uint32 {
	at := make([]uint32, len(rows))
	for i, r := range rows {
		at[i] = r.at
	}
	slices.Sort(at)
	return at[len(at)/2]
}

func within(rows []row, start uint32) (n int) {
	for i := range rows {
		if inReach(rows[i].at, start) {
			n++
		}
	}
	return n
}

func inReach(at, start uint32) bool {
	d := int64(at) - int64(start)
	return d >= -day && d <= 7*day
}

// merge puts rows in order of time and makes one of those that share an
// instant: each value from the first row that has it.
func merge(rows []row) []row {
	byTime := func(a, b row) int { return int(int64(a.at) - int64(b.at)) }
	if !slices.IsSortedFunc(rows, byTime) {
		slices.SortStableFunc(rows, byTime)
	}
	out := rows[:0]
	for _, r := range rows {
		if n := len(out); n > 0 && out[n-1].at == r.at {
			out[n-1].fill(r)
		} else {
			out = append(out, r)
		}
	}
	return out
}

// fill takes from other what r lacks.
func (r *row) fill(other row) {
	if r.lat == noPlace || r.lon == noPlace {
		r.lat, r.lon = other.lat, other.lon
	}
	for _, v := range [...]struct {
		to   *float32
		from float32
	}{{&r.distance, other.distance}, {&r.altitude, other.altitude}, {&r.speed, other.speed}, {&r.temp, other.temp}} {
		if *v.to != *v.to {
			*v.to = v.from
		}
	}
	if r.hr == 0 {
		r.hr = other.hr
	}
}

// between is the rows from one time up to, but without, another.
func between(rows []row, from, to int64) []row {
	at := func(t int64) int {
		return sort.Search(len(rows), func(i int) bool { return int64(rows[i].at) >= t })
	}
	return rows[at(from):max(at(from), at(to))]
}
