package trackxml

import (
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// On a sphere the quarter of a meridian, the way from pole to pole and one
// degree of the equator follow from the radius alone: R·pi/2, R·pi, R·pi/180.
func TestHaversine(t *testing.T) {
	for _, c := range []struct{ lat1, lon1, lat2, lon2, want float64 }{
		{0, 0, 90, 0, earthRadius * math.Pi / 2},
		{90, 0, -90, 123, earthRadius * math.Pi},
		{0, 179.5, 0, -179.5, earthRadius * math.Pi / 180},
		{45, 7, 45, 7, 0},
	} {
		if got := Haversine(c.lat1, c.lon1, c.lat2, c.lon2); math.Abs(got-c.want) > 0.001 {
			t.Errorf("%+v: %.3f m", c, got)
		}
	}
}

func TestHaversineIsAMetric(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var lat, lon [3]float64
		for i := range lat {
			lat[i], lon[i] = rapid.Float64Range(-90, 90).Draw(r, "lat"), rapid.Float64Range(-180, 180).Draw(r, "lon")
		}
		d := func(i, j int) float64 { return Haversine(lat[i], lon[i], lat[j], lon[j]) }
		if d(0, 1) != d(1, 0) || d(0, 1) > earthRadius*math.Pi || !(d(0, 2) <= d(0, 1)+d(1, 2)+1e-3) {
			r.Errorf("distances %v %v %v", d(0, 1), d(1, 2), d(0, 2))
		}
	})
}

// Whatever the points, samples are in order, no two share an instant, and the
// way over positions never shrinks.
func TestAssembleKeepsTheContract(t *testing.T) {
	start := time.Date(2026, 4, 12, 7, 0, 0, 0, time.UTC)
	rapid.Check(t, func(r *rapid.T) {
		points := []Point{NewPoint(1)}
		points[0].At = start
		for i := range rapid.IntRange(0, 30).Draw(r, "points") {
			p := NewPoint(i + 2)
			if rapid.Bool().Draw(r, "timed") {
				p.At = start.Add(time.Duration(rapid.IntRange(-60, 60).Draw(r, "s")) * time.Second)
			}
			if rapid.Bool().Draw(r, "placed") {
				p.Lat, p.Lon = rapid.Float64Range(-90, 90).Draw(r, "lat"), rapid.Float64Range(-180, 180).Draw(r, "lon")
			}
			p.HRBpm, p.Break = rapid.Uint8().Draw(r, "hr"), rapid.Bool().Draw(r, "break")
			points = append(points, p)
		}
		track := Assemble(points, &Tally{Path: "x"})
		last := float32(0)
		for i, s := range track.Samples {
			if i > 0 && s.At <= track.Samples[i-1].At || s.At < 0 || s.At > track.Elapsed {
				r.Fatalf("sample %d at %v of %v", i, s.At, track.Elapsed)
			}
			if s.Distance < last {
				r.Fatalf("sample %d at %v m after %v m", i, s.Distance, last)
			}
			if s.Distance == s.Distance { // not NaN
				last = s.Distance
			}
		}
		if track.InStretches > track.Elapsed {
			r.Errorf("%v in stretches of %v", track.InStretches, track.Elapsed)
		}
	})
}

func TestSplit(t *testing.T) {
	start := time.Date(2026, 4, 12, 7, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		hours []int // after the start; -1 is no time
		parts []int
	}{
		{[]int{0, 1, 2}, []int{3}},
		{[]int{0, 12, 24}, []int{3}},
		{[]int{0, 13, 14}, []int{1, 2}},
		{[]int{0, 1, 100, 2, 3}, []int{5}}, // one stray in between
		{[]int{0, -1, 50, 51, -1}, []int{2, 3}},
		{[]int{-1, -1}, []int{2}},
	} {
		var points []Point
		for i, h := range c.hours {
			p := NewPoint(i + 1)
			if h >= 0 {
				p.At = start.Add(time.Duration(h) * time.Hour)
			}
			points = append(points, p)
		}
		var got []int
		for _, part := range Split(points, &Tally{Path: "x"}) {
			got = append(got, len(part))
		}
		if !slices.Equal(got, c.parts) {
			t.Errorf("hours %v: parts of %v, want %v", c.hours, got, c.parts)
		}
	}
}
