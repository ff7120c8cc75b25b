package fit

import (
	"fmt"
	"time"

	"saltpan/importers/importer"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// A weight of 0xFFFE means that the scale was still measuring.
const stillMeasuring = 0xFFFE

// coarsestStep is the coarsest step a scale is credited with, in 0.01 kg: with few
// readings a common divisor says little.
const coarsestStep = 10

// weighIns takes the finished readings of a part. The profile has them in kg
// and UTC; the number of a reading stands where a table has its line. The
// weight in a user's profile is a setting and never comes here.
func (r *reading) weighIns(p *part) {
	step := stepOf(p.weights)
	for _, w := range p.weights {
		r.weights++
		if w.mass < 0 || w.mass == stillMeasuring {
			continue
		}
		if problem := r.unbelievable(w); problem != nil {
			r.fail(problem)
			continue
		}
		r.res.WeighIns = append(r.res.WeighIns, r.weighIn(w, step))
	}
}

func (r *reading) unbelievable(w weight) *importer.Problem {
	switch {
	case w.at == 0:
		return r.problem(importer.BadTime, fmt.Sprintf("reading %d of %.2f kg has no time", r.weights, float64(w.mass)/100), "")
	case !isDate(w.at):
		return r.problem(importer.BadTime, fmt.Sprintf("reading %d of %.2f kg is dated %s, before the clock was set",
			r.weights, float64(w.mass)/100, moment(w.at).Format(time.DateOnly)), "set the scale's clock; add the reading by hand if you know when it was")
	case w.mass == 0:
		return r.problem(importer.OutOfRange, fmt.Sprintf("reading %d is 0 kg, wanted a mass", r.weights), "")
	}
	return nil
}

func (r *reading) weighIn(w weight, step int64) record.WeighIn {
	out := record.WeighIn{
		ID:    fmt.Sprintf("%s:%d", r.src.SHA256, r.weights),
		Scale: r.src.Hints.Scale, Wall: moment(w.at), UTCOffset: ptr(time.Duration(0)), Resolution: time.Second,
		Mass: quantity.Kilograms(float64(w.mass) / 100), MassStep: quantity.Kilograms(float64(step) / 100),
		Origin: r.origin(r.weights),
	}
	if out.Scale == "" {
		out.Scale = "scale"
	}
	if w.user >= 0 {
		// The top four bits of a message index are flags.
		out.Person = fmt.Sprintf("user %d", w.user&0x0FFF)
	}
	return out
}

// stepOf is the greatest step that divides all masses, at most 0.1 kg.
func stepOf(all []weight) int64 {
	step := int64(coarsestStep)
	for _, w := range all {
		if w.mass > 0 && w.mass != stillMeasuring {
			for a := w.mass; a != 0; {
				step, a = a, step%a
			}
		}
	}
	return step
}
