// Package measure has the estimate: a value with its interval and with its
// uncertainty kept by cause. Terms and rules follow the Guide to the
// Expression of Uncertainty in Measurement (JCGM 100:2008, "GUM").
//
// Causes are kept apart, not summed early. Two parts with the same cause add
// with their signs, so that the constant offset of one scale cancels between
// before and after and does not when two scales were used.
package measure

import (
	"math"
	"sort"
)

// Part is what one cause adds to the standard uncertainty of a value (k = 1),
// in the unit of the value, with the sign of its effect.
type Part struct {
	Cause string  `json:"cause"` // "scale-offset/hall", "reading/2026/scale.csv:17", "drunk"
	U     float64 `json:"u"`
	// DF is the degrees of freedom behind U; 0 means known (infinite).
	DF float64 `json:"df,omitempty"`
}

// Warning is a doubt about a number that stands all the same.
type Warning struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// Estimate is a computed quantity. Q says its unit.
type Estimate[Q ~float64] struct {
	Value Q `json:"value"`
	// Lo and Hi bound Coverage; with AtLeast only Lo stands, one-sided.
	Lo       Q       `json:"lo"`
	Hi       Q       `json:"hi"`
	Coverage float64 `json:"coverage"`
	AtLeast  bool    `json:"at_least,omitempty"`
	Budget   []Part  `json:"budget,omitempty"`
	// Method is package.Function/version; the version rises when a result can change.
	Method   string    `json:"method"`
	Inputs   []string  `json:"inputs,omitempty"` // origins and names of other estimates
	Warnings []Warning `json:"warnings,omitempty"`
}

// K95 is the normal coverage factor for 95 %.
const K95 = 1.959963984540054

// Term is one input to Combine: the parts of an estimate, each already
// multiplied by the partial derivative of the result.
type Term struct {
	parts    []Part
	inputs   []string
	warnings []Warning
}

// Times gives the term of an input whose partial derivative is partial, in
// units of the result per unit of the input.
func (e Estimate[Q]) Times(partial float64) Term {
	parts := make([]Part, len(e.Budget))
	for i, p := range e.Budget {
		parts[i] = Part{Cause: p.Cause, U: p.U * partial, DF: p.DF}
	}
	return Term{parts: parts, inputs: e.Inputs, warnings: e.Warnings}
}

// Exact is a value without uncertainty, such as a count or a definition.
func Exact[Q ~float64](method string, value Q, inputs ...string) Estimate[Q] {
	return Estimate[Q]{Value: value, Lo: value, Hi: value, Coverage: 1, Method: method, Inputs: inputs}
}

// Read is a value with its parts of uncertainty, all from different causes or
// from causes shared by name with other estimates.
func Read[Q ~float64](method string, value Q, inputs []string, parts ...Part) Estimate[Q] {
	return finish(Estimate[Q]{Value: value, Budget: merge(parts), Method: method, Inputs: inputs})
}

// Combine propagates first-order (GUM 5.1.2 and, for shared causes, 5.2.2):
// parts of the same cause add with sign, different causes in quadrature.
func Combine[Q ~float64](method string, value Q, terms ...Term) Estimate[Q] {
	e := Estimate[Q]{Value: value, Method: method}
	var parts []Part
	for _, t := range terms {
		parts = append(parts, t.parts...)
		e.Inputs = appendNew(e.Inputs, t.inputs)
		e.Warnings = appendWarnings(e.Warnings, t.warnings)
	}
	e.Budget = merge(parts)
	return finish(e)
}

// Bound is the one-sided lower bound of e (97.5 %), for a quantity of which
// only the least is known. It has no value and no upper end.
func (e Estimate[Q]) Bound() Estimate[Q] {
	e.Lo, e.Hi, e.Value = e.Value-Q(e.factor()*e.U()), 0, 0
	e.AtLeast, e.Coverage = true, 0.975
	return e
}

// U is the combined standard uncertainty, in the unit of the value.
func (e Estimate[Q]) U() float64 {
	sum := 0.0
	for _, p := range e.Budget {
		sum += p.U * p.U
	}
	return math.Sqrt(sum)
}

// Uniform is the standard uncertainty of a value known to within ± half
// (GUM 4.3.7).
func Uniform(half float64) float64 { return half / math.Sqrt(3) }

// factor is the coverage factor for 95 %, greater than K95 where a part of
// weight rests on few observations.
func (e Estimate[Q]) factor() float64 {
	if df := e.DF(); !math.IsInf(df, 1) && !math.IsNaN(df) {
		return Factor(0.95, df)
	}
	return K95
}

func finish[Q ~float64](e Estimate[Q]) Estimate[Q] {
	half := Q(e.factor() * e.U())
	e.Lo, e.Hi, e.Coverage = e.Value-half, e.Value+half, 0.95
	return e
}

// merge adds parts of one cause with their signs and orders the causes by name.
func merge(parts []Part) []Part {
	sum := map[string]Part{}
	for _, p := range parts {
		s := sum[p.Cause]
		sum[p.Cause] = Part{Cause: p.Cause, U: s.U + p.U, DF: max(s.DF, p.DF)}
	}
	out := make([]Part, 0, len(sum))
	for _, p := range sum {
		if p.U != 0 {
			out = append(out, p)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Cause < out[j].Cause })
	return out
}

func appendNew(to, from []string) []string {
	for _, s := range from {
		if !has(to, s) {
			to = append(to, s)
		}
	}
	return to
}

func has(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
}

func appendWarnings(to, from []Warning) []Warning {
	for _, w := range from {
		known := false
		for _, t := range to {
			known = known || t == w
		}
		if !known {
			to = append(to, w)
		}
	}
	return to
}

// ByShare is the budget with the largest part of the variance first.
func (e Estimate[Q]) ByShare() []Part {
	out := append([]Part(nil), e.Budget...)
	sort.SliceStable(out, func(i, j int) bool { return math.Abs(out[i].U) > math.Abs(out[j].U) })
	return out
}
