package scale

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Readings so close together are one step-on: the person stepped off and on
// again or the scale sent its settling values.
const (
	burstGap    = 2 * time.Minute
	burstSpread = 0.3 // kg
)

// bursts groups the entries of one step-on, each group in order of time, and
// says which reading of a group is used. Groups are in order of wall time, then line.
func bursts(entries []*entry) (groups [][]*entry, why []string) {
	sortByTime(entries)
	for _, e := range entries {
		if i := joins(groups, e); i >= 0 {
			groups[i] = append(groups[i], e)
		} else {
			groups = append(groups, []*entry{e})
		}
	}
	slices.SortStableFunc(groups, func(a, b []*entry) int {
		x, y := a[len(a)-1], b[len(b)-1]
		if c := x.wall.Compare(y.wall); c != 0 {
			return c
		}
		return x.line - y.line
	})
	for _, g := range groups {
		if n := len(g); n > 1 {
			why = append(why, fmt.Sprintf("lines %s are one step-on: the last in time, line %d, is used", lineList(g), g[n-1].line))
		}
	}
	return groups, why
}

func lineList(g []*entry) string {
	var lines []string
	for _, e := range g {
		lines = append(lines, strconv.Itoa(e.line))
	}
	return strings.Join(lines, ", ")
}

// sortByTime sorts by instant; rows of the same time stay in the order of the
// file, or in the reverse if the file runs backwards.
func sortByTime(entries []*entry) {
	up, down := 0, 0
	for i := 1; i < len(entries); i++ {
		switch entries[i].wall.Compare(entries[i-1].wall) {
		case 1:
			up++
		case -1:
			down++
		}
	}
	slices.SortStableFunc(entries, func(a, b *entry) int {
		if c := a.instant().Compare(b.instant()); c != 0 {
			return c
		}
		if down > up {
			return b.line - a.line
		}
		return a.line - b.line
	})
}

// instant is the wall time without its offset, if it has one.
func (e *entry) instant() time.Time {
	if e.stamp.offset != nil {
		return e.wall.Add(-*e.stamp.offset)
	}
	return e.wall
}

// jump is a step in mass, in kg, that no one person makes from one weighing to
// the next (common practice).
const jump = 8.0

// jumps counts such steps among the rows of each person.
func jumps(groups [][]*entry) int {
	before, n := map[string]*entry{}, 0
	for _, g := range groups {
		e := g[len(g)-1]
		if b := before[e.person]; b != nil && math.Abs(float64(e.mass-b.mass)) > jump {
			n++
		}
		before[e.person] = e
	}
	return n
}

// atOnce is how many people may take turns on a scale within one burst.
const atOnce = 16

// joins is the group that e belongs to, -1 if it begins its own.
func joins(groups [][]*entry, e *entry) int {
	for i := len(groups) - 1; i >= max(0, len(groups)-atOnce); i-- {
		if g := groups[i]; sameStep(g[len(g)-1], e) {
			return i
		}
	}
	return -1
}

// sameStep reports whether b repeats or continues a. Of rows without a time of
// day only exact repeats do.
func sameStep(a, b *entry) bool {
	if a.raw == b.raw {
		return true
	}
	return a.person == b.person && a.stamp.resolution != day && b.stamp.resolution != day &&
		b.instant().Sub(a.instant()) <= burstGap &&
		math.Abs(float64(a.mass-b.mass)) <= burstSpread+1e-9
}
