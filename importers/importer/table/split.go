package table

import (
	"strings"
	"unicode"
)

// Row is one row of cells, trimmed, and the physical line it begins on.
type Row struct {
	Line  int // 1-based
	Cells []string
	// Width is how many cells were written, empty ones at the end included.
	Width int
}

// Cell is the i-th cell, empty if the row is shorter or i is below zero.
func (r Row) Cell(i int) string {
	if i < 0 || i >= len(r.Cells) {
		return ""
	}
	return r.Cells[i]
}

// splitter walks through a text. Its lines end with CRLF, LF, CR or CR CR LF.
type splitter struct {
	text  string
	pos   int
	line  int
	delim byte
	// unclosed is set once a quoted cell ran to the end of the text: from then
	// on a quoted cell has to end on its own line.
	unclosed bool
}

// split cuts text into at most limit rows; rows without any text are left out.
func split(text string, delim byte, limit int) []Row {
	s := &splitter{text: text, line: 1, delim: delim}
	var rows []Row
	for s.pos < len(s.text) && len(rows) < limit {
		if row := s.row(); len(row.Cells) > 0 {
			rows = append(rows, row)
		}
	}
	return rows
}

func (s *splitter) row() Row {
	row := Row{Line: s.line}
	for {
		row.Cells = append(row.Cells, clean(s.cell()))
		if s.pos >= len(s.text) || s.newline() {
			break
		}
		s.pos++ // the delimiter
	}
	row.Width = len(row.Cells)
	for n := len(row.Cells); n > 0 && row.Cells[n-1] == ""; n-- {
		row.Cells = row.Cells[:n-1]
	}
	return row
}

// newline steps over a line end, if there is one here.
func (s *splitter) newline() bool {
	n := lineEnd(s.text[s.pos:])
	if n > 0 {
		s.pos += n
		s.line++
	}
	return n > 0
}

func lineEnd(s string) int {
	for _, end := range []string{"\r\r\n", "\r\n", "\n", "\r"} {
		if strings.HasPrefix(s, end) {
			return len(end)
		}
	}
	return 0
}

// cell reads up to the next delimiter or line end.
func (s *splitter) cell() string {
	start := s.pos
	for start < len(s.text) && s.text[start] == ' ' {
		start++
	}
	if start < len(s.text) && s.text[start] == '"' {
		if cell, ok := s.quoted(start + 1); ok {
			return cell
		}
	}
	end := len(s.text)
	if i := strings.IndexAny(s.text[s.pos:], string(s.delim)+"\r\n"); i >= 0 {
		end = s.pos + i
	}
	cell := s.text[s.pos:end]
	s.pos = end
	return cell
}

// quoted reads a cell whose opening quote stands before start. A quote closes
// it only if a delimiter or a line end follows.
func (s *splitter) quoted(start int) (string, bool) {
	limit := len(s.text)
	if s.unclosed {
		if i := strings.IndexAny(s.text[start:], "\r\n"); i >= 0 {
			limit = start + i
		}
	}
	for i := start; i < limit; i++ {
		if s.text[i] != '"' {
			continue
		}
		if i+1 < limit && s.text[i+1] == '"' {
			i++
		} else if s.ends(i + 1) {
			cell := s.text[start:i]
			s.line += lines(cell)
			s.pos = i + 1
			s.spaces()
			return strings.ReplaceAll(cell, `""`, `"`), true
		}
	}
	s.unclosed = true
	return "", false
}

func (s *splitter) spaces() {
	for s.pos < len(s.text) && s.text[s.pos] == ' ' {
		s.pos++
	}
}

// ends reports whether a cell may end at i.
func (s *splitter) ends(i int) bool {
	for i < len(s.text) && s.text[i] == ' ' {
		i++
	}
	return i >= len(s.text) || s.text[i] == s.delim || s.text[i] == '\r' || s.text[i] == '\n'
}

// lines counts the line ends in a cell.
func lines(cell string) int {
	n := 0
	for i := 0; i < len(cell); {
		if end := lineEnd(cell[i:]); end > 0 {
			n++
			i += end
		} else {
			i++
		}
	}
	return n
}

// clean is a cell without what cannot be seen around it, or zero bytes in it.
func clean(cell string) string {
	if strings.IndexByte(cell, 0) >= 0 {
		cell = strings.ReplaceAll(cell, "\x00", "")
	}
	return strings.TrimFunc(cell, func(r rune) bool { return unicode.IsSpace(r) || r == '\uFEFF' })
}
