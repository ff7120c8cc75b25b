package balance

import (
	"time"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// method names this calculation; the number rises when a result can change.
const method = "balance.Derive/2"

// Reading is one of the two weigh-ins.
type Reading struct {
	Mass quantity.Mass
	// Step is the smallest difference the scale shows, 0 if unknown.
	Step  quantity.Mass
	Scale string // key; readings of one scale share its constant error
	From  string // origin, "2026/scale.csv:17"
	// Carrying is set for a reading declared to be with kit.
	Carrying bool
}

// Input is what is known about one session.
type Input struct {
	Before, After Reading
	Weighing      record.Weighing // the athlete's habit; the note's word goes before it
	Note          record.Note
	HasNote       bool
	// Elapsed runs from start to stop, pauses included.
	Elapsed time.Duration
	// GapBefore and GapAfter lie between a weigh-in and the start or the stop.
	GapBefore, GapAfter time.Duration
	Distance            *quantity.Distance
	// Foot is set for running and walking: their energy follows from distance.
	Foot bool
	// Energy is what the session took, rest included, in kcal; nil where only
	// a distance, or nothing, is known.
	Energy *measure.Estimate[quantity.Energy]
	// Vapour is the pressure of the water vapour in the air. With Energy it
	// gives breath water and gas exchange each for itself; without, the
	// shortcut stands for both.
	Vapour *measure.Estimate[quantity.Pressure]
	// LinkDoubt is the probability that the two readings are not this session's.
	LinkDoubt float64
}

// Result is the balance of one session.
type Result struct {
	// MassChange is after less before: a loss is negative.
	MassChange    measure.Estimate[quantity.Mass] `json:"mass_change_kg"`
	MassChangePct float64                         `json:"mass_change_pct"`
	// Simple counts a kilogram as a litre; what was not said counts nothing
	// but widens its interval. SimpleRate is per elapsed hour.
	Simple     measure.Estimate[quantity.Volume] `json:"simple_loss_l"`
	SimpleRate measure.Estimate[quantity.Rate]   `json:"simple_rate_l_per_h,omitzero"`
	// Sweat is after breath water and gas exchange, between the weigh-ins.
	// GapSweat is its part outside the session, and Rate is the rest per elapsed
	// hour. The rates and GapSweat are unset (no method) when Elapsed is not
	// positive.
	Sweat    measure.Estimate[quantity.Volume] `json:"sweat_loss_l"`
	GapSweat measure.Estimate[quantity.Volume] `json:"gap_sweat_l,omitzero"`
	Rate     measure.Estimate[quantity.Rate]   `json:"loss_rate_l_per_h,omitzero"`
	// Deficit is by how much the body's water fell between the weigh-ins. It is
	// unset (no method) when AtLeast is, and when kit was weighed and nothing
	// said about what was drunk.
	Deficit measure.Estimate[quantity.Volume] `json:"water_deficit_l,omitzero"`
	// AtLeast is set when only a lower bound stands, for want of a note: the
	// estimates then have Lo alone, one-sided 97.5 %.
	AtLeast   bool `json:"at_least"`
	NeedsNote bool `json:"needs_note"`
	// Terms sum to the sweat loss, or to its bound before errors.
	Terms []Term `json:"terms"`
}

// Term is one line of the working.
type Term struct {
	Name string `json:"name"` // "mass-change", "drunk" …
	Text string `json:"text"` // in words, with what was assumed
	// KG is the term with the sign with which it enters the sweat loss.
	KG     measure.Estimate[quantity.Mass] `json:"sweat_kg"`
	Source string                          `json:"source,omitempty"` // keys of references, empty for what was weighed or noted
	role   role
}

// role is how a term enters the simple loss; every term enters the sweat loss.
type role int

const (
	whole  role = iota // with its value
	spread             // with its uncertainty alone: it was not said
	absent             // not at all: a correction
)

// Derive works out the balance of a session from its two weigh-ins and its
// note. A gain is never clamped. Without a word on what was drunk, a body
// weighing gives a lower bound only.
func Derive(in Input) Result {
	if !in.HasNote {
		in.Note = record.Note{}
	}
	open := unknownIntake(in)
	p := parameters()
	r := Result{AtLeast: open, NeedsNote: open, Terms: terms(in, p)}
	lost := r.Terms[0].KG
	r.MassChange = measure.Combine(method, -lost.Value, lost.Times(-1))
	if in.Before.Mass > 0 {
		r.MassChangePct = 100 * float64(r.MassChange.Value/in.Before.Mass)
	}
	r.Simple = sum(r.Terms, func(t Term) bool { return t.role != absent }, func(t Term) bool { return t.role == whole || open })
	r.Sweat = sum(r.Terms, all, all)
	if in.Elapsed > 0 {
		r.SimpleRate = perHour(r.Simple, in.Elapsed)
		r.Rate, r.GapSweat = apart(r.Sweat, in, p)
	}
	if open {
		r.Simple, r.SimpleRate = r.Simple.Bound(), r.SimpleRate.Bound()
		r.Sweat, r.GapSweat, r.Rate = r.Sweat.Bound(), r.GapSweat.Bound(), r.Rate.Bound()
	} else {
		r.Deficit = deficit(in, p)
	}
	return r
}

// Bound is the least sweat loss when nothing is known of what was drunk or
// eaten, for either could only add to it (baker2017 table 3: intake not
// measured is flagged): mass lost − urine − non-sweat mass.
func Bound(lost, urine, nonSweat quantity.Mass) quantity.Volume {
	return (lost - urine - nonSweat).WaterVolume()
}

// unknownIntake reports whether the loss is open upwards.
func unknownIntake(in Input) bool {
	return weighing(in) == record.Body && in.Note.Drunk == nil
}

func weighing(in Input) record.Weighing {
	switch {
	case in.Note.Weighing != "":
		return in.Note.Weighing
	case in.Before.Carrying && in.After.Carrying || in.Weighing == record.Carrying:
		return record.Carrying
	}
	return record.Body
}

func all(Term) bool { return true }

// sum adds the terms that are in; those that are not counted lend it their
// uncertainty alone.
func sum(terms []Term, in, counted func(Term) bool) measure.Estimate[quantity.Volume] {
	var value quantity.Mass
	var parts []measure.Term
	for _, t := range terms {
		if !in(t) {
			continue
		}
		if counted(t) {
			value += t.KG.Value
		}
		parts = append(parts, t.KG.Times(1))
	}
	return measure.Combine(method, value.WaterVolume(), parts...)
}

func perHour(v measure.Estimate[quantity.Volume], elapsed time.Duration) measure.Estimate[quantity.Rate] {
	h := elapsed.Hours()
	return measure.Combine(method, quantity.Rate(v.Value.Litres()/h), v.Times(1/h))
}
