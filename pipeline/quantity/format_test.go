package quantity_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"saltpan/pipeline/quantity"
)

func ExampleFormatInterval() {
	fmt.Println(quantity.FormatInterval(0.98, 0.87, 1.10, 2))
	fmt.Println(quantity.FormatInterval(-0.1, -0.3, 0.1, 2))
	fmt.Println(quantity.FormatAtLeast(0.849, 2))
	// Output:
	// 0.98 (0.87–1.10)
	// -0.10 (-0.30 to 0.10)
	// ≥ 0.84
}

func ExampleFormatMass() {
	m := quantity.Kilograms(62.4)
	fmt.Println(quantity.FormatMass(m, quantity.Metric), "=", quantity.FormatMass(m, quantity.US))
	fmt.Println(quantity.FormatVolume(0.6, quantity.Metric), "=", quantity.FormatVolume(0.6, quantity.US))
	fmt.Println(quantity.FormatRate(0.98, quantity.Metric), "=", quantity.FormatRate(0.98, quantity.US))
	fmt.Println(quantity.FormatTemperature(18.4, quantity.Metric), "=", quantity.FormatTemperature(18.4, quantity.US))
	fmt.Println(quantity.FormatDistance(15234, quantity.Metric), "=", quantity.FormatDistance(15234, quantity.US))
	fmt.Println(quantity.FormatRateInterval(0.98, 0.87, 1.1, quantity.US), quantity.US.RateUnit())
	// Output:
	// 62.40 kg = 137.6 lb
	// 0.60 L = 20 fl oz
	// 0.98 L/h = 33 fl oz/h
	// 18.4 °C = 65 °F
	// 15.2 km = 9.5 mi
	// 33 (29–37) fl oz/h
}

// UC-01: exact factors (NIST SP 811) and the molar masses of Na and NaCl.
func Example() {
	fmt.Println(quantity.Pounds(1).Kilograms(), "kg")
	fmt.Printf("%.4f mL\n", 1000*quantity.USFluidOunces(1).Litres())
	fmt.Printf("%.6f kPa\n", quantity.MmHg(1).Kilopascals())
	// Output:
	// 0.45359237 kg
	// 29.5735 mL
	// 0.133322 kPa
}

func TestShownMassReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := quantity.Kilograms(rapid.Float64Range(0, 500).Draw(t, "mass"))
		u := rapid.SampledFrom([]quantity.Units{quantity.Metric, quantity.US}).Draw(t, "units")
		back, err := quantity.ParseMass(quantity.FormatMass(m, u))
		if err != nil || math.Abs(float64(back-m)) > 0.0501*quantity.KilogramsPerPound {
			t.Fatalf("%v shown as %q reads as %v, %v", m, quantity.FormatMass(m, u), back, err)
		}
	})
}

// A bound is never shown above what holds.
func TestAtLeastNeverClaimsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-5, 10).Draw(t, "lo")
		var shown float64
		if _, err := fmt.Sscanf(quantity.FormatAtLeast(lo, 2), "≥ %g", &shown); err != nil || shown > lo+1e-7 {
			t.Fatalf("%v shown as %v, %v", lo, shown, err)
		}
	})
}

func TestNoNegativeZero(t *testing.T) {
	if got := quantity.FormatVolume(-0.001, quantity.Metric); got != "0.00 L" {
		t.Errorf("got %q", got)
	}
}
