package heat_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"saltpan/pipeline/heat"
	"saltpan/pipeline/quantity"
)

// HU-01: Alduchov and Eskridge 1996, coefficients as several codes state them.
func ExampleSaturationPressure() {
	for _, t := range []quantity.Temperature{20, 30, 35} {
		fmt.Printf("%.3f hPa\n", heat.SaturationPressure(t))
	}
	// Output:
	// 23.334 hPa
	// 42.367 hPa
	// 56.176 hPa
}

// HU-02 and HU-03: the same formula turned round, γ = ln(RH/100) + 17.625 t/(243.04 + t),
// Td = 243.04 γ/(17.625 − γ).
func ExampleDewPoint() {
	fmt.Printf("%.3f °C\n", heat.DewPoint(heat.VapourPressure(25, 60)))
	fmt.Printf("%.3f °C\n", heat.DewPoint(heat.VapourPressure(30, 70)))
	// Output:
	// 16.698 °C
	// 23.930 °C
}

// WB-01 and WB-02: Stull 2011; the paper's own example is 13.7 °C (from memory).
func ExampleWetBulb() {
	for _, c := range []struct{ t, rh float64 }{{20, 50}, {30, 50}, {30, 70}, {35, 40}} {
		w, within := heat.WetBulb(quantity.Celsius(c.t), c.rh)
		fmt.Printf("%.3f °C %v\n", w, within)
	}
	// Output:
	// 13.699 °C true
	// 22.297 °C true
	// 25.596 °C true
	// 24.514 °C true
}

// T18: a public page says 21.92 °C at 30 °C and 50 %. The psychrometer
// equation, e = es(w) − 0.000665 p (t − w) at 1013.25 hPa (WMO-No. 8, aspirated,
// from memory), agrees with the formula within its stated −1.0 to +0.65 °C, and with the
// page's angle functions in degrees it would not.
func TestWetBulbIsInRadians(t *testing.T) {
	for _, c := range []struct{ t, rh float64 }{{20, 50}, {30, 50}, {30, 70}, {35, 40}, {10, 80}} {
		got, _ := heat.WetBulb(quantity.Celsius(c.t), c.rh)
		near(t, fmt.Sprint(c), float64(got), psychrometer(c.t, c.rh), 0.65)
	}
	w, _ := heat.WetBulb(30, 50)
	near(t, "30 °C 50 %", float64(w), 22.30, 0.01)
	deg := func(x float64) float64 { return math.Atan(x) * 180 / math.Pi }
	wrong := 30*deg(0.151977*math.Sqrt(50+8.313659)) + deg(80) - deg(50-1.676331) + 0.00391838*math.Pow(50, 1.5)*deg(0.023101*50) - 4.686035
	if math.Abs(wrong-psychrometer(30, 50)) < 1 {
		t.Errorf("degrees pass too, at %v", wrong)
	}
}

// psychrometer solves e = es(w) − 0.000665 p (t − w) by halving.
func psychrometer(c, rh float64) float64 {
	e := rh / 100 * float64(heat.SaturationPressure(quantity.Celsius(c)))
	lo, hi := -30.0, c
	for range 60 {
		w := (lo + hi) / 2
		if float64(heat.SaturationPressure(quantity.Celsius(w)))-0.000665*1013.25*(c-w) < e {
			lo = w
		} else {
			hi = w
		}
	}
	return lo
}

func TestDewPointAndHumidityGoBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := quantity.Celsius(rapid.Float64Range(-40, 50).Draw(t, "t"))
		rh := rapid.Float64Range(1, 100).Draw(t, "rh")
		e := heat.VapourPressure(c, rh)
		if math.Abs(heat.Humidity(c, e)-rh) > 1e-9 || math.Abs(float64(heat.SaturationPressure(heat.DewPoint(e))-e)) > 1e-9 {
			t.Fatalf("%v, %v %%", c, rh)
		}
		if heat.DewPoint(e) > c+1e-9 {
			t.Fatalf("dew point %v above the air's %v", heat.DewPoint(e), c)
		}
	})
}
