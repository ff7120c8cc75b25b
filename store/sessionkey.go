package store

import (
	"context"

	"saltpan/pipeline/record"
)

const (
	insertSessionKey = `INSERT OR IGNORE INTO session_key (key, activity_id) VALUES (?, ?)`
	// Keys of activities that were retracted wait for them to come back.
	selectSessionKey = `SELECT key, activity_id FROM session_key WHERE activity_id IN (
		SELECT activity_id FROM activity WHERE change_id IN active_change)
		ORDER BY key, activity_id`
)

// PutKeys keeps the keys of sessions derived for the first time. Keys are given
// once and stay, so they belong to no change and no undo takes them back.
func (t *Tx) PutKeys(keys []record.SessionKey) error {
	for _, k := range keys {
		if _, err := t.run(insertSessionKey, k.Key, k.Activity); err != nil {
			return err
		}
	}
	return nil
}

func sessionKeys(ctx context.Context, q querier) ([]record.SessionKey, error) {
	return collect(ctx, q, func(scan scanner) (k record.SessionKey, err error) {
		return k, scan(&k.Key, &k.Activity)
	}, selectSessionKey)
}
