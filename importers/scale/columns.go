package scale

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"saltpan/importers/importer/table"
)

// columns are the places of what is read, -1 for a column that is not there.
type columns struct {
	stamp  int // date, or date and time of day
	clock  int // time of day, if apart
	mass   int
	pounds int // pounds beside stones, if apart
	unit   int
	person int
	words  []columnWord
	epoch  map[int]bool // columns whose plain numbers count seconds since 1970
	utc    bool         // the header of the time says UTC
}

// score says how well cells are recognised as a header: not at all without a
// time and a mass in different columns.
func score(cells []string) int {
	sum, seen := 0, map[meaning]bool{}
	for _, c := range cells {
		if len(c) > 100 || strings.IndexFunc(c, unicode.IsLetter) < 0 {
			continue
		}
		if slices.Contains(otherTables, table.Words(c)) {
			return 0
		}
		w := recognise(c)
		seen[w.meaning] = true
		sum += w.rank
	}
	if !seen[when] || !seen[mass] {
		return 0
	}
	return sum
}

// choose finds the columns from the header and from what stands in all rows.
func choose(t table.Table) columns {
	c := columns{stamp: -1, clock: -1, mass: -1, pounds: -1, unit: -1, person: -1, epoch: map[int]bool{}}
	for _, cell := range t.Header.Cells {
		c.words = append(c.words, recognise(cell))
	}
	c.chooseTime(t.Rows)
	c.mass = c.best(mass, func(i int) int { return filled(t.Rows, i) })
	c.unit = c.best(unit, nil)
	c.person = c.best(person, nil)
	c.choosePounds(t.Rows)
	for _, i := range []int{c.stamp, c.clock} {
		held := phrases(table.Words(t.Header.Cell(i)))
		c.utc = c.utc || slices.Contains(held, "utc") || slices.Contains(held, "gmt")
	}
	return c
}

// best is the column of a meaning with the highest rank, then the highest
// value above zero, then the first.
func (c columns) best(m meaning, value func(int) int) int {
	at, top := -1, 0
	for i, w := range c.words {
		if w.meaning != m {
			continue
		}
		v := 1
		if value != nil {
			v = min(value(i), 1<<20)
		}
		if v > 0 && w.rank<<21+v > top {
			at, top = i, w.rank<<21+v
		}
	}
	if at < 0 && value != nil {
		return c.best(m, nil)
	}
	return at
}

// filled counts the rows that hold a mass in column i.
func filled(rows []table.Row, i int) int {
	n := 0
	for _, r := range rows {
		if !missing(r.Cell(i)) {
			n++
		}
	}
	return n
}

// timeContent counts what the cells of a column hold.
type timeContent struct{ full, dates, clocks, offsets int }

func (c *columns) chooseTime(rows []table.Row) {
	seen := map[int]timeContent{}
	for i, w := range c.words {
		if w.meaning == when {
			c.epoch[i] = isEpoch(rows, i)
			seen[i] = contentOf(rows, i, c.epoch[i])
		}
	}
	c.stamp = c.best(when, func(i int) int {
		if n := seen[i]; c.words[i].rank > 1 && n.offsets > 0 {
			return n.full + 1<<18 // an instant beats a local time
		}
		return seen[i].full
	})
	if c.stamp >= 0 && seen[c.stamp].full > 0 {
		return
	}
	c.stamp = c.best(when, func(i int) int { return seen[i].dates })
	if clock := c.best(when, func(i int) int { return seen[i].clocks }); clock != c.stamp && seen[clock].clocks > 0 {
		c.clock = clock
	}
}

// contentOf looks at the first rows of a column; 200 tell its kind.
func contentOf(rows []table.Row, i int, epoch bool) timeContent {
	var n timeContent
	for _, r := range rows[:min(len(rows), 200)] {
		s := parseStamp(r.Cell(i), epoch)
		switch {
		case s.hasDate && s.hasClock:
			n.full++
		case s.hasDate:
			n.dates++
		case s.hasClock:
			n.clocks++
		}
		if s.offset != nil {
			n.offsets++
		}
	}
	return n
}

// isEpoch reports whether a column of plain numbers counts seconds or
// milliseconds since 1970: some have nine digits or more and are no compact date.
func isEpoch(rows []table.Row, i int) bool {
	for _, r := range rows {
		cell := r.Cell(i)
		if len(cell) >= 9 && numeric.MatchString(cell) && cell[0] != '0' {
			digits := len(cell)
			for k := range cell {
				if cell[k] == '.' || cell[k] == ',' {
					digits = k
					break
				}
			}
			if _, ok := parseCompact(cell[:digits]); digits >= 9 && !ok {
				return true
			}
		}
	}
	return false
}

// choosePounds finds pounds beside a column of stones.
func (c *columns) choosePounds(rows []table.Row) {
	for i, w := range c.words {
		if w.meaning == mass && w.unit == stone && i+1 < len(c.words) {
			next := c.words[i+1]
			if next.unit == pound && next.meaning == mass && remainders(rows, i+1) {
				c.mass, c.pounds = i, i+1
				return
			}
		}
	}
}

// remainders reports whether every mass of a column is less than a stone.
func remainders(rows []table.Row, i int) bool {
	for _, r := range rows {
		if m, ok := parseReading(r.Cell(i)); ok && m.numbers[0].value >= 14 {
			return false
		}
	}
	return true
}

// why says what each column was taken for.
func (c columns) why(header []string) []string {
	var out []string
	for i, cell := range header {
		role := "not used"
		switch i {
		case c.stamp:
			role = "time"
			if c.clock >= 0 {
				role = "date"
			}
		case c.clock:
			role = "time of day"
		case c.mass:
			role = "mass"
		case c.pounds:
			role = "pounds beside the stones"
		case c.unit:
			role = "unit"
		case c.person:
			role = "person"
		}
		if w := c.words[i]; w.word != "" {
			role += fmt.Sprintf(", by the word %q", w.word)
		}
		out = append(out, fmt.Sprintf("column %d, %q: %s", i+1, cell, role))
	}
	return out
}
