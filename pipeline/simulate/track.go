package simulate

import (
	"math"
	"time"

	"saltpan/pipeline/quantity"
)

// The course is a loop around a spot in the open sea, so that it passes nobody's door.
const (
	seaLat        = 38.20
	seaLon        = -9.60
	loopMetres    = 5000.0
	metresPerDeg  = 111195.0 // of latitude, on a sphere of 6371 km: 2 pi 6371000 / 360
	wristWarmer   = 4.0      // °C that the watch's sensor reads over the air
	shorelineMASL = 12.0     // m
)

// Point is one moment of a recording.
type Point struct {
	At       time.Duration // since Part.Start
	Lat, Lon float64       // degrees; mean nothing on a treadmill
	Distance quantity.Distance
	Altitude quantity.Distance
	Speed    quantity.Speed
	HRBpm    uint8
	Temp     quantity.Temperature // the watch's own sensor
}

// Track is what a watch records of a part of s: a point every step while the
// watch runs, and one at the stop. None lies within a pause.
func (s Session) Track(p Part, step time.Duration) []Point {
	n := int(p.Moving() / step)
	out := make([]Point, 0, n+2)
	for i := 0; i <= n; i++ {
		out = append(out, s.point(p, time.Duration(i)*step))
	}
	if time.Duration(n)*step < p.Moving() {
		out = append(out, s.point(p, p.Moving()))
	}
	return out
}

// point is the moment after the watch has run for t. Speed swings by a tenth
// around its mean, seven times in a run; its integral gives the distance, so
// that the whole distance is exact.
func (s Session) point(p Part, t time.Duration) Point {
	const waves, swing = 7, 0.1
	u := t.Seconds() / p.Moving().Seconds()
	sin, cos := math.Sincos(2 * math.Pi * waves * u)
	way := float64(p.Distance) * (u + swing*(1-cos)/(2*math.Pi*waves))
	out := Point{At: t, Distance: quantity.Distance(way),
		Speed: quantity.Speed(float64(p.Distance) / p.Moving().Seconds() * (1 + swing*sin)),
		HRBpm: uint8(math.Round(s.MeanHRBpm + 5*sin + 8*(u-0.5))),
		Temp:  quantity.Celsius(math.Round(s.AirTemp.Celsius() + wristWarmer))}
	if p.Pause > 0 && t > p.PauseAt {
		out.At += p.Pause
	}
	out.Lat, out.Lon = onLoop(way)
	_, turn := math.Sincos(2 * math.Pi * way / loopMetres)
	out.Altitude = shorelineMASL + s.Relief*quantity.Distance(1-turn)/2
	return out
}

// onLoop is the place on the course after so many metres.
func onLoop(way float64) (lat, lon float64) {
	sin, cos := math.Sincos(2 * math.Pi * way / loopMetres)
	radius := loopMetres / (2 * math.Pi) / metresPerDeg
	lat = seaLat + radius*sin
	return lat, seaLon + radius*cos/math.Cos(lat*math.Pi/180)
}

// Ascent is the climb of a part: half of each loop goes up.
func (s Session) Ascent(p Part) quantity.Distance {
	loops, rest := math.Modf(float64(p.Distance) / loopMetres)
	up := (1 - math.Cos(2*math.Pi*min(rest, 0.5))) / 2
	return s.Relief * quantity.Distance(loops+up)
}
