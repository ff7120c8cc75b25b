package store

import (
	"context"
	"database/sql"
	"errors"
)

const (
	insertMeta = `INSERT OR REPLACE INTO meta (key, value) VALUES (?, ?)`
	selectMeta = `SELECT value FROM meta WHERE key = ?`
)

// SetMeta keeps a word about the derived rows, such as the settings they were
// made with.
func (s *Store) SetMeta(ctx context.Context, key, value string) error {
	return s.derive(ctx, func(t *Tx) error {
		_, err := t.run(insertMeta, key, value)
		return err
	})
}

// Meta is what SetMeta kept, empty if nothing.
func (s *Store) Meta(ctx context.Context, key string) (string, error) {
	var value string
	err := s.db.QueryRowContext(ctx, selectMeta, key).Scan(&value)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return value, reason(err)
}
