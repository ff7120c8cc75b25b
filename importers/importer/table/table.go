// Package table reads text tables as scales and spreadsheets write them: it
// settles encoding, line ends, delimiter and header row by trying which of
// them lets a header be recognised. What the columns mean is up to its caller.
package table

import (
	"fmt"
	"strings"
)

// MaxRows is how many rows a table may have.
const MaxRows = 100_000

// preamble is how many rows may stand before the header.
const preamble = 16

// Table is a header and the rows below it.
type Table struct {
	Encoding  string
	Delimiter byte
	Header    Row
	// Rows are those below the header that hold text, at most MaxRows + 1.
	Rows []Row
	// Before are the rows before the header.
	Before []Row
}

// Why says how the table was recognised.
func (t Table) Why() []string {
	return []string{
		"encoding: " + t.Encoding,
		fmt.Sprintf("delimiter: %q", rune(t.Delimiter)),
		fmt.Sprintf("header: line %d, %d columns, %d rows below it", t.Header.Line, len(t.Header.Cells), len(t.Rows)),
	}
}

// Find reads data as a table. score says how well a row of cells is recognised
// as the header, zero if it is none; the best row wins, the first of equals.
func Find(data []byte, score func(cells []string) int) (Table, bool) {
	for _, d := range decodings(data) {
		var best Table
		top, at := 0, 0
		for _, delim := range delimiters(d.text) {
			for i, row := range split(d.text, delim, preamble+2) {
				if n := score(row.Cells); n > top {
					top, at = n, i
					best = Table{Encoding: d.name, Delimiter: delim, Header: row}
				}
			}
		}
		if top > 0 {
			rows := split(d.text, best.Delimiter, at+1+MaxRows+1)
			best.Before, best.Rows = rows[:at], rows[at+1:]
			return best, true
		}
	}
	return Table{}, false
}

// Lines is the text of data by lines, at most limit of them, for a source in
// which no header was recognised.
func Lines(data []byte, limit int) []string {
	all := decodings(data)
	if len(all) == 0 {
		return nil
	}
	var out []string
	for _, row := range split(all[0].text, 0, limit) {
		out = append(out, strings.Join(row.Cells, " "))
	}
	return out
}

// delimiters are those to try, the one a sep= line names first.
func delimiters(text string) []byte {
	all := []byte(",;\t|")
	line, _, _ := strings.Cut(text[:min(len(text), 16)], "\n")
	line = strings.Trim(strings.TrimRight(line, "\r"), `" `)
	if len(line) == 5 && strings.EqualFold(line[:4], "sep=") {
		return append([]byte{line[4]}, all...)
	}
	return all
}
