package heat

import (
	"math"

	"saltpan/pipeline/quantity"
)

// Balance is what a body in air has to evaporate and can, per skin surface.
type Balance struct {
	Production Flux // metabolic rate less external work
	Dry        Flux // convection and radiation, outward
	Breath     Flux // dry and wet, outward
	Required   Flux // Ereq = production − dry − breath
	Most       Flux // Emax, all skin wet
	// Wettedness is Ereq/Emax: above 1 the air cannot take what the body has to give.
	Wettedness float64
}

// Runner is a body at work in moving air.
type Runner struct {
	Metabolic     Flux
	Work          Flux // external; nothing on the level
	Skin          quantity.Temperature
	CloInsulation float64
	BodySpeed     quantity.Speed // pumps air through the clothes
	AirSpeed      quantity.Speed // over the body
	Temp, Radiant quantity.Temperature
	Vapour        quantity.Pressure
}

// RequiredEvaporation is the heat balance of a body that stores no heat:
//
//	Ereq = M − W − Cres − Eres − C − R;  w = Ereq/Emax
//	Emax = (psk − pa)/(Icl/(16.5·0.38) + 1/(16.5 hc fcl))
//
// Source: iso7933, terms and clothing of the standard, at a given skin
// temperature; 15 to 50 °C, air to 3 m/s. Its resistance to vapour is not
// taken: at running speeds it falls below that of the air layer alone. Emax
// follows the Lewis relation, 16.5 K/kPa (memory), and the standard's static
// permeability of 0.38. What a body has to evaporate explains
// 0.89 to 0.93 of the variance of its sweat rate (gagnon2013, 131 to 487 W). In the
// cold Ereq is below zero: the body has to keep heat, and sweats all the same.
func RequiredEvaporation(r Runner) Balance {
	m := newModel(Exposure{Temp: r.Temp, Radiant: r.Radiant, Vapour: r.Vapour, Wind: r.AirSpeed, Metabolic: r.Metabolic, Work: r.Work,
		CloInsulation: r.CloInsulation, Posture: Standing, Mass: 75, HeightM: 1.8, // the body's size drops out of fluxes
		Walking: &Walk{Speed: r.BodySpeed, AngleDeg: 90}})
	_, dry := m.dry(r.Skin.Celsius(), r.Radiant.Celsius()+0.1)
	b := Balance{Production: r.Metabolic - r.Work, Dry: Flux(dry), Breath: Flux(m.breathDry + m.breathWet),
		Most: Flux((saturationISO(r.Skin.Celsius()) - m.vapour) / m.lewisResistance())}
	b.Required = b.Production - b.Dry - b.Breath
	switch {
	case b.Required <= 0:
	case b.Most <= 0:
		b.Wettedness = math.Inf(1)
	default:
		b.Wettedness = float64(b.Required / b.Most)
	}
	return b
}

// lewisResistance to vapour of clothes and air layer, m² kPa/W.
func (m model) lewisResistance() float64 {
	const lewis = 16.5 // K/kPa
	return m.clothesInsulation/(lewis*permeability) + 1/(lewis*m.convects*m.clothesArea)
}

// AirOver is the speed of air over a body that moves through wind of unknown
// direction: √(v² + w²), the root mean square over all directions.
func AirOver(body, wind quantity.Speed) quantity.Speed {
	return quantity.Speed(math.Hypot(float64(body), float64(wind)))
}
