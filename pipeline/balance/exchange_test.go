package balance_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"saltpan/pipeline/balance"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

func energy(kcal, u float64) *measure.Estimate[quantity.Energy] {
	return ptr(measure.Read("test", quantity.Energy(kcal), []string{"track"}, measure.Part{Cause: "energy", U: u}))
}

func vapour(mmHg, u float64) *measure.Estimate[quantity.Pressure] {
	return ptr(measure.Read("test", quantity.MmHg(mmHg), []string{"weather"},
		measure.Part{Cause: "vapour", U: float64(quantity.MmHg(u))}))
}

// known draws a noted session of which energy and air are known.
func known(t *rapid.T) balance.Input {
	in := noted(t)
	in.Energy = energy(rapid.Float64Range(100, 4000).Draw(t, "kcal"), rapid.Float64Range(0, 300).Draw(t, "u kcal"))
	in.Vapour = vapour(rapid.Float64Range(1, 30).Draw(t, "mmHg"), rapid.Float64Range(0, 3).Draw(t, "u mmHg"))
	return in
}

func kg(r balance.Result, names ...string) float64 {
	sum := 0.0
	for _, term := range r.Terms {
		for _, name := range names {
			if term.Name == name {
				sum += term.KG.Value.Kilograms()
			}
		}
	}
	return sum
}

// No correction twice: either breath water and gas exchange or the shortcut
// stands for both, every line stands once, and the sweat is the simple loss
// less exactly those.
func TestNoCorrectionTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := known(t)
		which := rapid.IntRange(0, 3).Draw(t, "known")
		if which&1 == 0 {
			in.Energy = nil
		}
		if which&2 == 0 {
			in.Vapour = nil
		}
		r := balance.Derive(in)
		count := map[string]int{}
		for _, term := range r.Terms {
			count[term.Name]++
			if count[term.Name] > 1 {
				t.Fatalf("%s twice", term.Name)
			}
		}
		apart := which == 3
		if (count["breath"] == 1) != apart || (count["gas-exchange"] == 1) != apart || (count["non-sweat"] == 1) == apart {
			t.Fatalf("terms %v", count)
		}
		if !same(float64(r.Sweat.Value), float64(r.Simple.Value)+kg(r, "breath", "gas-exchange", "non-sweat")) {
			t.Fatalf("simple %v, sweat %v", r.Simple.Value, r.Sweat.Value)
		}
	})
}

// The terms are the functions at the prior quotient of 0.90, and both show the
// sum beside the shortcut. 1000 kcal are 196.9 L of oxygen (5.07787 kcal/L):
// at 10 mmHg 127.2 g of breath water and 66.9 g of gas, 0.194 kg to 0.200.
func TestExchangeInNumbers(t *testing.T) {
	in := weighed(70, 69, 0, 0, minutes(60))
	in.Energy, in.Vapour = energy(1000, 100), vapour(10, 1)
	r := balance.Derive(in)
	litres := 1000 / (4.0372 + 1.1563*0.90)
	near(t, "breath", kg(r, "breath"), -litres*0.019*34/1000, 1e-12)
	near(t, "gas", kg(r, "gas-exchange"), -litres*(0.90*44.0095-31.9988)/22.414/1000, 1e-12)
	for _, term := range r.Terms {
		if (term.Name == "breath" || term.Name == "gas-exchange") && !strings.Contains(term.Text, "0.194 kg, by the shortcut of 0.2 g/kcal 0.200 kg") {
			t.Errorf("%s does not show the check: %s", term.Name, term.Text)
		}
	}
}

func TestAirOutsideTheRangeIsSaid(t *testing.T) {
	in := weighed(70, 69, 0, 0, minutes(60))
	in.Energy = energy(700, 70)
	for mmHg, want := range map[float64]int{0.5: 1, 1: 0, 26: 0, 31: 1} {
		in.Vapour = vapour(mmHg, 1)
		if w := balance.Derive(in).Sweat.Warnings; len(w) != want {
			t.Errorf("%v mmHg: %v", mmHg, w)
		}
	}
}

func TestCorrectionIsBiggerInTheCold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := known(t)
		in.Vapour = vapour(3, 0.5) // 0 °C, 65 %
		cold := balance.Derive(in)
		in.Vapour = vapour(25, 0.5) // 35 °C, 60 %
		hot := balance.Derive(in)
		if c, h := -kg(cold, "breath"), -kg(hot, "breath"); c <= h || cold.Sweat.Value >= hot.Sweat.Value {
			t.Fatalf("breath water %v kg in the cold, %v in the heat", c, h)
		}
		if !same(kg(cold, "gas-exchange"), kg(hot, "gas-exchange")) {
			t.Fatal("gas exchange depends on the air")
		}
	})
}

// First order agrees with a Monte Carlo of the same functions within 3 %.
func TestExchangeUncertaintyBySimulation(t *testing.T) {
	in := weighed(70, 69, 0, 0, minutes(60))
	in.Energy, in.Vapour = energy(800, 80), vapour(8, 1.5)
	first := 0.0
	var parts []measure.Term
	for _, term := range balance.Derive(in).Terms {
		if term.Name == "breath" || term.Name == "gas-exchange" {
			parts = append(parts, term.KG.Times(1))
		}
	}
	first = measure.Combine("test", 0.0, parts...).U()
	drawn := measure.Simulate("test", 3, 40000, func(d *measure.Draw) float64 {
		r := 0.90 + 0.03*d.Cause("quotient")
		oxygen := balance.Oxygen(measure.Of(d, *in.Energy), r)
		factor := 1 + 0.07/math.Sqrt(3)*d.Cause("breath factor")
		return -(factor*balance.BreathWater(oxygen, measure.Of(d, *in.Vapour)) + balance.GasExchange(oxygen, r)) / 1000
	})
	near(t, "u", first, drawn.U(), 0.03*drawn.U())
}

// The two results differ by the two waters: water deficit = sweat + breath
// water + urine − drinks − water of food − metabolic water. It is the identity
// of the balance, with what is burnt by peronnet1991.
func TestDeficitAndSweatAreOneBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := known(t)
		in.Note.Eaten = ptr(quantity.Mass(rapid.Float64Range(0, 0.4).Draw(t, "eaten")))
		r := balance.Derive(in)
		oxygen, q := balance.Oxygen(in.Energy.Value, 0.90), 0.90
		carbohydrate, fat := quantity.Grams((4.585*q-3.226)*oxygen), quantity.Grams((1.695-1.701*q)*oxygen)
		water := balance.MetabolicWater(carbohydrate, fat).Kilograms()
		foodWater := 0.4 * in.Note.Eaten.Kilograms() // 0.6 of it is solid
		want := float64(r.Sweat.Value) - kg(r, "breath", "urine", "drunk") - foodWater - water
		if !same(float64(r.Deficit.Value), want) {
			t.Fatalf("deficit %v, by the waters %v", r.Deficit.Value, want)
		}
		net := float64(in.Before.Mass-in.After.Mass) + 0.6*in.Note.Eaten.Kilograms()
		if burnt := net - float64(r.Deficit.Value); !same(burnt, water-kg(r, "gas-exchange")) {
			t.Fatalf("%v kg burnt, not gas and water", burnt)
		}
	})
}

// What is burnt is about what leaves as gas and water: 3000 kcal at R 0.90 are
// 532 g of carbohydrate and 97 g of fat, 0.63 kg (peronnet1991).
func TestDeficitIsLessThanMassLost(t *testing.T) {
	in := weighed(70, 67, 0, 0, minutes(240))
	in.Energy = energy(3000, 0)
	r := balance.Derive(in)
	near(t, "deficit", r.Deficit.Value.Litres(), 3-0.63, 0.02)
	in.Energy = nil
	if wide := balance.Derive(in).Deficit; width(wide) <= width(r.Deficit) {
		t.Errorf("no energy known, and no wider: %v", wide)
	}
}

// Out of kit a drink moves water from the kit into the body.
func TestDeficitOutOfKit(t *testing.T) {
	in := weighed(70, 69, 0.5, 0, minutes(60))
	in.Energy = energy(700, 0)
	body := balance.Derive(in).Deficit.Value
	in.Weighing, in.Note.Drunk = record.Carrying, ptr(quantity.Litres(0.5))
	if kit := balance.Derive(in).Deficit.Value; !same(float64(body-kit), 0.5) {
		t.Errorf("deficit %v of the body, %v out of kit", body, kit)
	}
	in.Note.Drunk = nil
	if d := balance.Derive(in).Deficit; d.Method != "" {
		t.Errorf("nothing known of the drink, and yet %v", d)
	}
	in.Weighing = record.Body
	if r := balance.Derive(in); !r.AtLeast || r.Deficit.Method != "" {
		t.Errorf("a bound has a deficit: %v", r.Deficit)
	}
}
