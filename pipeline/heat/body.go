package heat

import (
	"math"

	"saltpan/pipeline/quantity"
)

// Area is a surface in m².
type Area float64

// Flux is a power per body surface in W/m².
type Flux float64

// SurfaceArea is the skin's area after DuBois, A = 0.202 m^0.425 H^0.725, kg and m.
//
// Source: dubois1916, as iso7933 writes it. The original has 0.007184 for cm,
// which is 0.2 % more.
func SurfaceArea(m quantity.Mass, heightM float64) Area {
	return Area(0.202 * math.Pow(m.Kilograms(), 0.425) * math.Pow(heightM, 0.725))
}

// latentHeat is the energy that a gram of sweat takes along when it evaporates,
// J/g at 30 °C (iom2005, page 83; 2426 to 2430 elsewhere).
const latentHeat = 2430.0

// EvaporationRate is the water that a power evaporates, in L/h, if none drips:
//
//	3600 E / 2430 J/g
//
// Source: iom2005, page 83.
func EvaporationRate(p quantity.Power) quantity.Rate {
	return quantity.Rate(float64(p) * 3600 / latentHeat / 1000)
}
