package balance

import (
	"math"

	"saltpan/pipeline/cite"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// terms is the working, line by line.
func terms(in Input, p params) []Term {
	out := []Term{massLost(in, p)}
	if weighing(in) == record.Carrying {
		out = append(out, carried(in.Note, p)...)
	} else {
		out = append(out, taken(in, p)...)
	}
	out = append(out, toilet(in, p)...)
	out = appendNoted(out, "clothes-off", "clothes taken off after the first weigh-in", in.Note.ClothesOff, -1, p.otherFraction, p)
	out = append(out, clothesWet(in, p)...)
	out = append(out, corrections(in, p)...)
	if in.LinkDoubt > 0 {
		out = append(out, linkDoubt(in, p))
	}
	return out
}

// massLost is before less after. One scale's constant offset cancels, for both
// readings name it as the same cause.
func massLost(in Input, p params) Term {
	kg := measure.Combine(method, in.Before.Mass-in.After.Mass, reading(in, true, p).Times(1), reading(in, false, p).Times(-1))
	if in.Before.Carrying != in.After.Carrying {
		kg.Warnings = append(kg.Warnings, measure.Warning{Code: "weighed-differently",
			Text: "one weigh-in was with kit and the other without, so the kit is in the loss"})
	}
	return Term{Name: "mass-change", Text: "mass before less mass after", KG: kg, Source: "gum2008"}
}

// reading is one weigh-in with its causes of error: the scale's offset, and
// rounding to a step, step/√12 (GUM 4.3.7, a rectangle one step wide).
func reading(in Input, before bool, p params) measure.Estimate[quantity.Mass] {
	r, side := in.After, "after"
	if before {
		r, side = in.Before, "before"
	}
	step := r.Step.Kilograms()
	if step <= 0 {
		step = p.scaleStep.Value
	}
	cause := "reading/" + r.From
	if in.Before.From == in.After.From {
		cause += " " + side // two told readings are two readings
	}
	return measure.Read(method, r.Mass, []string{r.From},
		measure.Part{Cause: "scale-offset/" + r.Scale, U: p.scaleOffset.U},
		measure.Part{Cause: cause, U: measure.Uniform(step / 2)})
}

// carried is what was put on and taken off the scale with the kit. What was
// carried and drunk or eaten cancels out.
func carried(n record.Note, p params) []Term {
	var out []Term
	out = appendNoted(out, "picked-up", "picked up after the first weigh-in", n.PickedUp, 1, p.drunkFraction, p)
	out = appendNoted(out, "left-behind", "left behind before the second weigh-in", n.LeftBehind, -1, p.drunkFraction, p)
	return appendNoted(out, "poured", "carried, then poured over the body or spilled", n.Poured, -1, p.otherFraction, p)
}

// taken is what was drunk and eaten. Water poured over the body was never on
// the scale, so it does not enter.
func taken(in Input, p params) []Term {
	var out []Term
	out = appendNoted(out, "drunk", "drunk between the weigh-ins, 1 kg a litre", in.Note.Drunk, 1, p.drunkFraction, p)
	if in.Note.Eaten == nil && !unknownIntake(in) {
		u := p.eatenUnsaid.U * in.Elapsed.Hours()
		return append(out, unsaid("eaten", "eaten: not said, counted as nothing give or take", spread, p.eatenUnsaid, 0, u))
	}
	return appendNoted(out, "eaten", "eaten between the weigh-ins", in.Note.Eaten, 1, p.otherFraction, p)
}

// toilet is urine and stool. Unsaid urine is taken at its usual rate over the
// whole time between the weigh-ins.
func toilet(in Input, p params) []Term {
	n := in.Note
	var out []Term
	switch {
	case n.Urine != nil:
		out = appendNoted(out, "urine", "urine between the weigh-ins", n.Urine, -1, p.otherFraction, p)
	case n.Toilet == "yes" && n.Stool == nil:
		out = append(out, unsaid("urine", "toilet used, amount not said: a usual visit", spread, p.void, -p.void.Value, p.void.U))
	case n.Toilet != "none":
		h := max(0, in.GapBefore+in.Elapsed+in.GapAfter).Hours()
		out = append(out, unsaid("urine", "toilet: not said, a usual rate", spread, p.urineUnsaid, -p.urineUnsaid.Value*h, p.urineUnsaid.U*h))
	}
	return appendNoted(out, "stool", "stool between the weigh-ins", n.Stool, -1, p.otherFraction, p)
}

// clothesWet is sweat that the second weigh-in still found in the clothes.
func clothesWet(in Input, p params) []Term {
	if in.Note.ClothesWet == nil && weighing(in) == record.Carrying {
		return []Term{unsaid("clothes-wet", "sweat held in clothes: not said, counted as nothing give or take", absent, p.clothesUnsaid, 0, p.clothesUnsaid.U)}
	}
	out := appendNoted(nil, "clothes-wet", "sweat held in clothes", in.Note.ClothesWet, 1, p.otherFraction, p)
	for i := range out {
		out[i].role = absent
	}
	return out
}

func linkDoubt(in Input, p params) Term {
	return unsaid("link", "doubt whether both weigh-ins belong to this session", whole, p.wrongLink, 0, in.LinkDoubt*p.wrongLink.U)
}

// appendNoted adds what a person noted, if it was said. An explicit nothing is
// exact; else the error is the greater of a floor and a fraction of the amount.
func appendNoted[Q ~float64](out []Term, name, text string, amount *Q, sign float64, fraction cite.Param, p params) []Term {
	if amount == nil {
		return out
	}
	kg, u := float64(*amount), 0.0
	if kg != 0 { // and a nothing stays without a sign
		kg, u = sign*kg, math.Max(p.floor.U, fraction.U*math.Abs(kg))
	}
	e := measure.Read(method, quantity.Kilograms(kg), []string{"note"}, measure.Part{Cause: name, U: u})
	return append(out, Term{Name: name, Text: text, KG: e, Source: fraction.Ref.Key})
}

func unsaid(name, text string, role role, p cite.Param, kg, u float64) Term {
	e := measure.Read(method, quantity.Kilograms(kg), []string{"param:" + p.Name}, measure.Part{Cause: name, U: u})
	return Term{Name: name, Text: text, KG: e, Source: p.Ref.Key, role: role}
}
