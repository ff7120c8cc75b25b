package weather

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"saltpan/importers/importer"
)

// number is a number with a point or comma and perhaps a unit. A leading zero
// or groups of thousands are not read: "0012,1" is no 12.1.
var number = regexp.MustCompile(`^([-+]?(?:0|[1-9][0-9]{0,6})?(?:[.,][0-9]+)?) ?([^0-9., ].*)?$`)

// missing are the cells that say there is no observation. T is a trace, the
// word for too little to measure.
var missing = strings.Fields("m t - -- --- / // /// * . ? x na n/a n.a. nan nil null none missing -99.99 -999 -999.0 -999.9 -999.99 -9999 -9999.0 -9999.9 -99999 9999 9999.0 9999.9 99999 999999")

// missingToo are codes for missing where they cannot be readings. 999.9 hPa and
// 999.9 W/m² can be.
var missingToo = strings.Fields("999 999.0 999.9 999.99 99999.9")

// absent reports whether a cell of a meaning says that there is no observation.
func absent(m meaning, cell string) bool {
	text := strings.ToLower(strings.Replace(sign.Replace(cell), ",", ".", 1))
	return text == "" || slices.Contains(missing, text) || m != pressure && m != sun && slices.Contains(missingToo, text)
}

// sign writes the minus of typographers as the plain one.
var sign = strings.NewReplacer("−", "-", "–", "-")

// parseNumber reads a number and the unit behind it, ok false if it is none.
func parseNumber(cell string) (v float64, unit string, ok bool) {
	m := number.FindStringSubmatch(sign.Replace(cell))
	if m == nil {
		return 0, "", false
	}
	v, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
	return v, m[2], err == nil
}

// reading is what a cell says in our unit. The unit of the cell goes before
// the one of its column.
func reading(m meaning, cell, unit string) (float64, *fault) {
	v, own, ok := parseNumber(cell)
	if own != "" {
		unit = unitOf(m, own)
	}
	switch {
	case !ok:
		return 0, &fault{importer.BadNumber, fmt.Sprintf("%s %q: want a number or an empty cell", m, cell), ""}
	case unit == "":
		return 0, &fault{importer.UnknownUnit, fmt.Sprintf("%s %q: want a unit that is known", m, cell), "name it in the header, " + example[m]}
	}
	return within(m, convert(v, unit), fmt.Sprintf("%q", cell))
}

// within is v, or a fault if v cannot be.
func within(m meaning, v float64, text string) (float64, *fault) {
	if b := bounds[m]; !(v >= b[0] && v <= b[1]) {
		return 0, &fault{importer.OutOfRange, fmt.Sprintf("%s %s: want %g to %g %s", m, text, b[0], b[1], ours[m]), "check the unit"}
	}
	switch m { // what a sensor reads past the end of its scale
	case humidity:
		v = min(v, 100)
	case sun:
		v = max(v, 0)
	}
	return v, nil
}

// example is a header with a unit.
var example = map[meaning]string{airTemp: "such as temp_c or temp_f", dewPoint: "such as dewpoint_c or dewpoint_f", humidity: "such as humidity_pct",
	wind: "such as wind_m_s, wind_km_h, wind_kt or wind_mph", sun: "such as solar_w_m2", pressure: "such as pressure_hpa or pressure_inhg"}
