package balance_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"saltpan/pipeline/balance"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/record"
)

// sweatInGaps adds up the sweat by steps of 6 s: rest before the start (450 mL
// a day, iom2005 p 83), after the stop from rho towards rest by half in 10 min.
func sweatInGaps(rho, beforeMin, afterMin float64) float64 {
	const rest, step = 0.45 / 24, 1.0 / 600
	sum := rest * beforeMin / 60
	for h := step / 2; h < afterMin/60; h += step {
		sum += (rest + (rho-rest)*math.Exp2(-h*6)) * step
	}
	return sum
}

// The rate is the session's own: put back into the gaps it gives the gap sweat,
// and with the session's hours the sweat. Simple results know no gaps.
func TestRateLeavesOutTheGaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := noted(t)
		none := balance.Derive(in)
		if none.GapSweat.Value != 0 || none.GapSweat.U() != 0 || !same(float64(none.Rate.Value)*in.Elapsed.Hours(), float64(none.Sweat.Value)) {
			t.Fatalf("no gap, and gap sweat %v", none.GapSweat)
		}
		before, after := float64(rapid.IntRange(0, 90).Draw(t, "before")), float64(rapid.IntRange(0, 90).Draw(t, "after"))
		in.GapBefore, in.GapAfter = minutes(before), minutes(after)
		r := balance.Derive(in)
		if r.Sweat.Value != none.Sweat.Value || r.Simple.Value != none.Simple.Value || r.SimpleRate.Value != none.SimpleRate.Value {
			t.Fatal("the gaps moved a loss or the simple rate")
		}
		rho, gap := float64(r.Rate.Value), float64(r.GapSweat.Value)
		if want := sweatInGaps(rho, before, after); math.Abs(gap-want) > 1e-5*(1+math.Abs(rho)) {
			t.Fatalf("gap sweat %v, added up %v", gap, want)
		}
		if !same(rho*in.Elapsed.Hours()+gap, float64(r.Sweat.Value)) {
			t.Fatal("session and gaps are not the whole")
		}
	})
}

// The budget is carried through: a part of the sweat moves rate and gap sweat
// by what a finite change of it does, and so does a factor on the gaps. 60 min,
// 20 min before and 15 min after.
func TestGapBudget(t *testing.T) {
	in := weighed(70, 69, 0.5, 0, minutes(60))
	in.GapBefore, in.GapAfter = minutes(20), minutes(15)
	r := balance.Derive(in)
	more := in
	more.After.Mass -= 0.1
	m := balance.Derive(more)
	part := func(list []measure.Part, cause string) float64 {
		for _, p := range list {
			if p.Cause == cause {
				return p.U
			}
		}
		return 0
	}
	const after = "reading/scale.csv:3"
	perKG := part(r.Sweat.Budget, after)
	near(t, "rate", part(r.Rate.Budget, after)/perKG, float64(m.Rate.Value-r.Rate.Value)/0.1, 1e-9)
	near(t, "gap sweat", part(r.GapSweat.Budget, after)/perKG, float64(m.GapSweat.Value-r.GapSweat.Value)/0.1, 1e-9)
	// A factor f on the gaps: solve rho·1 h + f·gaps(rho) = sweat for f = 1 ± 0.01.
	at := func(f float64) float64 {
		lo, hi := 0.0, 5.0
		for range 60 {
			if mid := (lo + hi) / 2; mid+f*sweatInGaps(mid, 20, 15) < float64(r.Sweat.Value) {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	u := 0.6 / measure.K95
	near(t, "factor on the rate", part(r.Rate.Budget, "param:balance.gap-sweat"), u*(at(1.01)-at(0.99))/0.02, 1e-4)
}

// A bound stays one: whatever was drunk, the rate with the note is not below it.
func TestBoundOfTheRateWithGaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := noted(t)
		in.GapBefore, in.GapAfter = minutes(rapid.Float64Range(0, 60).Draw(t, "before")), minutes(rapid.Float64Range(0, 60).Draw(t, "after"))
		told := balance.Derive(in)
		in.Note = record.Note{Urine: in.Note.Urine}
		bound := balance.Derive(in)
		if !bound.AtLeast || !bound.Rate.AtLeast || !bound.GapSweat.AtLeast || bound.Rate.Lo > told.Rate.Value {
			t.Fatalf("bound %v, told %v", bound.Rate, told.Rate)
		}
		if bound.Rate.Lo > 0 && float64(bound.Rate.Lo)*in.Elapsed.Hours() > float64(bound.Sweat.Lo)+1e-9 {
			t.Fatalf("more in the session, %v L/h, than in all, %v L", bound.Rate.Lo, bound.Sweat.Lo)
		}
	})
}
