package heat_test

import (
	"fmt"
	"testing"

	"saltpan/pipeline/heat"
)

// SW-01 … SW-03: Gonzalez et al. 2009 and 2012 (abstracts), with Shapiro's
// equation as the former states it.
func ExamplePiecewiseSweat() {
	for _, c := range [][2]heat.Flux{{300, 250}, {400, 350}, {200, 200}} {
		ose := heat.Shapiro(c[0], c[1])
		fmt.Printf("OSE %.2f, OSEC %.2f, PW %.2f, cool %.2f g/(m² h)\n", ose, heat.ShapiroCorrected(ose),
			heat.PiecewiseSweat(c[0], c[1]), heat.PiecewiseSweatCool(c[0], c[1]))
	}
	// Output:
	// OSE 678.68, OSEC 331.90, PW 387.60, cool 590.60 g/(m² h)
	// OSE 776.45, OSEC 373.22, PW 453.30, cool 656.30 g/(m² h)
	// OSE 500.80, OSEC 268.11, PW 278.40, cool 481.40 g/(m² h)
}

// SW-04: 150 and 400 W/m² give 28.05, which is said to be too low to mean anything.
func ExampleSoldiers_Predict() {
	pw, warnings := heat.Soldiers{Temp: 30, VapourPressure: 15, Wind: 1, Metabolic: 200, Ereq: 150, Emax: 400}.Predict()
	fmt.Printf("%.2f g/(m² h)\n%s\n", pw, warnings[0].Code)
	// Output:
	// 28.05 g/(m² h)
	// heat-low-prediction
}

// SW-05: Gonzalez et al. 2012, 0.72 · 453.3 + 135.
func ExamplePiecewiseSweatSun() {
	fmt.Printf("%.1f g/(m² h)\n", heat.PiecewiseSweatSun(453.3))
	// Output: 461.4 g/(m² h)
}

// T5: a record of Shapiro's paper lost the minus of the exponent. The better the
// air takes water up, the less sweat is needed; with + 0.455 it would be 250^0.91
// = 152 times as much, 100 kg/(m² h).
func TestShapiroExponentIsNegative(t *testing.T) {
	if heat.Shapiro(300, 350) >= heat.Shapiro(300, 250) {
		t.Error("drier air asks for more sweat")
	}
	near(t, "OSE", float64(heat.Shapiro(300, 250)), 678.68, 0.05)
	if got := heat.Shapiro(300, 250).Rate(1.8); got > 4 {
		t.Errorf("%v L/h is more than any published rate", got)
	}
}

// A prediction below nothing is nothing, and said.
func TestPredictNeverBelowZero(t *testing.T) {
	pw, warnings := heat.Soldiers{Temp: 30, VapourPressure: 15, Wind: 1, Metabolic: 200, Ereq: 50, Emax: 500}.Predict()
	if pw != 0 || len(warnings) != 1 {
		t.Errorf("%v %v", pw, warnings)
	}
}

// SW-09: 500 W · 3600 s / 2430 J/g = 740.7 g/h.
func ExampleEvaporationRate() {
	fmt.Printf("%.4f L/h\n", heat.EvaporationRate(500))
	// Output: 0.7407 L/h
}

// SW-10: DuBois' area of 70 kg and 1.75 m.
func ExampleSurfaceArea() {
	fmt.Printf("%.4f m²\n", heat.SurfaceArea(70, 1.75))
	// Output: 1.8438 m²
}
