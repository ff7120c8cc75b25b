package scale

import (
	"crypto/sha256"
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
)

// sampleRows is how many rows a sample for a bug report has.
const sampleRows = 20

// Redact is a harmless sample of a scale's table for a bug report, in UTF-8:
// header words that are recognised stay and others become "column 4"; persons
// become A, B, C; dates move by a number of whole weeks that only the source
// knows; the digits of masses change, their form stays. Every other letter is
// an x and every other digit a 9. It has at most twenty rows.
func Redact(src []byte) []byte {
	t, ok := table.Find(src, score)
	if !ok {
		return []byte(masked(table.Lines(src, sampleRows)))
	}
	r := redaction{table: t, columns: choose(t), seed: sha256.Sum256(src), persons: map[string]string{}}
	r.days = -7 * (53 + int(r.seed[0]))
	r.order = settledOrder(src, t)
	return r.sample()
}

type redaction struct {
	table   table.Table
	columns columns
	seed    [32]byte
	days    int
	order   string // of day, month and year where cells leave it open
	persons map[string]string
}

// settledOrder is the date order found in the source, day first if it stays open.
func settledOrder(src []byte, t table.Table) string {
	j := job{src: importer.Source{Data: src}, table: t, columns: choose(t)}
	var entries []*entry
	for _, r := range t.Rows {
		if e := j.row(r); e != nil {
			entries = append(entries, e)
		}
	}
	if order, _, refused := dateOrder(entries, ""); refused == nil {
		return order
	}
	return "dmy"
}

func (r *redaction) sample() []byte {
	var b strings.Builder
	for range r.table.Before {
		b.WriteString("preamble\n")
	}
	var header []string
	for i := range r.table.Header.Cells {
		header = append(header, r.headerCell(i))
	}
	r.write(&b, header)
	for k, row := range r.table.Rows[:min(len(r.table.Rows), sampleRows)] {
		cells := make([]string, len(row.Cells))
		for i, cell := range row.Cells {
			cells[i] = r.cell(i, k, cell)
		}
		r.write(&b, cells)
	}
	return []byte(b.String())
}

func (r *redaction) write(b *strings.Builder, cells []string) {
	for i, c := range cells {
		if i > 0 {
			b.WriteByte(r.table.Delimiter)
		}
		if strings.IndexByte(c, r.table.Delimiter) >= 0 || strings.ContainsAny(c, "\"\r\n") {
			c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
		}
		b.WriteString(c)
	}
	b.WriteByte('\n')
}

// headerCell is the word that was recognised, with its unit.
func (r *redaction) headerCell(i int) string {
	if i >= len(r.columns.words) || r.columns.words[i].word == "" {
		return fmt.Sprintf("column %d", i+1)
	}
	w := r.columns.words[i]
	if w.unit.known() && w.unit != parseUnit(w.word) {
		return fmt.Sprintf("%s (%s)", w.word, w.unit)
	}
	return w.word
}

func (r *redaction) cell(column, row int, cell string) string {
	switch {
	case cell == "":
		return ""
	case column == r.columns.stamp, column == r.columns.clock:
		return r.date(column, cell)
	case column == r.columns.mass, column == r.columns.pounds:
		return r.scramble(row, column, cell)
	case column == r.columns.unit && parseUnit(cell).known():
		return cell
	case column == r.columns.person:
		return r.letter(cell)
	}
	return mask(cell)
}

// letter is the stand-in for a person.
func (r *redaction) letter(name string) string {
	if _, ok := r.persons[name]; !ok {
		n := len(r.persons)
		r.persons[name] = string(rune('A' + n%26))
		if n >= 26 {
			r.persons[name] += fmt.Sprint(n / 26)
		}
	}
	return r.persons[name]
}

var digitRun = regexp.MustCompile(`[0-9]+`)

// scramble changes the digits of a mass so that it stays one that a person can have.
func (r *redaction) scramble(row, column int, cell string) string {
	if missing(cell) {
		return cell
	}
	m, ok := parseReading(cell)
	if !ok {
		return mask(cell)
	}
	u := m.unit()
	if !u.known() {
		u = r.columns.words[column].unit
	}
	place := 0
	return digitRun.ReplaceAllStringFunc(cell, func(digits string) string {
		place++
		return r.digits(digits, row, place, u, column == r.columns.pounds)
	})
}

// digits are others in place of those of one number. The first digits of a
// mass are held where another would make it none of a person: two digits of
// kilograms begin with 4 to 9, ten to nineteen stone stay such, and pounds
// beside stones stay below fourteen.
func (r *redaction) digits(old string, row, place int, u massUnit, pounds bool) string {
	out := []byte(old)
	for i := range out {
		k := sha256.Sum256(append(r.seed[:], byte(row), byte(row>>8), byte(place), byte(i), old[i]))[0]
		out[i] = '0' + k%10
	}
	switch {
	case pounds || u == stone && place > 1:
		if len(out) == 2 {
			out[0], out[1] = '1', '0'+(out[1]-'0')%4
		}
	case place > 1: // decimals
	case u == stone || len(out) != 2:
		out[0] = old[0]
	default:
		out[0] = '4' + (out[0]-'0')%6
	}
	return string(out)
}

// mask puts an x for each letter and a 9 for each digit.
func mask(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case unicode.IsLetter(c):
			return 'x'
		case unicode.IsDigit(c):
			return '9'
		}
		return c
	}, text)
}

func masked(lines []string) string {
	var b strings.Builder
	for _, l := range lines {
		b.WriteString(mask(l) + "\n")
	}
	return b.String()
}
