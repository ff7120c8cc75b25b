// Package scale reads weigh-ins from the table that any scale writes. There is
// no list of scales: what the columns mean is found from words in the header
// and from what stands in all rows, and what stays open is refused with the
// option that settles it.
package scale

import (
	"fmt"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// Masses a scale for people can have meant.
const (
	lightest quantity.Mass = 25
	heaviest quantity.Mass = 300
)

// latest is when a clock that runs ahead is taken to be broken.
var latest = time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC)

// New is the importer of scale tables.
func New() importer.Importer { return reader{} }

type reader struct{}

// Name is "scale".
func (reader) Name() string { return "scale" }

// Version of the reader.
func (reader) Version() int { return 1 }

// Identify reports whether head has a header with a time and a body mass.
func (reader) Identify(head []byte) bool {
	_, ok := table.Find(head, score)
	return ok
}

// Read takes every row that gives a weigh-in.
func (reader) Read(src importer.Source) importer.Result {
	j := job{src: src}
	if p := j.run(); p != nil {
		p.Path = src.Path
		j.out.WeighIns, j.out.Refused = nil, p
	}
	return j.out
}

// job is the reading of one source.
type job struct {
	src     importer.Source
	table   table.Table
	columns columns
	empty   int // rows that say there is no mass
	out     importer.Result
}

// entry is one row on its way to a weigh-in.
type entry struct {
	line   int
	text   string // the time as written
	raw    string // the whole row, to tell exact repeats
	person string
	stamp  stamp
	wall   time.Time
	mass   quantity.Mass
	last   quantity.Mass // what one in the last digit of the mass is
}

func (j *job) run() *importer.Problem {
	var ok bool
	if j.table, ok = table.Find(j.src.Data, score); !ok {
		return &importer.Problem{Code: importer.UnknownFormat, Text: "no header with a time and a body mass in the first rows",
			Hint: "name the columns in the first row, such as date, time, weight_kg"}
	}
	j.say(j.table.Why()...)
	if len(j.table.Rows) > table.MaxRows {
		return &importer.Problem{Code: importer.TooLarge, Text: fmt.Sprintf("more than %d rows", table.MaxRows),
			Hint: "split the file"}
	}
	j.columns = choose(j.table)
	j.say(j.columns.why(j.table.Header.Cells)...)
	entries, refused := j.masses()
	if refused != nil {
		return refused
	}
	if entries, refused = j.times(entries); refused != nil {
		return refused
	}
	return j.finish(entries)
}

func (j *job) say(lines ...string) { j.out.Why = append(j.out.Why, lines...) }

func (j *job) problem(code importer.Code, line int, hint, format string, args ...any) {
	j.out.Problems = append(j.out.Problems, importer.Problem{Code: code, Path: j.src.Path, Line: line,
		Text: fmt.Sprintf(format, args...), Hint: hint})
}

// row begins the entry of a row, nil if the row holds no weigh-in.
func (j *job) row(r table.Row) *entry {
	raw := strings.Join(r.Cells, "\x00")
	switch {
	case raw == strings.Join(j.table.Header.Cells, "\x00"):
		return nil // files put together keep their headers
	case len(r.Cells) > len(j.table.Header.Cells), j.torn(r):
		j.problem(importer.BadNumber, r.Line, "put numbers with a decimal comma in quotes", "row with %d cells: want at most %d as in the header",
			r.Width, j.table.Header.Width)
		return nil
	case missing(r.Cell(j.columns.mass)) && (j.columns.pounds < 0 || missing(r.Cell(j.columns.pounds))):
		j.empty++
		return nil
	}
	c := j.columns
	e := &entry{line: r.Line, raw: raw, text: r.Cell(c.stamp), person: r.Cell(c.person), stamp: parseStamp(r.Cell(c.stamp), c.epoch[c.stamp])}
	if c.clock >= 0 {
		e.text = strings.TrimSpace(e.text + " " + r.Cell(c.clock))
		e.addClock(parseStamp(r.Cell(c.clock), false))
	}
	if c.utc && e.stamp.hasClock && e.stamp.offset == nil {
		e.stamp.offset = new(time.Duration)
	}
	return e
}

// torn reports whether a decimal comma without quotes cut the mass of a row in
// two: a cell too many, and digits alone in the mass and the cell after it.
func (j *job) torn(r table.Row) bool {
	return j.table.Delimiter == ',' && r.Width > j.table.Header.Width &&
		digitsOnly(r.Cell(j.columns.mass)) && digitsOnly(r.Cell(j.columns.mass+1))
}

func digitsOnly(cell string) bool {
	return cell != "" && strings.Trim(cell, "0123456789") == ""
}

// addClock takes the time of day from another column.
func (e *entry) addClock(s stamp) {
	e.stamp.hasClock, e.stamp.clock, e.stamp.resolution, e.stamp.offset = s.hasClock, s.clock, s.resolution, s.offset
}

// finish turns entries into weigh-ins.
func (j *job) finish(entries []*entry) *importer.Problem {
	if j.empty > 0 {
		j.say(fmt.Sprintf("no mass in %d rows, passed over", j.empty))
	}
	if len(entries) == 0 {
		return j.nothing()
	}
	var masses, lasts []quantity.Mass
	for _, e := range entries {
		masses, lasts = append(masses, e.mass), append(lasts, e.last)
	}
	step := finest(masses, lasts)
	j.say(fmt.Sprintf("finest step of the masses: %.4g kg", step.Kilograms()))
	groups, why := bursts(entries)
	j.say(why...)
	if n := jumps(groups); n > 0 {
		j.say(fmt.Sprintf("%d steps of more than %g kg from one weighing to the next: several people, or another unit", n, jump))
	}
	for _, g := range groups {
		j.out.WeighIns = append(j.out.WeighIns, j.weighIn(g, step))
	}
	return nil
}

// nothing is the refusal of a table without one good row: the first row's
// fault, if rows had any.
func (j *job) nothing() *importer.Problem {
	p := importer.Problem{Code: importer.Empty, Text: "no row with a mass"}
	if len(j.out.Problems) > 0 {
		p = j.out.Problems[0]
		p.Text = "no row could be taken; the first: " + p.Text
	}
	return &p
}

func (j *job) weighIn(g []*entry, step quantity.Mass) record.WeighIn {
	used := g[len(g)-1]
	scale := j.src.Hints.Scale
	if scale == "" {
		scale = "scale"
	}
	w := record.WeighIn{ID: fmt.Sprintf("%s:%d", j.src.SHA256, used.line), Scale: scale, Wall: used.wall,
		UTCOffset: used.stamp.offset, Zone: j.src.Hints.Zone, Resolution: used.stamp.resolution,
		Mass: used.mass, MassStep: step, Person: used.person, Origin: j.origin(used)}
	for _, e := range g[:len(g)-1] {
		w.Also = append(w.Also, j.origin(e))
	}
	return w
}

func (j *job) origin(e *entry) record.Origin {
	return record.Origin{Path: j.src.Path, Line: e.line, SHA256: j.src.SHA256, Reader: "scale/1"}
}
