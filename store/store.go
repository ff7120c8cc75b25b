package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Reasons why a store cannot be used; every error for one of them wraps it.
var (
	// ErrNone says that there is no store at the path.
	ErrNone = errors.New("no store here")
	// ErrBusy says that another process holds the store for too long.
	ErrBusy = errors.New("store is in use by another process")
	// ErrNewer says that a later version of the program wrote the store.
	ErrNewer = errors.New("store was written by a newer version")
	// ErrForeign says that the file is not a store of this program.
	ErrForeign = errors.New("not a store of this program")
)

// maxConns bounds the pool: one writer at a time is all SQLite allows, and a
// few readers beside it are all that a command needs.
const maxConns = 4

// Store is an open store file. Its methods may be called from several
// goroutines.
type Store struct {
	db   *sql.DB
	path string
	// byStat is selectStat, prepared once: it is asked of every file.
	byStat func() (*sql.Stmt, error)
}

// Open opens the store at path, migrating it to this version if it is older.
// The error wraps ErrNone if there is no file, ErrForeign, ErrNewer or ErrBusy.
func Open(ctx context.Context, path string) (*Store, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%q: %w", path, ErrNone)
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%q: %w: it is a folder", path, ErrForeign)
	}
	return open(ctx, path)
}

// Create opens the store at path and makes it first if it is missing, readable
// by its owner alone: folder 0700, file 0600. Errors as in Open.
func Create(ctx context.Context, path string) (*Store, error) {
	if err := makePrivate(path); err != nil {
		return nil, err
	}
	return open(ctx, path)
}

// makePrivate makes an empty file before SQLite would make one that anybody
// can read. A file that exists is not opened: closing it again would drop the
// locks this process holds on it.
func makePrivate(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return nil
	} else if err != nil {
		return err
	}
	return f.Close()
}

func open(ctx context.Context, path string) (*Store, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	if err := recognise(ctx, abs); err != nil {
		return nil, at(path, err)
	}
	if err := os.Chmod(abs, 0o600); err != nil {
		return nil, err
	}
	db, err := sql.Open("sqlite", dsn(abs, writing()))
	if err != nil {
		return nil, at(path, err)
	}
	db.SetMaxOpenConns(maxConns)
	s := &Store{db: db, path: path, byStat: sync.OnceValues(func() (*sql.Stmt, error) { return db.Prepare(selectStat) })}
	if err := migrate(ctx, db, migrations()); err != nil {
		return nil, at(path, errors.Join(err, db.Close()))
	}
	return s, nil
}

// recognise looks at a file without changing it, so that a data base of
// another program is left as it is.
func recognise(ctx context.Context, abs string) error {
	db, err := sql.Open("sqlite", dsn(abs, reading()))
	if err != nil {
		return err
	}
	defer db.Close()
	_, err = stage(ctx, db)
	return err
}

// Close closes the store.
func (s *Store) Close() error { return s.db.Close() }

// Path is the file the store was opened from.
func (s *Store) Path() string { return s.path }

// writing are the settings of every connection of an open store.
func writing() url.Values {
	v := reading()
	v.Del("mode")
	v.Set("_txlock", "immediate")
	v.Set("_journal_mode", "WAL")
	v.Set("_synchronous", "FULL")
	v.Set("_foreign_keys", "on")
	v.Add("_pragma", "secure_delete(on)")
	return v
}

// reading are the settings of a connection that only looks.
func reading() url.Values {
	v := url.Values{}
	v.Set("mode", "ro")
	v.Set("_busy_timeout", "10000")
	v.Set("_defensive", "1")
	v.Set("_dqs", "0")
	v.Add("_pragma", "trusted_schema(off)")
	v.Add("_pragma", "cell_size_check(on)")
	return v
}

// dsn is always a file: URI; in a plain name SQLite would not see the options
// and would cut the name at a question mark.
func dsn(abs string, options url.Values) string {
	escaped := (&url.URL{Path: filepath.ToSlash(abs)}).EscapedPath()
	if !strings.HasPrefix(escaped, "/") { // a drive letter
		escaped = "/" + escaped
	}
	u := url.URL{Scheme: "file", Opaque: escaped, RawQuery: options.Encode()}
	return u.String()
}

// at adds the path to an error and names its reason.
func at(path string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%q: %w", path, reason(err))
}

// reason wraps the reason that an SQLite result code stands for.
func reason(err error) error {
	var se *sqlite.Error
	if errors.Is(err, ErrBusy) || errors.Is(err, ErrForeign) || !errors.As(err, &se) {
		return err
	}
	switch se.Code() & 0xff { // extended codes keep the primary one in the low byte
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return fmt.Errorf("%w: %w", ErrBusy, err)
	case sqlite3.SQLITE_NOTADB:
		return fmt.Errorf("%w: %w", ErrForeign, err)
	case sqlite3.SQLITE_CANTOPEN:
		return fmt.Errorf("cannot open the file: %w", err)
	}
	return err
}
