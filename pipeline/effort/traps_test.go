package effort_test

import (
	"math"
	"testing"

	"saltpan/pipeline/effort"
)

// T8 and EN-16: measured running costs of Minetti et al. 2002 (abstract) are
// 3.40 ± 0.24 on the level and 18.93 ± 1.74 at + 0.45. With − 19.5 i the
// polynomial gives 1.9 there, with − 165 i⁵ it is far off too.
func TestMinettiSignOfTheLinearTerm(t *testing.T) {
	level, _ := effort.RunningCost(0)
	steep, _ := effort.RunningCost(0.45)
	near(t, "level", float64(level), 3.40, 0.24)
	near(t, "+0.45", float64(steep), 18.93, 1.74)
	if wrong := float64(steep) - 2*19.5*0.45; math.Abs(wrong-18.93) <= 1.74 {
		t.Errorf("the minus sign passes too, at %v", wrong)
	}
	gentle, _ := effort.RunningCost(0.05)
	if gentle <= level {
		t.Error("a gentle climb is no dearer than the level")
	}
}

// T9: the intercept of one Keytel model with the slopes of the other. Knowing
// a VO2max of the sample's usual 45 to 50 may not move the rate by a third.
func TestKeytelModelsAreNotMixed(t *testing.T) {
	for _, p := range []effort.Person{{Sex: "m", Mass: 70, AgeYears: 35}, {Sex: "f", Mass: 60, AgeYears: 35}} {
		without, _ := effort.Keytel(p, 150)
		p.VO2maxMLPerKgMin = 47
		with, _ := effort.Keytel(p, 150)
		if r := float64(with / without); r < 0.85 || r > 1.15 {
			t.Errorf("%s: with over without is %.2f", p.Sex, r)
		}
		mixed := without + map[string]effort.EnergyRate{"m": 55.0969 - 95.7735, "f": 20.4022 - 59.3954}[p.Sex]
		if r := float64(mixed / without); r >= 0.85 {
			t.Errorf("%s: the mixed model would pass, at %.2f", p.Sex, r)
		}
	}
}

// T10: the equations give kJ/min. Taken as kcal/min the man of EN-07 would
// burn 4.2 kW, more than twice what 90 % of the best maximal uptakes allow
// (90 mL/(kg min), 70 kg, 5 kcal/L: 2.0 kW); in kJ/min it is 1.0 kW.
func TestKeytelIsInKilojoules(t *testing.T) {
	rate, _ := effort.Keytel(effort.Person{Sex: "m", Mass: 70, AgeYears: 35}, 150)
	near(t, "W", float64(rate.Watts()), 60.514*1000/60, 0.01)
	near(t, "kcal/min", rate.KcalPerMinute()*4.184, float64(rate), 1e-9)
	if possible := effort.VO2(0.9*90).WattsPerKg(5) * 70; float64(rate.Watts()) > possible {
		t.Errorf("%v W is more than a body can", rate.Watts())
	}
}

// T11: in the model without VO2max a heavier woman burns less at the same heart rate.
func TestKeytelWomensMassCoefficientIsNegative(t *testing.T) {
	light, _ := effort.Keytel(effort.Person{Sex: "f", Mass: 60, AgeYears: 35}, 150)
	heavy, _ := effort.Keytel(effort.Person{Sex: "f", Mass: 70, AgeYears: 35}, 150)
	near(t, "10 kg more", float64(heavy-light), -1.263, 1e-9)
}

// T25: Péronnet and Massicotte's line, not Lusk's (3.815 + 1.232 R, from
// memory), which is 3 % lower: 4.862 against 5.020 kcal/L at R 0.85.
func TestEnergyOfOxygenIsNotLusks(t *testing.T) {
	for r := 0.71; r < 1; r += 0.01 {
		kcal, _ := effort.KcalPerLitre(r)
		if lusk := 3.815 + 1.232*r; kcal/lusk < 1.02 || kcal/lusk > 1.045 {
			t.Errorf("R %.2f: %v kcal/L is %.3f of Lusk's", r, kcal, kcal/lusk)
		}
	}
	// Both ends agree with their fuels within 0.15 %: 0.4982 g/L of fat at
	// 9.75 kcal/g, 1.3411 g/L of carbohydrate at 3.87 kcal/g.
	fat, _ := effort.KcalPerLitre(0.7036)
	carbohydrate, _ := effort.KcalPerLitre(0.9961)
	near(t, "fat", fat, first(effort.Oxidation(1, 0.7036))*9.75, 0.0015*fat)
	near(t, "carbohydrate", carbohydrate, second(effort.Oxidation(1, 0.9961))*3.87, 0.0015*carbohydrate)
}

func TestKeytelRefuses(t *testing.T) {
	whole := effort.Person{Sex: "m", Mass: 70, AgeYears: 35, MaxHRBpm: 190}
	for name, c := range map[string]struct {
		p  effort.Person
		hr float64
	}{
		"no sex":           {effort.Person{Mass: 70, AgeYears: 35}, 150},
		"no mass":          {effort.Person{Sex: "f", AgeYears: 35}, 150},
		"no age":           {effort.Person{Sex: "f", Mass: 60}, 150},
		"below 90 bpm":     {whole, 89.9},
		"above 90 percent": {whole, 171.1},
	} {
		if rate, err := effort.Keytel(c.p, c.hr); err == nil {
			t.Errorf("%s: gives %v", name, rate)
		}
	}
	for _, hr := range []float64{90, 171} {
		if _, err := effort.Keytel(whole, hr); err != nil {
			t.Errorf("%v bpm: %v", hr, err)
		}
	}
}
