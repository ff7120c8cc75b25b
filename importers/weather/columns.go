package weather

import (
	"fmt"
	"strings"

	"saltpan/importers/importer/table"
)

// columns are the places of what is read, -1 for a column that is not there,
// and the units of the numbers.
type columns struct {
	at   map[meaning]int
	unit map[meaning]string
	when []int  // the date and the time of day, or one column with both
	zone string // what the header of the time says: "UTC", "UTC+1"
}

// measured are the meanings that are numbers, in the order of the record.
var measured = []meaning{airTemp, dewPoint, humidity, wind, sun, pressure}

// choose finds the columns from the header and the rows. Of several columns
// with one meaning the first that holds something is read.
func (j *job) choose(t *table.Table) columns {
	c := columns{at: map[meaning]int{}, unit: map[meaning]string{}}
	words := make([]word, len(t.Header.Cells))
	for i, cell := range t.Header.Cells {
		words[i] = recognise(cell)
	}
	j.unitRow(t, words)
	for _, m := range append(measured, unitName, station) {
		c.at[m] = first(t, words, m)
		if i := c.at[m]; i >= 0 {
			c.unit[m] = words[i].unit
		}
	}
	c.chooseTime(t, words)
	for i, cell := range t.Header.Cells {
		j.say("column %d, %q: %s", i+1, cell, c.role(i, words[i]))
	}
	return c
}

// first is the first column of a meaning that holds something, the first at all if none does.
func first(t *table.Table, words []word, m meaning) int {
	found := -1
	for i, w := range words {
		if w.meaning != m {
			continue
		}
		if found < 0 {
			found = i
		}
		for _, r := range t.Rows {
			if !absent(m, r.Cell(i)) {
				return i
			}
		}
	}
	return found
}

// unitRow takes the units out of a row of them below the header.
func (j *job) unitRow(t *table.Table, words []word) {
	if len(t.Rows) == 0 {
		return
	}
	row, found := t.Rows[0], map[int]string{}
	for i, w := range words {
		if u := unitOf(w.meaning, strings.Trim(row.Cell(i), "[]()")); u != "" && u != w.unit {
			found[i] = u
		}
	}
	for _, cell := range row.Cells {
		if _, _, ok := parseNumber(cell); ok && cell != "" || parseStamp(cell, "").hasDate {
			return
		}
	}
	if len(found) == 0 {
		return
	}
	for i, u := range found {
		words[i].unit = u
	}
	j.say("line %d has the units", row.Line)
	t.Rows = t.Rows[1:]
}

// chooseTime takes a column with date and time of day, the one with a zone
// first, or two columns.
func (c *columns) chooseTime(t *table.Table, words []word) {
	best, date, clock := -1, -1, -1
	top := 0
	for i, w := range words {
		if w.meaning != when {
			continue
		}
		s := sampleStamp(t.Rows, i)
		rank := 0
		if s.hasDate && s.hasClock {
			rank = 1
			if s.offset != nil || s.abs || headerZone(t.Header.Cell(i)) != "" {
				rank = 2
			}
		}
		if rank > top {
			best, top = i, rank
		}
		if s.hasDate && !s.hasClock && date < 0 {
			date = i
		}
		if s.hasClock && !s.hasDate && clock < 0 {
			clock = i
		}
		if best < 0 && date < 0 && clock < 0 {
			c.when = []int{i} // nothing can be read there, and the rows will say so
		}
	}
	switch {
	case best >= 0:
		c.when = []int{best}
	case date >= 0 && clock >= 0:
		c.when = []int{date, clock}
	case date >= 0:
		c.when = []int{date}
	case clock >= 0:
		c.when = []int{clock}
	}
	for _, i := range c.when {
		if z := headerZone(t.Header.Cell(i)); z != "" {
			c.zone = z
		}
	}
}

// sampleStamp is the first time that can be read in a column.
func sampleStamp(rows []table.Row, i int) stamp {
	for _, r := range rows[:min(len(rows), 200)] {
		if s := parseStamp(r.Cell(i), "dmy"); s.hasDate || s.hasClock {
			return s
		}
	}
	return stamp{}
}

// headerZone is "UTC" or "UTC+1" in a header, empty if it names none.
func headerZone(cell string) string {
	if m := zoneInHeader.FindStringSubmatch(cell); m != nil {
		return m[1]
	}
	return ""
}

func (c columns) role(i int, w word) string {
	for k, at := range c.when {
		if at == i && len(c.when) == 2 {
			return [...]string{"date", "time of day"}[k]
		} else if at == i {
			return "time"
		}
	}
	if w.meaning == nothing || w.meaning == when || c.at[w.meaning] != i {
		return "not used"
	}
	if w.unit != "" {
		return fmt.Sprintf("%s in %s", w.meaning, shown[w.unit])
	}
	return w.meaning.String()
}
