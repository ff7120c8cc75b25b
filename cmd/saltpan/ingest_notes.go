package main

import (
	"fmt"
	"strings"

	"saltpan/importers/importer"
	"saltpan/pipeline/record"
	"saltpan/store"
)

func (g *ingest) siftNotes(p piece, out *outcome) (func(*store.Tx) error, *importer.Problem) {
	var good []record.Note
	for _, n := range p.result.Notes {
		if !g.keys[n.Session] {
			out.problems = append(out.problems, importer.Problem{Code: importer.NoSession, Path: p.src.Path, Line: n.Origin.Line,
				Text: fmt.Sprintf("no session %q", n.Session), Hint: "`saltpan sessions` lists the keys; ingest the activity files first"})
			continue
		}
		n.At = g.e.now().UTC()
		good = append(good, n)
	}
	if len(good) == 0 {
		bad := out.problems[0]
		out.problems = out.problems[1:]
		return nil, &bad
	}
	return func(tx *store.Tx) error {
		for _, n := range good {
			if err := tx.PutNote(n); err != nil {
				return err
			}
			g.touchSession(n.Session)
		}
		return nil
	}, nil
}

// touchSession marks the athlete of a session key; keys begin with the athlete's.
func (g *ingest) touchSession(key string) {
	for a := range g.athletes {
		if strings.HasPrefix(key, a+"-") {
			g.touched[a] = true
		}
	}
}
