// Package quantity has one defined type for each physical quantity, each in
// one coherent unit, so that a mass cannot be added to a rate by mistake.
// Constructors and accessors carry the name of the unit. Text with a unit is
// turned into a number in parse.go and nowhere else.
package quantity

import "math"

// Mass is a mass in kilograms.
type Mass float64

// Volume is a volume in litres.
type Volume float64

// Rate is a volume per time in litres per hour.
type Rate float64

// Temperature is a temperature in degrees Celsius.
type Temperature float64

// Distance is a length in metres.
type Distance float64

// Speed is a speed in metres per second.
type Speed float64

// Concentration is an amount of sodium per volume in millimoles per litre.
type Concentration float64

// SodiumMass is a mass of sodium in milligrams.
type SodiumMass float64

// Energy is an energy in kilocalories.
type Energy float64

// Power is a power in watts.
type Power float64

// Pressure is a pressure in hectopascals.
type Pressure float64

// Conversion factors. Those marked exact are exact by definition.
const (
	// KilogramsPerPound is exact (international avoirdupois pound).
	KilogramsPerPound = 0.45359237
	// PoundsPerStone is exact.
	PoundsPerStone = 14
	// LitresPerUSFluidOunce is exact (231 cubic inches / 128).
	LitresPerUSFluidOunce = 0.0295735295625
	// MetresPerMile is exact (international mile).
	MetresPerMile = 1609.344
	// MetresPerFoot is exact (international foot).
	MetresPerFoot = 0.3048
	// HectopascalsPerMmHg is the conventional millimetre of mercury.
	HectopascalsPerMmHg = 1.333223874
	// MilligramsPerMillimoleSodium is the molar mass of sodium, 22.98977 g/mol.
	MilligramsPerMillimoleSodium = 22.98977
	// MilligramsPerMillimoleSalt is the molar mass of sodium chloride, 58.44 g/mol.
	MilligramsPerMillimoleSalt = 58.44
	// JoulesPerCalorie is exact (thermochemical calorie).
	JoulesPerCalorie = 4.184
)

// Kilograms makes a mass from kilograms.
func Kilograms(v float64) Mass { return Mass(v) }

// Pounds makes a mass from avoirdupois pounds.
func Pounds(v float64) Mass { return Mass(v * KilogramsPerPound) }

// Grams makes a mass from grams.
func Grams(v float64) Mass { return Mass(v / 1000) }

// Kilograms is the mass in kilograms.
func (m Mass) Kilograms() float64 { return float64(m) }

// Pounds is the mass in avoirdupois pounds.
func (m Mass) Pounds() float64 { return float64(m) / KilogramsPerPound }

// Litres makes a volume from litres.
func Litres(v float64) Volume { return Volume(v) }

// Millilitres makes a volume from millilitres.
func Millilitres(v float64) Volume { return Volume(v / 1000) }

// USFluidOunces makes a volume from US fluid ounces.
func USFluidOunces(v float64) Volume { return Volume(v * LitresPerUSFluidOunce) }

// Litres is the volume in litres.
func (v Volume) Litres() float64 { return float64(v) }

// USFluidOunces is the volume in US fluid ounces.
func (v Volume) USFluidOunces() float64 { return float64(v) / LitresPerUSFluidOunce }

// Celsius makes a temperature from degrees Celsius.
func Celsius(v float64) Temperature { return Temperature(v) }

// Fahrenheit makes a temperature from degrees Fahrenheit.
func Fahrenheit(v float64) Temperature { return Temperature((v - 32) / 1.8) }

// Celsius is the temperature in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) }

// Fahrenheit is the temperature in degrees Fahrenheit.
func (t Temperature) Fahrenheit() float64 { return float64(t)*1.8 + 32 }

// MilligramsPerLitre makes a sodium concentration from milligrams per litre.
func MilligramsPerLitre(v float64) Concentration {
	return Concentration(v / MilligramsPerMillimoleSodium)
}

// MilligramsPerLitre is the sodium concentration in milligrams per litre, to a
// millionth, so that 1000 mg/L is shown as it was given.
func (c Concentration) MilligramsPerLitre() float64 {
	return math.Round(float64(c)*MilligramsPerMillimoleSodium*1e6) / 1e6
}

// SaltMilligramsPerLitre is the same sodium as common salt, in milligrams per litre.
func (c Concentration) SaltMilligramsPerLitre() float64 {
	return float64(c) * MilligramsPerMillimoleSalt
}

// Millimoles is the amount of sodium in millimoles.
func (m SodiumMass) Millimoles() float64 { return float64(m) / MilligramsPerMillimoleSodium }

// SaltMilligrams is the common salt that holds this sodium, in milligrams.
func (m SodiumMass) SaltMilligrams() float64 { return m.Millimoles() * MilligramsPerMillimoleSalt }

// MmHg makes a pressure from millimetres of mercury.
func MmHg(v float64) Pressure { return Pressure(v * HectopascalsPerMmHg) }

// MmHg is the pressure in millimetres of mercury.
func (p Pressure) MmHg() float64 { return float64(p) / HectopascalsPerMmHg }

// Kilopascals is the pressure in kilopascals.
func (p Pressure) Kilopascals() float64 { return float64(p) / 10 }

// WaterMass is the mass of a volume of water, drink, sweat or urine, taken as
// one kilogram per litre (common practice; drinks with 6 % carbohydrate are
// about 2 % denser, inside the error of a bottle's scale).
func (v Volume) WaterMass() Mass { return Mass(v) }

// WaterVolume is the volume of a mass of water at one kilogram per litre.
func (m Mass) WaterVolume() Volume { return Volume(m) }
