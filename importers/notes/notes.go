// Package notes reads and writes the sheet in which people fill in what they
// drank, ate and left behind in each session. It takes the sheet back however
// a spreadsheet saved it.
package notes

import (
	"fmt"
	"strings"
	"unicode"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
	"saltpan/pipeline/record"
)

// New is the importer of filled-in sheets.
func New() importer.Importer { return reader{} }

type reader struct{}

// Name is "notes".
func (reader) Name() string { return "notes" }

// Version of the reader.
func (reader) Version() int { return 1 }

// Identify reports whether head has a header with a session column and at
// least one column of a note.
func (reader) Identify(head []byte) bool {
	_, ok := table.Find(head, score)
	return ok
}

// Read takes every cell that was filled in. A cell with a mistake is a
// problem, the rest of its row is taken.
func (reader) Read(src importer.Source) importer.Result {
	t, ok := table.Find(src.Data, score)
	switch {
	case !ok:
		return refuse(src, importer.UnknownFormat, "no header with the column session and a column of a note",
			"have a sheet written with saltpan missing --sheet FILE.csv")
	case len(t.Rows) > table.MaxRows:
		return refuse(src, importer.TooLarge, fmt.Sprintf("more than %d rows", table.MaxRows), "split the file")
	}
	j := job{src: src, out: importer.Result{Why: t.Why()}, width: t.Header.Width, commas: t.Delimiter == ','}
	j.header(t.Header)
	for _, r := range t.Rows {
		j.row(r)
	}
	j.close()
	return j.out
}

func refuse(src importer.Source, code importer.Code, text, hint string) importer.Result {
	return importer.Result{Refused: &importer.Problem{Code: code, Path: src.Path, Text: text, Hint: hint}}
}

// score says how well cells are recognised as the header of a sheet.
func score(cells []string) int {
	session, fields, known := false, 0, 0
	for _, cell := range cells {
		if len(cell) > 100 || strings.IndexFunc(cell, unicode.IsLetter) < 0 {
			continue
		}
		c := column(cell)
		switch {
		case c.name == "session":
			session = true
		case c.set != nil:
			fields++
		}
		if c.name != "" {
			known++
		}
	}
	if !session || fields == 0 {
		return 0
	}
	return known
}

// job is the reading of one sheet.
type job struct {
	src     importer.Source
	columns []field
	session int // the place of the session column
	width   int // cells in the header, empty ones included
	commas  bool
	out     importer.Result
}

func (j *job) header(h table.Row) {
	for i, cell := range h.Cells {
		c := column(cell)
		switch {
		case c.name == "session":
			j.session = i
		case c.name == "" && cell != "":
			j.problem(importer.UnknownFormat, h.Line, "", "column %q: not a column of the sheet, passed over", cell)
		case c.set != nil:
			j.out.Why = append(j.out.Why, fmt.Sprintf("column %d, %q: %s%s", i+1, cell, c.name, unitText(c.unit)))
		}
		j.columns = append(j.columns, c)
	}
}

func unitText(unit string) string {
	if unit == "" {
		return ""
	}
	return " in " + unit
}

func (j *job) problem(code importer.Code, line int, hint, format string, args ...any) {
	j.out.Problems = append(j.out.Problems, importer.Problem{Code: code, Path: j.src.Path, Line: line,
		Text: fmt.Sprintf(format, args...), Hint: hint})
}

// row reads the cells that were filled in.
func (j *job) row(r table.Row) {
	n := record.Note{Session: unguard(r.Cell(j.session)), Origin: record.Origin{Path: j.src.Path, Line: r.Line,
		SHA256: j.src.SHA256, Reader: "notes/1"}}
	if j.tooWide(r) {
		j.problem(importer.BadNumber, r.Line, "put numbers with a decimal comma in quotes",
			"row with %d cells: want at most %d as in the header", r.Width, j.width)
		return
	}
	filled, taken := false, false
	for i, c := range j.columns {
		cell := c.unguard(r.Cell(i))
		if c.set == nil || notSaid(cell) {
			continue
		}
		filled = true
		if f := c.set(&n, cell, c.unit); f != nil {
			j.problem(f.code, r.Line, f.hint, "%s %q: %s", c.name, cell, f.want)
			continue
		}
		taken = true
	}
	switch {
	case n.Session == "" && filled:
		j.problem(importer.NoSession, r.Line, "fill in the session column", "session \"\": want the key of a session")
	case taken:
		j.out.Notes = append(j.out.Notes, n)
	}
}

// tooWide reports whether a row has more cells than the header: a decimal comma
// without quotes may have moved every cell. Where commas divide the cells,
// empty ones at the end count too, as the last columns are seldom filled in.
func (j *job) tooWide(r table.Row) bool {
	return len(r.Cells) > len(j.columns) || r.Width > j.width && j.commas
}

// close says why there is nothing, if there is nothing.
func (j *job) close() {
	if !j.out.Empty() {
		return
	}
	for _, p := range j.out.Problems {
		if p.Code != importer.UnknownFormat {
			p.Text = "no row could be taken; the first: " + p.Text
			j.out.Refused = &p
			return
		}
	}
	j.out.Skipped = "a sheet with nothing filled in"
}

// notSaid reports whether a cell leaves the matter open.
func notSaid(cell string) bool {
	switch strings.ToLower(cell) {
	case "", "-", "--", "–", "—", "?", "n/a", "na", "null":
		return true
	}
	return false
}
