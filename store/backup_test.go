package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"saltpan/pipeline/record"
)

// putRun stores one file with one run.
func putRun(t *Tx, sha string) error {
	if err := t.PutSource(Source{Path: "/in/" + sha + ".fit", SHA256: sha, Reader: "fit/1", Result: Stored, Kind: "fit", Athlete: "ines"}); err != nil {
		return err
	}
	return t.PutActivity(record.Activity{ID: sha + ":0", Athlete: "ines", Sport: record.Running, Start: t0, Elapsed: time.Hour,
		Samples: manySamples(300), Origin: record.Origin{Path: sha + ".fit", SHA256: sha, Reader: "fit/1"}})
}

func TestBackupAndRestore(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	change(t, s, func(t *Tx) error { return putRun(t, "feed") })
	dir := t.TempDir()
	backup, restored := filepath.Join(dir, "b.db"), filepath.Join(dir, "new", "a.db")
	if err := s.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(ctx, backup); err == nil {
		t.Error("a second backup took the place of the first")
	}
	if err := Restore(ctx, backup, restored); err != nil {
		t.Fatal(err)
	}
	r, err := Open(ctx, restored)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if got, want := facts(t, r), facts(t, s); !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if err := Restore(ctx, backup, s.Path()); err == nil || !strings.Contains(err.Error(), "1 changes") {
		t.Errorf("restoring over facts: %v", err)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 2 {
		t.Errorf("left over: %v, %v", entries, err)
	}
}

func TestRestoreOverAnEmptyStore(t *testing.T) {
	ctx := context.Background()
	s, empty := fresh(t), fresh(t)
	change(t, s, func(t *Tx) error { return putRun(t, "feed") })
	backup := filepath.Join(t.TempDir(), "b.db")
	if err := s.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	if err := Restore(ctx, backup, empty.Path()); !errors.Is(err, ErrBusy) {
		t.Errorf("restoring under an open store: %v, want ErrBusy", err)
	}
	empty.Close()
	if err := Restore(ctx, backup, empty.Path()); err != nil {
		t.Fatal(err)
	}
	r, err := Open(ctx, empty.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if f := facts(t, r); len(f.Activities) != 1 {
		t.Errorf("%+v", f)
	}
}

func TestRestoreRefusesWhatIsNoBackup(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	text, other, dst := filepath.Join(dir, "text"), filepath.Join(dir, "other.db"), filepath.Join(dir, "a.db")
	if err := os.WriteFile(text, []byte("no data base"), 0o600); err != nil {
		t.Fatal(err)
	}
	raw(t, other, "CREATE TABLE x (a)")
	for _, path := range []string{text, other} {
		if err := Restore(ctx, path, dst); !errors.Is(err, ErrForeign) {
			t.Errorf("%s: %v, want ErrForeign", filepath.Base(path), err)
		}
	}
	if err := Restore(ctx, filepath.Join(dir, "none"), dst); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a missing backup: %v", err)
	}
	if _, err := os.Stat(dst); err == nil {
		t.Error("something was restored")
	}
}

func TestBackupOfAStoreBeingWritten(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	writer, err := Open(ctx, s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer writer.Close()
	stop, done := make(chan struct{}), make(chan error)
	go func() {
		for i := 0; ; i++ {
			select {
			case <-stop:
				done <- nil
				return
			case <-time.After(2 * time.Millisecond): // about what reading a file takes
			}
			err := writer.Change(ctx, t0, "ingest", "", func(t *Tx) error { return putRun(t, fmt.Sprint(i)) })
			if err != nil {
				done <- err
				return
			}
		}
	}()
	last := 0
	for i := range 5 {
		backup := filepath.Join(t.TempDir(), fmt.Sprint(i))
		if err := s.Backup(ctx, backup); err != nil {
			t.Fatal(err)
		}
		n, err := verify(ctx, backup)
		if err != nil || n["change"] < last || n["activity"] != n["change"] || n["source"] != n["change"] {
			t.Errorf("copy %d holds %v, %v", i, n, err)
		}
		last = n["change"]
	}
	close(stop)
	if err := <-done; err != nil {
		t.Error(err)
	}
}

func TestCountsNameEveryTable(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	n, err := counts(ctx, s.db)
	if err != nil {
		t.Fatal(err)
	}
	tables, err := collect(ctx, s.db, func(scan scanner) (name string, err error) {
		return name, scan(&name)
	}, "SELECT name FROM sqlite_schema WHERE type = 'table'")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range tables {
		if _, ok := n[name]; !ok {
			t.Errorf("rows of %s are not compared", name)
		}
	}
}

// flip changes one bit of a closed store where a piece of text or blob stands.
func flip(t *testing.T, path string, piece []byte) {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	i := bytes.Index(content, piece)
	if i < 0 {
		t.Fatal("the piece is not in the file")
	}
	content[i+len(piece)/2] ^= 4
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestCheckFindsAFlippedBit(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	change(t, s, func(t *Tx) error { return putRun(t, "feed") })
	if found, err := s.Check(ctx); err != nil || len(found) > 0 {
		t.Fatalf("check of a sound store: %v, %v", found, err)
	}
	blob, _, err := pack(manySamples(300))
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	flip(t, s.Path(), blob[40:72])
	s, err = Open(ctx, s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	found, err := s.Check(ctx)
	if err != nil || len(found) != 1 || !strings.Contains(found[0], "feed:0") {
		t.Errorf("check found %q, %v", found, err)
	}
	if err := s.Backup(ctx, filepath.Join(t.TempDir(), "b.db")); err == nil {
		t.Error("a damaged store was backed up as if it were sound")
	}
}

func TestCheckFindsBrokenRules(t *testing.T) {
	ctx := context.Background()
	for statement, want := range map[string]string{
		"DELETE FROM source":                  "is not among the sources",
		"UPDATE change SET active = 0":        "change 1 counts",
		"DELETE FROM weigh_in_change":         "belongs to no change",
		"UPDATE activity SET change_id = 77":  "row 1 of table activity",
		"UPDATE activity SET samples = x'00'": "another hash",
	} {
		s := fresh(t)
		change(t, s, func(t *Tx) error {
			return errors.Join(putRun(t, "feed"), t.PutWeighIns([]record.WeighIn{{ID: "1", Scale: "bath", Mass: 60}}))
		})
		raw(t, s.Path(), statement)
		found, err := s.Check(ctx)
		if err != nil || len(found) == 0 || !strings.Contains(strings.Join(found, "\n"), want) {
			t.Errorf("%s: check found %q, %v", statement, found, err)
		}
	}
}
