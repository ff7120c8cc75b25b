package sodium_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/sodium"
)

func patch(mmol quantity.Concentration, site string) record.SodiumTest {
	return record.SodiumTest{Concentration: mmol, Method: sodium.Patch, Site: site}
}

func wholeBody(mmol quantity.Concentration) record.SodiumTest {
	return record.SodiumTest{Concentration: mmol, Method: sodium.WholeBody}
}

func TestBestBasisAlone(t *testing.T) {
	screen := &record.Screen{Yes: [5]bool{true, true, true, true, true}}
	for _, c := range []struct {
		from string
		want float64 // mmol/L
		in   sodium.Input
	}{
		{"whole-body", 40, sodium.Input{Screen: screen, Tests: []record.SodiumTest{patch(80, "thigh"), wholeBody(40)}}},
		{"whole-body", 40, sodium.Input{Tests: []record.SodiumTest{wholeBody(20), wholeBody(80)}}}, // √(20·80)
		{"patch", 48.87, sodium.Input{Screen: screen, Tests: []record.SodiumTest{patch(50, "Thigh")}}},
		{"screen", 1500 / quantity.MilligramsPerMillimoleSodium, sodium.Input{Screen: screen}},
		{"mean", 35.9, sodium.Input{}},
	} {
		r := sodium.Derive(c.in)
		if e := r.Concentration; r.From != c.from || math.Abs(float64(e.Value)-c.want) > 1e-9 || e.Lo >= e.Value || e.Hi <= e.Value || len(r.Problems) > 0 {
			t.Errorf("got %s %v %v, want %s %v", r.From, e, r.Problems, c.from, c.want)
		}
	}
}

// One patch: 7 mmol/L (14/1.96, Baker et al. 2020) and a coefficient of
// variation of 10.4 % from day to day (Hayden et al. 2004) in quadrature; four
// patches halve the second part alone.
func TestPatchInterval(t *testing.T) {
	c := 0.57*43.6 + 11.05
	for n := 1; n <= 4; n += 3 {
		var in sodium.Input
		for range n {
			in.Tests = append(in.Tests, patch(43.6, "dorsal forearm"))
		}
		e := sodium.Derive(in).Concentration
		u := math.Hypot(7, 0.104*c/math.Sqrt(float64(n)))
		if math.Abs(e.U()-u) > 1e-9 || math.Abs(float64(e.Hi)-c*math.Exp(measure.K95*u/c)) > 1e-9 || math.Abs(float64(e.Lo*e.Hi)-c*c) > 1e-6 {
			t.Errorf("%d patches: %+v, want u %v", n, e, u)
		}
	}
}

func TestTestsThatDoNotCount(t *testing.T) {
	for says, test := range map[string]record.SodiumTest{
		`site "calf": no equation to the whole body, want dorsal-forearm, five-site, thigh`: patch(40, "calf"),
		`site "": no equation`:                     patch(40, ""),
		"want more than nothing":                   wholeBody(0),
		`method "taste": want whole-body or patch`: {Concentration: 40, Method: "taste"},
	} {
		r := sodium.Derive(sodium.Input{Tests: []record.SodiumTest{test}})
		if r.From != sodium.Mean || len(r.Problems) != 1 || !strings.Contains(r.Problems[0], says) {
			t.Errorf("got %s, %q, want %q", r.From, r.Problems, says)
		}
	}
}

func TestMilligramsTakenForMillimolesAreDoubted(t *testing.T) {
	for _, test := range []record.SodiumTest{wholeBody(950), patch(950, "dorsal forearm")} {
		r := sodium.Derive(sodium.Input{Tests: []record.SodiumTest{test}})
		if w := r.Concentration.Warnings; len(w) != 1 || w[0].Code != "sodium-out-of-range" {
			t.Errorf("warnings %+v", w)
		}
	}
}

// The population's ends are those of a log-normal with Baker et al. 2016's
// mean 35.9 and SD 10.4 mmol/L: σ² = ln(1 + (SD/mean)²), µ = ln mean − σ²/2.
func TestPopulationIntervalFollowsFromMeanAndSD(t *testing.T) {
	e := sodium.Derive(sodium.Input{}).Concentration
	variance := math.Log(1 + math.Pow(10.4/35.9, 2))
	median := math.Exp(math.Log(35.9) - variance/2)
	reach := math.Exp(measure.K95 * math.Sqrt(variance))
	lo, hi := quantity.Concentration(median/reach), quantity.Concentration(median*reach)
	if math.Abs(lo.MilligramsPerLitre()-e.Lo.MilligramsPerLitre()) > 10 || math.Abs(hi.MilligramsPerLitre()-e.Hi.MilligramsPerLitre()) > 10 {
		t.Errorf("%v to %v mg/L", lo.MilligramsPerLitre(), hi.MilligramsPerLitre())
	}
}

// NA-13: 1.2 L/h over 2.5 h at 40 mmol/L are 120 mmol, 2758.8 mg. NA-14: with
// 1.2 ± 0.06 and 40 ± 7 (k = 1) an hour carries 48 ± 8.74 mmol (first order).
func TestLossInNumbers(t *testing.T) {
	whole := sodium.Loss(measure.Exact("test", quantity.Volume(3)), measure.Exact("test", quantity.Concentration(40)))
	if math.Abs(float64(whole.Value)-2758.8) > 0.1 || math.Abs(whole.Value.Millimoles()-120) > 1e-6 {
		t.Errorf("got %v", whole.Value)
	}
	hour := sodium.Loss(measure.Read("test", quantity.Volume(1.2), nil, measure.Part{Cause: "a", U: 0.06}),
		measure.Read("test", quantity.Concentration(40), nil, measure.Part{Cause: "b", U: 7}))
	if u := hour.U() / quantity.MilligramsPerMillimoleSodium; math.Abs(u-8.74) > 0.01 || math.Abs(hour.Value.Millimoles()-48) > 1e-6 {
		t.Errorf("got %v ± %v mmol", hour.Value.Millimoles(), u)
	}
}

func sweat(t *rapid.T) measure.Estimate[quantity.Volume] {
	return measure.Read("test", quantity.Volume(rapid.Float64Range(-1, 10).Draw(t, "litres")), nil,
		measure.Part{Cause: "scale", U: rapid.Float64Range(0, 1).Draw(t, "u")})
}

func concentration(t *rapid.T) measure.Estimate[quantity.Concentration] {
	var in sodium.Input
	if n := rapid.IntRange(0, 6).Draw(t, "yes"); n < 6 {
		in.Screen = &record.Screen{}
		for i := range n {
			in.Screen.Yes[i] = true
		}
	}
	return sodium.Derive(in).Concentration
}

func TestLossHoldsItsInputs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, c := sweat(t), concentration(t)
		e := sodium.Loss(s, c)
		if math.Abs(float64(e.Value)-float64(s.Value)*c.Value.MilligramsPerLitre()) > 1e-6 {
			t.Fatalf("%v L at %v mg/L gives %v mg", s.Value, c.Value.MilligramsPerLitre(), e.Value)
		}
		// No end is nearer than the uncertainty of the concentration alone puts it.
		a, b := float64(s.Value)*c.Lo.MilligramsPerLitre(), float64(s.Value)*c.Hi.MilligramsPerLitre()
		if float64(e.Lo) > math.Min(a, b)+1e-6 || float64(e.Hi) < math.Max(a, b)-1e-6 {
			t.Fatalf("%v to %v mg is narrower than %v to %v", e.Lo, e.Hi, a, b)
		}
		if s.Lo > 0 && e.Lo <= 0 {
			t.Fatalf("sweat is surely lost, yet sodium may be %v", e.Lo)
		}
	})
}

func TestLossOfABoundIsABound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, c := sweat(t).Bound(), concentration(t)
		e := sodium.Loss(s, c)
		want := math.Min(float64(s.Lo)*c.Lo.MilligramsPerLitre(), float64(s.Lo)*c.Hi.MilligramsPerLitre())
		if !e.AtLeast || e.Hi != 0 || e.Value != 0 || math.Abs(float64(e.Lo)-want) > 1e-9 {
			t.Fatalf("got %+v, want at least %v", e, want)
		}
	})
}

func TestItemsDoNotAskAboutCramp(t *testing.T) {
	items := sodium.Items()
	if len(items) != 5 || len(sodium.SafetyItems()) == 0 {
		t.Errorf("%d items", len(items))
	}
	for _, item := range append(items, sodium.SafetyItems()...) {
		if strings.Contains(strings.ToLower(item), "cramp") {
			t.Errorf("%q: the evidence is against it", item)
		}
	}
}

func TestParamsAreNamedForTheirPackage(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range sodium.Params() {
		if !strings.HasPrefix(p.Name, "sodium.") || seen[p.Name] {
			t.Errorf("parameter %q", p.Name)
		}
		seen[p.Name] = true
	}
}
