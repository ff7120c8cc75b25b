package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
)

// applicationID marks the file as ours: "Salt" in ASCII.
const applicationID = 0x53616c74

//go:embed migrations/*.sql
var migrationFiles embed.FS

// migrations are the embedded steps in the order of their numbers.
func migrations() []string {
	entries, err := migrationFiles.ReadDir("migrations")
	if err != nil {
		panic(err) // the folder is part of the program
	}
	var steps []string
	for _, e := range entries {
		text, err := migrationFiles.ReadFile("migrations/" + e.Name())
		if err != nil {
			panic(err)
		}
		steps = append(steps, string(text))
	}
	return steps
}

// querier is what a connection, a pool and a transaction have in common.
type querier interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

const selectApplication = `SELECT application_id, (SELECT user_version FROM pragma_user_version),
	(SELECT count(*) FROM sqlite_schema) FROM pragma_application_id`

// stage is how many migrations a file has seen; 0 for an empty file. The error
// wraps ErrForeign or ErrNewer.
func stage(ctx context.Context, q querier) (int, error) {
	var id, version, tables int
	if err := q.QueryRowContext(ctx, selectApplication).Scan(&id, &version, &tables); err != nil {
		return 0, err
	}
	switch latest := len(migrations()); {
	case id == 0 && version == 0 && tables == 0:
		return 0, nil
	case id != applicationID:
		return 0, ErrForeign
	case version > latest:
		return 0, fmt.Errorf("%w: version %d, this program knows %d; use the newer program", ErrNewer, version, latest)
	}
	return version, nil
}

// migrate runs the steps that the file has not seen, each in a transaction of
// its own.
func migrate(ctx context.Context, db *sql.DB, steps []string) error {
	for {
		n, err := stage(ctx, db)
		if err != nil || n >= len(steps) {
			return err
		}
		if err := migrateOne(ctx, db, steps); err != nil {
			return err
		}
	}
}

// migrateOne runs the next step. Which one that is has to be read again once
// the write lock is held: another process may have been faster.
func migrateOne(ctx context.Context, db *sql.DB, steps []string) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	n, err := stage(ctx, tx)
	if err != nil || n >= len(steps) {
		return err
	}
	if _, err := tx.ExecContext(ctx, steps[n]); err != nil {
		return fmt.Errorf("migration %d: %w", n+1, err)
	}
	mark := fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, n+1)
	if _, err := tx.ExecContext(ctx, mark); err != nil {
		return err
	}
	orphans, err := foreignKeys(ctx, tx)
	if err != nil {
		return err
	}
	if len(orphans) > 0 {
		return fmt.Errorf("migration %d: %s", n+1, orphans[0])
	}
	return tx.Commit()
}
