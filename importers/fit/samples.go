package fit

import (
	"math"
	"slices"
	"sort"
	"time"

	"saltpan/pipeline/record"
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
// the first session or the first record, whichever keeps more.
func near(rows []row, sessions []session) []row {
	if len(rows) == 0 {
		return rows
	}
	best, most := rows[0].at, within(rows, rows[0].at)
	if most == len(rows) {
		return rows
	}
	for _, s := range sessions {
		if n := within(rows, s.start); isDate(s.start) && n >= most {
			best, most = s.start, n
		}
	}
	return slices.DeleteFunc(rows, func(r row) bool { return !inReach(r.at, best) })
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

// samples are rows as samples of an activity that starts at start.
func samples(rows []row, start uint32) []record.Sample {
	if len(rows) == 0 {
		return nil
	}
	out := make([]record.Sample, len(rows))
	for i, r := range rows {
		out[i] = record.Sample{
			At:       time.Duration(int64(r.at)-int64(start)) * time.Second,
			Distance: r.distance, Altitude: r.altitude, Speed: r.speed, Temp: r.temp, HRBpm: r.hr,
		}
	}
	return out
}

// mean is the mean of the values that are there, nil if none is.
func mean(rows []row, value func(row) (float64, bool)) *float64 {
	sum, n := 0.0, 0
	for _, r := range rows {
		if v, ok := value(r); ok {
			sum += v
			n++
		}
	}
	if n == 0 {
		return nil
	}
	sum /= float64(n)
	return &sum
}

func (r row) heartRate() (float64, bool)   { return float64(r.hr), r.hr != 0 }
func (r row) temperature() (float64, bool) { return float64(r.temp), r.temp == r.temp }

// distances is the least and the greatest distance, NaN if there is none.
func distances(rows []row) (lo, hi float64) {
	lo, hi = math.NaN(), math.NaN()
	for _, r := range rows {
		d := float64(r.distance)
		if d == d && !(d >= lo) {
			lo = d
		}
		if d == d && !(d <= hi) {
			hi = d
		}
	}
	return lo, hi
}

// place is a position rounded to 0.01 degrees, nil if it is none. Exactly 0,0
// is a receiver that had no fix.
func place(lat, lon int32) *record.Position {
	const degrees = 180.0 / (1 << 31)
	p := record.Position{Lat: cent(float64(lat) * degrees), Lon: cent(float64(lon) * degrees)}
	if lat == noPlace || lon == noPlace || lat == 0 && lon == 0 || math.Abs(p.Lat) > 90 {
		return nil
	}
	return &p
}

// cent is v rounded to 0.01.
func cent(v float64) float64 { return math.Round(v*100) / 100 }
