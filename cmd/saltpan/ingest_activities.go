package main

import (
	"slices"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/pipeline/record"
	"saltpan/pipeline/session"
	"saltpan/store"
)

func (g *ingest) siftActivities(p piece, out *outcome) (func(*store.Tx) error, *importer.Problem) {
	who := g.whose(p.in)
	if who == "" {
		return nil, &importer.Problem{Code: importer.NoAthlete, Path: p.src.Path, Text: "nobody says whose session this is",
			Hint: "name the athlete with --athlete KEY, or sort the files into folders and use --by-folder"}
	}
	for i := range p.result.Activities { // two athletes may hold the same file; a correction is of one of them
		p.result.Activities[i].ID += "@" + who
	}
	fresh := 0
	var of []string
	for _, a := range p.result.Activities {
		if old, ok := g.bouts.same(a); !ok || old.Salvaged != "" && a.Salvaged == "" {
			fresh++
		} else {
			of = append(of, old.Origin.Path)
		}
		if a.Salvaged != "" {
			out.Reason = "salvaged: " + a.Salvaged
		}
	}
	if again := g.byHash[p.src.SHA256+" "+who]; again.SHA256 != "" {
		out.Result, out.Reason = known, "read again"
	} else if fresh == 0 {
		out.Result, out.Reason = known, "the same session as "+strings.Join(slices.Compact(of), ", ")
	}
	return func(tx *store.Tx) error {
		for _, a := range p.result.Activities {
			if err := tx.PutActivity(a); err != nil {
				return err
			}
			g.bouts.add(a)
		}
		g.touched[who] = true
		return nil
	}, nil
}

// boutsByAthlete are the activities known so far, by athlete and day.
type boutsByAthlete map[string][]record.Activity

func bucket(athlete string, t time.Time) string { return athlete + t.UTC().Format(" 2006-01-02") }

func (b boutsByAthlete) add(a record.Activity) {
	a.Samples = nil
	key := bucket(a.Athlete, a.Start)
	b[key] = append(b[key], a)
	if end := bucket(a.Athlete, a.Stop()); end != key {
		b[end] = append(b[end], a)
	}
}

func (b boutsByAthlete) same(a record.Activity) (record.Activity, bool) {
	for _, at := range []time.Time{a.Start, a.Stop()} {
		for _, old := range b[bucket(a.Athlete, at)] {
			if old.ID != a.ID && session.Same(old, a) {
				return old, true
			}
		}
	}
	return record.Activity{}, false
}
