package simulate

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"saltpan/pipeline/quantity"
)

// Options sizes a season; zero fields mean four athletes, twelve weeks and a
// start on 2 March 2026.
type Options struct {
	Athletes int
	Weeks    int
	Start    time.Time // a Monday, midnight UTC
}

// Run makes a season. The same seed and options give the same season; an
// athlete's season does not depend on how many others there are.
func Run(seed uint64, o Options) Season {
	o = o.withDefaults()
	s := Season{Club: "Ostrel Bay Harriers", Town: "Ostrel Bay", Zone: zone}
	s.Athletes = roster(seed, o.Athletes)
	s.Scales = scales(s.Athletes)
	air := newWeather(rand.New(rand.NewPCG(seed, math.MaxUint64)), o)
	for i, a := range s.Athletes {
		rng := rand.New(rand.NewPCG(seed, uint64(i)))
		s.Sessions = append(s.Sessions, sessions(rng, a, plans(rng, i, o), air)...)
	}
	s.WeighIns = weighIns(seed, s, o)
	return s
}

func (o Options) withDefaults() Options {
	if o.Athletes == 0 {
		o.Athletes = 4
	}
	if o.Weeks == 0 {
		o.Weeks = 12
	}
	if o.Start.IsZero() {
		o.Start = time.Date(2026, time.March, 2, 0, 0, 0, 0, time.UTC)
	}
	return o
}

// weather is the mean air temperature of each day of the season.
type weather struct {
	start time.Time
	mean  []float64
}

// newWeather is a mild coast: a yearly wave, days that resemble the day
// before, and one hot week in the tenth.
func newWeather(rng *rand.Rand, o Options) weather {
	w := weather{start: o.Start, mean: make([]float64, 7*o.Weeks)}
	swing := 0.0
	for d := range w.mean {
		swing = 0.7*swing + 1.4*rng.NormFloat64()
		year := float64(o.Start.AddDate(0, 0, d).YearDay()) / 365
		w.mean[d] = 17 + 5*math.Sin(2*math.Pi*(year-0.315)) + swing
		if d/7 == 9 {
			w.mean[d] += 7
		}
	}
	return w
}

// at is the air temperature at a local wall time, warmest at three o'clock.
func (w weather) at(wall time.Time) quantity.Temperature {
	day := int(wall.Sub(w.start).Hours()) / 24
	day = min(max(day, 0), len(w.mean)-1)
	hour := wall.Sub(w.start).Hours()
	return quantity.Celsius(round(w.mean[day]+2.5*math.Cos(2*math.Pi*(hour-15)/24), 0.1))
}

func between(rng *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }

func chance(rng *rand.Rand, p float64) bool { return rng.Float64() < p }

// minutes is a duration between lo and hi minutes in whole seconds.
func minutes(rng *rand.Rand, lo, hi float64) time.Duration {
	return time.Duration(60*between(rng, lo, hi)) * time.Second
}

// round is v to the nearest step. Dividing by the steps in one unit gives the
// float that the printed decimal stands for; multiplying by the step would not.
func round(v, step float64) float64 {
	perUnit := 1 / step
	return math.Round(v*perUnit) / perUnit
}

func byInstant(w []WeighIn) {
	slices.SortStableFunc(w, func(a, b WeighIn) int { return a.At.Compare(b.At) })
}
