package heat

import (
	"math"

	"saltpan/pipeline/quantity"
)

// HeatIndex is the NWS heat index in the shade in a light wind, and whether it
// has a meaning there. With T in °F and R in %:
//
//	simple = 0.5 (T + 61 + (T − 68) 1.2 + 0.094 R)
//	HI = −42.379 + 2.04901523 T + 10.14333127 R − 0.22475541 TR − 0.00683783 T² − 0.05481717 R²
//	   + 0.00122874 T²R + 0.00085282 TR² − 0.00000199 T²R²
//	   − (13 − R)/4 √((17 − |T − 95|)/17)   where R < 13 and 80 ≤ T ≤ 112
//	   + (R − 85)/10 (87 − T)/5             where R > 85 and 80 ≤ T ≤ 87
//
// Source: nws. The page averages simple with T to choose the branch, and does
// not say which of the two to return below 80 °F. This returns simple itself:
// its factor 0.5 has already averaged T once, and where the branch turns it
// leaves the smaller step to the regression at nearly every humidity (at 10 %
// 0.7 °F against 1.6, at 90 % 2.3 against 3.2).
// Under 80 °F the index was never fitted, and within is false. Sun adds up to 15 °F; the fit's own error is ± 1.3 °F.
func HeatIndex(t quantity.Temperature, humidityPct float64) (index quantity.Temperature, within bool) {
	f, r := t.Fahrenheit(), humidityPct
	simple := 0.5 * (f + 61 + (f-68)*1.2 + 0.094*r)
	if (simple+f)/2 < 80 {
		return quantity.Fahrenheit(simple), false
	}
	return quantity.Fahrenheit(rothfusz(f, r) + adjustment(f, r)), true
}

func rothfusz(f, r float64) float64 {
	return -42.379 + 2.04901523*f + 10.14333127*r - 0.22475541*f*r - 0.00683783*f*f - 0.05481717*r*r +
		0.00122874*f*f*r + 0.00085282*f*r*r - 0.00000199*f*f*r*r
}

func adjustment(f, r float64) float64 {
	switch {
	case r < 13 && 80 <= f && f <= 112:
		return -(13 - r) / 4 * math.Sqrt((17-math.Abs(f-95))/17)
	case r > 85 && 80 <= f && f <= 87:
		return (r - 85) / 10 * (87 - f) / 5
	}
	return 0
}
