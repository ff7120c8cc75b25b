package main

import (
	"fmt"

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
		}
		for a := range g.athletes { // a session may have moved: its key does not say whose it is now
			g.touched[a] = true
		}
		return nil
	}, nil
}
