package heat_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"saltpan/pipeline/heat"
	"saltpan/pipeline/quantity"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %v, want %v ± %v", what, got, want, tolerance)
	}
}

// humidityBolton is the relative humidity from a dew point by Bolton 1980
// (Mon Weather Rev 108:1046), which the test suite of WG-05 and WG-06 made its
// humidity with. By the model's own formula WG-06 would be 0.006 °C higher.
func humidityBolton(air, dew quantity.Temperature) float64 {
	es := func(t quantity.Temperature) float64 { return math.Exp(17.67 * t.Celsius() / (t.Celsius() + 243.5)) }
	return 100 * es(dew) / es(air)
}

// WG-05 and WG-06: values of the authors' published program, as a library's
// test suite keeps them; 1 min averages that end at 16:00 UTC.
func TestLiljegren(t *testing.T) {
	for _, c := range []struct {
		sun                        heat.Irradiance
		pressure                   quantity.Pressure
		temp, dew                  quantity.Temperature
		wind                       quantity.Speed
		globe, natural, psy, index float64
	}{
		{500, 985, 25, 15, 0.44704, 41.97, 23.32, 18.278, 27.219},
		{805, 1013, 35, 25, 2.2352, 48.869, 29.016, 27.251, 33.585},
	} {
		b, ok := heat.Liljegren(heat.Outdoor{Temp: c.temp, HumidityPct: humidityBolton(c.temp, c.dew), Pressure: c.pressure,
			Wind: c.wind, Sun: c.sun, At: time.Date(2000, 6, 1, 15, 59, 30, 0, time.UTC), LatDeg: 33.7331, LonDeg: -83.6169})
		if !ok {
			t.Error("did not settle")
		}
		near(t, "globe", float64(b.Globe), c.globe, 0.005)
		near(t, "natural wet bulb", float64(b.NaturalWetBulb), c.natural, 0.005)
		near(t, "psychrometric wet bulb", float64(b.Psychrometric), c.psy, 0.005)
		near(t, "WBGT", float64(b.WBGT), c.index, 0.005)
	}
}

// Without sun the globe is near the air and the wick near the psychrometer.
func TestLiljegrenAtNight(t *testing.T) {
	b, ok := heat.Liljegren(heat.Outdoor{Temp: 20, HumidityPct: 60, Pressure: 1013, Wind: 2,
		At: time.Date(2000, 6, 1, 0, 0, 0, 0, time.UTC), LatDeg: 50})
	if !ok || b.Globe > 20 || b.Globe < 16 || b.NaturalWetBulb > b.Psychrometric+0.5 || b.NaturalWetBulb < b.Psychrometric-1 {
		t.Errorf("%+v %v", b, ok)
	}
}

// WG-01 and WG-02: a library's validation table after ISO 7243.
func ExampleWBGTInSun() {
	fmt.Printf("%.1f °C\n", heat.WBGTInSun(25, 32, 20))
	fmt.Printf("%.2f °C\n", heat.WBGTNoSun(17.3, 40))
	// Output:
	// 25.9 °C
	// 24.11 °C
}

// WG-03 and WG-04: the form of the Bureau of Meteorology. It has its own vapour
// pressure, 6.105 exp(17.27 t / (237.7 + t)) hPa, and the vectors were made with it.
func ExampleWBGTSimplified() {
	for _, c := range []struct{ t, rh float64 }{{25, 60}, {30, 70}, {15, 60}} {
		e := c.rh / 100 * 6.105 * math.Exp(17.27*c.t/(237.7+c.t))
		fmt.Printf("%.3f hPa, %.3f °C\n", e, heat.WBGTSimplified(quantity.Celsius(c.t), quantity.Pressure(e)))
	}
	// Output:
	// 18.950 hPa, 25.562 °C
	// 29.601 hPa, 32.583 °C
	// 10.210 hPa, 16.458 °C
}

// WG-07 and T24: the flags of ACSM 1984 without the hole between 22 and 23 °C.
func ExampleFlagAt() {
	for _, t := range []quantity.Temperature{9.9, 17.9, 18, 22.5, 22.9, 23, 28, 28.1} {
		fmt.Println(float64(t), heat.FlagAt(t))
	}
	// Output:
	// 9.9 white
	// 17.9 green
	// 18 yellow
	// 22.5 yellow
	// 22.9 yellow
	// 23 red
	// 28 red
	// 28.1 black
}

// T15: a copy mixes both formulas, 0.567 Tnwb + 0.393 Tg + 0.1 Ta. Its weights
// add to 1.06: in a black room where all three are 30 °C, it says 31.8 °C.
func TestWBGTWeightsAddToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := quantity.Celsius(rapid.Float64Range(-10, 50).Draw(t, "t"))
		if d := heat.WBGTInSun(c, c, c) - c; math.Abs(float64(d)) > 1e-9 {
			t.Fatalf("%v away", d)
		}
		if d := heat.WBGTNoSun(c, c) - c; math.Abs(float64(d)) > 1e-9 {
			t.Fatalf("%v away", d)
		}
	})
	if wrong := 0.567*25 + 0.393*32 + 0.1*20; math.Abs(wrong-25.9) < 0.05 {
		t.Error("the mixed formula passes WG-01 too")
	}
	// e is in hPa: 18.95 hPa are 1.895 kPa, with which the index would fall
	// 6.7 °C to 18.9, under a wet bulb of 19.4 °C (stull2011).
	wet, _ := heat.WetBulb(25, 60)
	if heat.WBGTSimplified(25, 18.95) <= wet || heat.WBGTSimplified(25, 1.895) > wet {
		t.Error("hPa and kPa cannot be told apart")
	}
}
