package heat_test

import (
	"fmt"
	"math"
	"testing"

	"saltpan/pipeline/heat"
	"saltpan/pipeline/quantity"
)

func indexF(f, rh float64) float64 {
	t, _ := heat.HeatIndex(quantity.Fahrenheit(f), rh)
	return t.Fahrenheit()
}

// HI-01 to HI-07. HI-01 and HI-02: the test suite of a general weather library;
// HI-03: the NWS equation and its chart (95, 118, 100); HI-04: the chart prints
// 105; HI-05 to HI-07: the NWS page.
func TestHeatIndex(t *testing.T) {
	for _, c := range []struct{ f, rh, want, tolerance float64 }{
		{80, 40, 80, 0.5}, {88, 100, 121, 0.5}, {92, 70, 112, 0.5}, {110, 40, 136, 0.5}, {86, 88, 104, 0.5},
		{96, 65, 121.03, 0.05},
		{90, 50, 94.60, 0.05}, {100, 50, 118.32, 0.05}, {90, 60, 99.68, 0.05},
		{90, 70, 105.92, 0.05},
		{95, 10, 89.45, 0.05},
		{86, 90, 105.39, 0.05},
		{77, 50, 76.75, 0.05},
	} {
		near(t, fmt.Sprintf("%v °F %v %%", c.f, c.rh), indexF(c.f, c.rh), c.want, c.tolerance)
	}
}

// HI-08: a library's validation table prints 37.7 °C.
func ExampleHeatIndex() {
	t, within := heat.HeatIndex(quantity.Fahrenheit(86), 80)
	fmt.Printf("%.2f °F, %.2f °C %v\n", t.Fahrenheit(), t.Celsius(), within)
	// Output: 99.80 °F, 37.67 °C true
}

// T16: below 80 °F the regression says 78.60 °F at 77 °F and 50 %; the mean of
// simple and air is 76.875; the page's simple form is 76.75, and out of range.
func TestHeatIndexTakesTheSimpleBranch(t *testing.T) {
	got, within := heat.HeatIndex(quantity.Fahrenheit(77), 50)
	near(t, "77 °F 50 %", got.Fahrenheit(), 76.75, 0.001)
	if within {
		t.Error("an index below 80 °F counts as in range")
	}
}

// Where the branch turns the mean is 80 °F by definition; the step to the
// regression just above is smaller from simple than from the mean.
func TestHeatIndexStepAtTheBranch(t *testing.T) {
	for _, rh := range []float64{10, 20, 30, 50, 60, 70, 80, 90, 100} {
		lo, hi := 70.0, 90.0
		for range 40 {
			if _, in := heat.HeatIndex(quantity.Fahrenheit((lo+hi)/2), rh); in {
				hi = (lo + hi) / 2
			} else {
				lo = (lo + hi) / 2
			}
		}
		above := indexF(hi, rh)
		if simple := indexF(lo, rh); math.Abs(above-simple) >= math.Abs(above-80) {
			t.Errorf("%v %%: simple %v, regression %v", rh, simple, above)
		}
	}
}

// T17: the NWS chart leaves the adjustment above 85 % out (80 °F, 95 %: 86
// against 87.8) and is one off in two cells (90/45: 93, 90/70: 105). The
// cells without either agree with the equation when rounded.
func TestHeatIndexAgainstTheChart(t *testing.T) {
	for _, c := range []struct{ f, rh, chart float64 }{
		{80, 40, 80}, {86, 50, 88}, {90, 60, 100}, {96, 65, 121}, {98, 55, 117}, {100, 50, 118}, {100, 60, 129}, {110, 40, 136}, {88, 100, 121},
	} {
		if got := math.Round(indexF(c.f, c.rh)); got != c.chart {
			t.Errorf("%v °F %v %%: got %v, chart %v", c.f, c.rh, got, c.chart)
		}
	}
	near(t, "80 °F 95 %", indexF(80, 95), 87.8, 0.05)
	for _, c := range [][3]float64{{80, 95, 86}, {90, 45, 93}, {90, 70, 105}} {
		if math.Round(indexF(c[0], c[1])) == c[2] {
			t.Errorf("%v follows the chart's slip", c)
		}
	}
}
