package pipeline

import (
	"saltpan/pipeline/balance"
	"saltpan/pipeline/effort"
	"saltpan/pipeline/match"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/session"
	"saltpan/pipeline/sodium"
)

// weigh derives the balance once both weigh-ins are there.
func weigh(s *Session) {
	if s.Before == nil || s.After == nil {
		return
	}
	in := balance.Input{Before: reading(*s, *s.Before), After: reading(*s, *s.After), Weighing: s.Weighing,
		Elapsed: s.Elapsed, GapBefore: s.Start.Sub(s.Before.At), GapAfter: s.After.At.Sub(s.Start.Add(s.Elapsed)),
		Distance: s.Distance, Foot: s.Sport == record.Running || s.Sport == record.Walking,
		LinkDoubt: 1 - s.Before.Posterior*s.After.Posterior}
	if s.Effort != nil && s.Effort.Rate != nil && s.Effort.Rate.From == effort.FromPace {
		in.Energy = s.Effort.Energy
	}
	if s.Air != nil && s.Air.Vapour != nil {
		in.Vapour = &s.Air.Vapour.Estimate
	}
	if s.Note != nil {
		in.Note, in.HasNote = *s.Note, true
	}
	result := balance.Derive(in)
	s.Balance = &result
}

func reading(s Session, w WeighIn) balance.Reading {
	return balance.Reading{Mass: w.Mass, Step: w.Step, Scale: w.Scale, From: w.From.String(),
		Carrying: s.Weighing == record.Carrying}
}

// concentration is what is known of an athlete's sweat sodium at the end of a session.
func concentration(f record.Facts, s session.Session) sodium.Result {
	in := sodium.Input{}
	for _, t := range f.SodiumTests {
		if t.Athlete == s.Athlete {
			in.Tests = append(in.Tests, t)
		}
	}
	for i, c := range f.Screens {
		if c.Athlete == s.Athlete {
			in.Screen = &f.Screens[i] // the last one told holds
		}
	}
	return sodium.Derive(in)
}

func sodiumLoss(s Session) *measure.Estimate[quantity.SodiumMass] {
	if s.Balance == nil {
		return nil
	}
	loss := sodium.Loss(s.Balance.Sweat, s.Sodium.Concentration)
	if loss.AtLeast {
		loss.Lo = max(loss.Lo, 0) // sweat never brings sodium in
	}
	return &loss
}

// status is the first that applies. A session is unusable when no loss within
// the interval is one a body can have.
func status(s Session, m match.Match) Status {
	switch {
	case impossible(s):
		return Unusable
	case m.Before.Asked != "" || m.After.Asked != "":
		return NeedsAnswer
	case s.Balance == nil:
		return NeedsWeighIn
	case s.Balance.NeedsNote:
		return NeedsNote
	}
	return Complete
}

func impossible(s Session) bool {
	if s.Elapsed <= 0 {
		return true
	}
	if s.Balance == nil || s.Balance.AtLeast {
		return false
	}
	return s.Balance.Rate.Hi < 0 || float64(s.Balance.Rate.Lo) > highestRate
}
