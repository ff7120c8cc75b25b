package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
)

const (
	vacuumInto   = `VACUUM INTO ?`
	selectCounts = `SELECT 'change', count(*) FROM change
		UNION ALL SELECT 'retraction', count(*) FROM retraction
		UNION ALL SELECT 'source', count(*) FROM source
		UNION ALL SELECT 'athlete', count(*) FROM athlete
		UNION ALL SELECT 'trip', count(*) FROM trip
		UNION ALL SELECT 'scale', count(*) FROM scale
		UNION ALL SELECT 'activity', count(*) FROM activity
		UNION ALL SELECT 'weigh_in', count(*) FROM weigh_in
		UNION ALL SELECT 'weigh_in_change', count(*) FROM weigh_in_change
		UNION ALL SELECT 'background', count(*) FROM background
		UNION ALL SELECT 'note', count(*) FROM note
		UNION ALL SELECT 'screen', count(*) FROM screen
		UNION ALL SELECT 'consent', count(*) FROM consent
		UNION ALL SELECT 'sodium_test', count(*) FROM sodium_test
		UNION ALL SELECT 'answer', count(*) FROM answer
		UNION ALL SELECT 'correction', count(*) FROM correction
		UNION ALL SELECT 'weather', count(*) FROM weather
		UNION ALL SELECT 'session_key', count(*) FROM session_key
		UNION ALL SELECT 'digest', count(*) FROM digest
		UNION ALL SELECT 'session', count(*) FROM session
		UNION ALL SELECT 'meta', count(*) FROM meta`
)

// Backup writes a copy of the store to dst, a file that must not exist yet. The
// copy appears under its name only once it is on the disk and has been read
// back without a fault. Other processes wait with their writing meanwhile.
func (s *Store) Backup(ctx context.Context, dst string) error {
	if err := mustBeMissing(dst); err != nil {
		return err
	}
	// Holding the write lock keeps the row counts true until the copy is made.
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return reason(err)
	}
	defer tx.Rollback()
	want, err := counts(ctx, tx)
	if err != nil {
		return err
	}
	temp, err := copyBeside(ctx, s.db, dst, want)
	if err != nil {
		return fmt.Errorf("%q: %w", dst, err)
	}
	return publish(temp, dst)
}

// Restore puts the store in the file backup at dst. The backup is checked
// first; a store that is at dst already is replaced only if it holds no fact.
func Restore(ctx context.Context, backup, dst string) error {
	if _, err := os.Stat(backup); err != nil {
		return err
	}
	want, err := verify(ctx, backup)
	if err != nil {
		return fmt.Errorf("%q: %w", backup, err)
	}
	if err := mustBeEmpty(ctx, dst); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(dst), 0o700); err != nil {
		return err
	}
	db, err := sql.Open("sqlite", dsn(absolute(backup), reading()))
	if err != nil {
		return err
	}
	defer db.Close()
	temp, err := copyBeside(ctx, db, dst, want)
	if err != nil {
		return fmt.Errorf("%q: %w", dst, err)
	}
	return publish(temp, dst)
}

// copyBeside copies a data base into a new file in the folder of dst, on the
// disk and verified, and gives its name. VACUUM INTO takes an empty file, so
// the copy is never readable by others.
func copyBeside(ctx context.Context, db *sql.DB, dst string, want map[string]int) (temp string, err error) {
	f, err := os.CreateTemp(filepath.Dir(absolute(dst)), ".saltpan-*")
	if err != nil {
		return "", err
	}
	temp = f.Name()
	defer func() {
		if err != nil {
			os.Remove(temp)
		}
	}()
	if err := f.Close(); err != nil {
		return "", err
	}
	if _, err := db.ExecContext(ctx, vacuumInto, temp); err != nil {
		return "", reason(err)
	}
	if err := flush(temp, os.O_RDWR); err != nil {
		return "", err
	}
	got, err := verify(ctx, temp)
	if err == nil && !maps.Equal(got, want) {
		err = fmt.Errorf("the copy has other rows than the original: %v, wanted %v", got, want)
	}
	return temp, err
}

// verify reads a store file that nobody writes and gives its row counts. The
// error wraps ErrForeign or ErrNewer, or names the first fault.
func verify(ctx context.Context, path string) (map[string]int, error) {
	db, err := sql.Open("sqlite", dsn(absolute(path), reading()))
	if err != nil {
		return nil, err
	}
	defer db.Close()
	if version, err := stage(ctx, db); err != nil {
		return nil, reason(err)
	} else if version == 0 {
		return nil, fmt.Errorf("%w: the file is empty", ErrForeign)
	}
	found, err := faults(ctx, db)
	if err != nil {
		return nil, reason(err)
	}
	if len(found) > 0 {
		return nil, fmt.Errorf("%d faults, the first: %s", len(found), found[0])
	}
	return counts(ctx, db)
}

func counts(ctx context.Context, q querier) (map[string]int, error) {
	out := map[string]int{}
	_, err := collect(ctx, q, func(scan scanner) (none struct{}, err error) {
		var table string
		var n int
		err = scan(&table, &n)
		out[table] = n
		return none, err
	}, selectCounts)
	return out, err
}

func mustBeMissing(path string) error {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	return fmt.Errorf("%q is there already; choose another name or move it away", path)
}

// mustBeEmpty refuses a store with facts. It refuses a leftover log too: SQLite
// would play it back into the file that takes the old one's place.
func mustBeEmpty(ctx context.Context, path string) error {
	s, err := Open(ctx, path)
	if err == nil {
		var n map[string]int
		n, err = counts(ctx, s.db)
		if err = errors.Join(err, s.Close()); err == nil && n["change"] > 0 {
			return fmt.Errorf("%q holds %d changes; move it away or name another store", path, n["change"])
		}
	}
	if err != nil && !errors.Is(err, ErrNone) {
		return err
	}
	if _, err := os.Lstat(path + "-wal"); err == nil {
		return fmt.Errorf("%q: %w; if there is none, move %q away", path, ErrBusy, path+"-wal")
	}
	return nil
}

// publish gives a finished file its name and makes the name last.
func publish(temp, dst string) error {
	if err := os.Rename(temp, dst); err != nil {
		return errors.Join(err, os.Remove(temp))
	}
	if runtime.GOOS == "windows" { // where a folder cannot be synced
		return nil
	}
	return flush(filepath.Dir(absolute(dst)), os.O_RDONLY)
}

// flush brings a file or folder to the disk; SQLite does not for VACUUM INTO.
func flush(path string, flag int) error {
	f, err := os.OpenFile(path, flag, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// absolute is the path from the root, or as it is where the working folder is
// gone.
func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return path
}
