package trackxml

import (
	"fmt"
	"math"
	"sort"
	"strconv"

	"saltpan/importers/importer"
)

// Tally counts the values that were passed over, by kind, so that ten thousand
// bad points make one message.
type Tally struct {
	Path   string
	faults []fault
}

type fault struct {
	code       importer.Code
	what, read string
	hint       string
	line       int
	more       int
}

// Add counts a value that was passed over: what it is, what was read and where.
func (t *Tally) Add(code importer.Code, what, read string, line int, hint string) {
	for i := range t.faults {
		if f := &t.faults[i]; f.code == code && f.what == what {
			f.more++
			return
		}
	}
	t.faults = append(t.faults, fault{code: code, what: what, read: read, line: line, hint: hint})
}

// Has reports whether anything was counted under a code.
func (t *Tally) Has(code importer.Code) bool {
	for _, f := range t.faults {
		if f.code == code {
			return true
		}
	}
	return false
}

// Problems is one problem for each kind, by line.
func (t *Tally) Problems() []importer.Problem {
	var out []importer.Problem
	for _, f := range t.faults {
		out = append(out, f.problem(t.Path))
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Line < out[j].Line })
	return out
}

// First is the first problem of a code, nil if there is none.
func (t *Tally) First(code importer.Code) *importer.Problem {
	for _, p := range t.Problems() {
		if p.Code == code {
			return &p
		}
	}
	return nil
}

func (f fault) problem(path string) importer.Problem {
	text := f.what
	if f.read != "" {
		text = fmt.Sprintf("%s, read %.60q", f.what, f.read)
	}
	if f.more > 0 {
		text = fmt.Sprintf("%s, and %d more like it", text, f.more)
	}
	return importer.Problem{Code: f.code, Path: path, Line: f.line, Text: text, Hint: f.hint}
}

// Number is text as a finite number from lo to hi. It is NaN for an empty text
// and for any other, which is then counted.
func (t *Tally) Number(what, text string, lo, hi float64, line int) float64 {
	if text == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		t.Add(importer.BadNumber, what+" that is no number was passed over", text, line, "")
		return math.NaN()
	case v < lo || v > hi:
		t.Add(importer.OutOfRange, fmt.Sprintf("%s outside %g to %g was passed over", what, lo, hi), text, line, "")
		return math.NaN()
	}
	return v
}

// HeartRate is text as beats per minute, 0 if there is none. Recorders write 0
// and 255 for "no reading".
func (t *Tally) HeartRate(text string, line int) uint8 {
	v := t.Number("a heart rate", text, 0, 255, line)
	if math.IsNaN(v) || v >= 254.5 {
		return 0
	}
	return uint8(math.Round(v))
}
