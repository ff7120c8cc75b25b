package store

import "context"

const (
	insertDigest = `INSERT OR REPLACE INTO digest (activity_id, method, body) VALUES (?, ?, ?)`
	selectDigest = `SELECT activity_id, body FROM digest WHERE method = ?`
	deleteDigest = `DELETE FROM digest WHERE method <> ?`
)

// PutDigests keeps what a method made of the samples of activities, by activity
// ID, so that they need not be read again. Digests of other methods go.
func (s *Store) PutDigests(ctx context.Context, method string, bodies map[string][]byte) error {
	return s.derive(ctx, func(t *Tx) error {
		if _, err := t.run(deleteDigest, method); err != nil {
			return err
		}
		for id, body := range bodies {
			if _, err := t.run(insertDigest, id, method, body); err != nil {
				return err
			}
		}
		return nil
	})
}

// Digests is every digest of a method, by activity ID.
func (s *Store) Digests(ctx context.Context, method string) (map[string][]byte, error) {
	out := map[string][]byte{}
	_, err := collect(ctx, s.db, func(scan scanner) (struct{}, error) {
		var id string
		var body []byte
		err := scan(&id, &body)
		out[id] = body
		return struct{}{}, err
	}, selectDigest, method)
	return out, err
}
