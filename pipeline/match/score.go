package match

import (
	"math"
	"time"

	"saltpan/pipeline/record"
)

// Parameters of the score: priors of our own, from how people who weigh in
// around a session do it.
const (
	pReading      = 0.8      // probability that a slot has a reading at all
	priorSessions = 10       // how many sessions that counts for
	meanBefore    = 0.25     // h, mean gap of a before
	meanAfter     = 0.2      // h, mean gap of an after
	fade          = 1.0 / 60 // h, how soon a gap below zero gets improbable
	stray         = 0.1      // share of gaps spread evenly over the window
	sdMass        = 0.9      // kg, a reading around the recent mass: a day's swing
	meanKit       = 3.0      // kg, what is carried
	sdKit         = 3.0      // kg, a reading with kit around that
	meanRate      = 0.75     // L/h, mean simple loss rate
	sdRate        = 0.45     // L/h
	sdPair        = 0.25     // kg, what a pair differs by besides
	pickedUpKg    = 1.5      // kg, bottles and food picked up or left behind when carrying
	toldBonus     = 5.0      // nats for a weigh-in typed in for this athlete
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
// exponential with a share spread evenly, inside the window. A gap below zero
// is a matter of clocks and fades within a minute or two.
func gapDensity(gap time.Duration, mean float64, window time.Duration) float64 {
	h := gap.Hours()
	even := stray / window.Hours()
	if h < 0 {
		return (1-stray)*math.Exp(h/fade)/mean + even
	}
	return (1-stray)*math.Exp(-h/mean)/mean + even
}

func normal(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	return math.Exp(-z*z/2) / (sd * math.Sqrt(2*math.Pi))
}

// options are all ways to fill the two slots of a bout with their weights.
func (c *candidates) options() []option {
	var out []option
	for b := -1; b < len(c.before); b++ {
		for a := -1; a < len(c.after); a++ {
			if w := c.weight(b, a); w > 0 {
				out = append(out, option{b, a, w})
			}
		}
	}
	return out
}

func (c *candidates) weight(b, a int) float64 {
	if b < 0 && c.forced[Before] || a < 0 && c.forced[After] {
		return 0
	}
	w := chance(b, c.pBefore) * chance(a, c.pAfter)
	if b >= 0 && !c.forced[Before] {
		r := c.before[b]
		w *= gapDensity(c.bout.Start.Sub(r.at), meanBefore, maxBefore) * c.massDensity(r, 0) * bonus(r) / r.rate
	}
	if a >= 0 && !c.forced[After] {
		r := c.after[a]
		w *= gapDensity(r.at.Sub(c.bout.Stop), meanAfter, maxAfter) * c.afterDensity(b, r) * bonus(r) / r.rate
	}
	if b >= 0 && a >= 0 && !c.pairs(c.before[b], c.after[a]) {
		return 0
	}
	return w
}

// chance is the probability that a slot is as the option has it: filled or empty.
func chance(i int, p float64) float64 {
	if i < 0 {
		return 1 - p
	}
	return p
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
		sd, mean = sdKit, mean+meanKit
	}
	return normal(r.kg(), mean, sd)
}

// afterDensity is that of an after, given the before if there is one.
func (c *candidates) afterDensity(b int, r reading) float64 {
	h := hours(c.bout)
	if b < 0 {
		return c.massDensity(r, meanRate*h-c.drunk())
	}
	return normal(c.before[b].kg()-r.kg()+c.drunk(), meanRate*h, math.Hypot(sdRate*h, sdPair+c.slack()/3))
}

func (c *candidates) drunk() float64 {
	if c.bout.Weighing == record.Carrying {
		return 0
	}
	return c.bout.Drunk.Litres()
}

// pairs reports whether two readings may be the pair of this bout. What a
// person said is not doubted.
func (c *candidates) pairs(b, a reading) bool {
	if c.forced[Before] && c.forced[After] {
		return true
	}
	if b.in.ID == a.in.ID || !b.at.Before(a.at) {
		return false
	}
	loss, h := lossRate(c.bout, b, a)*hours(c.bout), hours(c.bout)
	return sameKind(b, a) && minLossKept*h-c.slack() <= loss && loss <= maxLoss*h+c.slack()
}

// slack is what may have been picked up or left behind, in kilograms, between
// two carrying weigh-ins.
func (c *candidates) slack() float64 {
	if c.bout.Weighing == record.Carrying {
		return pickedUpKg
	}
	return 0
}
