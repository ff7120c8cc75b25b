package fit

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/pipeline/record"
)

const (
	name    = "fit"
	version = 1
)

// Importer reads FIT files. Its zero value is ready.
type Importer struct{}

// New returns the FIT importer.
func New() Importer { return Importer{} }

// Name is "fit".
func (Importer) Name() string { return name }

// Version rises when the same bytes can give other facts.
func (Importer) Version() int { return version }

// Identify reports whether head begins with a FIT header of 12 or 14 bytes.
func (Importer) Identify(head []byte) bool { return isHeader(head) }

// Read takes all activities and weigh-ins of a FIT file and the files chained
// to it. What precedes damage is taken and marked as salvaged.
func (Importer) Read(src importer.Source) (res importer.Result) {
	r := &reading{src: src}
	defer func() {
		if p := recover(); p != nil {
			res = importer.Result{Refused: r.problem(importer.Unsupported, fmt.Sprintf("the reader stopped: %v", p), "")}
		}
	}()
	r.all()
	return r.res
}

// reading is one call of Read.
type reading struct {
	src     importer.Source
	res     importer.Result
	skipped string            // the kind of the first part without facts
	refusal *importer.Problem // of the first part that should have had facts
	bouts   int               // numbers the bouts of all parts
	weights int               // numbers the readings of all parts
}

func (r *reading) all() {
	if !isHeader(r.src.Data) {
		r.res.Refused = r.noHeader()
		return
	}
	chunks, rest := split(r.src.Data)
	left := &budget{maxRecords, maxMessages, maxSessions}
	for i, c := range chunks {
		p, err := read(c, left)
		if err != nil || i == maxChunks {
			r.res = importer.Result{Refused: r.problem(importer.TooLarge, "it holds "+errTooLarge.Error(), "split the file")}
			return
		}
		r.take(&p)
	}
	r.trailing(rest)
	r.conclude()
	r.secondOpinion()
}

// take adds the facts of one part.
func (r *reading) take(p *part) {
	r.why("%s: %d sessions, %d laps, %d records, %d weight messages", p.kind(), len(p.sessions), len(p.laps), len(p.rows), len(p.weights))
	if len(p.fields) > 0 {
		r.why("developer fields passed over: %s", strings.Join(p.fields, ", "))
	}
	r.weighIns(p)
	if p.holdsBouts() {
		r.activities(p)
		return
	}
	if p.fault.text != "" {
		r.fail(r.problem(p.fault.code, p.fault.text, "copy it from the device again"))
	}
	if r.skipped == "" && p.fileType != typeWeight {
		r.skipped = p.kind()
	}
}

// activities adds the bouts of one part, or says why it has none.
func (r *reading) activities(p *part) {
	n, unset := len(p.rows), p.unset()
	rows, untimed, stray := tidy(p.rows, p.sessions)
	if n > 0 {
		r.why("%d records: %d without a date, %d of another week, %d moments left", n, untimed, stray, len(rows))
	}
	found := p.bouts(rows)
	outside := len(rows)
	for _, a := range found {
		outside -= len(a.Samples)
		r.add(r.own(a, p))
	}
	if outside > 0 && len(found) > 0 {
		r.why("%d moments lie outside every session", outside)
	}
	if bad := untimed + stray; bad > 0 && len(found) > 0 {
		r.fail(r.problem(importer.BadTime, fmt.Sprintf("%d of %d records have no date or one of another week", bad, n), ""))
	}
	undated := func(s session) bool { return !isDate(s.began(rows, len(p.sessions) == 1)) }
	if len(found) == 0 || slices.ContainsFunc(p.sessions, undated) {
		r.fail(r.missing(p, n, unset))
	}
}

// add takes a bout unless the same one came from an earlier part.
func (r *reading) add(a record.Activity) {
	for i, b := range r.res.Activities {
		if b.Start.Equal(a.Start) && b.Elapsed == a.Elapsed && b.Sport == a.Sport && b.Device == a.Device {
			r.why("the bout of %s stands in the file twice", a.Start.Format(time.RFC3339))
			if b.Salvaged != "" && a.Salvaged == "" {
				r.res.Activities[i] = a
			}
			return
		}
	}
	r.res.Activities = append(r.res.Activities, a)
}

// own makes a bout the source's.
func (r *reading) own(a record.Activity, p *part) record.Activity {
	a.ID = fmt.Sprintf("%s:%d", r.src.SHA256, r.bouts)
	a.Athlete = r.src.Hints.Athlete
	a.Origin = r.origin(0)
	a.Salvaged = p.fault.text
	switch {
	case a.Salvaged == "" && r.src.Damaged != "":
		a.Salvaged = r.src.Damaged
	case a.Salvaged == "" && len(p.sessions) == 0:
		a.Salvaged = "it holds no session; the totals are those of its records"
	}
	r.bouts++
	return a
}

func (r *reading) why(format string, args ...any) {
	r.res.Why = append(r.res.Why, fmt.Sprintf(format, args...))
}

func (r *reading) problem(code importer.Code, text, hint string) *importer.Problem {
	return &importer.Problem{Code: code, Path: r.src.Path, Text: text, Hint: hint}
}

func (r *reading) origin(line int) record.Origin {
	return record.Origin{Path: r.src.Path, Line: line, SHA256: r.src.SHA256, Reader: fmt.Sprintf("%s/%d", name, version)}
}
