// Package weather reads observations of the outside air: an hourly table with
// a time and an air temperature, or aviation routine weather reports (METAR
// and SPECI). What the columns mean is found from words in the header; a
// number whose unit nobody says is left out and said so.
package weather

import (
	"fmt"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
	"saltpan/pipeline/record"
)

// New is the importer of weather observations.
func New() importer.Importer { return reader{} }

type reader struct{}

// Name is "weather".
func (reader) Name() string { return "weather" }

// Version of the reader.
func (reader) Version() int { return 1 }

// Identify reports whether head has a header with a time and an air
// temperature, or a weather report in one of its first lines.
func (reader) Identify(head []byte) bool {
	_, _, ok := find(head)
	return ok
}

// Read takes every row and report that gives a time and a temperature.
func (reader) Read(src importer.Source) importer.Result {
	j := job{src: src}
	if p := j.run(); p != nil {
		p.Path = src.Path
		j.out.Weather, j.out.Problems, j.out.Refused = nil, nil, p
	}
	return j.out
}

// find gives the rows of data; reports is true if they are reports, of which
// the header of the table is the first.
func find(data []byte) (t table.Table, reports, ok bool) {
	if markup(data) {
		return table.Table{}, false, false
	}
	if t, ok = table.Find(data, score); ok {
		return t, false, true
	}
	t, ok = table.Find(data, scoreReport)
	return t, true, ok
}

// markup reports whether data begins as XML or JSON: a description in a track
// may quote a report.
func markup(data []byte) bool {
	for _, b := range data[:min(len(data), 64)] {
		if b > ' ' && b < 0x80 {
			return b == '<' || b == '{' || b == '['
		}
	}
	return false
}

// job is the reading of one source.
type job struct {
	src     importer.Source
	all     []observation
	lacking int // rows and reports without a temperature
	other   int // forecasts and reports that say nothing
	out     importer.Result
}

// observation is a fact on its way, with what decides between two of them.
type observation struct {
	record.Weather
	corrects bool // a report that says it corrects an earlier one
	missing  bool // it has no temperature
}

func (j *job) run() *importer.Problem {
	t, reports, ok := find(j.src.Data)
	switch {
	case !ok:
		return &importer.Problem{Code: importer.UnknownFormat, Text: "no header with a time and an air temperature, and no METAR, in the first rows",
			Hint: "name the columns in the first row, such as time_utc, temp_c"}
	case len(t.Rows) > table.MaxRows:
		return &importer.Problem{Code: importer.TooLarge, Text: fmt.Sprintf("more than %d rows", table.MaxRows), Hint: "split the file"}
	case reports:
		j.reports(t)
	default:
		if p := j.rows(t); p != nil {
			return p
		}
	}
	return j.finish()
}

func (j *job) say(format string, args ...any) {
	j.out.Why = append(j.out.Why, fmt.Sprintf(format, args...))
}

// add takes an observation of a line.
func (j *job) add(line int, o observation) {
	o.Place, o.AltitudeM = j.src.Hints.Place, j.src.Hints.AltitudeM
	o.Origin = record.Origin{Path: j.src.Path, Line: line, SHA256: j.src.SHA256, Reader: "weather/1"}
	j.all = append(j.all, o)
}

func (j *job) problem(line int, f *fault) {
	j.out.Problems = append(j.out.Problems, importer.Problem{Code: f.code, Path: j.src.Path, Line: line, Text: f.text, Hint: f.hint})
}

// fault is what is wrong with a part of a row.
type fault struct {
	code importer.Code
	text string
	hint string
}

// latest is when a clock that runs ahead is taken to be broken.
var latest = time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC)

// credible is a fault unless t is a time an observation can have.
func credible(t time.Time, text string) *fault {
	if t.Before(importer.Earliest) || !t.Before(latest) {
		return &fault{importer.BadTime, fmt.Sprintf("time %q: want one between 2000 and 2100", text), ""}
	}
	return nil
}
