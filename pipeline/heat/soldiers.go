package heat

import (
	"fmt"
	"math"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
)

// SweatFlux is a sweat rate per body surface in g/(m² h).
type SweatFlux float64

// Rate is the sweat rate of a body, in L/h.
func (s SweatFlux) Rate(a Area) quantity.Rate { return quantity.Rate(float64(s) * float64(a) / 1000) }

// Shapiro is the sweat rate ("OSE") of clothed soldiers at rest and at work:
//
//	msw = 27.9 Ereq Emax^(−0.455)   g/(m² h), W/m²
//
// Source: shapiro1982, as gonzalez2009 states it; the exponent is negative.
// It is known to predict too much. It is NaN when Emax is not above zero.
func Shapiro(ereq, emax Flux) SweatFlux {
	if emax <= 0 {
		return SweatFlux(math.NaN())
	}
	return SweatFlux(27.9 * float64(ereq) * math.Pow(float64(emax), -0.455))
}

// ShapiroCorrected is OSE corrected for predicting too much, 147 exp(0.0012 OSE).
//
// Source: gonzalez2009, abstract.
func ShapiroCorrected(ose SweatFlux) SweatFlux {
	return SweatFlux(147 * math.Exp(0.0012*float64(ose)))
}

// PiecewiseSweat is the sweat rate "PW", 147 + 1.527 Ereq − 0.87 Emax, g/(m² h)
// and W/m²; standard error under 100 g/(m² h).
//
// Source: gonzalez2009, abstract; see SoldierDomain.
func PiecewiseSweat(ereq, emax Flux) SweatFlux {
	return SweatFlux(147 + 1.527*float64(ereq) - 0.87*float64(emax))
}

// PiecewiseSweatCool is PW below 20 °C, 350 + 1.527 Ereq − 0.87 Emax.
//
// Source: gonzalez2012, abstract.
func PiecewiseSweatCool(ereq, emax Flux) SweatFlux {
	return SweatFlux(350 + 1.527*float64(ereq) - 0.87*float64(emax))
}

// PiecewiseSweatSun is the sweat rate outdoors in sun from PW with the sun's
// load in Ereq, 0.72 PW + 135; 16 to 26 °C, up to 700 g/(m² h), standard error 33.8.
//
// Source: gonzalez2012, abstract.
func PiecewiseSweatSun(pw SweatFlux) SweatFlux { return 0.72*pw + 135 }

// Soldiers is what the soldiers' equations are asked about.
type Soldiers struct {
	Temp           quantity.Temperature
	VapourPressure quantity.Pressure
	Wind           quantity.Speed
	Metabolic      Flux
	Ereq, Emax     Flux
}

// soldiersCeiling is where both sweat models end, W/m².
const soldiersCeiling = 450

// Predict is PW in its range with what speaks against it. A prediction under
// what skin loses at rest is put to zero and said.
//
// Source: gonzalez2009, clothed soldiers, 15 to 46 °C, 0.27 to 4.45 kPa, 0.4 to
// 2.5 m/s, rest to 450 W/m², 2 to 8 h.
func (s Soldiers) Predict() (SweatFlux, []measure.Warning) {
	var out []measure.Warning
	outside := func(what string, v, lo, hi float64) {
		if v < lo || v > hi {
			out = append(out, measure.Warning{Code: "heat-domain",
				Text: fmt.Sprintf("%s of %.4g is outside the %g to %g the sweat model was made for", what, v, lo, hi)})
		}
	}
	outside("air temperature in °C", s.Temp.Celsius(), 15, 46)
	outside("vapour pressure in kPa", s.VapourPressure.Kilopascals(), 0.27, 4.45)
	outside("wind in m/s", float64(s.Wind), 0.4, 2.5)
	outside("metabolic rate in W/m²", float64(s.Metabolic), 0, soldiersCeiling)
	pw := PiecewiseSweat(s.Ereq, s.Emax)
	if pw < leastBelievable {
		out = append(out, measure.Warning{Code: "heat-low-prediction",
			Text: fmt.Sprintf("the sweat model says %.0f g/(m² h), which means only that the air takes far more than the body asks", pw)})
	}
	return max(pw, 0), out
}

// leastBelievable is a sweat rate in g/(m² h) that PW's standard error of 100
// cannot tell from nothing.
const leastBelievable = 100
