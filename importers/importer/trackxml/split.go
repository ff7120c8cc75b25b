package trackxml

import (
	"time"

	"saltpan/importers/importer"
)

// FarApart is the longest time between two points of one bout. A track can hold
// several days; no recorder is silent for so long within a run.
const FarApart = 12 * time.Hour

// FarTime is what a time far from all others is counted as.
const FarTime = "a time more than 12 h from all others was passed over"

// Split gives the runs of points that lie no more than FarApart from one to the
// next. A single time far from both its neighbours is passed over first; it does
// not split anything.
func Split(points []Point, t *Tally) [][]Point {
	DropStrays(points, t)
	var out [][]Point
	var last time.Time
	from := 0
	for i, p := range points {
		if p.At.IsZero() {
			continue
		}
		if far(last, p.At) {
			out, from = append(out, points[from:i]), i
		}
		last = p.At
	}
	return append(out, points[from:])
}

// DropStrays takes the time from each point that lies more than FarApart from
// the one before while the next one does not.
func DropStrays(points []Point, t *Tally) {
	var last time.Time
	for i := range points {
		p := &points[i]
		if p.At.IsZero() {
			continue
		}
		next, n := Timed(points[i+1 : min(i+3, len(points))])
		if far(last, p.At) && n > 0 && !far(last, next.At) {
			t.Add(importer.BadTime, FarTime, p.At.Format(time.RFC3339), p.Line, "")
			p.At = time.Time{}
			continue
		}
		last = p.At
	}
}

func far(a, b time.Time) bool { return !a.IsZero() && b.Sub(a).Abs() > FarApart }

// Timed is the first point with a time and how many have one.
func Timed(points []Point) (first Point, n int) {
	for _, p := range points {
		if p.At.IsZero() {
			continue
		}
		if n == 0 {
			first = p
		}
		n++
	}
	return first, n
}
