package effort_test

import (
	"fmt"
	"math"
	"testing"

	"saltpan/pipeline/effort"
	"saltpan/pipeline/quantity"
)

func perMinute(metres float64) quantity.Speed { return quantity.Speed(metres / 60) }

// EN-01 and EN-02: worked examples of the walking equation in Bushman 2020
// (ACSM's Health Fit J 24:3 and 24:4): 3.5 mph at 10 % is 29.76 mL/(kg min),
// 2.5 mph at 3 % is 13.8.
func ExampleWalkingVO2() {
	steep := effort.WalkingVO2(perMinute(93.8), 0.10)
	fmt.Printf("%.2f mL/(kg min), %.2f MET\n", steep, steep.METs())
	fmt.Printf("%.2f mL/(kg min)\n", effort.WalkingVO2(perMinute(67), 0.03))
	// Output:
	// 29.76 mL/(kg min), 8.50 MET
	// 13.82 mL/(kg min)
}

// EN-03: the same source's jog for 8 MET, 28 mL/(kg min), is at 122.5 m/min.
// EN-04 and EN-05 by arithmetic on the equation: 3.5 + 0.2·160.8 = 35.66;
// 3.5 + 40 + 0.9·200·0.05 = 52.5.
func ExampleRunningVO2() {
	fmt.Printf("%.1f mL/(kg min)\n", effort.RunningVO2(perMinute(122.5), 0))
	level := effort.RunningVO2(perMinute(160.8), 0)
	fmt.Printf("%.2f mL/(kg min), %.2f MET\n", level, level.METs())
	fmt.Printf("%.1f mL/(kg min)\n", effort.RunningVO2(perMinute(200), 0.05))
	// Output:
	// 28.0 mL/(kg min)
	// 35.66 mL/(kg min), 10.19 MET
	// 52.5 mL/(kg min)
}

// EN-06: 10 km/h, 70 kg, 5 kcal/L: 36.833 mL · 70 kg · 5 kcal/L = 12.892
// kcal/min; an hour is 10 km, so 1.105 kcal/(kg km) gross and 0.2·5 = 1.000 net.
func ExampleVO2_WattsPerKg() {
	kcalPerMin := func(v effort.VO2) float64 {
		return v.WattsPerKg(5) * 70 * 60 / 1000 / quantity.JoulesPerCalorie
	}
	gross := effort.RunningVO2(perMinute(10000./60), 0)
	fmt.Printf("%.3f kcal/min\n", kcalPerMin(gross))
	fmt.Printf("%.3f gross, %.3f net kcal/(kg km)\n", kcalPerMin(gross)*60/700, kcalPerMin(gross-effort.RestingVO2)*60/700)
	// Output:
	// 12.892 kcal/min
	// 1.105 gross, 1.000 net kcal/(kg km)
}

// EN-07 … EN-10: Keytel et al. 2005, coefficients as many independent copies
// state them: at 150 bpm, 35 years; 14.463, 9.964, 13.526, 9.793 kcal/min.
func ExampleKeytel() {
	for _, p := range []effort.Person{
		{Sex: "m", Mass: 70, AgeYears: 35},
		{Sex: "f", Mass: 60, AgeYears: 35},
		{Sex: "m", Mass: 70, AgeYears: 35, VO2maxMLPerKgMin: 50},
		{Sex: "f", Mass: 60, AgeYears: 35, VO2maxMLPerKgMin: 45},
	} {
		rate, _ := effort.Keytel(p, 150)
		fmt.Printf("%.3f kJ/min, %.3f kcal/min\n", rate, rate.KcalPerMinute())
	}
	// Output:
	// 60.514 kJ/min, 14.463 kcal/min
	// 41.690 kJ/min, 9.964 kcal/min
	// 56.591 kJ/min, 13.526 kcal/min
	// 40.975 kJ/min, 9.793 kcal/min
}

// EN-11 and EN-12: a classroom exercise prints 580.94 and 891.47 kcal for an
// hour at 148 bpm, 49 years, 155 lb, with coefficients per pound rounded to
// four figures; exact pounds give 581.21 and 891.06, within 0.05 % of the print.
func TestKeytelClassroomExercise(t *testing.T) {
	for sex, want := range map[string]struct{ printed, exact float64 }{"f": {580.94, 581.21}, "m": {891.47, 891.06}} {
		rate, err := effort.Keytel(effort.Person{Sex: sex, Mass: quantity.Pounds(155), AgeYears: 49}, 148)
		if err != nil {
			t.Fatal(err)
		}
		kcal := rate.KcalPerMinute() * 60
		near(t, sex+" exact", kcal, want.exact, 0.01)
		near(t, sex+" printed", kcal, want.printed, 0.0005*want.printed)
	}
}

// EN-13 and EN-14: Minetti et al. 2002, running polynomial as more than eight
// independent copies state it.
func ExampleRunningCost() {
	for _, i := range []float64{0.10, -0.10, 0.45, -0.45, -0.20} {
		cost, _ := effort.RunningCost(i)
		fmt.Printf("%+.2f %.4f J/(kg m)\n", i, cost)
	}
	_, within := effort.RunningCost(0.5)
	fmt.Println(within)
	// Output:
	// +0.10 5.9682 J/(kg m)
	// -0.10 2.1517 J/(kg m)
	// +0.45 19.4260 J/(kg m)
	// -0.45 4.0323 J/(kg m)
	// -0.20 1.8000 J/(kg m)
	// false
}

// EN-13 to the millionth.
func TestRunningCostToTheMillionth(t *testing.T) {
	up, _ := effort.RunningCost(0.10)
	down, _ := effort.RunningCost(-0.10)
	near(t, "+0.10", float64(up), 5.968214, 1e-6)
	near(t, "-0.10", float64(down), 2.151706, 1e-6)
}

// EN-15: the walking polynomial of the same source.
func ExampleWalkingCost() {
	up, _ := effort.WalkingCost(0.10)
	down, _ := effort.WalkingCost(-0.10)
	fmt.Printf("%.4f, %.4f J/(kg m)\n", up, down)
	// Output: 4.8991, 1.1271 J/(kg m)
}

// PM-01 and PM-02: Péronnet and Massicotte 1991, coefficients as research code
// states them.
func ExampleOxidation() {
	fmt.Printf("fat %.4f, carbohydrate %.4f g/min\n", first(effort.Oxidation(2.5, 2.125)), second(effort.Oxidation(2.5, 2.125)))
	fmt.Printf("fat %.4f, carbohydrate %.4f g/min\n", first(effort.Oxidation(3.0, 2.7)), second(effort.Oxidation(3.0, 2.7)))
	// Output:
	// fat 0.6229, carbohydrate 1.6781 g/min
	// fat 0.4923, carbohydrate 2.7015 g/min
}

func first(a, _ float64) float64  { return a }
func second(_, b float64) float64 { return b }

// PM-03: the same source's line at a quotient of 0.85.
func ExampleKcalPerLitre() {
	kcal, within := effort.KcalPerLitre(0.85)
	fmt.Printf("%.4f kcal/L %v\n", kcal, within)
	_, within = effort.KcalPerLitre(0.65)
	fmt.Println(within)
	// Output:
	// 5.0201 kcal/L true
	// false
}

// PM-04: a textbook excerpt's resting 15.7 L/h at 4.751 kcal/L is 74.59 kcal/h.
// Here 15.7 L/h of a kilogram at that equivalent, through watts and back.
func TestTextbookOxygenToEnergy(t *testing.T) {
	w := effort.VO2(15700. / 60).WattsPerKg(4.751)
	near(t, "kcal/h", w*3600/1000/quantity.JoulesPerCalorie, 74.59, 0.01)
}

// Weir's equation (from memory) at R 0.90 is 4.936 kcal/L of oxygen, 3.941 +
// 1.106·0.90; Péronnet and Massicotte's line gives 5.078, 2.8 % more.
func ExampleWeir() {
	fmt.Printf("%.3f kcal/min\n", effort.Weir(1, 0.90))
	// Output: 4.936 kcal/min
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %v, want %v ± %v", what, got, want, tolerance)
	}
}
