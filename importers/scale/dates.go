package scale

import (
	"fmt"
	"slices"
	"time"

	"saltpan/importers/importer"
)

// open reports whether the order of a date is not settled by the cell itself.
func (s stamp) open() bool { return s.hasDate && s.order == "" && s.abs.IsZero() }

// on is the date read in an order; ok is false if there is no such day.
func (s stamp) on(order string) (date time.Time, ok bool) {
	var y, m, d int
	switch order {
	case "ymd":
		y, m, d = s.date[0], s.date[1], s.date[2]
	case "dmy":
		d, m, y = s.date[0], s.date[1], s.date[2]
	case "mdy":
		m, d, y = s.date[0], s.date[1], s.date[2]
	}
	if s.short {
		y += 2000
	}
	date = time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	return date, y > 1000 && date.Day() == d && int(date.Month()) == m
}

// orders are the readings that an open date can have at all.
func (s stamp) orders() []string {
	if s.short {
		return []string{"dmy", "mdy", "ymd"}
	}
	return []string{"dmy", "mdy"}
}

// wallTime is the date and time as written, ok false if there is no such time.
func (s stamp) wallTime(order string) (time.Time, bool) {
	if !s.abs.IsZero() {
		return s.abs.Add(s.clock), true
	}
	if s.order != "" {
		order = s.order
	}
	date, ok := s.on(order)
	return date.Add(s.clock), ok
}

// dateOrder settles the order of day, month and year from all rows.
func dateOrder(entries []*entry, hint string) (order, why string, refused *importer.Problem) {
	open := openDates(entries)
	switch {
	case len(open) == 0:
		return "", "date order: each date says it itself", nil
	case hint != "" && (hint != "ymd" || allShort(open)):
		return hint, fmt.Sprintf("date order: %s, as declared", hint), nil
	}
	left, last := possible(open)
	switch {
	case len(left) == 0:
		return "", "", unclear(last, "one row can only be day/month and another only month/day")
	case len(left) == 1 && last == nil:
		return left[0], fmt.Sprintf("date order: %s, as the first number changes least", left[0]), nil
	case len(left) == 1:
		return left[0], fmt.Sprintf("date order: %s, by %q in line %d, which can be nothing else", left[0], last.text, last.line), nil
	case dotted(open):
		// Common practice, seen in the short date patterns of the Unicode
		// locale data (from memory): with full stops the day comes before the month.
		return "dmy", "date order: dmy, by the full stops between day, month and year", nil
	case same(open, left):
		return left[0], "date order: every order gives the same dates", nil
	}
	if one := running(open, left); len(one) == 1 {
		return one[0], fmt.Sprintf("date order: %s, as only so the rows run in order of time", one[0]), nil
	}
	return "", "", unclear(open[0], "day and month could be either in every row")
}

func unclear(e *entry, text string) *importer.Problem {
	hint := "say which it is with --dates dmy or --dates mdy"
	if e.stamp.short {
		hint += ", or --dates ymd"
	}
	return &importer.Problem{Code: importer.UnclearDates, Line: e.line,
		Text: fmt.Sprintf("date %q: %s", e.text, text), Hint: hint}
}

// openDates are the entries whose date is open and can be read at all.
func openDates(entries []*entry) []*entry {
	var out []*entry
	for _, e := range entries {
		if !e.stamp.open() {
			continue
		}
		for _, o := range e.stamp.orders() {
			if _, ok := e.stamp.on(o); ok {
				out = append(out, e)
				break
			}
		}
	}
	return out
}

// possible are the orders in which every date exists, and the first entry that excluded the last one out.
func possible(open []*entry) (left []string, last *entry) {
	left = []string{"dmy", "mdy"}
	if allShort(open) && varies(open, 0) <= varies(open, 2) {
		left = append(left, "ymd") // a year changes less often than a day
	}
	for _, e := range open {
		var still []string
		for _, o := range left {
			if _, ok := e.stamp.on(o); ok {
				still = append(still, o)
			}
		}
		if len(still) < len(left) {
			left, last = still, e
		}
	}
	if slices.Contains(left, "ymd") && len(left) > 1 && varies(open, 0) < varies(open, 2) {
		return []string{"ymd"}, nil
	}
	return left, last
}

func allShort(open []*entry) bool {
	for _, e := range open {
		if !e.stamp.short {
			return false
		}
	}
	return true
}

// varies counts the different numbers at a place of the dates.
func varies(open []*entry, place int) int {
	seen := map[int]bool{}
	for _, e := range open {
		seen[e.stamp.date[place]] = true
	}
	return len(seen)
}

func dotted(open []*entry) bool {
	for _, e := range open {
		if !e.stamp.dotted {
			return false
		}
	}
	return true
}

// same reports whether every order gives the same dates.
func same(open []*entry, orders []string) bool {
	for _, e := range open {
		first, _ := e.stamp.on(orders[0])
		for _, o := range orders[1:] {
			if d, _ := e.stamp.on(o); !d.Equal(first) {
				return false
			}
		}
	}
	return true
}

// running are the orders in which the rows of each person run only forwards
// or only backwards over at least three different dates.
func running(open []*entry, orders []string) []string {
	var out []string
	for _, o := range orders {
		if up, down, days := steps(open, o); days >= 3 && (up == 0 || down == 0) {
			out = append(out, o)
		}
	}
	return out
}

// steps counts steps forwards and backwards in time, and different dates.
func steps(open []*entry, order string) (up, down, days int) {
	before, dates := map[string]time.Time{}, map[time.Time]bool{}
	for _, e := range open {
		t, _ := e.stamp.wallTime(order)
		date, _ := e.stamp.on(order)
		dates[date] = true
		if b, ok := before[e.person]; ok && t.After(b) {
			up++
		} else if ok && t.Before(b) {
			down++
		}
		before[e.person] = t
	}
	return up, down, len(dates)
}
