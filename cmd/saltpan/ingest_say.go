package main

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"saltpan/importers"
	"saltpan/importers/importer"
	"saltpan/importers/scale"
	"saltpan/pipeline"
)

// outcome is how one input ended, a line of `ingest --json`.
type outcome struct {
	Input   string `json:"input"`
	Result  string `json:"result"`
	Kind    string `json:"kind,omitempty"`
	Athlete string `json:"athlete,omitempty"`
	Reason  string `json:"reason,omitempty"`
	// Text says a refusal in words; Problems are rows that were passed over.
	Text     string        `json:"text,omitempty"`
	Problems []outcomePart `json:"problems,omitempty"`

	problems []importer.Problem
}

type outcomePart struct {
	Line   int    `json:"line,omitempty"`
	Reason string `json:"reason"`
	Text   string `json:"text"`
}

func (o *outcome) refuse(p importer.Problem) {
	if p.Hint == "" {
		p.Hint = nextStep(p.Code)
	}
	o.Result, o.Reason, o.Text = refused, string(p.Code), p.Text
	o.problems = append([]importer.Problem{p}, o.problems...)
}

// nextStep is what to do about a refusal whose reader knows nothing better.
func nextStep(c importer.Code) string {
	switch c {
	case importer.AmbiguousFormat:
		return "save its parts as files of their own"
	case importer.BadTime:
		return "correct the times and read it again, or leave the file out"
	case importer.BadNumber, importer.OutOfRange:
		return "correct the numbers, or say what they are with --unit, and read it again"
	case importer.UnsafeName, importer.Unsupported:
		return "unpack the archive and ingest the files you want"
	case importer.TooLarge:
		return "unpack or split it and ingest the parts"
	}
	return "get the file again from where it came; `saltpan ingest --why FILE` shows what is recognised in it"
}

// tell says how an input ended: to people only what they should know.
func (g *ingest) tell(o outcome) {
	g.count[o.Result]++
	if g.e.ttyErr && !g.e.quiet && len(o.problems) > 0 {
		g.e.voice.done()
	}
	for _, p := range o.problems {
		g.e.voice.problem(g.hintOnce(p))
		if o.Result != refused {
			o.Problems = append(o.Problems, outcomePart{Line: p.Line, Reason: string(p.Code), Text: p.Text})
		}
	}
	if len(o.problems) > 0 && o.Result != refused {
		g.count["problems"]++
	}
	if g.e.json {
		writeJSON(g.e.out, o)
	}
}

// hintOnce leaves out a hint that was given already: a folder of strays needs it once.
func (g *ingest) hintOnce(p importer.Problem) importer.Problem {
	if g.hinted[p.Hint] {
		p.Hint = ""
	}
	g.hinted[p.Hint] = true
	return p
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

// summary is the last line of `ingest --json`.
type summary struct {
	Stored          int      `json:"stored"`
	Known           int      `json:"known"`
	Skipped         int      `json:"skipped"`
	Refused         int      `json:"refused"`
	SessionsNew     int      `json:"sessions_new"`
	SessionsChanged []string `json:"sessions_changed"`
	Needs           needs    `json:"needs"`
}

type needs struct {
	Note     int `json:"note"`
	WeighIn  int `json:"weigh_in"`
	Question int `json:"question"`
}

func needsOf(sessions []pipeline.Session) (n needs) {
	for _, s := range sessions {
		switch s.Status {
		case pipeline.NeedsNote:
			n.Note++
		case pipeline.NeedsWeighIn:
			n.WeighIn++
		case pipeline.NeedsAnswer:
			n.Question++
		}
	}
	return n
}

// report says what an ingest changed: the new sessions, those that changed,
// and what they need.
func (g *ingest) report(d difference) error {
	s := summary{Stored: g.count[stored], Known: g.count[known], Skipped: g.count[skipped], Refused: g.count[refused],
		SessionsNew: len(d.fresh), SessionsChanged: []string{}, Needs: needsOf(d.fresh)}
	for _, c := range d.changed {
		s.SessionsChanged = append(s.SessionsChanged, c.Key)
	}
	slices.Sort(s.SessionsChanged)
	clear(g.count)
	if g.e.json {
		return writeJSON(g.e.out, map[string]summary{"summary": s})
	}
	return g.reportText(s, d)
}

func (g *ingest) reportText(s summary, d difference) error {
	if all := append(slices.Clone(d.fresh), d.changed...); len(all) > 0 {
		slices.SortStableFunc(all, func(a, b pipeline.Session) int { return a.Start.Compare(b.Start) })
		if err := g.e.sessionTable(all, g.athletes); err != nil {
			return err
		}
		fmt.Fprintln(g.e.out)
	}
	fmt.Fprintf(g.e.out, "%d stored, %d known, %d skipped, %d refused; %d sessions new, %d changed\n",
		s.Stored, s.Known, s.Skipped, s.Refused, s.SessionsNew, len(s.SessionsChanged))
	if n := s.Needs; n.Note+n.WeighIn+n.Question > 0 {
		fmt.Fprintf(g.e.out, "of the new: %d need a note, %d a weigh-in, %d an answer; see `saltpan missing`\n", n.Note, n.WeighIn, n.Question)
	}
	return nil
}

func (g *ingest) progress(n, of int) {
	if g.e.ttyErr && !g.e.quiet && of > 1 && (n%10 == 0 || n == of) {
		g.e.voice.progress(fmt.Sprintf("reading %d of %d", n, of))
	}
}

// explainSource prints what was recognised in a source, and why.
func (e *env) explainSource(all []importer.Importer, src importer.Source, redact bool) {
	imp, bad := importers.Find(all, src)
	if bad != nil {
		e.voice.problem(*bad)
		return
	}
	if redact {
		e.redacted(imp, src)
		return
	}
	fmt.Fprintf(e.out, "%s: %s\n", src.Path, imp.Name())
	r := imp.Read(src)
	for _, why := range r.Why {
		fmt.Fprintf(e.out, "  %s\n", why)
	}
	for _, a := range r.Activities {
		fmt.Fprintf(e.out, "  %s on %s for %v, %d samples\n", a.Sport, a.Start.Format("2006-01-02 15:04 MST"), a.Elapsed, len(a.Samples))
	}
	if n := len(r.WeighIns); n > 0 {
		fmt.Fprintf(e.out, "  %d readings, from %s to %s\n", n, r.WeighIns[0].Wall.Format("2006-01-02 15:04"), r.WeighIns[n-1].Wall.Format("2006-01-02 15:04"))
	}
	if r.Skipped != "" {
		fmt.Fprintf(e.out, "  skipped: %s\n", r.Skipped)
	}
	for _, p := range r.Problems {
		e.voice.problem(p)
	}
	if r.Refused != nil {
		e.voice.problem(*r.Refused)
	}
}

// redacted prints a sample of a scale's file that tells nothing about anybody.
func (e *env) redacted(imp importer.Importer, src importer.Source) {
	if imp.Name() != "scale" {
		e.voice.say("%s: only a scale's CSV can be redacted; this is %s", src.Path, imp.Name())
		return
	}
	e.out.Write(scale.Redact(src.Data))
}
