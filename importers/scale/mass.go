package scale

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"saltpan/importers/importer/table"
	"saltpan/pipeline/quantity"
)

// massUnit is a unit of mass as it stands in a file; the empty one is unknown.
type massUnit string

const (
	kilogram massUnit = "kg"
	pound    massUnit = "lb"
	stone    massUnit = "st"
	gram     massUnit = "g"
	jin      massUnit = "jin"
)

// kilogramsPerJin is exact: the market jin of China is 500 g.
const kilogramsPerJin = 0.5

// unitWords are the ways a unit is written, folded.
var unitWords = map[massUnit][]string{
	kilogram: words("kg, kgs, kilogram, kilograms, kilogramm, kilogramme, kilogrammes, kilogramo, kilogramos, chilogrammi, kilos, кг, 公斤, 千克"),
	pound:    words("lb, lbs, pound, pounds, pfund, livres, libras, libbre, фунт"),
	stone:    words("st, stone, stones, st lb, st lbs"),
	gram:     words("g, gram, grams, gramm, grammes, gramos, грамм"),
	jin:      words("jin, 斤, 市斤"),
}

func (u massUnit) known() bool { return u != "" }

// kilograms is one of the unit in kilograms.
func (u massUnit) kilograms() float64 {
	switch u {
	case pound:
		return quantity.KilogramsPerPound
	case stone:
		return quantity.KilogramsPerPound * quantity.PoundsPerStone
	case gram:
		return 0.001
	case jin:
		return kilogramsPerJin
	}
	return 1
}

// unitOfWord is unitWords the other way round.
var unitOfWord = func() map[string]massUnit {
	out := map[string]massUnit{}
	for u, list := range unitWords {
		for _, w := range list {
			out[w] = u
		}
	}
	return out
}()

// parseUnit reads a unit's name, empty if it is none we know.
func parseUnit(text string) massUnit { return unitOfWord[table.Words(text)] }

// cutUnit takes the unit off the end of a header: "weight in kg" is "weight", kg.
func cutUnit(header string) (string, massUnit) {
	words := strings.Split(header, " ")
	for _, n := range []int{2, 1} {
		if k := len(words) - n; k > 0 {
			if u := unitOfWord[strings.Join(words[k:], " ")]; u.known() {
				if in := words[k-1]; k > 1 && (in == "in" || in == "en" || in == "w" || in == "i") {
					k--
				}
				return strings.Join(words[:k], " "), u
			}
		}
	}
	for _, w := range []string{"公斤", "千克", "斤"} {
		if bare, ok := strings.CutSuffix(header, w); ok && bare != "" {
			return bare, unitOfWord[w]
		}
	}
	return header, ""
}

// reading is a mass as written: one number with its unit, or two for stones and pounds.
type reading struct {
	numbers []number
	units   []massUnit
}

// number is a decimal as written.
type number struct {
	value    float64
	decimals int
	sign     byte // '.' or ',' if there is one
}

var parts = regexp.MustCompile(`^([0-9]+)(?:([.,])([0-9]+))? *([^0-9.,\s][^0-9]*)?`)

// parseReading reads a mass cell; ok is false if it is not numbers with units.
func parseReading(text string) (r reading, ok bool) {
	rest := strings.TrimPrefix(strings.TrimSpace(table.Fold(text)), "+")
	for rest != "" {
		m := parts.FindStringSubmatch(rest)
		if m == nil || len(r.numbers) == 2 {
			return r, false
		}
		n := number{decimals: len(m[3])}
		n.value, _ = strconv.ParseFloat(m[1]+"."+m[3]+"0", 64)
		if m[2] != "" {
			n.sign = m[2][0]
		}
		u := parseUnit(m[4])
		if strings.TrimSpace(m[4]) != "" && u == "" {
			return r, false
		}
		r.numbers, r.units = append(r.numbers, n), append(r.units, u)
		rest = strings.TrimLeft(rest[len(m[0]):], " ")
	}
	return r, len(r.numbers) == 1 || len(r.numbers) == 2 && r.stones()
}

// stones reports whether r can be stones and pounds; without any unit it is
// so only where the column says stones.
func (r reading) stones() bool {
	return (r.units[0] == stone || r.units[0] == "" && r.units[1] == "") && (r.units[1] == pound || r.units[1] == "") && r.numbers[1].value < quantity.PoundsPerStone
}

// unit is the unit the cell itself names.
func (r reading) unit() massUnit { return r.units[0] }

// in is the mass and the size of its last digit, given the unit of a number without one.
func (r reading) in(u massUnit) (mass, step quantity.Mass) {
	if r.unit().known() {
		u = r.unit()
	}
	n := r.numbers[0]
	if u == gram && n.decimals == 3 && n.value < 1000 {
		n.value, n.decimals = math.Round(n.value*1000), 0 // 75.500 g or 75,500 g: thousands
	}
	kg := n.value * u.kilograms()
	last := math.Pow10(-n.decimals) * u.kilograms()
	if len(r.numbers) == 2 {
		n = r.numbers[1]
		kg += n.value * quantity.KilogramsPerPound
		last = math.Pow10(-n.decimals) * quantity.KilogramsPerPound
	}
	return quantity.Kilograms(kg), quantity.Kilograms(last)
}

// missing reports whether a mass cell says that there is none.
func missing(text string) bool {
	switch strings.ToLower(text) {
	case "", "-", "--", "---", "–", "—", "n/a", "na", "nan", "null", "none", "nil":
		return true
	}
	r, ok := parseReading(text)
	return ok && len(r.numbers) == 1 && (r.numbers[0].value == 0 || r.numbers[0].value == 999)
}

// finest is the finest step of the masses: the smallest last digit, or two or
// five of it if every one of at least eight masses is a multiple of that.
func finest(masses, lasts []quantity.Mass) quantity.Mass {
	step := lasts[0]
	for _, s := range lasts {
		step = min(step, s)
	}
	for _, k := range []float64{5, 2} {
		if len(masses) >= 8 && multiples(masses, float64(step)*k) {
			return step * quantity.Mass(k)
		}
	}
	return step
}

func multiples(masses []quantity.Mass, step float64) bool {
	for _, m := range masses {
		n := float64(m) / step
		if math.Abs(n-math.Round(n)) > 1e-3 {
			return false
		}
	}
	return true
}
