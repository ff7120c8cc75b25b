package heat

import (
	"math"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
)

// Condition is one property of the air and where it came from.
type Condition[Q ~float64] struct {
	measure.Estimate[Q]
	From string `json:"from"` // "weather", "note", "room", "watch", "assumed"
}

// Air is the air a session took place in. What is not known is nil.
type Air struct {
	Temp     *Condition[quantity.Temperature] `json:"air_temp_c,omitempty"`
	Vapour   *Condition[quantity.Pressure]    `json:"vapour_pressure_hpa,omitempty"`
	Wind     *Condition[quantity.Speed]       `json:"wind_2m_m_per_s,omitempty"` // at 2 m
	Sun      *Condition[Irradiance]           `json:"sun_w_per_m2,omitempty"`    // on a level surface
	Pressure *Condition[quantity.Pressure]    `json:"pressure_hpa,omitempty"`    // at the place, not at sea level
}

// VapourFromHumidity is the vapour pressure of air of a temperature and a
// relative humidity in %, with the uncertainty of both.
func VapourFromHumidity(t measure.Estimate[quantity.Temperature], humidityPct measure.Estimate[float64]) measure.Estimate[quantity.Pressure] {
	return propagate[quantity.Pressure]("heat.VapourFromHumidity/1", func(x []float64) float64 {
		return float64(VapourPressure(quantity.Celsius(x[0]), x[1]))
	}, of(t), of(humidityPct))
}

// VapourFromDewPoint is the vapour pressure of air of a dew point.
func VapourFromDewPoint(dew measure.Estimate[quantity.Temperature]) measure.Estimate[quantity.Pressure] {
	return propagate[quantity.Pressure]("heat.VapourFromDewPoint/1", func(x []float64) float64 {
		return float64(SaturationPressure(quantity.Celsius(x[0])))
	}, of(dew))
}

// WindAt2m turns the wind that a station measures at 10 m into that at 2 m over
// short grass: u2 = u10 · 4.87 / ln(67.8 · 10 − 5.42).
//
// Source: fao56, equation 47, from memory.
func WindAt2m(at10m quantity.Speed) quantity.Speed {
	return at10m * quantity.Speed(4.87/math.Log(67.8*10-5.42))
}

// input is a value with its uncertainty that a formula is applied to.
type input struct {
	value, u float64
	times    func(float64) measure.Term
}

func of[Q ~float64](e measure.Estimate[Q]) input {
	return input{float64(e.Value), e.U(), e.Times}
}

// propagate applies a formula to estimates. Partial derivatives are differences
// over ± u (GUM 5.1.4, note 2).
func propagate[Q ~float64](method string, f func([]float64) float64, in ...input) measure.Estimate[Q] {
	x := make([]float64, len(in))
	for i, v := range in {
		x[i] = v.value
	}
	terms := make([]measure.Term, len(in))
	for i, v := range in {
		partial := 0.0
		if v.u > 0 {
			up, down := append([]float64(nil), x...), append([]float64(nil), x...)
			up[i], down[i] = v.value+v.u, v.value-v.u
			partial = (f(up) - f(down)) / (2 * v.u)
		}
		terms[i] = v.times(partial)
	}
	return measure.Combine(method, Q(f(x)), terms...)
}
