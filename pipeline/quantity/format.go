package quantity

import (
	"fmt"
	"math"
	"strings"
)

// Units is how quantities are shown to a person.
type Units string

const (
	// Metric shows kilograms, litres and degrees Celsius.
	Metric Units = "metric"
	// US shows pounds, US fluid ounces and degrees Fahrenheit.
	US Units = "us"
)

// Header units, to be put in a column's heading where the cells have none.

// MassUnit is "kg" or "lb".
func (u Units) MassUnit() string { return u.pick("kg", "lb") }

// VolumeUnit is "L" or "fl oz".
func (u Units) VolumeUnit() string { return u.pick("L", "fl oz") }

// RateUnit is "L/h" or "fl oz/h".
func (u Units) RateUnit() string { return u.pick("L/h", "fl oz/h") }

// TemperatureUnit is "°C" or "°F".
func (u Units) TemperatureUnit() string { return u.pick("°C", "°F") }

// DistanceUnit is "km" or "mi".
func (u Units) DistanceUnit() string { return u.pick("km", "mi") }

// Mass is the number to show for m, in kg or lb.
func (u Units) Mass(m Mass) float64 { return u.choose(m.Kilograms(), m.Pounds()) }

// Volume is the number to show for v, in L or fl oz.
func (u Units) Volume(v Volume) float64 { return u.choose(v.Litres(), v.USFluidOunces()) }

// Rate is the number to show for r, in L/h or fl oz/h.
func (u Units) Rate(r Rate) float64 { return u.Volume(Volume(r)) }

// Temperature is the number to show for t, in °C or °F.
func (u Units) Temperature(t Temperature) float64 { return u.choose(t.Celsius(), t.Fahrenheit()) }

// Distance is the number to show for d, in km or mi.
func (u Units) Distance(d Distance) float64 {
	return u.choose(float64(d)/1000, float64(d)/MetresPerMile)
}

func (u Units) pick(metric, us string) string {
	if u == US {
		return us
	}
	return metric
}

func (u Units) choose(metric, us float64) float64 {
	if u == US {
		return us
	}
	return metric
}

// Digits shown: what a bathroom scale and a marked bottle can tell.

// FormatMass is a mass with its unit, "62.40 kg" or "137.6 lb".
func FormatMass(m Mass, u Units) string {
	return fixed(u.Mass(m), u.digits(2, 1)) + " " + u.MassUnit()
}

// FormatVolume is a volume with its unit, "0.60 L" or "20 fl oz".
func FormatVolume(v Volume, u Units) string {
	return fixed(u.Volume(v), u.digits(2, 0)) + " " + u.VolumeUnit()
}

// FormatRate is a rate with its unit, "0.98 L/h" or "33 fl oz/h".
func FormatRate(r Rate, u Units) string {
	return fixed(u.Rate(r), u.digits(2, 0)) + " " + u.RateUnit()
}

// FormatTemperature is a temperature with its unit, "18.4 °C" or "65 °F".
func FormatTemperature(t Temperature, u Units) string {
	return fixed(u.Temperature(t), u.digits(1, 0)) + " " + u.TemperatureUnit()
}

// FormatDistance is a distance with its unit, "15.2 km" or "9.5 mi".
func FormatDistance(d Distance, u Units) string {
	return fixed(u.Distance(d), 1) + " " + u.DistanceUnit()
}

// FormatInterval is a value with its interval, "0.98 (0.87–1.10)", with the
// given digits after the point. A negative bound is set apart by "to":
// "-0.10 (-0.30 to 0.10)".
func FormatInterval(value, lo, hi float64, digits int) string {
	dash := "–"
	if lo < 0 || hi < 0 {
		dash = " to "
	}
	return fixed(value, digits) + " (" + fixed(lo, digits) + dash + fixed(hi, digits) + ")"
}

// FormatAtLeast is a lower bound, "≥ 0.84". It is rounded down: a bound that
// rounding raised would claim too much.
func FormatAtLeast(lo float64, digits int) string {
	scale := math.Pow(10, float64(digits))
	// The small part keeps 0.84 held as 0.83999… from falling to 0.83.
	return "≥ " + fixed(math.Floor(lo*scale+1e-6)/scale, digits)
}

// FormatVolumeInterval is a volume's interval in the units of u, without the
// unit, for a column whose heading has it.
func FormatVolumeInterval(value, lo, hi Volume, u Units) string {
	return FormatInterval(u.Volume(value), u.Volume(lo), u.Volume(hi), u.digits(2, 0))
}

// FormatRateInterval is a rate's interval in the units of u, without the unit,
// for a column whose heading has it.
func FormatRateInterval(value, lo, hi Rate, u Units) string {
	return FormatInterval(u.Rate(value), u.Rate(lo), u.Rate(hi), u.digits(2, 0))
}

func (u Units) digits(metric, us int) int {
	if u == US {
		return us
	}
	return metric
}

// fixed rounds to digits after the point and shows no negative zero.
func fixed(v float64, digits int) string {
	s := fmt.Sprintf("%.*f", digits, v)
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}
