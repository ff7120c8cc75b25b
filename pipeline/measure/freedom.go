package measure

import "math"

// DF is the effective degrees of freedom of the combined uncertainty (GUM
// G.4.1, Welch–Satterthwaite), infinite when every part is known:
//
//	u⁴ / Σ (uᵢ⁴/νᵢ)
func (e Estimate[Q]) DF() float64 {
	sum := 0.0
	for _, p := range e.Budget {
		if p.DF > 0 {
			sum += math.Pow(p.U, 4) / p.DF
		}
	}
	return math.Pow(e.U(), 4) / sum
}

// Factor is the coverage factor of a two-sided interval with the coverage p
// for df degrees of freedom, cut to a whole number as GUM G.4.1 wants: Student's
// t, normal for infinite df. One and two degrees have a closed form; from three
// the expansion 26.7.5 of Abramowitz and Stegun holds within 0.5 % up to 99 %
// coverage.
func Factor(p, df float64) float64 {
	df = math.Max(1, math.Floor(df))
	switch {
	case math.IsInf(df, 1) || math.IsNaN(df):
		return math.Sqrt2 * math.Erfinv(p)
	case df == 1:
		return math.Tan(p * math.Pi / 2)
	case df == 2:
		return p * math.Sqrt(2/(1-p*p))
	}
	z := math.Sqrt2 * math.Erfinv(p)
	q := z * z
	return z * (1 + (q+1)/(4*df) + ((5*q+16)*q+3)/(96*df*df) +
		(((3*q+19)*q+17)*q-15)/(384*math.Pow(df, 3)) +
		((((79*q+776)*q+1482)*q-1920)*q-945)/(92160*math.Pow(df, 4)))
}
