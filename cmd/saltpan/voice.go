package main

import (
	"errors"
	"fmt"
	"io"

	"saltpan/importers/importer"
	"saltpan/store"
)

// voice is the only writer to stderr. Its rules: every line begins with
// "saltpan: "; no capital at the start and no full stop at the end; what was
// read is quoted; what to do next follows on a line of its own, "hint: …".
type voice struct{ w io.Writer }

// say writes one line.
func (v voice) say(format string, args ...any) {
	fmt.Fprintf(v.w, "saltpan: "+format+"\n", args...)
}

// hint says what to do next.
func (v voice) hint(format string, args ...any) { v.say("hint: "+format, args...) }

// problem says what is wrong with an input, and where.
func (v voice) problem(p importer.Problem) {
	where := p.Path
	if p.Line > 0 {
		where = fmt.Sprintf("%s:%d", p.Path, p.Line)
	}
	v.say("%s: %s", where, p.Text)
	if p.Hint != "" {
		v.hint("%s", p.Hint)
	}
}

// fail says why a command did not do what was asked.
func (v voice) fail(err error) {
	v.say("%v", err)
	var h hinted
	switch {
	case errors.As(err, &h):
		v.hint("%s", h.hint)
	case errors.Is(err, store.ErrNone):
		v.hint("begin with `saltpan athlete add KEY --mass 62kg --zone Europe/Lisbon`, or look around with `saltpan demo`")
	case errors.Is(err, store.ErrBusy):
		v.hint("another saltpan is writing; try again in a moment")
	case errors.Is(err, store.ErrNewer):
		v.hint("this store was written by a newer saltpan; use that one")
	}
}

// progress draws over one line of a terminal; done wipes it.
func (v voice) progress(text string) { fmt.Fprintf(v.w, "\r\x1b[K%s", text) }

func (v voice) done() { fmt.Fprint(v.w, "\r\x1b[K") }

// hinted is an error that knows what to do next.
type hinted struct {
	err  error
	hint string
}

func (h hinted) Error() string { return h.err.Error() }
func (h hinted) Unwrap() error { return h.err }

func withHint(err error, format string, args ...any) error {
	return hinted{err, fmt.Sprintf(format, args...)}
}
