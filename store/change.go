package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
)

// undoCommand is the command of the changes that Undo makes.
const undoCommand = "undo"

// Change is one entry of the log: all facts that one command, or one input of
// an ingest, brought.
type Change struct {
	ID      int64
	At      time.Time
	Command string
	Text    string
	// Undone says that a later change took it back.
	Undone bool
}

// Tx is a change being made. It is valid only inside the function given to
// Store.Change.
type Tx struct {
	ctx    context.Context
	tx     *sql.Tx
	change Change // ID is 0 until the first fact is written
	stmts  map[string]*sql.Stmt
}

const (
	insertChange     = `INSERT INTO change (at_utc_ms, command, text) VALUES (?, ?, ?)`
	insertRetraction = `INSERT OR IGNORE INTO retraction (change_id, retracts) VALUES (?, ?)`
	selectLog        = `SELECT id, at_utc_ms, command, text, active FROM change ORDER BY id DESC LIMIT ?`
	selectUndoable   = `SELECT id, at_utc_ms, command, text, active FROM change
		WHERE active AND command <> 'undo' ORDER BY id DESC LIMIT ?`
	selectChange = `SELECT id, at_utc_ms, command, text, active FROM change WHERE id = ?`
	// What a change takes back, what that had taken back, and so on. A change is
	// settled after all that can take it back: they are later.
	selectAffected = `WITH RECURSIVE affected (id) AS (
		SELECT retracts FROM retraction WHERE change_id = ?
		UNION SELECT retracts FROM retraction JOIN affected ON change_id = affected.id)
		SELECT id FROM affected ORDER BY id DESC`
	updateActive = `UPDATE change SET active = NOT EXISTS (
		SELECT 1 FROM retraction JOIN change c ON c.id = change_id AND c.active WHERE retracts = change.id) WHERE id = ?`
)

// Change runs do in one transaction and commits what it wrote as one change.
// If do returns an error nothing is kept; if it writes no fact there is no
// change either. The error wraps ErrBusy when another process holds the store.
func (s *Store) Change(ctx context.Context, at time.Time, command, text string, do func(*Tx) error) error {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return reason(err)
	}
	defer tx.Rollback()
	t := &Tx{ctx: ctx, tx: tx, change: Change{At: at, Command: command, Text: text}, stmts: map[string]*sql.Stmt{}}
	if err := do(t); err != nil {
		return err
	}
	return reason(tx.Commit())
}

// changeID makes the change row when the first fact needs it.
func (t *Tx) changeID() (int64, error) {
	if t.change.ID != 0 {
		return t.change.ID, nil
	}
	id, err := t.run(insertChange, ms(t.change.At), t.change.Command, t.change.Text)
	t.change.ID = id
	return id, err
}

// fact runs an INSERT whose first argument is the change.
func (t *Tx) fact(query string, args ...any) (int64, error) {
	id, err := t.changeID()
	if err != nil {
		return 0, err
	}
	return t.run(query, append([]any{id}, args...)...)
}

// run executes a statement and gives the id of the row it inserted.
func (t *Tx) run(query string, args ...any) (int64, error) {
	stmt, ok := t.stmts[query]
	if !ok {
		var err error
		if stmt, err = t.tx.PrepareContext(t.ctx, query); err != nil {
			return 0, reason(err)
		}
		t.stmts[query] = stmt
	}
	res, err := stmt.ExecContext(t.ctx, args...)
	if err != nil {
		return 0, reason(err)
	}
	return res.LastInsertId()
}

// Supersede takes back earlier changes in favour of this one: the same content
// read by a newer reader, or a fuller copy of a salvaged file. Undoing this
// change brings them back.
func (t *Tx) Supersede(changes ...int64) error {
	for _, c := range changes {
		if _, err := t.fact(insertRetraction, c); err != nil {
			return err
		}
	}
	return t.settle()
}

// settle works out anew which of the changes that this one bears on are active.
func (t *Tx) settle() error {
	ids, err := collect(t.ctx, t.tx, func(scan scanner) (id int64, err error) {
		return id, scan(&id)
	}, selectAffected, t.change.ID)
	for _, id := range ids {
		if err == nil {
			_, err = t.run(updateActive, id)
		}
	}
	return err
}

// Log is the last n changes, newest first.
func (s *Store) Log(ctx context.Context, n int) ([]Change, error) {
	return collect(ctx, s.db, scanChange, selectLog, n)
}

// Undo takes back the last n changes that still hold and are no undo
// themselves, and returns them, newest first. It is a change too: Retract
// takes it back.
func (s *Store) Undo(ctx context.Context, at time.Time, n int) ([]Change, error) {
	var undone []Change
	err := s.Change(ctx, at, undoCommand, "", func(t *Tx) error {
		var err error
		if undone, err = collect(ctx, t.tx, scanChange, selectUndoable, n); err != nil {
			return err
		}
		return t.retract(undone)
	})
	return undone, err
}

// Retract takes back the changes named, an undo among them: what that undo
// took back then holds again.
func (s *Store) Retract(ctx context.Context, at time.Time, ids ...int64) ([]Change, error) {
	var undone []Change
	err := s.Change(ctx, at, undoCommand, "", func(t *Tx) error {
		for _, id := range ids {
			c, err := scanChange(t.tx.QueryRowContext(ctx, selectChange, id).Scan)
			if errors.Is(err, sql.ErrNoRows) {
				return fmt.Errorf("there is no change %d; see the log for those there are", id)
			} else if err != nil {
				return reason(err)
			}
			undone = append(undone, c)
		}
		return t.retract(undone)
	})
	return undone, err
}

func (t *Tx) retract(changes []Change) error {
	if len(changes) == 0 {
		return nil
	}
	ids, names := make([]int64, len(changes)), make([]string, len(changes))
	for i := range changes {
		ids[i], changes[i].Undone = changes[i].ID, true
		names[i] = fmt.Sprint(changes[i].ID)
	}
	t.change.Text = strings.Join(names, " ")
	return t.Supersede(ids...)
}

func scanChange(scan scanner) (Change, error) {
	var c Change
	var at int64
	var active bool
	err := scan(&c.ID, &at, &c.Command, &c.Text, &active)
	c.At, c.Undone = moment(at), !active
	return c, err
}
