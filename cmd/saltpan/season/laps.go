package season

import (
	"time"

	"saltpan/pipeline/simulate"
)

const lapMetres = 1000

// lap is a stretch of a recording between two kilometre marks. Its points run
// from the first after the mark before to the first at or after its own.
type lap struct {
	from, to time.Duration // since the recording's start
	timer    time.Duration // without the pause
	metres   float64
	points   []simulate.Point
}

// laps cuts a track at each kilometre; the last lap is what remains.
func laps(p simulate.Part, track []simulate.Point) []lap {
	var out []lap
	var begun lap
	var mark float64
	for i, pt := range track {
		begun.points = append(begun.points, pt)
		way := float64(pt.Distance)
		if i < len(track)-1 && way < float64(len(out)+1)*lapMetres {
			continue
		}
		begun.to, begun.metres = pt.At, way-mark
		begun.timer = begun.to - begun.from
		if p.Pause > 0 && begun.from <= p.PauseAt && begun.to > p.PauseAt {
			begun.timer -= p.Pause
		}
		out = append(out, begun)
		begun, mark = lap{from: pt.At}, way
	}
	return out
}

// meanHR is the mean heart rate of the points, rounded as watches do.
func meanHR(points []simulate.Point) uint8 {
	sum := 0
	for _, pt := range points {
		sum += int(pt.HRBpm)
	}
	return uint8((sum + len(points)/2) / len(points))
}

func maxHR(points []simulate.Point) uint8 {
	top := uint8(0)
	for _, pt := range points {
		top = max(top, pt.HRBpm)
	}
	return top
}
