package simulate

import (
	"math/rand/v2"
	"time"

	"saltpan/pipeline/quantity"
)

// weighIns is every reading of every scale: before and after sessions (some
// forgotten, some repeated at once), mornings without a session, and the other
// people of the house.
func weighIns(seed uint64, s Season, o Options) []WeighIn {
	var out []WeighIn
	for i, sc := range s.Scales {
		rng := rand.New(rand.NewPCG(seed, uint64(i)|1<<40))
		for _, a := range s.Athletes {
			if a.Scale == sc.Key {
				out = append(out, sc.ofAthlete(rng, a, s.Sessions, len(sc.Athletes) > 1)...)
				out = append(out, sc.mornings(rng, a, o)...)
			}
		}
		for _, p := range sc.Others {
			out = append(out, sc.ofPerson(rng, p, o)...)
		}
	}
	byInstant(out)
	return out
}

// ofAthlete is the readings around the athlete's sessions.
func (sc Scale) ofAthlete(rng *rand.Rand, a Athlete, sessions []Session, repeats bool) []WeighIn {
	var out []WeighIn
	for _, s := range sessions {
		if s.Athlete != a.Key {
			continue
		}
		for _, slot := range []string{"before", "after"} {
			at, mass := s.BeforeAt, s.Truth.Before+s.Truth.KitBefore
			if slot == "after" {
				at, mass = s.AfterAt, s.Truth.After+s.Truth.KitAfter
			}
			w := sc.reading(rng, at, mass)
			w.Person, w.Athlete, w.Session, w.Slot = a.Name, a.Key, s.Key, slot
			forgotten, again := chance(rng, 0.06), repeats && chance(rng, 0.08)
			if forgotten && !s.outOfTheOrdinary() {
				continue
			}
			out = append(out, w)
			if again {
				w.At, w.Wall = w.At.Add(20*time.Second), w.Wall.Add(20*time.Second)
				out = append(out, w)
			}
		}
	}
	return out
}

// outOfTheOrdinary sessions keep their weigh-ins, so that they can be looked at.
func (s Session) outOfTheOrdinary() bool {
	return s.Race || s.Twice || s.Indoor() || len(s.Parts) > 1 || s.Parts[0].Pause > 0 || s.Truth.After > s.Truth.Before
}

// mornings is a weigh-in at home on most Mondays and Fridays, days of rest.
func (sc Scale) mornings(rng *rand.Rand, a Athlete, o Options) []WeighIn {
	if len(sc.Athletes) > 1 {
		return nil // the shared one is not at home
	}
	var out []WeighIn
	for day := range 7 * o.Weeks {
		if (day%7 != 0 && day%7 != 4) || chance(rng, 0.2) {
			continue
		}
		wall := o.Start.AddDate(0, 0, day).Add(7*time.Hour + minutes(rng, -15, 30))
		w := sc.reading(rng, instant(wall), *a.UsualMass+quantity.Kilograms(0.4*rng.NormFloat64()-0.3))
		w.Person, w.Athlete = a.Name, a.Key
		out = append(out, w)
	}
	return out
}

// ofPerson is the readings of somebody else, three mornings or evenings a week;
// on the shared scale now and then on a club evening.
func (sc Scale) ofPerson(rng *rand.Rand, p Person, o Options) []WeighIn {
	var out []WeighIn
	for day := range 7 * o.Weeks {
		club, often := day%7 == 1 || day%7 == 3, 0.43
		if len(sc.Athletes) > 1 {
			often = 0.12
			if club {
				often = 0.35
			}
		}
		clock := 7*time.Hour + 10*time.Minute
		if chance(rng, 0.4) || len(sc.Athletes) > 1 {
			clock = 19*time.Hour + 20*time.Minute
		}
		wall := o.Start.AddDate(0, 0, day).Add(clock + minutes(rng, -40, 60))
		w := sc.reading(rng, instant(wall), p.Mass+quantity.Kilograms(0.5*rng.NormFloat64()))
		w.Person = p.Name
		if chance(rng, often) {
			out = append(out, w)
		}
	}
	return out
}

// reading is what the scale makes of a mass: its bias, a scatter of 30 g and
// its step.
func (sc Scale) reading(rng *rand.Rand, at time.Time, mass quantity.Mass) WeighIn {
	shown := mass + sc.Bias + quantity.Kilograms(0.03*rng.NormFloat64())
	offset := Offset(at)
	if sc.MissedSummerTime {
		offset = 0
	}
	return WeighIn{Scale: sc.Key, At: at, Wall: at.Add(offset), True: mass,
		Shown: quantity.Mass(round(float64(shown), float64(sc.Step)))}
}
