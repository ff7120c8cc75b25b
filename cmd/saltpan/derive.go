package main

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"

	"saltpan/pipeline"
	"saltpan/pipeline/match"
	"saltpan/pipeline/quantity"
	"saltpan/store"
)

// Derived rows that are not sessions are told apart by their status.
const (
	rowQuestion = "question"
	rowScale    = "scale"
)

// difference is what a derivation changed.
type difference struct {
	fresh   []pipeline.Session
	changed []pipeline.Session
}

// then is this difference with what a later derivation changed again.
func (d difference) then(later difference) difference {
	again := map[string]pipeline.Session{}
	for _, s := range append(later.fresh, later.changed...) {
		again[s.Key] = s
	}
	out := difference{fresh: later.fresh}
	for _, list := range []struct {
		from []pipeline.Session
		to   *[]pipeline.Session
	}{{d.fresh, &out.fresh}, {d.changed, &out.changed}} {
		for _, s := range list.from {
			if now, ok := again[s.Key]; ok {
				s = now
				delete(again, s.Key)
			}
			*list.to = append(*list.to, s)
		}
	}
	for _, s := range later.changed {
		if _, left := again[s.Key]; left {
			out.changed = append(out.changed, s)
		}
	}
	return out
}

// derive derives anew the households of the athletes named, or all of them,
// and keeps the result.
func (e *env) derive(ctx context.Context, st *store.Store, touched ...string) (difference, error) {
	var diff difference
	athletes, err := st.Athletes(ctx)
	if err != nil {
		return diff, err
	}
	all, err := st.Facts(ctx)
	if err != nil {
		return diff, err
	}
	for _, group := range pipeline.Households(athletes, all.Scales) {
		if len(touched) > 0 && !slices.ContainsFunc(group, func(k string) bool { return slices.Contains(touched, k) }) {
			continue
		}
		d, err := e.deriveGroup(ctx, st, group)
		if err != nil {
			return diff, err
		}
		diff.fresh, diff.changed = append(diff.fresh, d.fresh...), append(diff.changed, d.changed...)
	}
	return diff, e.markDerived(ctx, st)
}

// metaDerived names the last change that derived rows take in. A process that
// was killed between storing and deriving leaves it behind.
const metaDerived = "derived-up-to"

func (e *env) markDerived(ctx context.Context, st *store.Store) error {
	last, err := lastChange(ctx, st)
	if err != nil {
		return err
	}
	return st.SetMeta(ctx, metaDerived, last)
}

func lastChange(ctx context.Context, st *store.Store) (string, error) {
	log, err := st.Log(ctx, 1)
	if err != nil || len(log) == 0 {
		return pipeline.Method, err
	}
	return fmt.Sprintf("%s %d", pipeline.Method, log[0].ID), nil
}

// catchUp derives everything anew if the store holds changes, or rows of an
// older method, that no derivation has taken in.
func (e *env) catchUp(ctx context.Context, st *store.Store) error {
	last, err := lastChange(ctx, st)
	if err != nil {
		return err
	}
	if done, err := st.Meta(ctx, metaDerived); err != nil || done == last {
		return err
	}
	_, err = e.derive(ctx, st)
	return err
}

func (e *env) deriveGroup(ctx context.Context, st *store.Store, group []string) (difference, error) {
	var diff difference
	old, err := st.DerivedRows(ctx, store.Filter{Athletes: group})
	if err != nil {
		return diff, err
	}
	facts, err := st.Facts(ctx, group...)
	if err != nil {
		return diff, err
	}
	digests, err := e.digests(ctx, st, facts.Activities)
	if err != nil {
		return diff, err
	}
	household := strings.Join(group, "+")
	result := pipeline.DeriveHousehold(facts, digests)
	rows, err := derivedRows(result, household)
	if err != nil {
		return diff, err
	}
	if len(result.Keys) > 0 {
		if err := st.Change(ctx, e.now(), "derive", "session keys", func(tx *store.Tx) error { return tx.PutKeys(result.Keys) }); err != nil {
			return diff, err
		}
	}
	if err := st.ReplaceDerived(ctx, household, rows); err != nil {
		return diff, err
	}
	return compare(old, result), nil
}

// compare says which sessions are new and which read differently now. A
// probability that moved in its last digits is no change to anybody.
func compare(old []store.Derived, result pipeline.Household) difference {
	was := map[string]string{}
	for _, o := range old {
		var s pipeline.Session
		if json.Unmarshal(o.Body, &s) == nil {
			was[o.Key] = looks(s)
		}
	}
	var diff difference
	for _, s := range result.Sessions {
		before, known := was[s.Key]
		switch {
		case !known:
			diff.fresh = append(diff.fresh, s)
		case before != looks(s):
			diff.changed = append(diff.changed, s)
		}
	}
	return diff
}

// looks is what a person can see of a session: links, note, numbers as they are
// shown, flags and files.
func looks(s pipeline.Session) string {
	row := sessionRow(s, quantity.Metric)
	for _, w := range []*pipeline.WeighIn{s.Before, s.After} {
		if w != nil {
			row = append(row, w.ID, w.At.String())
		}
	}
	for _, f := range s.Flags {
		row = append(row, f.Code)
	}
	for _, p := range s.Parts {
		row = append(row, fmt.Sprint(p.Activity, len(p.Files)))
	}
	note, _ := json.Marshal(toNote(s.Note))
	return strings.Join(append(row, string(note), s.Zone), "|")
}

// derivedRows are the rows of a household, its sessions first and in order.
func derivedRows(h pipeline.Household, household string) ([]store.Derived, error) {
	var rows []store.Derived
	add := func(key, athlete string, at time.Time, status string, v any) error {
		body, err := json.Marshal(v)
		if err != nil {
			return fmt.Errorf("write %s: %w", key, err)
		}
		rows = append(rows, store.Derived{Key: key, Athlete: athlete, Start: at, Household: household,
			Status: status, Method: pipeline.Method, Body: body})
		return nil
	}
	for _, s := range h.Sessions {
		if err := add(s.Key, s.Athlete, s.Start, string(s.Status), s); err != nil {
			return nil, err
		}
	}
	for _, q := range h.Questions {
		if err := add(q.ID, q.Athlete, time.Time{}, rowQuestion, q); err != nil {
			return nil, err
		}
	}
	for _, n := range h.Scales {
		if err := add("scale/"+n.Scale, "", time.Time{}, rowScale, n); err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// derived is what the store holds derived, read back.
type derived struct {
	sessions  []pipeline.Session
	questions []match.Question
	scales    []match.ScaleNote
}

// selection is which sessions a person asks for.
type selection struct {
	athletes     []string
	since, until *time.Time
}

// readDerived reads derived rows back, sessions oldest first.
func (e *env) readDerived(ctx context.Context, st *store.Store, sel selection) (derived, error) {
	if err := e.catchUp(ctx, st); err != nil {
		return derived{}, err
	}
	rows, err := st.DerivedRows(ctx, store.Filter{Athletes: sel.athletes, Since: sel.since, Until: sel.until})
	if err != nil {
		return derived{}, err
	}
	var out derived
	for _, r := range rows {
		if err := out.add(r); err != nil {
			return out, fmt.Errorf("read %s: %w", r.Key, err)
		}
	}
	sort.SliceStable(out.sessions, func(i, j int) bool { return out.sessions[i].Start.Before(out.sessions[j].Start) })
	return out, nil
}

func (d *derived) add(r store.Derived) error {
	switch r.Status {
	case rowQuestion:
		d.questions = append(d.questions, match.Question{})
		return json.Unmarshal(r.Body, &d.questions[len(d.questions)-1])
	case rowScale:
		d.scales = append(d.scales, match.ScaleNote{})
		return json.Unmarshal(r.Body, &d.scales[len(d.scales)-1])
	}
	d.sessions = append(d.sessions, pipeline.Session{})
	return json.Unmarshal(r.Body, &d.sessions[len(d.sessions)-1])
}

// session is one session by its key or an older key of it.
func (e *env) session(ctx context.Context, st *store.Store, key string) (pipeline.Session, error) {
	all, err := e.readDerived(ctx, st, selection{})
	if err != nil {
		return pipeline.Session{}, err
	}
	for _, s := range all.sessions {
		if s.Key == key || slices.Contains(s.Aliases, key) {
			return s, nil
		}
	}
	return pipeline.Session{}, withHint(usagef("no session %q", key), "`saltpan sessions` lists them")
}
