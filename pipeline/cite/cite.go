// Package cite has every reference once and the parameter that cannot be made
// without one: a number from the literature with its uncertainty, its unit and
// the range it was found in.
package cite

import (
	"fmt"

	"saltpan/pipeline/measure"
)

// Ref is one source.
type Ref struct {
	Key  string // "mitchell1972"
	Text string // authors, year, title, place
	DOI  string
	// Kind is "source", "common practice" (a rule of the trade) or "memory"
	// (quoted from memory; open the source before citing it).
	Kind string
}

// Kinds of reference.
const (
	Source         = "source"
	CommonPractice = "common practice"
	Memory         = "memory"
)

// Param is a number from the literature.
type Param struct {
	Name  string  // "balance.nonsweat-per-kcal"
	Value float64 // in Unit
	U     float64 // standard uncertainty (k = 1), in Unit
	Unit  string
	// Lo and Hi are the range of the input over which it was found, in RangeUnit;
	// both zero means no range is stated.
	Lo, Hi    float64
	RangeUnit string
	Ref       Ref
	Where     string // page, table, equation
	Note      string
}

// New makes a parameter. It panics without a reference, a name or a unit: a
// number without a source has no place here.
func New(p Param) Param {
	if p.Ref.Key == "" || p.Name == "" || p.Unit == "" {
		panic(fmt.Sprintf("cite: parameter %q needs a name, a unit and a reference", p.Name))
	}
	return p
}

// Estimate is the parameter as an estimate whose one cause is the parameter
// itself, so that everything computed from it shares that cause.
func (p Param) Estimate() measure.Estimate[float64] {
	return measure.Read("cite.Param/1", p.Value, []string{"param:" + p.Name},
		measure.Part{Cause: "param:" + p.Name, U: p.U})
}

// Within reports whether an input lies in the range the parameter was found in.
func (p Param) Within(input float64) bool {
	return p.Lo == 0 && p.Hi == 0 || p.Lo <= input && input <= p.Hi
}
