package heat

import (
	"math"
	"time"

	"saltpan/pipeline/quantity"
)

// Irradiance is solar radiation on a level surface in W/m².
type Irradiance float64

// Outdoor is what Liljegren's model asks for.
type Outdoor struct {
	Temp           quantity.Temperature
	HumidityPct    float64
	Pressure       quantity.Pressure
	Wind           quantity.Speed // at 2 m
	Sun            Irradiance
	At             time.Time // the middle of what Sun was averaged over
	LatDeg, LonDeg float64
}

// Bulbs are the temperatures Liljegren's model gives.
type Bulbs struct {
	Globe          quantity.Temperature
	NaturalWetBulb quantity.Temperature
	Psychrometric  quantity.Temperature
	WBGT           quantity.Temperature
	// Radiant is the mean radiant temperature that a body in light kit feels,
	// which takes up 0.7 of the sun where the globe takes 0.95.
	Radiant quantity.Temperature
}

// Constants of the model (liljegren2008): globe of 5.08 cm, wick of 7 by 25.4 mm.
const (
	emissivity      = 0.95
	globeAlbedo     = 0.05
	globeDiameterM  = 0.0508
	wickAlbedo      = 0.4
	wickDiameterM   = 0.007
	wickLengthM     = 0.0254
	surfaceEmiss    = 0.999
	surfaceAlbedo   = 0.45
	leastWindMPerS  = 0.13
	highestOfTop    = 0.85    // of the radiation above the atmosphere
	leastCosZenith  = 0.00873 // the sun fully above the horizon
	convergedK      = 0.02
	mostIterations  = 50
	kelvin          = 273.15
	stefanBoltzmann = 5.6696e-8
)

// Liljegren is the wet bulb globe temperature from a weather station's values:
// heat balances of globe and wick, solved by iteration.
//
// Source: liljegren2008, equations and constants as in the authors' published
// program. It returns false when an iteration did not settle.
func Liljegren(o Outdoor) (Bulbs, bool) {
	s := newSurroundings(o)
	globe, a := s.globe()
	natural, b := s.wick(true)
	psychro, c := s.wick(false)
	return Bulbs{Globe: globe, NaturalWetBulb: natural, Psychrometric: psychro,
		WBGT: WBGTInSun(natural, globe, o.Temp), Radiant: quantity.Celsius(math.Pow(s.seen(bodyAbsorbs), 0.25) - kelvin)}, a && b && c
}

// surroundings is what both balances share. Temperatures are in kelvin.
type surroundings struct {
	air, rh, pressure, wind float64 // K, 0 to 1, hPa, m/s
	sun, direct, cosZenith  float64 // W/m², share, 1
}

func newSurroundings(o Outdoor) surroundings {
	s := surroundings{air: o.Temp.Celsius() + kelvin, rh: o.HumidityPct / 100, pressure: float64(o.Pressure),
		wind: max(float64(o.Wind), leastWindMPerS), sun: float64(o.Sun)}
	cos, distance := sunAt(o.At, o.LatDeg, o.LonDeg)
	s.cosZenith = cos
	if cos < leastCosZenith {
		return s
	}
	const solarConstant = 1367 // W/m²
	top := solarConstant * cos / (distance * distance)
	share := min(s.sun/top, highestOfTop)
	s.sun = share * top
	if share > 0 {
		s.direct = min(max(math.Exp(3-1.34*share-1.65/share), 0), 0.9)
	}
	return s
}

// longWave is the mean of sky and ground radiation over σ, K⁴.
func (s surroundings) longWave() float64 {
	e := s.rh * saturationBuck(s.air)
	sky := 0.575 * math.Pow(e, 0.143)
	return 0.5 * (sky + surfaceEmiss) * math.Pow(s.air, 4)
}

// bodyAbsorbs is the share of the sun that skin and clothes take up (common
// practice, from memory).
const bodyAbsorbs = 0.7

// seen is what a small body sees that absorbs a share of the sun: long and short
// waves over σ and the emissivity, K⁴.
func (s surroundings) seen(absorbs float64) float64 {
	beam := 0.0
	if s.direct > 0 {
		beam = s.direct * (1/(2*s.cosZenith) - 1)
	}
	return s.longWave() + s.sun/(2*stefanBoltzmann*emissivity)*absorbs*(beam+1+surfaceAlbedo)
}

// globe is the temperature of the black globe.
func (s surroundings) globe() (quantity.Temperature, bool) {
	seen := s.seen(1 - globeAlbedo)
	return settle(s.air, func(t float64) float64 {
		h := s.sphere(0.5 * (t + s.air))
		return math.Pow(seen-h/(stefanBoltzmann*emissivity)*(t-s.air), 0.25)
	})
}

// wick is the temperature of the wet wick, natural with radiation and
// psychrometric without.
func (s surroundings) wick(radiation bool) (quantity.Temperature, bool) {
	e := s.rh * saturationBuck(s.air)
	ends := 0.25 * wickDiameterM / wickLengthM
	beam := 0.0
	if s.direct > 0 {
		beam = s.direct * (math.Tan(math.Acos(s.cosZenith))/math.Pi + ends)
	}
	short := (1 - wickAlbedo) * s.sun * ((1-s.direct)*(1+ends) + beam + surfaceAlbedo)
	return settle(dewPointBuck(e), func(t float64) float64 {
		ref := 0.5 * (t + s.air)
		sat := saturationBuck(t)
		schmidt := viscosity(ref) / (s.density(ref) * diffusivity(ref, s.pressure))
		evaporation := latentHeatLiljegren(ref) / (heatCapacity * airMolarMass / waterMolarMass) *
			(sat - e) / (s.pressure - sat) * math.Pow(prandtl/schmidt, 0.56)
		gain := 0.0
		if radiation {
			gain = (stefanBoltzmann*emissivity*(s.longWave()-math.Pow(t, 4)) + short) / s.cylinder(ref)
		}
		return s.air - evaporation + gain
	})
}

// settle follows the published iteration: a tenth of each step until a step is
// under 0.02 K. It gives the last full step.
func settle(t float64, next func(float64) float64) (quantity.Temperature, bool) {
	for range mostIterations {
		n := next(t)
		if math.Abs(n-t) < convergedK {
			return quantity.Celsius(n - kelvin), true
		}
		t = 0.9*t + 0.1*n
	}
	return quantity.Celsius(t - kelvin), false
}
