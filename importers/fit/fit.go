package fit

import (
	"errors"
	"fmt"
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
	for _, c := range chunks {
		p, err := read(c)
		if errors.Is(err, errTooLarge) {
			r.res = importer.Result{Refused: r.problem(importer.TooLarge, "it holds "+err.Error(), "split the file")}
			return
		}
		r.take(&p)
	}
	r.trailing(rest)
	r.conclude()
	r.secondOpinion()
}

// noHeader is why data is no FIT file.
func (r *reading) noHeader() *importer.Problem {
	n := len(r.src.Data)
	switch {
	case n == 0:
		return r.problem(importer.Empty, "the file has no bytes", "copy it from the device again")
	case n < 14 && (r.src.Data[0] == 12 || r.src.Data[0] == 14):
		return r.problem(importer.Truncated, fmt.Sprintf("it ends after %d bytes, in the header", n), "copy it from the device again")
	}
	return r.problem(importer.UnknownFormat, "no FIT header, wanted a 12- or 14-byte header with \".FIT\"", "")
}

// take adds the facts of one part.
func (r *reading) take(p *part) {
	if p.fileType >= 0 {
		r.why("a FIT file of type %d with %d sessions, %d records, %d weight messages", p.fileType, len(p.sessions), len(p.rows), len(p.weights))
	}
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
	if r.skipped == "" && len(p.weights) == 0 {
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
	for _, a := range found {
		r.add(r.own(a, p))
	}
	if lost := len(p.sessions) - len(found); lost > 0 || len(found) == 0 {
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

// missing is why sessions of a part gave no bout.
func (r *reading) missing(p *part, rows int, unset uint32) *importer.Problem {
	switch {
	case len(p.sessions) == 0 && rows == 0 && p.fault.text != "":
		return r.problem(p.fault.code, p.fault.text+", before the first record", "copy it from the device again")
	case len(p.sessions) == 0 && rows == 0:
		return r.problem(importer.Empty, "an activity without sessions and records", "")
	case len(p.sessions) == 0 && rows > 0 && unset == 0 && isDate(p.rows[0].at):
		return r.problem(importer.Empty, "a single moment and no session", "")
	case unset != 0:
		return r.problem(importer.BadTime, fmt.Sprintf("its clock was never set: it says %s", moment(unset).Format(time.DateTime)), p.clockHint())
	}
	return r.problem(importer.BadTime, "no session or record has a date", p.clockHint())
}

// unset is the first time in a part that is no date, 0 if there is none.
func (p *part) unset() uint32 {
	for _, s := range p.sessions {
		if s.start != 0 && !isDate(s.start) {
			return s.start
		}
	}
	for _, w := range p.rows {
		if w.at != 0 && !isDate(w.at) {
			return w.at
		}
	}
	return 0
}

// clockHint names the only real time such a file may hold.
func (p *part) clockHint() string {
	if isDate(p.local) {
		return fmt.Sprintf("activity.local_timestamp says %s by the local clock; correct its start to that and export it again",
			moment(p.local).Format(time.DateTime))
	}
	return "set the watch's clock; nothing in the file says when this was"
}

// trailing says what follows the last part. Zeros are padding.
func (r *reading) trailing(rest []byte) {
	if len(rest) == 0 {
		return
	}
	if strings.Trim(string(rest), "\x00") == "" {
		r.why("%d zero bytes after the end", len(rest))
		return
	}
	r.res.Problems = append(r.res.Problems, *r.problem(importer.Truncated,
		fmt.Sprintf("%d bytes after the end are no FIT file", len(rest)), ""))
}

// fail keeps a part's problem until it is known whether others gave facts.
func (r *reading) fail(p *importer.Problem) {
	if r.refusal == nil {
		r.refusal = p
		return
	}
	r.res.Problems = append(r.res.Problems, *p)
}

// conclude decides between facts, skipped and refused.
func (r *reading) conclude() {
	switch {
	case !r.res.Empty():
		if r.refusal != nil {
			r.res.Problems = append(r.res.Problems, *r.refusal)
		}
	case r.refusal != nil:
		r.res.Refused = r.refusal
	case r.skipped != "":
		r.res.Skipped = r.skipped
	default:
		r.res.Skipped = kinds[typeWeight]
	}
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
