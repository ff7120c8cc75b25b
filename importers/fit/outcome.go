package fit

import (
	"fmt"
	"strings"
	"time"

	"saltpan/importers/importer"
)

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

// missing is why sessions of a part gave no bout.
func (r *reading) missing(p *part, rows int, unset uint32) *importer.Problem {
	switch {
	case len(p.sessions) == 0 && unset == 0 && p.fault.text != "":
		return r.problem(p.fault.code, p.fault.text+" and holds no bout before that", "copy it from the device again")
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
		r.res.Skipped = "a weight file without readings"
	}
}
