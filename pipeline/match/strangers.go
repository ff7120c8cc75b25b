package match

import (
	"math"
	"time"
)

// Parameters of the background (own rules).
const (
	sdBackground = 0.7   // kg, kernel over mass: a day's swing
	sdRoutine    = 0.5   // h, kernel over the time of day: a routine
	anyTime      = 0.3   // share of it spread over the whole day
	priorDays    = 3.0   // days of one reading each that stand in for what was not seen
	priorSpread  = 4.0   // kg, spread of those
	rarest       = 1e-12 // per hour and kilogram: nothing is impossible
	halfHours    = 48    // half hours of a day
)

// strangers is the rate at which readings come that have nothing to do with a
// session of this athlete: a routine in the morning, others of the household.
type strangers struct {
	outside map[int]*[halfHours]float64 // readings outside all windows, by mass and time of day
	counted map[[2]int]int              // what the scales counted and did not keep
	days    float64
	free    [halfHours]float64 // days on which a time of day lies in no window
	loc     *time.Location
}

// strangers has the background of an athlete's sessions.
func (h *household) strangers(athlete string, bouts []Bout, pool []reading) strangers {
	s := strangers{outside: map[int]*[halfHours]float64{}, counted: map[[2]int]int{}, loc: time.UTC}
	if loc := h.zone(h.athletes[athlete].Zone); loc != nil {
		s.loc = loc
	}
	inside, scales := map[string]bool{}, map[string]bool{}
	for _, b := range bouts {
		for _, list := range [][]reading{windowBefore(b, pool), windowAfter(b, pool)} {
			for _, r := range list {
				inside[r.in.ID] = true
			}
		}
	}
	for _, r := range pool {
		if !inside[r.in.ID] {
			s.put(r)
		}
		scales[r.in.Scale] = true
	}
	for scale := range scales {
		for k, n := range h.background[scale] {
			s.counted[k] += n
		}
	}
	s.expose(bouts, pool)
	return s
}

// expose counts the days on which each time of day lay outside the windows:
// on the others a stranger's reading would not have been seen as one.
func (s *strangers) expose(bouts []Bout, pool []reading) {
	if len(pool) > 0 {
		s.days = pool[len(pool)-1].at.Sub(pool[0].at).Hours() / 24
	}
	for i := range s.free {
		s.free[i] = s.days
	}
	for _, b := range bouts {
		for at := b.Start.Add(-maxBefore); at.Before(b.Stop.Add(maxAfter)); at = at.Add(24 * time.Hour / halfHours) {
			i := s.slice(at)
			s.free[i] = math.Max(s.free[i]-1, 0)
		}
	}
}

func (s *strangers) hour(at time.Time) float64 {
	l := at.In(s.loc)
	return float64(l.Hour()) + float64(l.Minute())/60
}

func (s *strangers) slice(at time.Time) int { return int(s.hour(at) * halfHours / 24) }

// put counts a reading in its cell.
func (s *strangers) put(r reading) {
	kg := massCell(r)
	if s.outside[kg] == nil {
		s.outside[kg] = &[halfHours]float64{}
	}
	s.outside[kg][s.slice(r.at)]++
}

// massCell is a tenth of a kilogram.
func massCell(r reading) int { return int(math.Round(r.kg() * 10)) }

// rate is a kernel estimate per hour and kilogram, with a prior around centre.
func (s *strangers) rate(r reading, centre float64) float64 {
	sum := priorDays / 24 * normal(r.kg(), centre, priorSpread)
	cell, slice := massCell(r), s.slice(r.at)
	for d := -20; d <= 20; d++ { // three standard deviations
		if times := s.outside[cell+d]; times != nil {
			sum += normal(float64(d)/10, 0, sdBackground) * sameTime(times, slice)
		}
	}
	rate := sum / (s.free[slice] + priorDays)
	at := [2]int{int(math.Floor(r.kg())), int(s.hour(r.at))}
	return math.Max(rate+float64(s.counted[at])/(s.days+priorDays), rarest)
}

// sameTime is the density, per hour, of daily readings at a time of day.
func sameTime(times *[halfHours]float64, slice int) float64 {
	sum := 0.0
	for i, n := range times {
		if n > 0 {
			d := math.Abs(float64(i-slice)) * 24 / halfHours
			sum += n * (anyTime/24 + (1-anyTime)*normal(math.Min(d, 24-d), 0, sdRoutine))
		}
	}
	return sum
}
