package store

import (
	"context"
	"database/sql"
	"fmt"
)

const (
	selectIntegrity  = `SELECT integrity_check FROM pragma_integrity_check WHERE integrity_check <> 'ok'`
	selectOrphans    = `SELECT "table", rowid, parent FROM pragma_foreign_key_check`
	selectBlobs      = `SELECT activity_id, athlete, origin_path, samples_sha256, samples FROM activity ORDER BY id`
	selectSourceless = `SELECT activity_id, athlete, origin_path FROM activity WHERE origin_sha256 NOT IN (
		SELECT sha256 FROM source WHERE result = 'stored') ORDER BY id`
	selectUntold = `SELECT origin_path, origin_line FROM weigh_in WHERE id NOT IN (
		SELECT weigh_in_id FROM weigh_in_change) ORDER BY id`
	selectUnsettled = `SELECT id FROM change WHERE active = EXISTS (SELECT 1 FROM retraction
		WHERE retracts = change.id AND change_id IN active_change) ORDER BY id`
)

// Check looks for damage in the whole file and gives one sentence for each
// fault it finds, none if all is well.
func (s *Store) Check(ctx context.Context) ([]string, error) {
	tx, err := s.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, reason(err)
	}
	defer tx.Rollback()
	return faults(ctx, tx)
}

func faults(ctx context.Context, q querier) ([]string, error) {
	var all []string
	for _, look := range []func(context.Context, querier) ([]string, error){
		integrity, foreignKeys, blobs, sourceless, untold, unsettled,
	} {
		found, err := look(ctx, q)
		if err != nil {
			return all, err
		}
		all = append(all, found...)
	}
	return all, nil
}

// integrity is SQLite's own view of its pages and indexes.
func integrity(ctx context.Context, q querier) ([]string, error) {
	return collect(ctx, q, func(scan scanner) (text string, err error) {
		err = scan(&text)
		return "the file is damaged: " + text + "; restore a backup", err
	}, selectIntegrity)
}

// foreignKeys lists rows that refer to rows that do not exist.
func foreignKeys(ctx context.Context, q querier) ([]string, error) {
	return collect(ctx, q, func(scan scanner) (string, error) {
		var table, parent string
		var row sql.NullInt64
		err := scan(&table, &row, &parent)
		return fmt.Sprintf("row %d of table %s refers to a row of %s that does not exist", row.Int64, table, parent), err
	}, selectOrphans)
}

// blobs lists activities whose samples are not what was stored.
func blobs(ctx context.Context, q querier) ([]string, error) {
	var faults []string
	_, err := collect(ctx, q, func(scan scanner) (none struct{}, err error) {
		var id, athlete, path, sum string
		var blob []byte
		if err := scan(&id, &athlete, &path, &sum, &blob); err != nil {
			return none, err
		}
		if fault := blobFault(blob, sum); fault != "" {
			faults = append(faults, fmt.Sprintf("activity %q of %q from %q: %s; restore a backup", id, athlete, path, fault))
		}
		return none, nil
	}, selectBlobs)
	return faults, err
}

func blobFault(blob []byte, sum string) string {
	if hash(blob) != sum {
		return "the samples have another hash than when they were stored"
	}
	if _, err := unpack(blob); err != nil {
		return err.Error()
	}
	return ""
}

func sourceless(ctx context.Context, q querier) ([]string, error) {
	return collect(ctx, q, func(scan scanner) (string, error) {
		var id, athlete, path string
		err := scan(&id, &athlete, &path)
		return fmt.Sprintf("activity %q of %q: its file %q is not among the sources", id, athlete, path), err
	}, selectSourceless)
}

func untold(ctx context.Context, q querier) ([]string, error) {
	return collect(ctx, q, func(scan scanner) (string, error) {
		var path string
		var line int
		err := scan(&path, &line)
		return fmt.Sprintf("weigh-in %s:%d belongs to no change", path, line), err
	}, selectUntold)
}

func unsettled(ctx context.Context, q querier) ([]string, error) {
	return collect(ctx, q, func(scan scanner) (string, error) {
		var id int64
		err := scan(&id)
		return fmt.Sprintf("change %d counts although it was taken back, or the other way round", id), err
	}, selectUnsettled)
}
