package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"

	"saltpan/pipeline/record"
)

func TestMissing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none.db")
	if _, err := Open(context.Background(), path); !errors.Is(err, ErrNone) {
		t.Errorf("got %v, want ErrNone", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("looking for a store made one")
	}
}

// refuse opens a file that is not for us and demands that it stays as it was.
func refuse(t *testing.T, path string, want error) {
	t.Helper()
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, open := range []func(context.Context, string) (*Store, error){Open, Create} {
		if _, err := open(context.Background(), path); !errors.Is(err, want) {
			t.Errorf("got %v, want %v", err, want)
		}
	}
	if after, err := os.ReadFile(path); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file was changed (%v)", err)
	}
}

func raw(t *testing.T, path, statements string) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(statements); err != nil {
		t.Fatal(err)
	}
}

func TestForeignFilesAreRefusedUntouched(t *testing.T) {
	dir := t.TempDir()
	other := filepath.Join(dir, "other.db")
	raw(t, other, "CREATE TABLE x (a); INSERT INTO x VALUES (1)")
	refuse(t, other, ErrForeign)

	marked := filepath.Join(dir, "marked.db")
	raw(t, marked, "PRAGMA application_id = 7; CREATE TABLE x (a)")
	refuse(t, marked, ErrForeign)

	for name, content := range map[string]string{"short": "hello", "long": string(bytes.Repeat([]byte("no data base "), 500))} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
		refuse(t, path, ErrForeign)
	}
	if _, err := Open(context.Background(), dir); !errors.Is(err, ErrForeign) {
		t.Errorf("a folder: got %v, want ErrForeign", err)
	}
}

func TestNewerIsRefusedUntouched(t *testing.T) {
	s := fresh(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	raw(t, s.Path(), "PRAGMA user_version = 99")
	refuse(t, s.Path(), ErrNewer)
}

func TestBusyIsNamed(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	options := writing()
	options.Set("_busy_timeout", "1")
	db, err := sql.Open("sqlite", dsn(s.Path(), options))
	if err != nil {
		t.Fatal(err)
	}
	hasty := &Store{db: db, path: s.Path()}
	defer hasty.Close()
	change(t, s, func(tx *Tx) error {
		if err := tx.PutAthlete(record.Athlete{Key: "ines"}); err != nil {
			return err
		}
		err := hasty.Change(ctx, t0, "test", "", func(*Tx) error { return nil })
		if !errors.Is(err, ErrBusy) {
			t.Errorf("got %v, want ErrBusy", err)
		}
		if _, err := hasty.Facts(ctx); err != nil {
			t.Errorf("reading beside a writer: %v", err)
		}
		return nil
	})
}

func TestEveryConnectionHasTheSettings(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	// The numbers are SQLite's own for these settings (its PRAGMA documentation).
	want := map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "10000",
		"trusted_schema": "0", "cell_size_check": "1", "secure_delete": "1"}
	for range maxConns {
		conn, err := s.db.Conn(ctx)
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close() // all of them are held until the end
		for name, value := range want {
			var got string
			if err := conn.QueryRowContext(ctx, "PRAGMA "+name).Scan(&got); err != nil || got != value {
				t.Errorf("%s is %q (%v), want %q", name, got, err, value)
			}
		}
	}
}

func TestOwnerOnly(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permissions are kept otherwise there")
	}
	s := fresh(t)
	change(t, s, func(t *Tx) error { return t.PutAthlete(record.Athlete{Key: "ines"}) })
	backup := filepath.Join(t.TempDir(), "b.db")
	if err := s.Backup(context.Background(), backup); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]os.FileMode{s.Path(): 0o600, s.Path() + "-wal": 0o600, s.Path() + "-shm": 0o600,
		backup: 0o600, filepath.Dir(s.Path()): 0o700} {
		info, err := os.Stat(path)
		if err != nil {
			t.Error(err)
		} else if got := info.Mode().Perm(); got != want {
			t.Errorf("%s is %o, want %o", filepath.Base(path), got, want)
		}
	}
}

func TestLaxFileIsClosedToOthers(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permissions are kept otherwise there")
	}
	s := fresh(t)
	s.Close()
	if err := os.Chmod(s.Path(), 0o644); err != nil {
		t.Fatal(err)
	}
	again, err := Open(context.Background(), s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if info, err := os.Stat(s.Path()); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
}

func TestPathWithOddCharacters(t *testing.T) {
	names := []string{"a b", "ü", "100%", "a&b=c", "#1", "%3F", "file:x", "a+b;c", "'q'"}
	if runtime.GOOS != "windows" {
		names = append(names, "what?mode=ro", `"q"`, "back\\slash")
	}
	for _, name := range names {
		path := filepath.Join(t.TempDir(), name, name+".db")
		s, err := Create(context.Background(), path)
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		change(t, s, func(t *Tx) error { return t.PutAthlete(record.Athlete{Key: "ines"}) })
		backup := filepath.Join(filepath.Dir(path), "b "+name)
		if err := s.Backup(context.Background(), backup); err != nil {
			t.Errorf("%q: backup: %v", name, err)
		}
		s.Close()
		entries, err := os.ReadDir(filepath.Dir(path))
		if err != nil || len(entries) != 2 {
			t.Errorf("%q: %v, %v; want the store and its copy", name, entries, err)
		}
		if info, err := os.Stat(path); err != nil || info.Size() == 0 {
			t.Errorf("%q: nothing was written there (%v)", name, err)
		}
	}
}

func TestEightAtOnceOnOneNewFile(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "new", "a.db")
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			s, err := Create(ctx, path)
			if err != nil {
				t.Error(err)
				return
			}
			defer s.Close()
			err = s.Change(ctx, t0, "test", "", func(t *Tx) error {
				_, known, err := t.SourceByHash("same", "")
				if known || err != nil {
					return err
				}
				if err := t.PutSource(Source{Path: "p", SHA256: "same", Result: Stored, Inode: uint64(i)}); err != nil {
					return err
				}
				return t.PutActivity(record.Activity{ID: "same:0", Athlete: "ines", Origin: record.Origin{SHA256: "same"}})
			})
			if err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	s, err := Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if f := facts(t, s); len(f.Activities) != 1 {
		t.Errorf("%d activities of one file", len(f.Activities))
	}
	if found, err := s.Check(ctx); err != nil || len(found) > 0 {
		t.Errorf("check: %v, %v", found, err)
	}
}
