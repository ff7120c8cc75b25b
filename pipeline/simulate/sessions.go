package simulate

import (
	"math"
	"math/rand/v2"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

const treadmillSubSport = "treadmill"

// sessions carries out the plans of one athlete.
func sessions(rng *rand.Rand, a Athlete, plans []plan, air weather) []Session {
	out := make([]Session, len(plans))
	for i, p := range plans {
		s := outing(rng, a, p, air)
		s.Truth = truth(rng, a, p, s)
		s.Note = note(rng, p, s)
		out[i] = s
	}
	return out
}

// outing is what a watch sees of a session, and when the scale was used.
func outing(rng *rand.Rand, a Athlete, p plan, air weather) Session {
	start := instant(p.wall)
	s := Session{
		Key: Key(a.Key, start), Athlete: a.Key, SubSport: "trail",
		Race: p.special == race, Twice: p.special == twoDevices,
		AirTemp: air.at(p.wall), Relief: quantity.Distance(between(rng, 30, 110)),
	}
	if p.special == treadmill {
		s.SubSport, s.AirTemp, s.Relief = treadmillSubSport, quantity.Celsius(21), 0
	}
	warmer := s.AirTemp.Celsius() - 15
	s.Speed = a.EasySpeed + quantity.Speed(p.harder-0.012*warmer+0.05*rng.NormFloat64())
	share := 0.62 + 0.3*p.harder + 0.005*warmer + 0.015*rng.NormFloat64()
	s.MeanHRBpm = float64(a.RestHRBpm) + float64(a.MaxHRBpm-a.RestHRBpm)*min(share, 0.92)
	s.Parts = parts(p, start, s.Speed)
	s.BeforeAt = s.Start().Add(-minutes(rng, 6, 25))
	s.AfterAt = s.Stop().Add(minutes(rng, 4, 18))
	return s
}

// parts is the recordings of a session.
func parts(p plan, start time.Time, v quantity.Speed) []Part {
	whole := Part{Start: start, Elapsed: p.moving, Distance: way(v, p.moving)}
	switch p.special {
	case longPause:
		whole.PauseAt, whole.Pause = p.moving/2, 25*time.Minute
		whole.PauseAt = whole.PauseAt.Truncate(5 * time.Second)
		whole.Elapsed += whole.Pause
	case restarted:
		first := whole
		first.Elapsed = (p.moving / 3).Truncate(time.Second)
		first.Distance = way(v, first.Elapsed)
		second := whole
		second.Start = first.Stop().Add(4 * time.Minute)
		second.Elapsed = p.moving - first.Elapsed
		second.Distance = way(v, second.Elapsed)
		return []Part{first, second}
	}
	return []Part{whole}
}

func way(v quantity.Speed, t time.Duration) quantity.Distance {
	return quantity.Distance(float64(v) * t.Seconds())
}

// truth is the mass balance of a session.
func truth(rng *rand.Rand, a Athlete, p plan, s Session) Truth {
	var t Truth
	hours := s.Elapsed().Hours()
	t.Before = *a.UsualMass + quantity.Kilograms(0.45*rng.NormFloat64())
	t.Rate = a.Law.Rate(s.AirTemp, s.Speed) * quantity.Rate(math.Exp(0.07*rng.NormFloat64()))
	t.Sweat = quantity.Litres(float64(t.Rate)*hours) + gapSweat(s, t.Rate)
	t.NonSweat = nonSweat(t.Before, s.Distance())
	t.Drunk = drunk(rng, hours)
	if p.special == drankTooMuch {
		t.Drunk = t.Sweat + quantity.Litres(1.1)
	}
	if hours > 1.3 {
		t.Eaten = quantity.Grams(round(between(rng, 20, 45)*hours, 1))
	}
	if chance(rng, 0.3) {
		t.Urine = quantity.Litres(between(rng, 0.1, 0.35))
	}
	t.After = t.Before + t.Drunk.WaterMass() + t.Eaten - t.Urine.WaterMass() - t.Sweat.WaterMass() - t.NonSweat
	if a.Weighing == record.Carrying {
		t.pack(rng)
	}
	return t
}

// gapSweat is what is lost between a weigh-in and the run: 30 mL/h on the way
// there (invented), and afterwards the run's rate falling by half every ten
// minutes (from memory).
func gapSweat(s Session, rate quantity.Rate) quantity.Volume {
	const fade = 10 / math.Ln2 / 60
	before, after := s.Start().Sub(s.BeforeAt).Hours(), s.AfterAt.Sub(s.Stop()).Hours()
	return quantity.Litres(0.03*before + float64(rate)*fade*(1-math.Exp(-after/fade)))
}

// nonSweat is breath water and gas exchange: 0.20 g/kcal (Cheuvront and Montain
// 2017, Exp Physiol 102:1047) at 1 kcal for each kilogram and kilometre of
// running (Margaria et al. 1963, J Appl Physiol 18:367, from memory).
func nonSweat(body quantity.Mass, way quantity.Distance) quantity.Mass {
	kcal := body.Kilograms() * float64(way) / 1000
	return quantity.Grams(0.20 * kcal)
}

// drunk is little on short runs and 0.25 to 0.55 L/h on others.
func drunk(rng *rand.Rand, hours float64) quantity.Volume {
	if hours < 0.75 && chance(rng, 0.4) {
		return 0
	}
	return quantity.Litres(round(between(rng, 0.25, 0.55)*hours, 0.01))
}

// pack puts clothes, pack, food and drink on the scale; what is drunk and
// eaten is carried from the start, and clothes hold some of the sweat.
func (t *Truth) pack(rng *rand.Rand) {
	t.KitBefore = quantity.Kilograms(2.1) + t.Drunk.WaterMass() + t.Eaten + quantity.Kilograms(between(rng, 0, 0.3))
	if chance(rng, 0.15) {
		t.ClothesOff = quantity.Grams(340)
	}
	t.ClothesWet = quantity.Grams(min(120, 80*t.Sweat.Litres()))
	t.KitAfter = t.KitBefore - t.Drunk.WaterMass() - t.Eaten - t.ClothesOff + t.ClothesWet
}

// note is what the athlete writes down, rounded as people do; about one in
// six is missing.
func note(rng *rand.Rand, p plan, s Session) *record.Note {
	if chance(rng, 0.17) && p.special == plain {
		return nil
	}
	drunk := quantity.Litres(round(s.Truth.Drunk.Litres(), 0.05))
	eaten := quantity.Grams(round(1000*s.Truth.Eaten.Kilograms(), 5))
	off := s.Truth.ClothesOff
	n := &record.Note{Session: s.Key, At: s.AfterAt, Drunk: &drunk, Eaten: &eaten, Toilet: "none", ClothesOff: &off}
	if s.Truth.Urine > 0 {
		n.Toilet = "yes"
		if chance(rng, 0.6) {
			urine := quantity.Litres(round(s.Truth.Urine.Litres(), 0.05))
			n.Urine = &urine
		}
	}
	n.Felt = felt(p, s)
	return n
}

func felt(p plan, s Session) string {
	switch {
	case p.special == race:
		return "race day, all out"
	case p.special == drankTooMuch:
		return "sloshing, drank at every tap"
	case p.special == longPause:
		return "waited out a shower in the hut"
	case s.AirTemp > 24:
		return "hot"
	}
	return ""
}
