package store

import (
	"bytes"
	"context"
	"errors"
	"os"
	"reflect"
	"testing"

	"saltpan/pipeline/record"
)

// everything about an athlete, with the key in each place that can hold one.
func everything(t *Tx, key string) error {
	run := record.Activity{ID: key + ":0", Athlete: key, Start: t0, Samples: manySamples(50),
		Origin: record.Origin{Path: key + ".fit", SHA256: key, Reader: "fit/1"}}
	return errors.Join(
		t.PutAthlete(record.Athlete{Key: key, Name: key, Trips: []record.Trip{{Zone: "UTC"}}}),
		t.PutScale(record.Scale{Key: "of-" + key, Athletes: []string{key}}),
		t.AddBackground("of-"+key, map[[2]int]int{{60, 7}: 1}),
		t.PutSource(Source{Path: key + ".fit", SHA256: key, Result: Stored, Athlete: key}), t.PutActivity(run),
		t.PutKeys([]record.SessionKey{{Key: key + "-2026", Activity: run.ID}}),
		t.PutNote(record.Note{Session: key + "-2026", Felt: key}),
		t.PutAnswer(record.Answer{Session: key + "-2026", Choice: "a"}),
		t.PutCorrection(record.Correction{Kind: record.Split, Activities: []string{run.ID}}),
		t.PutScreen(record.Screen{Athlete: key}), t.PutSodiumTest(record.SodiumTest{Athlete: key}),
		t.PutWeighIns([]record.WeighIn{{Scale: "of-" + key, Person: key}, {Scale: "hall", Athlete: key}, {Scale: "hall"}}))
}

func TestEraseLeavesNoTraceAndNothingElseTouched(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	for _, key := range []string{"ines", "quixote"} {
		err := s.Change(ctx, t0, "ingest", key+".fit", func(t *Tx) error { return everything(t, key) })
		if err != nil {
			t.Fatal(err)
		}
		if err := s.ReplaceDerived(ctx, key, []Derived{{Key: key + "-2026", Athlete: key, Body: []byte(key)}}); err != nil {
			t.Fatal(err)
		}
	}
	change(t, s, func(t *Tx) error { return t.PutScale(record.Scale{Key: "hall", Athletes: []string{"ines", "quixote"}}) })
	before := facts(t, s, "ines")
	if err := s.PutDigests(ctx, "1", map[string][]byte{"quixote:0": {1}, "ines:0": {1}}); err != nil {
		t.Fatal(err)
	}
	if err := s.Erase(ctx, "quixote"); err != nil {
		t.Fatal(err)
	}
	for _, suffix := range []string{"", "-wal"} {
		content, err := os.ReadFile(s.Path() + suffix)
		if err != nil && suffix == "" {
			t.Fatal(err)
		}
		if bytes.Contains(content, []byte("quixote")) {
			t.Errorf("the name is still in the file%s", suffix)
		}
	}
	if found, err := s.Check(ctx); err != nil || len(found) > 0 {
		t.Errorf("check: %v, %v", found, err)
	}
	after := facts(t, s, "ines")
	before.Scales[0].Athletes = []string{"ines"} // the hall's, shared before
	before.WeighIns = keep(before.WeighIns, func(w record.WeighIn) bool { return w.Athlete != "quixote" })
	if !reflect.DeepEqual(before, after) {
		t.Errorf("got  %+v\nwant %+v", after, before)
	}
	if rows, err := s.DerivedRows(ctx, Filter{}); err != nil || len(rows) != 1 {
		t.Errorf("derived %+v, %v", rows, err)
	}
}
