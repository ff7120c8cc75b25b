package heat

import (
	"math"

	"saltpan/pipeline/quantity"
)

// Coefficients over water of Alduchov and Eskridge (alduchov1996): hPa, none, °C.
const (
	magnusHPa = 6.1094
	magnusA   = 17.625
	magnusB   = 243.04
)

// SaturationPressure is the vapour pressure of water at saturation:
//
//	es = 6.1094 exp(17.625 t / (t + 243.04))   hPa, t in °C
//
// Source: alduchov1996, over water, −40 to 50 °C.
func SaturationPressure(t quantity.Temperature) quantity.Pressure {
	c := t.Celsius()
	return quantity.Pressure(magnusHPa * math.Exp(magnusA*c/(c+magnusB)))
}

// VapourPressure is that of air at a temperature and a relative humidity in %.
func VapourPressure(t quantity.Temperature, humidityPct float64) quantity.Pressure {
	return SaturationPressure(t) * quantity.Pressure(humidityPct/100)
}

// DewPoint is the temperature at which the vapour would be saturated, the
// inverse of SaturationPressure. It is NaN for a pressure of zero or less.
func DewPoint(e quantity.Pressure) quantity.Temperature {
	g := math.Log(float64(e) / magnusHPa)
	return quantity.Celsius(magnusB * g / (magnusA - g))
}

// Humidity is the relative humidity in % of air at a temperature whose vapour
// pressure is e.
func Humidity(t quantity.Temperature, e quantity.Pressure) float64 {
	return 100 * float64(e/SaturationPressure(t))
}

// WetBulb is the psychrometric wet bulb temperature, and whether the input lies
// in the range of the fit. It is neither the natural wet bulb of the WBGT, which
// stands in sun and wind, nor a substitute for it.
//
//	Tw = T atan(0.151977 √(RH + 8.313659)) + atan(T + RH) − atan(RH − 1.676331)
//	   + 0.00391838 RH^1.5 atan(0.023101 RH) − 4.686035   T in °C, RH in %, atan in radians
//
// Source: stull2011, 5 to 99 %, −20 to 50 °C, sea level; error −1.0 to + 0.65 °C.
func WetBulb(t quantity.Temperature, humidityPct float64) (wetBulb quantity.Temperature, within bool) {
	c, rh := t.Celsius(), humidityPct
	w := c*math.Atan(0.151977*math.Sqrt(rh+8.313659)) + math.Atan(c+rh) - math.Atan(rh-1.676331) +
		0.00391838*math.Pow(rh, 1.5)*math.Atan(0.023101*rh) - 4.686035
	return quantity.Celsius(w), 5 <= rh && rh <= 99 && -20 <= c && c <= 50
}
