package notes

import (
	"encoding/csv"
	"io"
	"strings"
)

// Row is one session in the sheet, with what is known about it already.
type Row struct {
	Session string
	Athlete string
	Start   string
	Elapsed string
	// Missing says what is still to be filled in.
	Missing string
}

// Header is the header of the sheet, with the unit in the name of each column
// that has one; us is for US fluid ounces and ounces.
func Header(us bool) []string {
	var out []string
	for _, f := range fields() {
		unit := f.unit
		if us && unit != "" {
			unit = usUnits[unit]
		}
		if unit != "" {
			unit = "_" + unit
		}
		out = append(out, f.name+unit)
	}
	return out
}

// Write writes the sheet as CSV in UTF-8 with CRLF line ends (RFC 4180), the
// columns of the note left empty. Its errors are those of w.
func Write(w io.Writer, rows []Row, us bool) error {
	header := Header(us)
	c := csv.NewWriter(w)
	c.UseCRLF = true
	if err := c.Write(header); err != nil {
		return err
	}
	for _, r := range rows {
		cells := make([]string, len(header))
		for i, text := range []string{r.Session, r.Athlete, r.Start, r.Elapsed, r.Missing} {
			cells[i] = guard(text)
		}
		if err := c.Write(cells); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// starters are what makes a spreadsheet take a text for a formula.
const starters = "=+-@\t\r"

// guard keeps a spreadsheet from taking a text for a formula. A text that
// begins with the guard itself is guarded too, so that unguard gives it back.
func guard(text string) string {
	if text != "" && strings.ContainsRune(starters+"'", rune(text[0])) {
		return "'" + text
	}
	return text
}

// unguard takes the guard off again.
func unguard(cell string) string { return strings.TrimPrefix(cell, "'") }

// unguard takes the guard off a cell of the column. In a person's own words an
// apostrophe before a letter is no guard.
func (f field) unguard(cell string) string {
	bare, guarded := strings.CutPrefix(cell, "'")
	if f.name == "felt" && guarded && (bare == "" || !strings.ContainsRune(starters+"'", rune(bare[0]))) {
		return cell
	}
	return bare
}
