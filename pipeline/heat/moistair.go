package heat

import "math"

// Properties of moist air as liljegren2008 gives them.
const (
	heatCapacity   = 1003.5 // J/(kg K)
	airMolarMass   = 28.97
	waterMolarMass = 18.015
	gasConstantAir = 8314.34 / airMolarMass // J/(kg K)
	prandtl        = heatCapacity / (heatCapacity + 1.25*gasConstantAir)
)

// saturationBuck is the saturation vapour pressure in hPa at a temperature in
// kelvin, 1.004 × 6.1121 exp(17.502 t / (t + 240.97)) (buck1981).
func saturationBuck(k float64) float64 {
	return 1.004 * 6.1121 * math.Exp(17.502*(k-kelvin)/(k-kelvin+240.97))
}

// dewPointBuck is its inverse, in kelvin.
func dewPointBuck(e float64) float64 {
	z := math.Log(e / (6.1121 * 1.004))
	return kelvin + 240.97*z/(17.502-z)
}

// viscosity of air, kg/(m s).
func viscosity(k float64) float64 {
	omega := (k/97-2.9)/0.4*(-0.034) + 1.048
	return 2.6693e-6 * math.Sqrt(airMolarMass*k) / (3.617 * 3.617 * omega)
}

// conductivity of air, W/(m K).
func conductivity(k float64) float64 { return (heatCapacity + 1.25*gasConstantAir) * viscosity(k) }

// diffusivity of water vapour in air, m²/s, from the critical points of both.
func diffusivity(k, hPa float64) float64 {
	const airAtm, waterAtm, airK, waterK = 36.4, 218, 132, 647.3
	return 3.640e-4 * math.Pow(k/math.Sqrt(airK*waterK), 2.334) * math.Cbrt(airAtm*waterAtm) *
		math.Pow(airK*waterK, 5./12) * math.Sqrt(1/airMolarMass+1/waterMolarMass) / (hPa / 1013.25) * 1e-4
}

// latentHeatLiljegren is the heat of evaporation in J/kg, 283 to 313 K.
func latentHeatLiljegren(k float64) float64 { return (313.15-k)/30*(-71100) + 2.4073e6 }

func (s surroundings) density(k float64) float64 { return s.pressure * 100 / (gasConstantAir * k) }

func (s surroundings) reynolds(k, diameter float64) float64 {
	return s.wind * s.density(k) * diameter / viscosity(k)
}

// sphere and cylinder are convective heat transfer coefficients, W/(m² K).
func (s surroundings) sphere(k float64) float64 {
	nusselt := 2 + 0.6*math.Sqrt(s.reynolds(k, globeDiameterM))*math.Pow(prandtl, 0.3333)
	return nusselt * conductivity(k) / globeDiameterM
}

func (s surroundings) cylinder(k float64) float64 {
	nusselt := 0.281 * math.Pow(s.reynolds(k, wickDiameterM), 0.6) * math.Pow(prandtl, 0.44)
	return nusselt * conductivity(k) / wickDiameterM
}
