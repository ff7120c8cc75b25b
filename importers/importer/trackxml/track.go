package trackxml

import (
	"cmp"
	"math"
	"slices"
	"time"

	"saltpan/importers/importer"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// Point is one point as the file tells it. What it does not say is NaN, a zero
// time or a zero heart rate.
type Point struct {
	At       time.Time
	Lat, Lon float64
	Altitude float64
	Distance float64 // m since the start, by the recorder's own count
	Speed    float64
	Temp     float64
	HRBpm    uint8
	Break    bool // the first of a new stretch: no way was covered from the one before
	Line     int
}

// NewPoint is a point that says nothing yet.
func NewPoint(line int) Point {
	none := math.NaN()
	return Point{Lat: none, Lon: none, Altitude: none, Distance: none, Speed: none, Temp: none, Line: line}
}

// Placed reports whether the point says where it is.
func (p Point) Placed() bool { return !math.IsNaN(p.Lat) && !math.IsNaN(p.Lon) }

// Place puts the point where two texts in degrees say. A position that is half
// there, or at 0, 0 where recorders put themselves before they have one, is
// counted and left out.
func (p *Point) Place(lat, lon string, t *Tally) {
	if (lat == "") != (lon == "") {
		t.Add(importer.BadNumber, "a position without latitude or longitude was passed over", "", p.Line, "")
		return
	}
	y, x := t.Number("a latitude", lat, -90, 90, p.Line), t.Number("a longitude", lon, -180, 180, p.Line)
	switch {
	case y == 0 && x == 0:
		t.Add(importer.OutOfRange, "a position at 0, 0 was passed over", "", p.Line, "")
	case y == y && x == x: // neither is NaN
		p.Lat, p.Lon = y, x
	}
}

// Track is what the points of one bout give together.
type Track struct {
	Start   time.Time
	Elapsed time.Duration
	// Stretches is how many unbroken stretches there are, InStretches the time
	// spent inside them.
	Stretches   int
	InStretches time.Duration
	Samples     []record.Sample
	// Way is the way over the positions inside stretches, NaN without two positions.
	Way float64
	// Counted is the highest distance the recorder counted, NaN if it did not.
	Counted         float64
	MeanHRBpm       *float64
	MeanTemp        *quantity.Temperature
	StartAt, StopAt *record.Position
}

// Assemble makes a track of points of which at least one has a time. Points in
// the wrong order are put in order of time; of two with the same time the first
// is kept and what it lacks is taken from the other.
func Assemble(points []Point, t *Tally) Track {
	points = ordered(points, t)
	var b builder
	b.Way, b.Counted = math.NaN(), math.NaN()
	for _, p := range points {
		if p.Break && !b.Start.IsZero() {
			b.endStretch()
		}
		b.move(p)
		if !p.At.IsZero() {
			b.sample(p, t)
		}
	}
	b.endStretch()
	b.finish()
	return b.Track
}

// ordered drops untimed points only if the timed ones have to be sorted: where
// they stand in order, the untimed ones between them still tell the way.
func ordered(points []Point, t *Tally) []Point {
	var last time.Time
	for _, p := range points {
		if p.At.IsZero() {
			continue
		}
		if p.At.Before(last) {
			t.Add(importer.BadTime, "times go back; the points were put in order of time", p.At.Format(time.RFC3339), p.Line, "")
			timed := slices.DeleteFunc(slices.Clone(points), func(p Point) bool { return p.At.IsZero() })
			slices.SortStableFunc(timed, func(a, b Point) int { return a.At.Compare(b.At) })
			return timed
		}
		last = p.At
	}
	return points
}

type builder struct {
	Track
	prev    Point // the last one with a position
	placed  bool
	from    time.Time // of the stretch
	stop    time.Time
	counted bool

	positions int
}

func (b *builder) endStretch() {
	if !b.from.IsZero() {
		b.Stretches++
		b.InStretches += b.stop.Sub(b.from)
	}
	b.from, b.placed = time.Time{}, false
}

func (b *builder) move(p Point) {
	if !p.Placed() {
		return
	}
	if b.placed {
		b.Way += Haversine(b.prev.Lat, b.prev.Lon, p.Lat, p.Lon)
	}
	if b.StartAt == nil {
		b.StartAt, b.Way = round(p), 0
	}
	b.positions++
	b.prev, b.placed = p, true
}

func (b *builder) sample(p Point, t *Tally) {
	if b.Start.IsZero() {
		b.Start = p.At
	}
	if b.from.IsZero() {
		b.from = p.At
	}
	b.stop = p.At
	if p.Distance < b.Counted {
		t.Add(importer.OutOfRange, "a distance lower than the one before was passed over", "", p.Line, "")
		p.Distance = math.NaN()
	}
	if !math.IsNaN(p.Distance) {
		b.Counted, b.counted = p.Distance, true
	}
	s := record.Sample{
		At: p.At.Sub(b.Start), Distance: float32(p.Distance), Altitude: float32(p.Altitude),
		Speed: float32(p.Speed), Temp: float32(p.Temp), HRBpm: p.HRBpm,
	}
	if !b.counted {
		s.Distance = float32(b.Way)
	}
	if n := len(b.Samples); n > 0 && b.Samples[n-1].At == s.At {
		merge(&b.Samples[n-1], s)
		return
	}
	b.Samples = append(b.Samples, s)
}

// merge fills what the first of two samples of one instant lacks.
func merge(s *record.Sample, other record.Sample) {
	for _, f := range [][2]*float32{{&s.Distance, &other.Distance}, {&s.Altitude, &other.Altitude},
		{&s.Speed, &other.Speed}, {&s.Temp, &other.Temp}} {
		if *f[0] != *f[0] { // NaN
			*f[0] = *f[1]
		}
	}
	s.HRBpm = cmp.Or(s.HRBpm, other.HRBpm)
}

func (b *builder) finish() {
	b.Elapsed = b.stop.Sub(b.Start)
	if b.StartAt != nil {
		b.StopAt = round(b.prev)
	}
	if b.positions < 2 {
		b.Way = math.NaN()
	}
	var hr, temp mean
	for _, s := range b.Samples {
		if s.HRBpm > 0 {
			hr.add(float64(s.HRBpm))
		}
		if s.Temp == s.Temp {
			temp.add(float64(s.Temp))
		}
	}
	b.MeanHRBpm = hr.value()
	if v := temp.value(); v != nil {
		c := quantity.Celsius(*v)
		b.MeanTemp = &c
	}
}

type mean struct {
	sum float64
	n   int
}

func (m *mean) add(v float64) { m.sum, m.n = m.sum+v, m.n+1 }

func (m mean) value() *float64 {
	if m.n == 0 {
		return nil
	}
	v := m.sum / float64(m.n)
	return &v
}

func round(p Point) *record.Position {
	return &record.Position{Lat: math.Round(p.Lat*100) / 100, Lon: math.Round(p.Lon*100) / 100}
}

// earthRadius is the mean radius of the Earth in metres, (2a+b)/3 of WGS 84
// (IUGG; Moritz 2000, Geodetic Reference System 1980, J. Geod. 74:128).
const earthRadius = 6_371_008.8

// Haversine is the great-circle distance in metres between two positions in
// degrees on a sphere, within 0.6 % of the ellipsoid (Sinnott 1984, "Virtues of
// the haversine", Sky and Telescope 68:159).
func Haversine(lat1, lon1, lat2, lon2 float64) float64 {
	const rad = math.Pi / 180
	dLat, dLon := math.Sin((lat2-lat1)*rad/2), math.Sin((lon2-lon1)*rad/2)
	h := dLat*dLat + math.Cos(lat1*rad)*math.Cos(lat2*rad)*dLon*dLon
	return 2 * earthRadius * math.Asin(math.Sqrt(min(1, h)))
}
