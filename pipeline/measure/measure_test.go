package measure_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
)

// reading is one step-on of a scale that shows step.
func reading(mass, step quantity.Mass, scale, from string) measure.Estimate[quantity.Mass] {
	return measure.Read("test", mass, []string{from},
		measure.Part{Cause: "scale-offset/" + scale, U: 0.3},
		measure.Part{Cause: "reading/" + from, U: measure.Uniform(float64(step) / 2)})
}

func lost(before, after measure.Estimate[quantity.Mass]) measure.Estimate[quantity.Mass] {
	return measure.Combine("test", before.Value-after.Value, before.Times(1), after.Times(-1))
}

// UN-01, UN-02 and UN-04: a reading rounded to a step s lies within ± s/2 with
// equal chance, u = (s/2)/√3 = s/√12 (GUM 4.3.7); the difference of two has
// u = s/√6. 0.1 kg gives 0.0408 kg, over half an hour 0.0816 L/h; 0.2 lb gives
// 0.0370 kg.
func ExampleUniform() {
	metric := lost(reading(70, 0.1, "hall", "a"), reading(69, 0.1, "hall", "b"))
	rate := measure.Combine("test", quantity.Rate(metric.Value/0.5), metric.Times(1/0.5))
	step := quantity.Pounds(0.2)
	pounds := lost(reading(70, step, "hall", "a"), reading(69, step, "hall", "b"))
	fmt.Printf("%.4f kg, %.4f L/h, %.4f kg\n", metric.U(), rate.U(), pounds.U())
	// Output: 0.0408 kg, 0.0816 L/h, 0.0370 kg
}

// UN-03: independent parts of 0.05, 0.05, 0.03 and 0.02 kg over 1.5 h:
// √(0.0025 + 0.0025 + 0.0009 + 0.0004)/1.5 = 0.0529 L/h (GUM 5.1.2).
func ExampleCombine() {
	part := func(cause string, u float64) measure.Term {
		return measure.Read("test", quantity.Mass(0), nil, measure.Part{Cause: cause, U: u}).Times(1 / 1.5)
	}
	rate := measure.Combine("test", quantity.Rate(1), part("before", 0.05), part("after", 0.05), part("drunk", 0.03), part("correction", 0.02))
	fmt.Printf("%.4f L/h\n", rate.U())
	// Output: 0.0529 L/h
}

// UN-05: 95 % limits of agreement of ± 14 mmol/L (Baker et al. 2020, forearm
// patch) are 1.96 standard deviations of 7.14 mmol/L.
func ExampleRead() {
	e := measure.Read("test", quantity.Concentration(36), nil, measure.Part{Cause: "site", U: 14 / measure.K95})
	fmt.Printf("SD %.2f, %.0f to %.0f mmol/L\n", e.U(), float64(e.Lo), float64(e.Hi))
	// Output: SD 7.14, 22 to 50 mmol/L
}

// One scale's constant offset cancels and leaves 0.041 kg; two scales' do not:
// √(2·0.3² + 0.1²/6) = 0.426 kg.
func ExampleEstimate_Times() {
	one := lost(reading(70, 0.1, "hall", "a"), reading(69, 0.1, "hall", "b"))
	two := lost(reading(70, 0.1, "hall", "a"), reading(69, 0.1, "club", "b"))
	fmt.Printf("%.3f kg, %.3f kg\n", one.U(), two.U())
	// Output: 0.041 kg, 0.426 kg
}

func parts(t *rapid.T, label string) []measure.Part {
	cause := rapid.SampledFrom([]string{"a", "b", "c", "d"})
	part := rapid.Custom(func(t *rapid.T) measure.Part {
		return measure.Part{Cause: cause.Draw(t, "cause"), U: rapid.Float64Range(-3, 3).Draw(t, "u")}
	})
	return rapid.SliceOfNDistinct(part, 0, 4, func(p measure.Part) string { return p.Cause }).Draw(t, label)
}

func estimate(t *rapid.T, label string) measure.Estimate[float64] {
	return measure.Read("test", rapid.Float64Range(-100, 100).Draw(t, label), []string{label}, parts(t, label+" parts")...)
}

func same(a, b float64) bool { return math.Abs(a-b) < 1e-9*(1+math.Abs(a)) }

func TestSameCauseCancels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := estimate(t, "e")
		d := measure.Combine("test", 0.0, e.Times(1), e.Times(-1))
		if d.U() != 0 || d.Lo != 0 || d.Hi != 0 || len(d.Budget) != 0 {
			t.Fatalf("a value less itself is %+v", d)
		}
		if twice := measure.Combine("test", 2*e.Value, e.Times(1), e.Times(1)); !same(twice.U(), 2*e.U()) {
			t.Fatalf("twice a value has u %v, want %v", twice.U(), 2*e.U())
		}
	})
}

func TestDifferentCausesAddInQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u, v := rapid.Float64Range(0, 5).Draw(t, "u"), rapid.Float64Range(0, 5).Draw(t, "v")
		a := measure.Read("test", 1.0, nil, measure.Part{Cause: "a", U: u})
		b := measure.Read("test", 1.0, nil, measure.Part{Cause: "b", U: v})
		if s := measure.Combine("test", 2.0, a.Times(1), b.Times(-1)); !same(s.U(), math.Hypot(u, v)) {
			t.Fatalf("u %v, want %v", s.U(), math.Hypot(u, v))
		}
	})
}

func TestIntervalIsTheBudgets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := estimate(t, "e")
		if e.Coverage != 0.95 || !same(e.Hi-e.Value, measure.K95*e.U()) || !same(e.Value-e.Lo, measure.K95*e.U()) {
			t.Fatalf("%+v", e)
		}
		for i := 1; i < len(e.Budget); i++ {
			if e.Budget[i-1].Cause >= e.Budget[i].Cause {
				t.Fatalf("causes are out of order: %+v", e.Budget)
			}
		}
		if b := e.Bound(); !b.AtLeast || b.Lo != e.Lo || b.Value != 0 || b.Hi != 0 || b.Coverage != 0.975 {
			t.Fatalf("bound of %+v is %+v", e, b)
		}
	})
}

// The order of terms changes nothing that is shown, and terms can be combined
// in steps.
func TestCombineInAnyOrderAndInSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := estimate(t, "a"), estimate(t, "b"), estimate(t, "c")
		value := a.Value - 2*b.Value + c.Value
		at := measure.Combine("test", value, a.Times(1), b.Times(-2), c.Times(1))
		turned := measure.Combine("test", value, c.Times(1), a.Times(1), b.Times(-2))
		ab := measure.Combine("test", a.Value-2*b.Value, a.Times(1), b.Times(-2))
		steps := measure.Combine("test", value, ab.Times(1), c.Times(1))
		if !same(at.U(), turned.U()) || !same(at.U(), steps.U()) || len(at.Inputs) != 3 {
			t.Fatalf("u %v, %v, %v", at.U(), turned.U(), steps.U())
		}
	})
}

// Drawn from the causes, the true value lies in the interval 95 times of 100:
// within 0.7 %, four standard deviations of 16,000 draws.
func TestCoverage(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	const draws = 16000
	covered := 0
	for range draws {
		// e = x − y with a cause they share and one of its own each.
		shared, own, other := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
		x := measure.Read("test", 5+0.5*shared+0.2*own, nil, measure.Part{Cause: "shared", U: 0.5}, measure.Part{Cause: "own", U: 0.2})
		y := measure.Read("test", 3+0.3*shared+0.1*other, nil, measure.Part{Cause: "shared", U: 0.3}, measure.Part{Cause: "other", U: 0.1})
		if e := measure.Combine("test", x.Value-y.Value, x.Times(1), y.Times(-1)); e.Lo <= 2 && 2 <= e.Hi {
			covered++
		}
	}
	if share := float64(covered) / draws; math.Abs(share-0.95) > 0.007 {
		t.Errorf("covered %.3f, want 0.95", share)
	}
}

func TestJSONRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := estimate(t, "e")
		if rapid.Bool().Draw(t, "bound") {
			e = e.Bound()
		}
		e.Warnings = []measure.Warning{{Code: "c", Text: "t"}}
		text, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		var back measure.Estimate[float64]
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		if len(e.Budget) == 0 {
			e.Budget = nil // an empty list is left out
		}
		if !reflect.DeepEqual(e, back) {
			t.Fatalf("%+v came back as %+v", e, back)
		}
	})
}

func TestInputsAndWarningsAreKeptOnce(t *testing.T) {
	w := measure.Warning{Code: "doubt", Text: "two scales"}
	a := measure.Read("test", 1.0, []string{"x", "y"})
	b := measure.Read("test", 2.0, []string{"y", "z"})
	a.Warnings, b.Warnings = []measure.Warning{w}, []measure.Warning{w}
	s := measure.Combine("test", 3.0, a.Times(1), b.Times(1))
	if !reflect.DeepEqual(s.Inputs, []string{"x", "y", "z"}) || !reflect.DeepEqual(s.Warnings, []measure.Warning{w}) {
		t.Errorf("inputs %v, warnings %v", s.Inputs, s.Warnings)
	}
}

func TestExactHasNoUncertainty(t *testing.T) {
	if e := measure.Exact("test", 3.0, "x"); e.U() != 0 || e.Lo != 3 || e.Hi != 3 || e.Coverage != 1 {
		t.Errorf("%+v", e)
	}
}
