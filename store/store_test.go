package store

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"saltpan/pipeline/record"
)

var t0 = time.Date(2026, 4, 12, 7, 3, 11, 0, time.UTC)

func fresh(t testing.TB) *Store {
	t.Helper()
	s, err := Create(context.Background(), filepath.Join(t.TempDir(), "store", "a.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func change(t testing.TB, s *Store, do func(*Tx) error) {
	t.Helper()
	if err := s.Change(context.Background(), t0, "test", "", do); err != nil {
		t.Fatal(err)
	}
}

func facts(t testing.TB, s *Store, athletes ...string) record.Facts {
	t.Helper()
	f, err := s.Facts(context.Background(), athletes...)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestUndoAndRedo(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	change(t, s, func(t *Tx) error { return t.PutAthlete(record.Athlete{Key: "ines", Zone: "Europe/Lisbon"}) })
	change(t, s, func(t *Tx) error { return t.PutAthlete(record.Athlete{Key: "ines", Zone: "Asia/Tokyo", Born: 1990}) })
	if _, err := s.Undo(ctx, t0, 1); err != nil {
		t.Fatal(err)
	}
	if a := facts(t, s).Athletes[0]; a.Zone != "Europe/Lisbon" || a.Born != 0 {
		t.Errorf("after undo: %+v", a)
	}
	log, err := s.Log(ctx, 10)
	if err != nil || len(log) != 3 || !log[1].Undone || log[2].Undone {
		t.Fatalf("log %+v, %v", log, err)
	}
	if _, err := s.Retract(ctx, t0, log[0].ID); err != nil {
		t.Fatal(err)
	}
	if a := facts(t, s).Athletes[0]; a.Zone != "Asia/Tokyo" || a.Born != 1990 {
		t.Errorf("after undoing the undo: %+v", a)
	}
}

func TestReplaceDerived(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	d := Derived{Key: "k", Athlete: "ines", Start: t0, Household: "h", Status: "complete", Method: "1", Body: []byte("{}")}
	if err := s.ReplaceDerived(ctx, "h", []Derived{d}); err != nil {
		t.Fatal(err)
	}
	rows, err := s.DerivedRows(ctx, Filter{Athletes: []string{"ines"}, Since: &t0})
	if err != nil || len(rows) != 1 || rows[0].Key != "k" || !rows[0].Start.Equal(t0) {
		t.Fatalf("%+v, %v", rows, err)
	}
	if log, err := s.Log(ctx, 10); err != nil || len(log) != 0 {
		t.Errorf("deriving made a change: %+v, %v", log, err)
	}
}
