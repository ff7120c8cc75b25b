package effort

import (
	"math"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// step is a stretch of at least stepS seconds, unless it is the last.
type step struct {
	seconds, metres float64
	from            float64 // m along the way at its start
	altitude        float64 // m, mean of its samples; NaN is missing
	grade           float64
}

func (s step) speed() quantity.Speed { return quantity.Speed(s.metres / s.seconds) }

// stepsOf merges samples into steps. Without any pace there are none. A long gap
// is a step of its own, so that a stop does not thin out the running before it.
func stepsOf(samples []record.Sample) []step {
	var out []step
	var open merging
	samples = placed(samples)
	for i := 1; i < len(samples); i++ {
		dt := (samples[i].At - samples[i-1].At).Seconds()
		ds := metres(samples[i-1], samples[i], dt)
		if dt >= stepS {
			out = open.close(out)
		}
		open.add(dt, ds, float64(samples[i].Altitude))
		if open.seconds >= stepS {
			out = open.close(out)
		}
	}
	return open.close(out)
}

// merging is a step that still grows.
type merging struct {
	step
	heights float64
	seen    int
}

func (m *merging) add(dt, ds, height float64) {
	m.seconds, m.metres = m.seconds+dt, m.metres+ds
	if !math.IsNaN(height) {
		m.heights, m.seen = m.heights+height, m.seen+1
	}
}

// close appends the step, if there is one, and begins the next where it ends.
func (m *merging) close(steps []step) []step {
	if m.seconds == 0 {
		return steps
	}
	m.altitude = m.heights / float64(m.seen) // 0/0 is NaN: missing
	next := m.from + m.metres
	steps = append(steps, m.step)
	*m = merging{step: step{from: next}}
	return steps
}

// placed is the samples that hold a distance or, where hardly any does, a speed.
func placed(samples []record.Sample) []record.Sample {
	var distance, speed []record.Sample
	for _, s := range samples {
		if !math.IsNaN(float64(s.Distance)) {
			distance = append(distance, s)
		}
		if !math.IsNaN(float64(s.Speed)) {
			speed = append(speed, s)
		}
	}
	if 2*len(distance) < len(speed) {
		for i := range speed {
			speed[i].Distance = float32(math.NaN())
		}
		return speed
	}
	return distance
}

// metres is the way between two samples: the distances' difference, else speed
// times time.
func metres(a, b record.Sample, dt float64) float64 {
	if ds := float64(b.Distance - a.Distance); !math.IsNaN(ds) {
		return max(ds, 0)
	}
	return max(float64(b.Speed)*dt, 0)
}

// grade gives every step the slope of the smoothed altitude around it, or says
// why the ground is counted as level.
func grade(steps []step, a record.Activity) (level string) {
	if treadmill(a) {
		return LevelTreadmill
	}
	var points []point
	for _, s := range steps {
		if !math.IsNaN(s.altitude) {
			points = append(points, point{s.from + s.metres/2, s.altitude})
		}
	}
	if float64(len(points)) < leastAltitude*float64(len(steps)) || len(points) < 2 {
		return LevelNoAltitude
	}
	knots := smooth(points)
	k := 0
	for i := range steps {
		middle := steps[i].from + steps[i].metres/2
		for k+2 < len(knots) && knots[k+1].along < middle {
			k++
		}
		if len(knots) > 1 {
			steps[i].grade = (knots[k+1].height - knots[k].height) / (knots[k+1].along - knots[k].along)
		}
	}
	return ""
}

// point is a height at a distance along the way.
type point struct{ along, height float64 }

// smooth averages points in windows of at least gradeWindowM along the way. A
// last window that is not full is joined to the one before.
func smooth(points []point) []point {
	var out []point
	start := 0
	for i := range points {
		if points[i].along-points[start].along >= gradeWindowM && points[len(points)-1].along-points[i].along >= gradeWindowM {
			out = append(out, centre(points[start:i+1]))
			start = i + 1
		}
	}
	return append(out, centre(points[start:]))
}

func centre(points []point) point {
	var c point
	for _, p := range points {
		c.along, c.height = c.along+p.along, c.height+p.height
	}
	n := float64(len(points))
	return point{c.along / n, c.height / n}
}
