package simulate

import (
	"math/rand/v2"
	"strconv"
	"strings"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

const hutScale = "hut"

// roster is the club: four runners with habits of their own, then as many more
// as asked for, drawn at random, each with a scale at home.
func roster(seed uint64, n int) []Athlete {
	all := []Athlete{
		{athlete("Ines", "f", 1990, 1.66, 57.8, 186, 52), homeScale("ines"), 2.75, Law{0.62, 0.026, 0.32}},
		{athlete("Bruno", "m", 1983, 1.81, 78.4, 181, 49), hutScale, 2.95, Law{1.05, 0.044, 0.50}},
		{athlete("Maren", "f", 1996, 1.72, 61.2, 194, 55), hutScale, 2.85, Law{0.78, 0.034, 0.38}},
		{athlete("Teo", "m", 1975, 1.76, 84.6, 175, 58), homeScale("teo"), 2.60, Law{1.28, 0.052, 0.55}},
	}
	all[2].Weighing = record.Carrying
	all[3].Units = record.US
	for i := len(all); i < n; i++ {
		all = append(all, stranger(rand.New(rand.NewPCG(seed, uint64(i)<<32)), i))
	}
	return all[:n]
}

func athlete(name, sex string, born int, heightM, massKg float64, maxHR, restHR int) record.Athlete {
	mass := quantity.Kilograms(massKg)
	return record.Athlete{
		Key: strings.ToLower(name), Name: name, Sex: sex, Born: born, HeightM: heightM,
		UsualMass: &mass, Zone: zone, Weighing: record.Body, Units: record.Metric,
		MaxHRBpm: maxHR, RestHRBpm: restHR,
	}
}

// stranger is a runner drawn at random, the i-th of the club.
func stranger(rng *rand.Rand, i int) Athlete {
	names := []string{"Ada", "Caio", "Dora", "Fausto", "Hana", "Gil", "Lidia", "Ivo"}
	name, sex := names[i%len(names)], []string{"f", "m"}[i%2]
	if i >= len(names) {
		name += strconv.Itoa(i)
	}
	easy := between(rng, 0.5, 1.4)
	a := athlete(name, sex, 1960+rng.IntN(45), round(between(rng, 1.55, 1.9), 0.01),
		round(between(rng, 50, 90), 0.1), 170+rng.IntN(25), 45+rng.IntN(15))
	return Athlete{a, homeScale(a.Key), quantity.Speed(between(rng, 2.5, 3.2)),
		Law{quantity.Rate(easy), 0.042 * easy, 0.45 * easy}}
}

func homeScale(athlete string) string { return athlete + "-bathroom" }

// scales lists the scales the athletes use. The first athlete's missed the
// change to summer time; the hut's is shared.
func scales(athletes []Athlete) []Scale {
	var out []Scale
	for i, a := range athletes {
		if last := len(out) - 1; last >= 0 && out[last].Key == a.Scale {
			out[last].Athletes = append(out[last].Athletes, a.Key)
			continue
		}
		out = append(out, newScale(i, a))
	}
	return out
}

func newScale(i int, a Athlete) Scale {
	s := Scale{Key: a.Scale, Athletes: []string{a.Key}, MissedSummerTime: i == 0,
		Step: quantity.Kilograms(0.1), Bias: quantity.Kilograms(0.3),
		Others: []Person{{"Rui", 83.5}, {"Bia", 31.2}}}
	if a.Units == record.US {
		s.Pounds, s.Step, s.Bias = true, quantity.Pounds(0.2), quantity.Kilograms(-0.4)
		s.Others = []Person{{"Greta", 67.3}}
	}
	if a.Scale == hutScale {
		s.Step, s.Bias = quantity.Kilograms(0.05), quantity.Kilograms(0.1)
		s.Others = []Person{{"Otto", 93.1}, {"Pia", 71.4}}
	}
	return s
}
