package weather

import (
	"fmt"
	"math"
	"regexp"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
)

// customary are headers in units of the United States: where they stand, a
// temperature without a unit is not taken to be in degrees Celsius.
var customary = regexp.MustCompile(`(?:^| )(?:f|mph|inhg|in hg|tmpf|dwpf|tempf|feet|ft|miles|inch|inches)(?: |$)|. in$`)

// settle decides on units that no header says, from all numbers of a column.
func (j *job) settle(t *table.Table, c *columns) *importer.Problem {
	for _, m := range measured {
		i := c.at[m]
		if i < 0 || c.unit[m] != "" || bare(t, i, m, c) == 0 {
			continue
		}
		lo, hi := span(t, i, m)
		unit, why := guess(m, lo, hi, usual(t.Header))
		if unit == "" && m == airTemp {
			return &importer.Problem{Code: importer.UnknownUnit, Line: t.Header.Line, Text: fmt.Sprintf("column %q: numbers from %g to %g without a unit", t.Header.Cell(i), lo, hi),
				Hint: "name the unit in the header, " + example[m]}
		}
		if unit == "" {
			j.problem(t.Header.Line, &fault{importer.UnknownUnit, fmt.Sprintf("column %q: %s without a unit, passed over", t.Header.Cell(i), m), "name it in the header, " + example[m]})
			c.at[m] = -1
			continue
		}
		c.unit[m] = unit
		j.say("column %d, %q: in %s, %s", i+1, t.Header.Cell(i), shown[unit], why)
	}
	return nil
}

// bare counts the numbers of a column that have no unit in their row.
func bare(t *table.Table, i int, m meaning, c *columns) int {
	n := 0
	for _, r := range t.Rows {
		_, unit, ok := parseNumber(r.Cell(i))
		if ok && unit == "" && !absent(m, r.Cell(i)) && (m != airTemp && m != dewPoint || unitOf(m, r.Cell(c.at[unitName])) == "") {
			n++
		}
	}
	return n
}

// span is the least and the most of the numbers of a column.
func span(t *table.Table, i int, m meaning) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, r := range t.Rows {
		if v, unit, ok := parseNumber(r.Cell(i)); ok && unit == "" && !absent(m, r.Cell(i)) {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	return lo, hi
}

// usual reports whether no header is in a unit of the United States.
func usual(header table.Row) bool {
	for _, cell := range header.Cells {
		if customary.MatchString(table.Words(spelled.Replace(cell))) {
			return false
		}
	}
	return true
}

// guess is the unit that numbers from lo to hi without one can only have.
// Degrees Celsius are the unit of the WMO's reports; a number above 45 speaks
// against them, as it has hardly ever been that hot where people run (common
// practice), and is then left open.
func guess(m meaning, lo, hi float64, usual bool) (unit, why string) {
	switch m {
	case airTemp, dewPoint:
		switch {
		case lo > 200:
			return "k", "as only kelvin can be that large"
		case usual && hi <= 45:
			return "c", "as the WMO reports it and no number or other column speaks for °F"
		}
	case humidity:
		if hi <= 1 && lo >= 0 {
			return "fraction", "as no number is above 1"
		}
		return "%", "the usual unit"
	case pressure:
		switch {
		case lo > 820 && hi <= 1090: // above 820 no barometer reads mmHg
			return "hpa", "as only hPa can be that large"
		case lo > 45000:
			return "pa", "as only Pa can be that large"
		}
	}
	return "", ""
}
