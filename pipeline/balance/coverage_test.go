package balance_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"saltpan/pipeline/balance"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// condition is a kind of session of which the truth is drawn.
type condition struct {
	name             string
	minutes          float64
	rate, spread     float64 // L/h
	mmHg             float64
	carrying, toilet bool
}

// world draws a session with a known truth. Every error is drawn from the
// distribution that the package assumes for it, unsaid urine, quotient, breath
// factor, clothes and gaps included: what is tested is that the budget adds up,
// through rounded readings and products, and not that the assumptions are true.
type world struct{ *rand.Rand }

func (w world) normal(mean, u float64) float64 { return mean + u*w.NormFloat64() }

// noted is an amount as a person would note it: off by a fraction, at least by 20 g.
func (w world) noted(amount, fraction float64) float64 {
	return w.normal(amount, math.Max(0.02, fraction*amount))
}

func rounded(kg float64) quantity.Mass { return quantity.Mass(math.Round(kg*10) / 10) }

// session gives what is known of a session and its true sweat and rate.
func (w world) session(c condition) (in balance.Input, sweat, rate float64) {
	h, before, after := c.minutes/60, w.Float64()*20, w.Float64()*15
	kcal, mmHg, quotient := w.normal(750*h, 75*h), w.normal(c.mmHg, 1.5), w.normal(0.90, 0.03)
	oxygen := balance.Oxygen(quantity.Energy(kcal), quotient)
	breath := w.normal(1, 0.07/math.Sqrt(3)) * balance.BreathWater(oxygen, quantity.MmHg(mmHg)) / 1000
	lost := breath + balance.GasExchange(oxygen, quotient)/1000

	rate = w.normal(c.rate, c.spread)
	gap := w.normal(1, 0.6/1.96) * sweatInGaps(rate, before, after)
	sweat = rate*h + gap
	drunk := w.Float64() * h
	urine := w.normal(0.041, 0.038) * (h + (before+after)/60)
	held := 0.0
	if c.carrying {
		held = w.normal(0, 0.1)
	}

	mass := w.normal(68, 8)
	end := mass - sweat - lost - urine + held
	in = weighed(0, 0, w.noted(drunk, 0.05), w.noted(urine, 0.10), minutes(c.minutes))
	if c.toilet {
		in.Note.Urine = nil // not a word on it
	}
	if c.carrying {
		in.Weighing, in.Note.Drunk = record.Carrying, nil // drunk out of the kit: it cancels
	} else {
		end += drunk
	}
	offset := w.normal(0, 0.3) // of the one scale
	in.Before.Mass, in.After.Mass = rounded(mass+offset), rounded(end+offset)
	in.GapBefore, in.GapAfter = minutes(before), minutes(after)
	in.Energy, in.Vapour = energy(750*h, 75*h), vapour(c.mmHg, 1.5)
	return in, sweat, rate
}

// The 95 % intervals of sweat loss and rate cover the truth in 93 to 97 of 100
// sessions: 4,000 a condition, one standard deviation of the share is 0.34 %.
func TestCoverage(t *testing.T) {
	const draws = 4000
	t.Logf("%-16s %8s %8s %12s", "condition", "sweat", "rate", "half L/h")
	for i, c := range []condition{
		{name: "cold", minutes: 60, rate: 0.4, spread: 0.1, mmHg: 4},
		{name: "hot", minutes: 60, rate: 1.6, spread: 0.3, mmHg: 25},
		{name: "30 min", minutes: 30, rate: 0.9, spread: 0.2, mmHg: 10},
		{name: "3 h", minutes: 180, rate: 0.9, spread: 0.2, mmHg: 10},
		{name: "carrying", minutes: 90, rate: 0.9, spread: 0.2, mmHg: 10, carrying: true},
		{name: "no toilet note", minutes: 90, rate: 0.9, spread: 0.2, mmHg: 10, toilet: true},
	} {
		w := world{rand.New(rand.NewPCG(uint64(i), 1))}
		inSweat, inRate, half := 0, 0, 0.0
		for range draws {
			in, sweat, rate := w.session(c)
			r := balance.Derive(in)
			if float64(r.Sweat.Lo) <= sweat && sweat <= float64(r.Sweat.Hi) {
				inSweat++
			}
			if float64(r.Rate.Lo) <= rate && rate <= float64(r.Rate.Hi) {
				inRate++
			}
			half += width(r.Rate) / 2 / draws
		}
		s, r := 100*float64(inSweat)/draws, 100*float64(inRate)/draws
		t.Logf("%-16s %6.1f %% %6.1f %% %12.3f", c.name, s, r, half)
		if s < 93 || s > 97 || r < 93 || r > 97 {
			t.Errorf("%s: covered %.1f %% of sweat losses and %.1f %% of rates, want 93 to 97", c.name, s, r)
		}
	}
}
