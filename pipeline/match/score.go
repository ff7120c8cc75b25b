package match

import (
	"math"
	"time"
)

// Parameters of the score: priors of our own, from how people who weigh in
// around a session do it.
const (
	pReading   = 0.8  // probability that a slot has a reading at all
	meanBefore = 0.25 // h, mean gap of a before
	meanAfter  = 0.2  // h, mean gap of an after
	stray      = 0.1  // share of gaps spread evenly over the window
	sdMass     = 0.9  // kg, a reading around the recent mass: a day's swing
	sdKit      = 3.0  // kg, the same with kit
	meanRate   = 0.75 // L/h, mean simple loss rate
	sdRate     = 0.45 // L/h
	sdPair     = 0.25 // kg, what a pair differs by besides
	toldBonus  = 5.0  // nats for a weigh-in typed in for this athlete
)

// Rules of decision: two thresholds with a band for a person between them
// (Fellegi and Sunter 1969, "A theory for record linkage").
const (
	linkAt     = 0.95
	linkTwinAt = 0.99
	noneAt     = 0.80
)

// option is one way to fill both slots of a bout; -1 is no reading.
type option struct {
	before, after int
	weight        float64
}

// gapDensity is the density, per hour, of a gap between reading and session:
// exponential with a share spread evenly, inside the window.
func gapDensity(gap time.Duration, mean float64, window time.Duration) float64 {
	h := math.Max(gap.Hours(), 0)
	return (1-stray)*math.Exp(-h/mean)/mean + stray/window.Hours()
}

func normal(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	return math.Exp(-z*z/2) / (sd * math.Sqrt(2*math.Pi))
}

// strangers is the rate, per hour and kilogram, at which readings come that
// have nothing to do with a session of this athlete: a routine in the morning,
// others of the household.
type strangers struct {
	outside []reading // readings of the pool outside all windows, by mass
	counted map[[2]int]int
	hours   float64
}

// rate is a kernel estimate over mass (0.7 kg) and time of day (2 h, half of
// it spread over the day), with a prior of one reading a day for three days.
func (s strangers) rate(r reading, centre float64) float64 {
	sum := 3 * normal(r.kg(), centre, 4)
	for _, o := range near(s.outside, r.kg(), 2.1) {
		sum += normal(r.kg(), o.kg(), 0.7) * sameHour(r.at, o.at)
	}
	kg := int(math.Floor(r.kg()))
	for hour := 0; hour < 24; hour++ {
		sum += float64(s.counted[[2]int{kg, hour}]) / 24
	}
	return sum / (s.hours + 72)
}

// sameHour weighs a reading by its time of day, one on average over the day.
func sameHour(a, b time.Time) float64 {
	d := math.Abs(clockHour(a) - clockHour(b))
	if math.Min(d, 24-d) <= 2 {
		return 0.5 + 0.5*24/4
	}
	return 0.5
}

func clockHour(t time.Time) float64 {
	u := t.UTC()
	return float64(u.Hour()) + float64(u.Minute())/60
}

// options are all ways to fill the two slots of a bout with their weights.
func (c *candidates) options(s strangers) []option {
	var out []option
	for b := -1; b < len(c.before); b++ {
		for a := -1; a < len(c.after); a++ {
			if w := c.weight(b, a, s); w > 0 {
				out = append(out, option{b, a, w})
			}
		}
	}
	return out
}

func (c *candidates) weight(b, a int, s strangers) float64 {
	if b < 0 && c.forced[Before] || a < 0 && c.forced[After] {
		return 0
	}
	w := c.missing(b) * c.missing(a)
	if b >= 0 {
		r := c.before[b]
		w *= gapDensity(c.bout.Start.Sub(r.at), meanBefore, maxBefore) * c.massDensity(r, 0) * bonus(r) / s.rate(r, c.centre(r))
	}
	if a >= 0 {
		r := c.after[a]
		w *= gapDensity(r.at.Sub(c.bout.Stop), meanAfter, maxAfter) * c.afterDensity(b, r) * bonus(r) / s.rate(r, c.centre(r))
	}
	if b >= 0 && a >= 0 && !c.pairs(c.before[b], c.after[a]) {
		return 0
	}
	return w
}

func (c *candidates) missing(i int) float64 {
	if i < 0 {
		return 1 - pReading
	}
	return pReading
}

func bonus(r reading) float64 {
	if r.told() {
		return math.Exp(toldBonus)
	}
	return 1
}

func (c *candidates) centre(r reading) float64 {
	if c.track == 0 {
		return r.kg()
	}
	return c.track
}

// massDensity is the density, per kilogram, of a reading of this athlete who
// has lost so much since the recent mass.
func (c *candidates) massDensity(r reading, lost float64) float64 {
	sd, mean := math.Hypot(sdMass, sdRate*lost), c.centre(r)-lost
	if carrying(c.bout, r) {
		sd, mean = sdKit, mean+3
	}
	return normal(r.kg(), mean, sd)
}

// afterDensity is that of an after, given the before if there is one.
func (c *candidates) afterDensity(b int, r reading) float64 {
	h := hours(c.bout)
	if b < 0 {
		return c.massDensity(r, meanRate*h-c.drunk())
	}
	return normal(c.before[b].kg()-r.kg()+c.drunk(), meanRate*h, math.Hypot(sdRate*h, sdPair))
}

func (c *candidates) drunk() float64 {
	if c.bout.Weighing == "carrying" {
		return 0
	}
	return c.bout.Drunk.Litres()
}

// pairs reports whether two readings may be the pair of this bout. What a
// person said is not doubted.
func (c *candidates) pairs(b, a reading) bool {
	if b.in.ID == a.in.ID || !b.at.Before(a.at) {
		return false
	}
	if c.forced[Before] && c.forced[After] {
		return true
	}
	rate := lossRate(c.bout, b, a)
	return sameKind(b, a) && minLossKept <= rate && rate <= maxLoss
}
