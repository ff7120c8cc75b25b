package heat

import (
	"math"

	"saltpan/pipeline/quantity"
)

// Exposure is a task in constant conditions, as ISO 7933 describes it.
type Exposure struct {
	Temp, Radiant quantity.Temperature // of the air; mean radiant
	Vapour        quantity.Pressure
	Wind          quantity.Speed
	Metabolic     Flux
	Work          Flux // external
	CloInsulation float64
	Posture       Posture
	Acclimatised  bool
	Walking       *Walk // nil: standing work, for which the standard makes a speed from the metabolic rate
	Mass          quantity.Mass
	HeightM       float64
	Minutes       int
}

// Walk is a speed and the angle between it and the wind in degrees.
type Walk struct {
	Speed    quantity.Speed
	AngleDeg float64
}

// Posture of the body.
type Posture string

// Postures with their share of skin that radiates.
const (
	Standing  Posture = "standing"
	Sitting   Posture = "sitting"
	Crouching Posture = "crouching"
)

func (p Posture) radiating() float64 {
	switch p {
	case Sitting:
		return 0.70
	case Crouching:
		return 0.67
	}
	return 0.77
}

// Strain is what the exposure does to the body by its end.
type Strain struct {
	Rectal quantity.Temperature
	// WaterLossG is sweat and breath water together, in grams: the standard's
	// total is not sweat alone.
	WaterLossG float64
	SweatG     float64
}

// PredictedStrain is the predicted heat strain, minute by minute, from a
// thermally neutral start.
//
// Source: iso7933, edition of 2004, equations as open code that reproduces its
// annex F states them; 15 to 50 °C, radiant to 60 °C above the air, wind to 3
// m/s, 100 to 450 W/m², 0.1 to 1 clo (InDomain).
func PredictedStrain(x Exposure) Strain {
	m := newModel(x)
	b := bodyState{core: 36.8, coreEq: 36.8, rectal: 36.8, skin: 34.1, skinShare: 0.3, clothes: x.Radiant.Celsius() + 0.1}
	for range x.Minutes {
		b = m.minute(b)
	}
	grams := 2.67 * m.area / 1.8 / 60 // of W/m² over a minute
	return Strain{Rectal: quantity.Celsius(b.rectal), WaterLossG: b.waterLoss * grams, SweatG: b.sweatLoss * grams}
}

// InDomain reports whether an exposure lies where the standard was validated.
func (x Exposure) InDomain() bool {
	radiant := x.Radiant.Celsius() - x.Temp.Celsius()
	in := func(v, lo, hi float64) bool { return lo <= v && v <= hi }
	return in(x.Temp.Celsius(), 15, 50) && in(radiant, 0, 60) && in(float64(x.Wind), 0, 3) &&
		in(float64(x.Metabolic), 100, soldiersCeiling) && in(x.CloInsulation, 0.1, 1) && in(x.Vapour.Kilopascals(), 0, 4.5)
}

// bodyState is the body at the end of a minute: °C, W/m² and sums of W/m².
type bodyState struct {
	core, coreEq, rectal, skin, clothes float64
	skinShare                           float64 // of skin temperature in the mean body temperature
	sweat                               float64
	waterLoss, sweatLoss                float64
}

// minute is one step of the standard's loop.
func (m model) minute(b bodyState) bodyState {
	n := b
	n.coreEq = lag(b.coreEq, 0.0036*m.metabolic+36.6, 10)
	storedEq := m.heatCapacity * (n.coreEq - b.coreEq) * (1 - b.skinShare)
	n.skin = lag(b.skin, m.skinEq(b.rectal), 3)
	var dry float64
	n.clothes, dry = m.dry(n.skin, b.clothes)
	emax := (saturationISO(n.skin) - m.vapour) / m.evaporativeResistance
	ereq := m.metabolic - storedEq - m.work - m.breathDry - m.breathWet - dry
	n.sweat = max(lag(b.sweat, m.requiredSweat(ereq, emax), 10), 0)
	evaporated := m.evaporated(n.sweat, emax)
	n.core, n.skinShare = m.core(b, n.skin, max(ereq, 0)-evaporated+storedEq)
	n.rectal = b.rectal + (2*n.core-1.962*b.rectal-1.31)/9
	n.sweatLoss += n.sweat
	n.waterLoss += n.sweat + m.breathWet
	return n
}

// lag is an exponential approach with a time constant in minutes, one minute on.
func lag(from, to, minutes float64) float64 {
	k := math.Exp(-1 / minutes)
	return from*k + to*(1-k)
}

// saturationISO is the standard's own saturation vapour pressure, kPa.
func saturationISO(c float64) float64 { return 0.6105 * math.Exp(17.27*c/(c+237.3)) }

// requiredSweat is the sweat that evaporates enough, W/m², at most what the
// body can make:
//
//	efficiency = 1 − w²/2 up to w = 1, (2 − w)²/2 above;  all it can from w = 1.7
func (m model) requiredSweat(ereq, emax float64) float64 {
	w := ereq / emax
	switch {
	case ereq <= 0:
		return 0
	case emax <= 0 || w >= 1.7:
		return m.mostSweat
	case w > 1:
		return min(ereq/max((2-w)*(2-w)/2, 0.05), m.mostSweat)
	}
	return min(ereq/(1-w*w/2), m.mostSweat)
}

// evaporated is the evaporation at a sweat rate: wettedness times Emax.
func (m model) evaporated(sweat, emax float64) float64 {
	if sweat <= 0 {
		return 0
	}
	emax = max(emax, 0)
	k, w := emax/sweat, 1.0
	if k >= 0.5 {
		w = -k + math.Sqrt(k*k+2)
	}
	return min(w, m.mostWet) * emax
}

// core solves for the core temperature and the skin's share, which depend on
// each other.
func (m model) core(b bodyState, skin, stored float64) (core, share float64) {
	guess := b.core
	for range 100 {
		share = min(max(0.3-0.09*(guess-36.8), 0.1), 0.3)
		core = (stored/m.heatCapacity + b.skin*b.skinShare/2 - skin*share/2 + b.core*(1-b.skinShare/2)) / (1 - share/2)
		if math.Abs(core-guess) <= 0.001 {
			break
		}
		guess = (guess + core) / 2
	}
	return core, share
}
