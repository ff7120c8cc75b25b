package main

import (
	"context"
	"errors"
	"fmt"

	"saltpan/pipeline"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/store"
)

// write makes one change and derives what it touched. It says which sessions
// changed, before and after.
func (e *env) write(ctx context.Context, st *store.Store, command, text string, athletes []string, do func(*store.Tx) error) error {
	if err := e.catchUp(ctx, st); err != nil {
		return err
	}
	old, err := e.readDerived(ctx, st, selection{})
	if err != nil {
		return err
	}
	if err := st.Change(ctx, e.now(), command, text, do); err != nil {
		return err
	}
	diff, err := e.derive(ctx, st, athletes...)
	if err != nil {
		return err
	}
	return e.sayChanged(old, diff)
}

// sayChanged shows each session that a command changed, as it is now.
func (e *env) sayChanged(old derived, d difference) error {
	all := append(d.fresh, d.changed...)
	if e.json {
		for _, s := range all {
			if err := writeJSON(e.out, toJSON(s)); err != nil {
				return err
			}
		}
		return nil
	}
	was := map[string]pipeline.Session{}
	for _, s := range old.sessions {
		was[s.Key] = s
	}
	for _, s := range all {
		fmt.Fprintln(e.out, oneLine(was[s.Key], s))
	}
	if len(all) == 0 {
		fmt.Fprintln(e.out, "kept; no session changed")
	}
	return nil
}

// oneLine is a session in a line, with what its rate was before.
func oneLine(was, is pipeline.Session) string {
	text := is.Key + ": " + rateText(is)
	if was.Key != "" && rateText(was) != rateText(is) {
		text += ", was " + rateText(was)
	}
	if n := needOf(is); n != "" {
		text += "; needs " + n
	}
	return text
}

func rateText(s pipeline.Session) string {
	if s.Balance == nil || s.Elapsed <= 0 {
		return "no loss rate yet"
	}
	_, rate := lossText(s, quantity.Metric)
	return rate + " L/h"
}

// known opens the store and reads all facts.
func (e *env) known(ctx context.Context, do func(*store.Store, record.Facts) error) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	facts, err := st.Facts(ctx)
	if err != nil {
		return err
	}
	return do(st, facts)
}

// about opens the store and finds one session in it.
func (e *env) about(ctx context.Context, key string, do func(*store.Store, pipeline.Session) error) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	s, err := e.session(ctx, st, key)
	if err != nil {
		return err
	}
	return do(st, s)
}

// whom opens the store and picks the athlete a command is about.
func (e *env) whom(ctx context.Context, key string, do func(*store.Store, record.Athlete) error) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	a, err := pick(ctx, st, key)
	if err != nil {
		return err
	}
	return do(st, a)
}

var errNothing = errors.New("nothing was said")
