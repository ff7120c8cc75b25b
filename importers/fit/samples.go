package fit

import (
	"math"
	"time"

	"saltpan/pipeline/record"
)

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
	if lat == noPlace || lon == noPlace || lat == 0 && lon == 0 || math.Abs(float64(lat)*degrees) > 90 {
		return nil
	}
	return &record.Position{Lat: cent(float64(lat) * degrees), Lon: cent(float64(lon) * degrees)}
}

// cent is v rounded to 0.01, and 0 rather than -0.
func cent(v float64) float64 { return math.Round(v*100)/100 + 0 }
