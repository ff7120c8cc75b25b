package heat

import "math"

// model is an exposure with everything that stays the same from minute to
// minute; W/m², kPa, m/s, °C.
type model struct {
	air, radiant, vapour, wind      float64
	metabolic, work, clo            float64
	area, heatCapacity              float64 // m²; W min/(m² K)
	mostSweat, mostWet              float64
	breathDry, breathWet            float64
	clothesArea, clothesInsulation  float64 // 1; m² K/W
	evaporativeResistance, convects float64 // m² kPa/W; W/(m² K) at least
	radiatingArea                   float64
}

func newModel(x Exposure) model {
	m := model{air: x.Temp.Celsius(), radiant: x.Radiant.Celsius(), vapour: x.Vapour.Kilopascals(), wind: float64(x.Wind),
		metabolic: float64(x.Metabolic), work: float64(x.Work), clo: x.CloInsulation,
		area: float64(SurfaceArea(x.Mass, x.HeightM)), radiatingArea: x.Posture.radiating()}
	m.heatCapacity = 57.83 * x.Mass.Kilograms() / m.area
	m.mostSweat, m.mostWet = min(max((m.metabolic-32)*m.area, 250), 400), 0.85
	if x.Acclimatised {
		m.mostSweat, m.mostWet = m.mostSweat*1.25, 1
	}
	expired := 28.56 + 0.115*m.air + 0.641*m.vapour
	m.breathDry = 0.001516 * m.metabolic * (expired - m.air)
	m.breathWet = 0.00127 * m.metabolic * (59.34 + 0.53*m.air - 11.63*m.vapour)
	speed, relative := x.speeds()
	m.convects = Convection(relative)
	m.dress(speed, relative)
	return m
}

// speeds are the body's speed and that of the air over it, m/s. Work in place
// counts as walking at 0.0052 (M − 58), up to 0.7 m/s, which pumps air through
// clothes but makes no wind.
func (x Exposure) speeds() (body, air float64) {
	if x.Walking == nil {
		return min(0.0052*(float64(x.Metabolic)-58), 0.7), float64(x.Wind)
	}
	v := float64(x.Walking.Speed)
	return v, math.Abs(float64(x.Wind) - v*math.Cos(x.Walking.AngleDeg*math.Pi/180))
}

// Convection is the forced convective heat transfer coefficient in W/(m² K) at an
// air speed in m/s: 3.5 + 5.2 v to 1 m/s, 8.7 v^0.6 above.
//
// Source: iso7933.
func Convection(v float64) float64 {
	if v > 1 {
		return 8.7 * math.Pow(v, 0.6)
	}
	return 3.5 + 5.2*v
}

// permeability of clothes to vapour, static (iso7933).
const permeability = 0.38

// dress sets the clothes' insulation and resistance to vapour in moving air.
func (m *model) dress(body, air float64) {
	const boundary = 0.111 // m² K/W
	static := m.clo * 0.155
	m.clothesArea = 1 + 0.3*m.clo
	v, w := min(air, 3), min(body, 1.5)
	clothed := min(1.044*math.Exp((0.066*v-0.398)*v+(0.094*w-0.378)*w), 1)
	bare := min(math.Exp((0.047*air-0.472)*air+(0.117*w-0.342)*w), 1)
	total := clothed
	if m.clo <= 0.6 {
		total = ((0.6-m.clo)*bare + m.clo*clothed) / 0.6
	}
	moving := (static + boundary/m.clothesArea) * total
	m.clothesInsulation = moving - bare*boundary/m.clothesArea
	im := min(permeability*((2.6*total-6.5)*total+4.9), 0.9)
	m.evaporativeResistance = moving / im / 16.7
}

// skinEq is the skin temperature that the conditions tend to, °C: naked up to
// 0.2 clo, clothed from 0.6, linear between.
func (m model) skinEq(rectal float64) float64 {
	naked := 7.191 + 0.064*m.air + 0.061*m.radiant + 0.198*m.vapour - 0.348*m.wind + 0.616*rectal
	clothed := 12.165 + 0.02017*m.air + 0.04361*m.radiant + 0.19354*m.vapour - 0.25315*m.wind + 0.005346*m.metabolic + 0.51274*rectal
	return naked + min(max((m.clo-0.2)/0.4, 0), 1)*(clothed-naked)
}

// dry is the clothes' temperature and the heat they give to air and
// surroundings by convection and radiation, W/m². The iteration goes on to a
// hundred thousandth of a kelvin: a thousandth would add 1 g in eight hours.
func (m model) dry(skin, clothes float64) (temp, heat float64) {
	for range 200 {
		hc := max(2.38*math.Pow(math.Abs(clothes-m.air), 0.25), m.convects)
		hr := m.radiation(clothes)
		next := (m.clothesArea*(hc*m.air+hr*m.radiant) + skin/m.clothesInsulation) / (m.clothesArea*(hc+hr) + 1/m.clothesInsulation)
		heat = m.clothesArea * (hc*(clothes-m.air) + hr*(clothes-m.radiant))
		if math.Abs(clothes-next) <= 1e-5 {
			break
		}
		clothes = (clothes + next) / 2
	}
	return clothes, heat
}

// radiation is the radiant heat transfer coefficient of the clothes, W/(m² K).
func (m model) radiation(clothes float64) float64 {
	return m.radiatingArea * Radiation(clothes, m.radiant)
}

// Radiation is the radiant heat transfer coefficient in W/(m² K) of a surface
// of emissivity 0.97, both temperatures in °C:
//
//	0.97 σ (a⁴ − b⁴)/(a − b),  a and b in kelvin
//
// Source: iso7933, which takes 0 °C as 273 K.
func Radiation(surface, surroundings float64) float64 {
	a, b := surface+273, surroundings+273
	return 0.97 * 5.67e-8 * (a + b) * (a*a + b*b)
}
