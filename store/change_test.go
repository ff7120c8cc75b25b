package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"saltpan/pipeline/record"
)

func TestErrorKeepsNothing(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	stop := errors.New("stop")
	err := s.Change(ctx, t0, "test", "", func(t *Tx) error { return errors.Join(putRun(t, "feed"), stop) })
	if !errors.Is(err, stop) {
		t.Fatalf("got %v, want the error of the function", err)
	}
	if n, err := counts(ctx, s.db); err != nil || n["activity"]+n["source"]+n["change"] > 0 {
		t.Errorf("half a change was kept: %v, %v", n, err)
	}
}

func TestNothingWrittenIsNoChange(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	change(t, s, func(t *Tx) error {
		return errors.Join(t.PutSource(Source{Path: "a.jpg", Result: Refused, Reason: "unknown-format"}),
			t.PutKeys([]record.SessionKey{{Key: "k", Activity: "a"}}), t.PutWeighIns(nil))
	})
	if log, err := s.Log(ctx, 5); err != nil || len(log) != 0 {
		t.Errorf("log %+v, %v", log, err)
	}
}

func TestTheSameBoutTwiceIsRefused(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	change(t, s, func(t *Tx) error { return putRun(t, "feed") })
	if err := s.Change(ctx, t0, "test", "", func(t *Tx) error { return putRun(t, "feed") }); err == nil {
		t.Error("the same bout was stored twice")
	}
}

func TestNewerReadingSupersedes(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	change(t, s, func(t *Tx) error { return putRun(t, "feed") })
	old, _, err := s.SourceByHash(ctx, "feed", "ines")
	if err != nil {
		t.Fatal(err)
	}
	change(t, s, func(t *Tx) error {
		if err := t.Supersede(old.Change); err != nil {
			return err
		}
		if err := t.PutSource(Source{Path: "/in/feed.fit", SHA256: "feed", Reader: "fit/2", Result: Stored, Athlete: "ines"}); err != nil {
			return err
		}
		return t.PutActivity(record.Activity{ID: "feed:0", Athlete: "ines", Sport: record.Walking, Start: t0})
	})
	sport := func() string {
		f := facts(t, s)
		if len(f.Activities) != 1 {
			t.Fatalf("%d activities, want one", len(f.Activities))
		}
		return f.Activities[0].Sport
	}
	if got := sport(); got != record.Walking {
		t.Errorf("%s after the second reading", got)
	}
	if now, ok, err := s.SourceByHash(ctx, "feed", "ines"); !ok || err != nil || now.Reader != "fit/2" {
		t.Errorf("source %+v, %v", now, err)
	}
	if _, err := s.Undo(ctx, t0, 1); err != nil {
		t.Fatal(err)
	}
	if got := sport(); got != record.Running {
		t.Errorf("%s after undoing the second reading", got)
	}
}

// Content that is read again between an undo and the undoing of that undo is
// there twice in the file, but once in the facts.
func TestContentThatComesBackIsThereOnce(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	change(t, s, func(t *Tx) error { return putRun(t, "feed") })
	if _, err := s.Undo(ctx, t0, 1); err != nil {
		t.Fatal(err)
	}
	change(t, s, func(t *Tx) error { return putRun(t, "feed") })
	if _, err := s.Retract(ctx, t0, 2); err != nil {
		t.Fatal(err)
	}
	if f := facts(t, s); len(f.Activities) != 1 {
		t.Errorf("%d activities, want one", len(f.Activities))
	}
}

func TestRetractNamesAMissingChange(t *testing.T) {
	s := fresh(t)
	if _, err := s.Retract(context.Background(), t0, 12); err == nil {
		t.Error("a change that is not there was taken back")
	}
}

// told is a change of the model: it says a year, or takes others back.
type told struct {
	undo     bool
	retracts []int
}

// holds follows the definition: a change holds unless one that holds takes it back.
func holds(log []told, i int) bool {
	for j := i + 1; j < len(log); j++ {
		if slices.Contains(log[j].retracts, i) && holds(log, j) {
			return false
		}
	}
	return true
}

func TestUndoAgreesWithItsDefinition(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	rapid.Check(t, func(t *rapid.T) {
		if _, err := s.Undo(ctx, t0, 1000); err != nil { // what earlier rounds left
			t.Fatal(err)
		}
		last, err := s.Log(ctx, 1)
		if err != nil {
			t.Fatal(err)
		}
		var base int64
		if len(last) > 0 {
			base = last[0].ID
		}
		var log []told
		for range rapid.IntRange(1, 10).Draw(t, "steps") {
			log = step(t, s, base, log)
		}
		year := 0
		for i := range log {
			if !log[i].undo && holds(log, i) {
				year = i + 1
			}
		}
		got, there, err := s.Athlete(ctx, "ines")
		if err != nil || there != (year > 0) || got.Born != year {
			t.Fatalf("born %d (%v, %v), want %d after %+v", got.Born, there, err, year, log)
		}
		if found, err := s.Check(ctx); err != nil || len(found) > 0 {
			t.Fatalf("check: %v, %v", found, err)
		}
	})
}

// step does one thing to the store and to the model.
func step(t *rapid.T, s *Store, base int64, log []told) []told {
	ctx := context.Background()
	switch rapid.IntRange(0, 3).Draw(t, "what") {
	case 0:
		n := rapid.IntRange(1, 3).Draw(t, "undo")
		var targets []int
		for i := len(log) - 1; i >= 0 && len(targets) < n; i-- {
			if !log[i].undo && holds(log, i) {
				targets = append(targets, i)
			}
		}
		undone, err := s.Undo(ctx, t0, n)
		if err != nil || len(undone) != len(targets) {
			t.Fatalf("undone %+v, %v, want %v", undone, err, targets)
		}
		if len(targets) > 0 {
			log = append(log, told{undo: true, retracts: targets})
		}
	case 1:
		if len(log) == 0 {
			return log
		}
		i := rapid.IntRange(0, len(log)-1).Draw(t, "retract")
		if _, err := s.Retract(ctx, t0, base+1+int64(i)); err != nil {
			t.Fatal(err)
		}
		log = append(log, told{undo: true, retracts: []int{i}})
	default:
		err := s.Change(ctx, t0, "athlete set", fmt.Sprint(len(log)), func(tx *Tx) error {
			return tx.PutAthlete(record.Athlete{Key: "ines", Born: len(log) + 1})
		})
		if err != nil {
			t.Fatal(err)
		}
		log = append(log, told{})
	}
	return log
}
