package weather

import (
	"math"
	"strings"

	"saltpan/importers/importer/table"
	"saltpan/pipeline/quantity"
)

// scale turns a number of a unit into ours.
type scale func(v float64) float64

func times(factor float64) scale { return func(v float64) float64 { return v * factor } }

// The units, by the names that a header or a cell can give them, as
// table.Words folds them. Factors are the exact ones of NIST SP 811
// (2008), appendix B.8, if not said otherwise.
var (
	temperatureUnits = map[string]string{"c": "c", "celsius": "c", "centigrade": "c", "deg c": "c", "degc": "c", "degree c": "c", "degrees c": "c", "deg celsius": "c", "degrees celsius": "c", "grad c": "c", "grad celsius": "c",
		"f": "f", "fahrenheit": "f", "deg f": "f", "degf": "f", "degree f": "f", "degrees f": "f", "deg fahrenheit": "f", "degrees fahrenheit": "f", "k": "k", "kelvin": "k"}
	windUnits = map[string]string{"m s": "m s", "ms": "m s", "m s 1": "m s", "mps": "m s", "m sec": "m s", "meter s": "m s", "metres per second": "m s", "meters per second": "m s",
		"km h": "km h", "kmh": "km h", "km h 1": "km h", "kph": "km h", "kmph": "km h", "km hr": "km h",
		"kt": "kt", "kts": "kt", "kn": "kt", "knot": "kt", "knots": "kt", "knoten": "kt", "mph": "mph", "mi h": "mph", "mi hr": "mph", "miles per hour": "mph"}
	sunUnits = map[string]string{"w m2": "w m2", "w m": "w m2", "w m 2": "w m2", "wm2": "w m2", "wm": "w m2", "watt m2": "w m2", "watts m2": "w m2", "wh m2": "w m2", "wh m": "w m2",
		"kj m2": "kj m2", "kj m": "kj m2", "j cm2": "j cm2", "j cm": "j cm2", "mj m2": "mj m2", "mj m": "mj m2"}
	pressureUnits = map[string]string{"hpa": "hpa", "h pa": "hpa", "mb": "hpa", "mbar": "hpa", "m bar": "hpa", "millibar": "hpa", "pa": "pa", "kpa": "kpa", "k pa": "kpa",
		"in hg": "inhg", "inhg": "inhg", "in": "inhg", "mm hg": "mmhg", "mmhg": "mmhg"}

	units = map[meaning]map[string]string{airTemp: temperatureUnits, dewPoint: temperatureUnits, wind: windUnits, sun: sunUnits, pressure: pressureUnits,
		humidity: {"%": "%", "percent": "%", "pct": "%", "prozent": "%", "rh": "%", "% rh": "%"}}

	scales = map[string]scale{
		"c": times(1), "k": func(v float64) float64 { return v - 273.15 },
		"f": func(v float64) float64 { return quantity.Fahrenheit(v).Celsius() },
		"%": times(1), "fraction": times(100),
		"m s": times(1), "km h": times(1 / 3.6), "kt": times(1852.0 / 3600), "mph": times(quantity.MetresPerMile / 3600),
		// Sums over an hour as the hour's mean: 1 kJ/m² in 3600 s is 1/3.6 W/m².
		"w m2": times(1), "kj m2": times(1 / 3.6), "j cm2": times(10 / 3.6), "mj m2": times(1000 / 3.6),
		// The conventional inch of mercury is 25.4 mm of it.
		"hpa": times(1), "pa": times(0.01), "kpa": times(10), "mmhg": times(quantity.HectopascalsPerMmHg), "inhg": times(25.4 * quantity.HectopascalsPerMmHg),
	}
)

// unitOf is the unit that a name stands for in a column, empty if none.
func unitOf(m meaning, name string) string { return units[m][table.Words(spelled.Replace(name))] }

// spelled writes out signs that hold a letter but count as none.
var spelled = strings.NewReplacer("℃", " C", "℉", " F", "²", "2")

// convert gives a number of a unit in ours, without the dust of binary
// fractions and without a negative zero.
func convert(v float64, unit string) float64 {
	return math.Round(scales[unit](v)*1e6)/1e6 + 0
}

// bounds are what an observation at the ground can be, in our units. The
// temperature's are those in which people run; the others enclose the records
// of the WMO's archive of extremes (from memory) except for tornadoes.
var bounds = map[meaning][2]float64{airTemp: {-60, 60}, dewPoint: {-90, 40}, humidity: {0, 105}, wind: {0, 115}, sun: {-20, 1500}, pressure: {450, 1090}}

// ours is how our unit is written in messages.
var ours = map[meaning]string{airTemp: "°C", dewPoint: "°C", humidity: "%", wind: "m/s", sun: "W/m²", pressure: "hPa"}

// shown is how a unit is written in messages.
var shown = map[string]string{"c": "°C", "f": "°F", "k": "K", "%": "%", "fraction": "a fraction of 1", "m s": "m/s", "km h": "km/h", "kt": "kt", "mph": "mph",
	"w m2": "W/m²", "kj m2": "kJ/m² over the hour", "j cm2": "J/cm² over the hour", "mj m2": "MJ/m² over the hour", "hpa": "hPa", "pa": "Pa", "kpa": "kPa", "mmhg": "mmHg", "inhg": "inHg"}
