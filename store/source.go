package store

import (
	"context"
	"database/sql"
	"errors"
)

// Result is how an input ended.
type Result string

// The ends of an input; each has exactly one.
const (
	Stored  Result = "stored"  // facts were taken
	Known   Result = "known"   // its content was there already
	Skipped Result = "skipped" // a kind we know that holds nothing for us
	Refused Result = "refused" // nothing was taken, for the reason given
)

// Source is one input that was looked at: a file or a member of an archive.
type Source struct {
	// Path is where the file lies; "!" stands between an archive and its member.
	Path      string
	SizeBytes int64
	MtimeNS   int64
	Inode     uint64
	SHA256    string
	Reader    string // importer and version, "fit/1"
	Result    Result
	Kind      string
	Athlete   string // whose it was taken to be, empty for a scale's file
	Reason    string // why it was skipped or refused
	// Change is the change that stored the content, 0 if no fact was taken. A
	// known source names the one it relies on, or 0 to have it found by hash.
	Change int64
}

const (
	insertSource = `INSERT INTO source (path, size_bytes, mtime_ns, inode, sha256, reader, result, kind, athlete,
		reason, change_id) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
	deleteSource = `DELETE FROM source WHERE path = ? AND athlete = ? AND result <> 'stored'`
	selectHash   = `SELECT path, size_bytes, mtime_ns, inode, sha256, reader, result, kind, athlete, reason,
		coalesce(change_id, 0)
		FROM source WHERE sha256 = ? AND athlete = ? AND result = 'stored'
		AND (SELECT active FROM change WHERE id = change_id) ORDER BY id DESC LIMIT 1`
	// An archive is known only as long as all that it brought is there.
	selectStat = `SELECT path, size_bytes, mtime_ns, inode, sha256, reader, result, kind, athlete, reason,
		coalesce(change_id, 0)
		FROM source WHERE path = ?1 AND size_bytes = ?2 AND mtime_ns = ?3 AND inode = ?4
		AND (change_id IS NULL OR (SELECT active FROM change WHERE id = change_id))
		AND NOT EXISTS (SELECT 1 FROM source m WHERE path > ?1 || '!' AND path < ?1 || '"'
			AND NOT (SELECT active FROM change WHERE id = change_id) AND NOT EXISTS (
				SELECT 1 FROM source n WHERE n.path = m.path AND n.athlete = m.athlete
				AND (SELECT active FROM change WHERE id = n.change_id)))
		ORDER BY id DESC LIMIT 1`
	selectSources = `SELECT path, size_bytes, mtime_ns, inode, sha256, reader, result, kind, athlete, reason,
		coalesce(change_id, 0)
		FROM source WHERE change_id IS NULL OR change_id IN active_change ORDER BY id`
)

// PutSource keeps how an input ended. A stored one belongs to this change; of
// the others only the last look at a path is kept, and they make no change.
func (t *Tx) PutSource(s Source) error {
	var change *int64
	var err error
	switch s.Result {
	case Stored:
		var id int64
		id, err = t.changeID()
		change = &id
	case Known:
		change, err = t.stored(s)
	}
	if err != nil {
		return err
	}
	if _, err := t.run(deleteSource, s.Path, s.Athlete); err != nil {
		return err
	}
	_, err = t.run(insertSource, s.Path, s.SizeBytes, s.MtimeNS, int64(s.Inode), s.SHA256, s.Reader, s.Result,
		s.Kind, s.Athlete, s.Reason, change)
	return err
}

// stored is the change that a known source relies on.
func (t *Tx) stored(s Source) (*int64, error) {
	if s.Change != 0 {
		return &s.Change, nil
	}
	earlier, ok, err := t.SourceByHash(s.SHA256, s.Athlete)
	if !ok || err != nil {
		return nil, err
	}
	return &earlier.Change, nil
}

// SourceByHash is the stored source with the same content for the same
// athlete; the bool says whether there is one.
func (s *Store) SourceByHash(ctx context.Context, sha256, athlete string) (Source, bool, error) {
	return sourceWhere(ctx, s.db, selectHash, sha256, athlete)
}

// SourceByHash is Store.SourceByHash inside the change, where no other process
// can store the same content in the meantime.
func (t *Tx) SourceByHash(sha256, athlete string) (Source, bool, error) {
	return sourceWhere(t.ctx, t.tx, selectHash, sha256, athlete)
}

// SourceByStat is the last look at a file that has not changed since by its
// size, time and inode; the bool says whether there is one that still holds.
func (s *Store) SourceByStat(ctx context.Context, path string, sizeBytes, mtimeNS int64, inode uint64) (Source, bool, error) {
	stmt, err := s.byStat()
	if err != nil {
		return Source{}, false, reason(err)
	}
	return sourceOf(stmt.QueryRowContext(ctx, path, sizeBytes, mtimeNS, int64(inode)))
}

// Sources is every source that still holds, in the order they were looked at.
func (s *Store) Sources(ctx context.Context) ([]Source, error) {
	return collect(ctx, s.db, scanSource, selectSources)
}

func sourceWhere(ctx context.Context, q querier, query string, args ...any) (Source, bool, error) {
	return sourceOf(q.QueryRowContext(ctx, query, args...))
}

func sourceOf(row *sql.Row) (Source, bool, error) {
	s, err := scanSource(row.Scan)
	if errors.Is(err, sql.ErrNoRows) {
		return Source{}, false, nil
	}
	return s, err == nil, reason(err)
}

func scanSource(scan scanner) (s Source, err error) {
	var inode int64
	err = scan(&s.Path, &s.SizeBytes, &s.MtimeNS, &inode, &s.SHA256, &s.Reader, &s.Result, &s.Kind, &s.Athlete,
		&s.Reason, &s.Change)
	s.Inode = uint64(inode)
	return s, err
}
