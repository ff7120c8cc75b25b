package sodium_test

import (
	"fmt"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/sodium"
)

// NA-01 and NA-02: Baker et al. 2016 (abstract), dorsal forearm to whole body:
// 43.6 becomes 35.9, the range 12.6 to 104.8 becomes 18.2 to 70.8 mmol/L.
// NA-03: its SD of 18.2 becomes 10.4.
func ExampleFromSite_forearm() {
	at := func(mmol quantity.Concentration) float64 {
		c, _ := sodium.FromSite(mmol, "dorsal forearm")
		return float64(c)
	}
	fmt.Printf("%.2f, %.2f to %.2f mmol/L\n", at(43.6), at(12.6), at(104.8))
	fmt.Printf("SD %.2f mmol/L\n", at(43.6+18.2)-at(43.6))
	// Output:
	// 35.90, 18.23 to 70.79 mmol/L
	// SD 10.37 mmol/L
}

// NA-04: the equation takes mmol/L. 950 mg/L is 41.3 mmol/L and becomes
// 34.60 mmol/L, 795.5 mg/L; the number 950 put in as it is would give 552.
func ExampleFromSite_milligrams() {
	c, _ := sodium.FromSite(quantity.MilligramsPerLitre(950), "dorsal-forearm")
	fmt.Printf("%.2f mmol/L, %.1f mg/L\n", float64(c), c.MilligramsPerLitre())
	// Output: 34.60 mmol/L, 795.5 mg/L
}

// NA-05 and NA-06: Baker et al. 2009 (abstract): five-site 59 is reported as
// whole-body 41, the equation gives 40.56; thigh 50 gives 48.87 mmol/L.
func ExampleFromSite_fiveSite() {
	five, _ := sodium.FromSite(59, "five-site")
	thigh, _ := sodium.FromSite(50, "thigh")
	fmt.Printf("%.2f, %.2f mmol/L\n", float64(five), float64(thigh))
	// Output: 40.56, 48.87 mmol/L
}

// NA-07 and NA-08: Na 22.98977 g/mol, NaCl 58.44 g/mol.
func ExampleDerive_units() {
	fmt.Printf("%.1f mg/L, %.0f mg salt/L\n", quantity.Concentration(50).MilligramsPerLitre(), quantity.Concentration(50).SaltMilligramsPerLitre())
	for _, mg := range []float64{460, 690, 1150} {
		fmt.Printf("%.2f mmol/L\n", float64(quantity.MilligramsPerLitre(mg)))
	}
	// Output:
	// 1149.5 mg/L, 2922 mg salt/L
	// 20.01 mmol/L
	// 30.01 mmol/L
	// 50.02 mmol/L
}

// NA-09: the daily 2000 mg of sodium (WHO 2012) are 86.995 mmol and 5084 mg of
// salt.
func ExampleLoss_salt() {
	day := quantity.SodiumMass(2000)
	fmt.Printf("%.3f mmol, %.0f mg salt\n", day.Millimoles(), day.SaltMilligrams())
	// Output: 86.995 mmol, 5084 mg salt
}

// Three yes of five are 1000 mg/L: common practice.
func ExampleScreen() {
	fmt.Printf("%.0f mg/L\n", sodium.Screen([5]bool{true, false, true, true, false}).MilligramsPerLitre())
	// Output: 1000 mg/L
}

// Common practice's three bands, each with the hull of its own reach and the
// population's 450 to 1380 mg/L.
func ExampleDerive_screen() {
	for yes := range 6 {
		var s record.Screen
		for i := range yes {
			s.Yes[i] = true
		}
		c := sodium.Derive(sodium.Input{Screen: &s}).Concentration
		fmt.Printf("%d yes: %s mg/L\n", yes, quantity.FormatInterval(c.Value.MilligramsPerLitre(), c.Lo.MilligramsPerLitre(), c.Hi.MilligramsPerLitre(), 0))
	}
	// Output:
	// 0 yes: 500 (290–1380) mg/L
	// 1 yes: 500 (290–1380) mg/L
	// 2 yes: 1000 (450–1720) mg/L
	// 3 yes: 1000 (450–1720) mg/L
	// 4 yes: 1500 (450–2580) mg/L
	// 5 yes: 1500 (450–2580) mg/L
}

// Baker et al. 2016: 35.9 mmol/L over 506 athletes.
func ExampleDerive_mean() {
	r := sodium.Derive(sodium.Input{})
	c := r.Concentration
	fmt.Printf("%s: %s mg/L\n", r.From, quantity.FormatInterval(c.Value.MilligramsPerLitre(), c.Lo.MilligramsPerLitre(), c.Hi.MilligramsPerLitre(), 0))
	// Output: mean: 825 (450–1380) mg/L
}
