package sodium

import (
	"fmt"
	"math"
	"strings"

	"saltpan/pipeline/cite"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// methods; the number rises when a result can change.
const (
	derived = "sodium.Derive/1"
	lost    = "sodium.Loss/1"
)

// Bases, best first.
const (
	WholeBody  = "whole-body"
	Patch      = "patch"
	FromScreen = "screen"
	Mean       = "mean"
)

// Input is what is known about an athlete's sweat.
type Input struct {
	Tests []record.SodiumTest
	// Screen is the newest salt screen, nil if there is none.
	Screen *record.Screen
}

// Result is the sodium concentration of an athlete's sweat.
type Result struct {
	// Concentration has an interval that is wider upwards than downwards.
	Concentration measure.Estimate[quantity.Concentration] `json:"concentration_mmol_per_l"`
	// From is "whole-body", "patch", "screen" or "mean".
	From string `json:"from"`
	// Text says it in words, Source has the keys of references.
	Text   string `json:"text"`
	Source string `json:"source"`
	// Problems says which tests were left out and what would make them count.
	Problems []string `json:"problems,omitempty"`
}

// Derive gives the concentration from the best basis alone. It always gives
// one: the published mean if nothing else is known.
func Derive(in Input) Result {
	whole, patch, problems := split(in.Tests)
	var r Result
	switch {
	case len(whole) > 0:
		r = fromTests(whole, 0)
		r.From, r.Text = WholeBody, fmt.Sprintf("%d whole-body test(s), mean in log space", len(whole))
		r.Source = dayToDay().Ref.Key
	case len(patch) > 0:
		r = fromTests(patch, siteError().U)
		r.From, r.Text = Patch, fmt.Sprintf("%d patch test(s) carried to the whole body, mean in log space", len(patch))
		r.Source = siteError().Ref.Key + " " + dayToDay().Ref.Key + sources(patch)
	case in.Screen != nil:
		r = fromScreen(Screen(in.Screen.Yes))
	default:
		r = fromMean()
	}
	r.Problems = problems
	return r
}

// test is one measurement brought to the whole body.
type test struct {
	whole  quantity.Concentration
	source string
	doubt  []measure.Warning
}

// split sorts tests by basis and says why others are left out.
func split(tests []record.SodiumTest) (whole, patch []test, problems []string) {
	for _, t := range tests {
		found, err := read(t)
		switch {
		case err != nil:
			problems = append(problems, fmt.Sprintf("sodium test of %s left out: %v", t.At.Format("2006-01-02"), err))
		case t.Method == Patch:
			patch = append(patch, found)
		default:
			whole = append(whole, found)
		}
	}
	return whole, patch, problems
}

func read(t record.SodiumTest) (test, error) {
	switch {
	case t.Concentration <= 0:
		return test{}, fmt.Errorf("%g mmol/L: want more than nothing, enter it again", float64(t.Concentration))
	case t.Method == WholeBody:
		return test{whole: t.Concentration, doubt: doubt(t.Concentration, measured())}, nil
	case t.Method == Patch:
		c, s, err := fromSite(t.Concentration, t.Site)
		return test{c, s.slope.Ref.Key, doubt(t.Concentration, s.slope)}, err
	}
	return test{}, fmt.Errorf("method %q: want %s or %s", t.Method, WholeBody, Patch)
}

// FromSite carries a patch's concentration to the whole body: dorsal forearm
// 0.57 x + 11.05 (baker2016), five sites' mean 0.68 x + 0.44 and thigh
// 0.75 x + 11.37 (baker2009), in mmol/L. It refuses any other site.
func FromSite(c quantity.Concentration, at string) (quantity.Concentration, error) {
	whole, _, err := fromSite(c, at)
	return whole, err
}

func fromSite(c quantity.Concentration, at string) (quantity.Concentration, site, error) {
	key := strings.Join(strings.FieldsFunc(strings.ToLower(at), func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), "-")
	var names []string
	for _, s := range sites() {
		if s.name == key {
			return quantity.Concentration(s.slope.Value*float64(c) + s.intercept.Value), s, nil
		}
		names = append(names, s.name)
	}
	return 0, site{}, fmt.Errorf("site %q: no equation to the whole body, want %s", at, strings.Join(names, ", "))
}

func doubt(c quantity.Concentration, p cite.Param) []measure.Warning {
	if p.Within(float64(c)) {
		return nil
	}
	return []measure.Warning{{Code: "sodium-out-of-range",
		Text: fmt.Sprintf("%.0f mg/L (%.1f mmol/L) lies outside %g to %g mmol/L; look whether the unit is right", c.MilligramsPerLitre(), float64(c), p.Lo, p.Hi)}}
}

func sources(tests []test) string {
	out := ""
	for _, t := range tests {
		if !strings.Contains(out, t.source) {
			out += " " + t.source
		}
	}
	return out
}

// fromTests is the mean in log space. The spread from day to day shrinks with
// the number of tests, the error of the site's equation does not.
func fromTests(tests []test, siteSD float64) Result {
	sum, n := 0.0, float64(len(tests))
	var doubts []measure.Warning
	for _, t := range tests {
		sum += math.Log(float64(t.whole))
		doubts = append(doubts, t.doubt...)
	}
	value := math.Exp(sum / n)
	e := logNormal(derived, quantity.Concentration(value), measure.Part{Cause: "sodium/day-to-day", U: value * dayToDay().U / math.Sqrt(n)},
		measure.Part{Cause: "sodium/site", U: siteSD})
	e.Inputs, e.Warnings = []string{"sodium test"}, doubts
	return Result{Concentration: e}
}

// fromScreen is the hull of the band's own reach and the population's, for a
// screen must not claim to know more than the population tells.
func fromScreen(c quantity.Concentration) Result {
	f := screenFactor().Value
	mg := c.MilligramsPerLitre()
	lo := math.Min(populationLow().Value, toTen(mg/f))
	hi := math.Max(populationHigh().Value, toTen(mg*f))
	return Result{Concentration: between(c, lo, hi, "sodium/screen", "salt screen"), From: FromScreen,
		Text: "salt screen, common practice, low confidence", Source: screenFactor().Ref.Key + " " + populationMean().Ref.Key}
}

func fromMean() Result {
	p := populationMean()
	e := between(quantity.Concentration(p.Value), populationLow().Value, populationHigh().Value, "sodium/population", "param:"+p.Name)
	return Result{Concentration: e, From: Mean, Text: "published mean of athletes", Source: p.Ref.Key}
}

func toTen(mg float64) float64 { return math.Round(mg/10) * 10 }

// between is a value with given bounds in mg/L; its standard uncertainty is the
// half width in log space over 1.96.
func between(c quantity.Concentration, lo, hi float64, cause, input string) measure.Estimate[quantity.Concentration] {
	u := float64(c) * math.Log(hi/lo) / 2 / measure.K95
	e := measure.Read(derived, c, []string{input}, measure.Part{Cause: cause, U: u})
	e.Lo, e.Hi = quantity.MilligramsPerLitre(lo), quantity.MilligramsPerLitre(hi)
	return e
}

// logNormal is an estimate that cannot be negative: its interval is
// value × exp(± 1.96 u/value).
func logNormal[Q ~float64](method string, value Q, parts ...measure.Part) measure.Estimate[Q] {
	e := measure.Read(method, value, nil, parts...)
	factor := Q(math.Exp(measure.K95 * e.U() / float64(value)))
	e.Lo, e.Hi = value/factor, value*factor
	return e
}

// Loss is the sodium that a sweat loss carries. Its uncertainty is first-order
// (GUM 5.1.2). Its interval joins, each end by itself, the distances of the
// two inputs from their values: as ratios while the sweat loss is surely above
// zero, else as differences. Of a sweat loss known only from below, the least
// sodium is the product of the low ends, which holds at 97.5 % or more.
func Loss(sweat measure.Estimate[quantity.Volume], c measure.Estimate[quantity.Concentration]) measure.Estimate[quantity.SodiumMass] {
	litres, mg := sweat.Value.Litres(), c.Value.MilligramsPerLitre()
	e := measure.Combine(lost, quantity.SodiumMass(litres*mg), sweat.Times(mg), c.Times(litres*quantity.MilligramsPerMillimoleSodium))
	lo, hi := c.Lo.MilligramsPerLitre(), c.Hi.MilligramsPerLitre()
	switch {
	case sweat.AtLeast:
		e = e.Bound()
		e.Lo = quantity.SodiumMass(math.Min(float64(sweat.Lo)*lo, float64(sweat.Lo)*hi))
	case sweat.Lo > 0 && lo > 0:
		down := math.Hypot(math.Log(float64(sweat.Value/sweat.Lo)), math.Log(mg/lo))
		up := math.Hypot(math.Log(float64(sweat.Hi/sweat.Value)), math.Log(hi/mg))
		e.Lo, e.Hi = quantity.SodiumMass(litres*mg*math.Exp(-down)), quantity.SodiumMass(litres*mg*math.Exp(up))
	default:
		// A loss below zero turns the ends of the concentration round.
		below, above := litres*(mg-lo), litres*(hi-mg)
		if litres < 0 {
			below, above = -above, -below
		}
		e.Lo = e.Value - quantity.SodiumMass(math.Hypot(float64(sweat.Value-sweat.Lo)*mg, below))
		e.Hi = e.Value + quantity.SodiumMass(math.Hypot(float64(sweat.Hi-sweat.Value)*mg, above))
	}
	return e
}
