package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// dimension is what a text is read as: its name, how it may be typed, and the
// units it is typed in with what one of each is in the coherent unit.
type dimension struct {
	name  string
	want  string // examples, for the message
	units map[string]float64
}

func (d dimension) wrong(text, why string) error {
	if why != "" {
		why += "; "
	}
	return fmt.Errorf("%s %q: %swant %s", d.name, text, why, d.want)
}

// ParseMass reads a mass with its unit: kg, g, lb, oz (avoirdupois) or stones
// and pounds, as in "62.4kg", "62,4 kg", "137.5lb", "9st11lb". It refuses a
// number without a unit and a negative one.
func ParseMass(text string) (Mass, error) {
	d := dimension{"mass", "a number with a unit, such as 62.4kg, 137.5lb or 9st11lb", map[string]float64{
		"kg": 1, "g": 0.001,
		"lb": KilogramsPerPound, "lbs": KilogramsPerPound,
		"oz": KilogramsPerPound / 16,
		"st": KilogramsPerPound * PoundsPerStone,
	}}
	parts, err := d.split(text)
	if err != nil {
		return 0, err
	}
	if len(parts) == 2 && parts[0].unit == "st" {
		return d.stones(text, parts[0].number, parts[1])
	}
	v, err := d.single(text, parts)
	return Mass(v), err
}

// stones adds pounds to stones; the unit of the pounds may be left out.
func (d dimension) stones(text string, stones float64, rest part) (Mass, error) {
	switch {
	case rest.unit != "" && rest.unit != "lb" && rest.unit != "lbs":
		return 0, d.wrong(text, "")
	case rest.number >= PoundsPerStone:
		return 0, d.wrong(text, "a stone has 14 pounds")
	}
	return Mass((stones*PoundsPerStone + rest.number) * KilogramsPerPound), d.finite(text, stones)
}

// ParseVolume reads a volume with its unit: ml, cl, dl, l or floz (US fluid
// ounces), as in "600ml", "0.6l", "6dl", "20floz", "20 fl oz". It refuses a
// number without a unit and a negative one.
func ParseVolume(text string) (Volume, error) {
	d := dimension{"volume", "a number with a unit, such as 600ml, 0.6l or 20floz", map[string]float64{
		"ml": 0.001, "cl": 0.01, "dl": 0.1, "l": 1, "floz": LitresPerUSFluidOunce,
	}}
	v, err := d.parse(text)
	return Volume(v), err
}

// ParseDistance reads a distance with its unit: m, km, mi or ft, as in
// "42.2km", "26.2mi", "800m". It refuses a number without a unit and a
// negative one.
func ParseDistance(text string) (Distance, error) {
	d := dimension{"distance", "a number with a unit, such as 42.2km, 26.2mi or 800m", map[string]float64{
		"m": 1, "cm": 0.01, "km": 1000, "mi": MetresPerMile, "ft": MetresPerFoot,
	}}
	v, err := d.parse(text)
	return Distance(v), err
}

// ParseConcentration reads a sodium concentration: mg/L, mmol/L or mEq/L (the
// same as mmol/L for sodium), as in "950mg/L", "41mmol/L". It refuses a number
// without a unit and a negative one.
func ParseConcentration(text string) (Concentration, error) {
	d := dimension{"sodium concentration", "a number with a unit, such as 950mg/L or 41mmol/L", map[string]float64{
		"mg/l": 1 / MilligramsPerMillimoleSodium, "mmol/l": 1, "meq/l": 1,
	}}
	v, err := d.parse(text)
	return Concentration(v), err
}

// ParseTemperature reads a temperature in degrees Celsius or Fahrenheit, as in
// "24C", "75F", "-3 °C". It refuses a number without a unit and one below
// absolute zero.
func ParseTemperature(text string) (Temperature, error) {
	d := dimension{"temperature", "a number with a unit, such as 24C or 75F", map[string]float64{"c": 1, "f": 1}}
	bare, below := strings.CutPrefix(strings.TrimSpace(strings.Replace(text, "−", "-", 1)), "-")
	parts, err := d.split(strings.ReplaceAll(bare, "°", ""))
	if err != nil || len(parts) != 1 || parts[0].unit == "" {
		return 0, d.wrong(text, "")
	}
	v := parts[0].number
	if below {
		v = -v
	}
	t := Celsius(v)
	switch parts[0].unit {
	case "c":
	case "f":
		t = Fahrenheit(v)
	default:
		return 0, d.wrong(text, fmt.Sprintf("unknown unit %q", parts[0].unit))
	}
	if t < absoluteZero {
		return 0, d.wrong(text, "it is below absolute zero")
	}
	return t, nil
}

// absoluteZero is exact by definition of the degree Celsius.
const absoluteZero Temperature = -273.15

func (d dimension) parse(text string) (float64, error) {
	parts, err := d.split(text)
	if err != nil {
		return 0, err
	}
	return d.single(text, parts)
}

// single is the value of one number with one unit, in the coherent unit.
func (d dimension) single(text string, parts []part) (float64, error) {
	if len(parts) != 1 || parts[0].unit == "" {
		return 0, d.wrong(text, "")
	}
	factor, ok := d.units[parts[0].unit]
	if !ok {
		return 0, d.wrong(text, fmt.Sprintf("unknown unit %q", parts[0].unit))
	}
	return decimal(parts[0].number * factor), d.finite(text, parts[0].number)
}

// decimal takes off what binary arithmetic added in the last place: 700 ml are
// 0.7 L, not 0.7000000000000001.
func decimal(v float64) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		return v
	}
	return short
}

// finite refuses what no body, bottle or road can hold, so that no conversion
// overflows.
func (d dimension) finite(text string, v float64) error {
	if v > 1e12 {
		return d.wrong(text, "the number is too large")
	}
	return nil
}

// part is one number and the unit after it, lower case and without spaces.
type part struct {
	number float64
	unit   string
}

// split reads "9 st 11 lb" as two parts. Digits, one decimal point or comma;
// no signs and no exponents.
func (d dimension) split(text string) ([]part, error) {
	rest := strings.ToLower(strings.Join(strings.Fields(text), ""))
	if strings.HasPrefix(rest, "-") || strings.HasPrefix(rest, "−") {
		return nil, d.wrong(text, "it is negative")
	}
	var parts []part
	for rest != "" {
		digits := leading(rest, true)
		unit := leading(rest[len(digits):], false)
		v, err := number(digits)
		if err != nil {
			return nil, d.wrong(text, err.Error())
		}
		parts = append(parts, part{v, strings.ReplaceAll(unit, ".", "")})
		rest = rest[len(digits)+len(unit):]
	}
	return parts, nil
}

// leading is the run of digits with decimal marks, or of anything else, that s
// begins with. A point that no digit follows ("fl. oz") belongs to the unit.
func leading(s string, digits bool) string {
	for i := range len(s) {
		mark := (s[i] == '.' || s[i] == ',') && digits && i > 0
		if (s[i] >= '0' && s[i] <= '9' || mark) != digits {
			return s[:i]
		}
	}
	return s
}

// number reads digits with at most one decimal point or comma. A comma before
// exactly three digits may part thousands, so it is refused unless a zero leads.
func number(s string) (float64, error) {
	if before, after, ok := strings.Cut(s, ","); ok {
		if len(after) == 3 && strings.Trim(before, "0") != "" {
			return 0, fmt.Errorf("%s could be %s or %s, write it without the comma", s, before+after, before+"."+after)
		}
		s = before + "." + after
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	return v, nil
}

// ParseDuration reads a duration: "3h30", "2h", "90min", "1h30m20s", "45s" or
// "1:30:00" (h:mm:ss). Two fields alone ("1:30") are refused, for they may be
// hours and minutes or minutes and seconds.
func ParseDuration(text string) (time.Duration, error) {
	d := dimension{"duration", "hours, minutes and seconds, such as 3h30, 90min, 1:30:00 or 45s", map[string]float64{
		"h": 3600, "min": 60, "m": 60, "s": 1,
	}}
	if strings.Contains(text, ":") {
		fields := strings.Split(strings.TrimSpace(text), ":")
		if len(fields) == 2 {
			return 0, d.wrong(text, "it could be hours and minutes or minutes and seconds")
		}
		s, ok := clock(fields, 3)
		if !ok {
			return 0, d.wrong(text, "")
		}
		return seconds(s), nil
	}
	parts, err := d.split(text)
	if err != nil {
		return 0, err
	}
	return d.duration(text, parts)
}

// duration adds parts in falling units; a last number without a unit counts in
// the unit below the one before it ("3h30").
func (d dimension) duration(text string, parts []part) (time.Duration, error) {
	sum, last := 0.0, math.Inf(1)
	for i, p := range parts {
		unit, ok := d.units[p.unit]
		if p.unit == "" && i > 0 && i == len(parts)-1 {
			unit, ok = last/60, last > 1
		}
		if !ok || unit >= last || i > 0 && p.number >= 60 {
			return 0, d.wrong(text, "")
		}
		sum, last = sum+p.number*unit, unit
	}
	if len(parts) == 0 || sum > 1e9 {
		return 0, d.wrong(text, "")
	}
	return seconds(sum), nil
}

// ParsePace reads a pace and gives the speed: "5:30/km" or "8:51/mi".
func ParsePace(text string) (Speed, error) {
	d := dimension{"pace", "minutes and seconds per distance, such as 5:30/km or 8:51/mi", map[string]float64{
		"km": 1000, "mi": MetresPerMile,
	}}
	minutes, per, _ := strings.Cut(strings.Join(strings.Fields(text), ""), "/")
	metres, ok := d.units[strings.ToLower(per)]
	s, isClock := clock(strings.Split(minutes, ":"), 2)
	if !ok || !isClock || s == 0 {
		return 0, d.wrong(text, "")
	}
	return Speed(metres / s), nil
}

// clock reads want fields of hours, minutes and seconds as seconds. All but
// the first have two digits and stay below 60.
func clock(fields []string, want int) (float64, bool) {
	if len(fields) != want {
		return 0, false
	}
	sum := 0
	for i, f := range fields {
		v, err := strconv.ParseUint(f, 10, 16)
		if err != nil || i > 0 && (v >= 60 || len(f) != 2) {
			return 0, false
		}
		sum = sum*60 + int(v)
	}
	return float64(sum), true
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s * float64(time.Second))) }
