package balance_test

import (
	"fmt"
	"time"

	"saltpan/pipeline/balance"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

func ptr[T any](v T) *T { return &v }

// weighed is a body weighing on one scale with everything noted, urine and
// food included, so that only what a vector names enters.
func weighed(beforeKG, afterKG, drunkL, urineL float64, elapsed time.Duration) balance.Input {
	return balance.Input{
		Before:   balance.Reading{Mass: quantity.Kilograms(beforeKG), Step: 0.1, Scale: "hall", From: "scale.csv:2"},
		After:    balance.Reading{Mass: quantity.Kilograms(afterKG), Step: 0.1, Scale: "hall", From: "scale.csv:3"},
		Weighing: record.Body,
		HasNote:  true,
		Note: record.Note{Drunk: ptr(quantity.Litres(drunkL)), Urine: ptr(quantity.Litres(urineL)),
			Eaten: ptr(quantity.Kilograms(0))},
		Elapsed: elapsed,
	}
}

func minutes(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }

// MB-01 … MB-04: McDermott et al. 2017, table 3, persons A to D. The table
// prints 1.4, 1.6, 3.2 and 1.3 L/h.
func ExampleDerive_mcdermott2017() {
	for _, row := range []struct{ kg, lost, drunk, hours float64 }{
		{85, 1.3, 0.8, 1.5}, {80, 0.8, 0.4, 0.75}, {120, 6.0, 2.0, 2.5}, {60, 1.5, 0.5, 1.5},
	} {
		r := balance.Derive(weighed(row.kg, row.kg-row.lost, row.drunk, 0, minutes(row.hours*60)))
		fmt.Printf("%.3f L/h\n", r.SimpleRate.Value)
	}
	// Output:
	// 1.400 L/h
	// 1.600 L/h
	// 3.200 L/h
	// 1.333 L/h
}

// MB-05 … MB-07: Mosler et al. 2020, figures 1 and 2: 49.5 to 47.9 kg in
// 105 min is 1.6 L and 0.91 L/h; 2.5 h at 0.91 L/h are 2.275 L, printed as
// 2.3 L or 4.65 % of body mass, and 80 % of 2.3 L are 1.84 L or 0.736 L/h.
func ExampleDerive_mosler2020() {
	r := balance.Derive(weighed(49.5, 47.9, 0, 0, minutes(105)))
	fmt.Printf("%.1f L, %.3f L/h\n", r.Simple.Value, r.SimpleRate.Value)
	exact := balance.Derive(weighed(49.5, 49.5-2.275, 0, 0, minutes(150)))
	fmt.Printf("%.3f L, %.2f L/h\n", exact.Simple.Value, exact.SimpleRate.Value)
	race := balance.Derive(weighed(49.5, 49.5-2.3, 0, 0, minutes(150)))
	fmt.Printf("%.1f L, %.2f %%\n", race.Simple.Value, race.MassChangePct)
	drinking := balance.Derive(weighed(49.5, 49.5-2.3+1.84, 1.84, 0, minutes(150)))
	fmt.Printf("%.1f L, of which %.2f L/h drunk\n", drinking.Simple.Value, 0.8*drinking.SimpleRate.Value)
	// Output:
	// 1.6 L, 0.914 L/h
	// 2.275 L, 0.91 L/h
	// 2.3 L, -4.65 %
	// 2.3 L, of which 0.74 L/h drunk
}

// MB-08: studylib.net/doc/7332433, 55 to 53.5 kg, 1 L drunk, 0.5 L urine, 2 h:
// 2.0 L, 1.0 L/h.
func ExampleDerive_urine() {
	r := balance.Derive(weighed(55, 53.5, 1, 0.5, minutes(120)))
	fmt.Printf("%.1f L, %.1f L/h\n", r.Simple.Value, r.SimpleRate.Value)
	// Output: 2.0 L, 1.0 L/h
}

// MB-09: the worked sheet of Casa et al. 2000, quoted from memory: 1730 mL,
// 1153 mL/h.
func ExampleDerive_casa2000() {
	r := balance.Derive(weighed(61.7, 60.3, 0.42, 0.09, minutes(90)))
	fmt.Printf("%.0f mL, %.1f mL/h\n", 1000*r.Simple.Value, 1000*r.SimpleRate.Value)
	// Output: 1730 mL, 1153.3 mL/h
}

// MB-10: 1.4 kg of 70.0 kg is 2.00 %, by definition.
func ExampleDerive_percent() {
	fmt.Printf("%.2f %%\n", balance.Derive(weighed(70, 68.6, 0, 0, minutes(60))).MassChangePct)
	// Output: -2.00 %
}

// MB-11 and MB-12: a gain is kept as it is. 70.0 to 70.4 kg with 1.5 L drunk
// is 1.1 L lost (identity); readings the wrong way round, 60.3 to 61.7 kg, are
// -1.4 L and not zero.
func ExampleDerive_gain() {
	gain := balance.Derive(weighed(70, 70.4, 1.5, 0, minutes(60)))
	fmt.Printf("%+.1f kg, %.1f L\n", gain.MassChange.Value, gain.Simple.Value)
	swapped := balance.Derive(weighed(60.3, 61.7, 0, 0, minutes(60)))
	fmt.Printf("%+.1f kg, %.1f L\n", swapped.MassChange.Value, swapped.Simple.Value)
	// Output:
	// +0.4 kg, 1.1 L
	// +1.4 kg, -1.4 L
}

// MB-13: 1.0 kg lost, no urine, 0.16 kg non-sweat mass, intake unknown: at
// least 0.84 kg of sweat. Baker 2017 (table 3) has a loss without a measured
// intake flagged.
func ExampleBound() {
	fmt.Printf("≥ %.2f L\n", balance.Bound(1.0, 0, 0.16))
	// Output: ≥ 0.84 L
}

// MB-14 and MB-15: 0.2 g/kcal. 3000 kcal are 0.60 kg (Cheuvront & Montain
// 2017); 1.0 kg, 0.5 L drunk and 800 kcal in 1 h are 1.34 L/h. 800 kcal are
// 80 kg over 10 km at 1 kcal/(kg km).
func ExampleDerive_nonSweat() {
	marathon := weighed(70, 70, 0, 0, minutes(240))
	marathon.Foot, marathon.Distance = true, ptr(quantity.Distance(3000.0/70*1000))
	fmt.Printf("%.2f kg\n", balance.Derive(marathon).Sweat.Value)

	run := weighed(80.5, 79.5, 0.5, 0, minutes(60))
	run.Foot, run.Distance = true, ptr(quantity.Distance(10000))
	fmt.Printf("%.2f L/h\n", balance.Derive(run).Rate.Value)
	// Output:
	// -0.60 kg
	// 1.34 L/h
}

// Common practice, without a published source: a kilogram is a litre. 74.2 to
// 73.0 kg with kit in 72 min and 61.4 to 59.3 kg in 2 h 6 min are 1.0 L/h each.
func ExampleDerive_commonPractice() {
	carrying := weighed(74.2, 73.0, 0, 0, minutes(72))
	carrying.Weighing, carrying.HasNote = record.Carrying, false
	fmt.Printf("%.2f L/h\n", balance.Derive(carrying).SimpleRate.Value)
	fmt.Printf("%.2f L/h\n", balance.Derive(weighed(61.4, 59.3, 0, 0, minutes(126))).SimpleRate.Value)
	// Output:
	// 1.00 L/h
	// 1.00 L/h
}
