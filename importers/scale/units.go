package scale

import (
	"fmt"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
)

// masses reads the mass of every row. Where the unit comes from is the same
// for all rows: the header, else a unit column, else each cell, else what was
// declared.
func (j *job) masses() ([]*entry, *importer.Problem) {
	header := j.columns.words[j.columns.mass].unit
	declared := parseUnit(j.src.Hints.Unit)
	j.say(j.unitWhy(header, declared))
	var out []*entry
	var bare []importer.Problem
	signs := map[byte]int{}
	for _, r := range j.table.Rows {
		e := j.row(r)
		if e == nil {
			continue
		}
		read, text, ok := j.reading(r)
		if !ok {
			j.problem(importer.BadNumber, r.Line, "", "mass %q: want a number such as 75.5", text)
			continue
		}
		signs[read.sign()]++
		u, p := j.unitOf(r, read, header, declared)
		if p != nil {
			bare = append(bare, *p)
			continue
		}
		e.mass, e.last = read.in(u)
		if e.mass < lightest || e.mass > heaviest {
			j.problem(importer.OutOfRange, r.Line, "", "mass %q is %.4g kg: want %g to %g kg", text, e.mass, float64(lightest), float64(heaviest))
			continue
		}
		out = append(out, e)
	}
	j.say(signWhy(signs))
	if len(out) == 0 && len(bare) > 0 {
		return nil, &bare[0]
	}
	j.out.Problems = append(j.out.Problems, bare...)
	return out, nil
}

// reading is the mass cell of a row, with the pounds beside stones if they stand apart.
func (j *job) reading(r table.Row) (reading, string, bool) {
	text := r.Cell(j.columns.mass)
	if j.columns.pounds < 0 {
		read, ok := parseReading(text)
		return read, text, ok
	}
	pounds := r.Cell(j.columns.pounds)
	if missing(pounds) {
		pounds = "0"
	}
	if missing(text) {
		text = "0"
	}
	text += " st " + pounds + " lb"
	read, ok := parseReading(text)
	return read, text, ok
}

// unitOf is the unit of a row's number; a cell that contradicts its column is not read.
func (j *job) unitOf(r table.Row, read reading, header, declared massUnit) (massUnit, *importer.Problem) {
	column := r.Cell(j.columns.unit)
	u := header
	if !u.known() && column != "" {
		if u = parseUnit(column); !u.known() {
			return "", j.unitProblem(r.Line, fmt.Sprintf("unit %q: want kg, lb, st, g or jin", column))
		}
	}
	own := read.unit()
	if u.known() && own.known() && own != u && !(j.columns.pounds >= 0) {
		return "", j.unitProblem(r.Line, fmt.Sprintf("mass %q: its column is in %s", r.Cell(j.columns.mass), u))
	}
	if !u.known() {
		u = own
	}
	if !u.known() {
		u = declared
	}
	if !u.known() {
		return "", j.unitProblem(r.Line, fmt.Sprintf("mass %q has no unit: neither header, unit column nor cell names one", r.Cell(j.columns.mass)))
	}
	if len(read.numbers) == 2 && u != stone {
		return "", j.unitProblem(r.Line, fmt.Sprintf("mass %q: want one number in %s", r.Cell(j.columns.mass), u))
	}
	return u, nil
}

func (j *job) unitProblem(line int, text string) *importer.Problem {
	return &importer.Problem{Code: importer.UnknownUnit, Path: j.src.Path, Line: line, Text: text,
		Hint: "say which it is with --unit kg, --unit lb or --unit st"}
}

func (j *job) unitWhy(header, declared massUnit) string {
	switch {
	case j.columns.pounds >= 0:
		return "unit: stones and pounds, by the headers of two columns"
	case header.known():
		return fmt.Sprintf("unit: %s, by the header", header)
	case j.columns.unit >= 0:
		return "unit: by the unit column"
	case declared.known():
		return fmt.Sprintf("unit: as each cell says, else %s as declared", declared)
	}
	return "unit: as each cell says"
}

// sign is the decimal sign of a reading, 0 if it has none.
func (r reading) sign() byte { return r.numbers[len(r.numbers)-1].sign }

// signWhy says what the decimal sign is. Masses of people have no thousands,
// so that either sign can only be a decimal one; only grams can be grouped.
func signWhy(signs map[byte]int) string {
	comma, point := signs[','], signs['.']
	switch {
	case comma > 0 && point > 0:
		return fmt.Sprintf("decimal sign: comma in %d rows, point in %d", comma, point)
	case comma > 0:
		return fmt.Sprintf("decimal sign: comma, in %d rows", comma)
	case point > 0:
		return fmt.Sprintf("decimal sign: point, in %d rows", point)
	}
	return "decimal sign: none seen"
}
