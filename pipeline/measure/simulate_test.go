package measure_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"saltpan/pipeline/measure"
)

// Of a linear model simulation and first order give the same (JCGM 101 5.11).
// Over 20,000 trials u is within 2.5 % (five standard deviations) and an end
// of the interval within 0.1 u, its standard deviation being 0.019 u.
func TestSimulateAgreesWithFirstOrder(t *testing.T) {
	a := measure.Read("test", 3.0, nil, measure.Part{Cause: "scale", U: 0.5}, measure.Part{Cause: "own", U: 0.2})
	b := measure.Read("test", 1.0, nil, measure.Part{Cause: "scale", U: 0.7}, measure.Part{Cause: "other", U: 0.4})
	for seed, by := range [][2]float64{{1, 1}, {1, -1}, {2, -0.5}, {-3, 2}} {
		first := measure.Combine("test", by[0]*a.Value+by[1]*b.Value, a.Times(by[0]), b.Times(by[1]))
		drawn := measure.Simulate("test", uint64(seed), 20000, func(d *measure.Draw) float64 {
			return by[0]*measure.Of(d, a) + by[1]*measure.Of(d, b)
		})
		u := first.U()
		near(t, "value", drawn.Value, first.Value, 0.04*u)
		near(t, "u", drawn.U(), u, 0.025*u)
		near(t, "lower end", drawn.Lo, first.Lo, 0.1*u)
		near(t, "upper end", drawn.Hi, first.Hi, 0.1*u)
		for _, p := range first.Budget {
			i := slices.IndexFunc(drawn.Budget, func(q measure.Part) bool { return q.Cause == p.Cause })
			near(t, p.Cause, drawn.Budget[i].U, p.U, 0.04*u)
		}
	}
}

// exp(u z) is the lognormal distribution: mean exp(u²/2), 95 % from exp(−1.96 u)
// to exp(1.96 u), variance (exp(u²) − 1) exp(u²). First order has a mean of 1
// and a lower end below zero for u = 0.6.
func TestSimulateWhereFirstOrderIsPoor(t *testing.T) {
	const u = 0.6
	log := measure.Read("test", 0.0, nil, measure.Part{Cause: "factor", U: u})
	e := measure.Simulate("test", 7, 100000, func(d *measure.Draw) float64 { return math.Exp(measure.Of(d, log)) })
	near(t, "mean", e.Value, math.Exp(u*u/2), 0.015)
	near(t, "lower end", e.Lo, math.Exp(-measure.K95*u), 0.01)
	near(t, "upper end", e.Hi, math.Exp(measure.K95*u), 0.08)
	near(t, "u", e.U(), math.Sqrt((math.Exp(u*u)-1)*math.Exp(u*u)), 0.03)
	// Stein's lemma: the linear part is u times the mean.
	for _, p := range e.Budget {
		if p.Cause == "factor" {
			near(t, "linear part", p.U, u*math.Exp(u*u/2), 0.02)
		}
	}
	if first := 1 - measure.K95*u; first > 0 {
		t.Errorf("first order does not fail here: %v", first)
	}
}

func TestSimulateIsFixedByItsSeed(t *testing.T) {
	x := measure.Read("test", 3.0, nil, measure.Part{Cause: "a", U: 0.2}, measure.Part{Cause: "b", U: 0.1})
	run := func(seed uint64) measure.Estimate[float64] {
		return measure.Simulate("test", seed, 2000, func(d *measure.Draw) float64 { return math.Pow(measure.Of(d, x), 2) }, "x")
	}
	if !reflect.DeepEqual(run(1), run(1)) {
		t.Error("one seed, two results")
	}
	if run(1).Lo == run(2).Lo {
		t.Error("two seeds, one result")
	}
	same := measure.Simulate("test", 1, 2000, func(d *measure.Draw) float64 { return measure.Of(d, x) - measure.Of(d, x) })
	if same.U() != 0 || same.Lo != 0 || same.Hi != 0 {
		t.Errorf("a value less itself is %+v", same)
	}
}
