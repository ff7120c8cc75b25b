package store

import (
	"context"
	"math"
	"time"
)

// Derived is one derived session. It can be thrown away: the facts give the
// same bytes again.
type Derived struct {
	Key     string // session key
	Athlete string
	Start   time.Time
	// Household names the athletes derived together.
	Household string
	Status    string
	Method    string // version of the method
	Body      []byte
}

// Filter chooses derived sessions; empty fields choose all.
type Filter struct {
	Athletes []string
	// Since is included, Until is not; both bound the start.
	Since, Until *time.Time
}

const (
	deleteDerived = `DELETE FROM session WHERE household = ?`
	// A session can have moved here from a household that is derived next.
	insertDerived = `INSERT OR REPLACE INTO session (key, athlete, start_utc_ms, household, status, method, body)
		VALUES (?, ?, ?, ?, ?, ?, ?)`
	selectDerived = `SELECT key, athlete, start_utc_ms, household, status, method, body FROM session
		WHERE (?1 IS NULL OR athlete IN (SELECT value FROM json_each(?1)))
		AND start_utc_ms >= ?2 AND start_utc_ms < ?3 ORDER BY start_utc_ms, key`
	selectDerivedKey = `SELECT key, athlete, start_utc_ms, household, status, method, body FROM session WHERE key = ?`
)

// ReplaceDerived puts the sessions of a household in place of all that were
// derived for it before.
func (s *Store) ReplaceDerived(ctx context.Context, household string, rows []Derived) error {
	return s.derive(ctx, func(t *Tx) error {
		if _, err := t.run(deleteDerived, household); err != nil {
			return err
		}
		for _, d := range rows {
			if _, err := t.run(insertDerived, d.Key, d.Athlete, ms(d.Start), household, d.Status, d.Method, d.Body); err != nil {
				return err
			}
		}
		return nil
	})
}

// derive runs do in a transaction that writes no fact.
func (s *Store) derive(ctx context.Context, do func(*Tx) error) error {
	return s.Change(ctx, time.Time{}, "", "", do)
}

// DerivedRows is the derived sessions that a filter chooses, oldest first.
func (s *Store) DerivedRows(ctx context.Context, f Filter) ([]Derived, error) {
	since, until := int64(math.MinInt64), int64(math.MaxInt64)
	if f.Since != nil {
		since = ms(*f.Since)
	}
	if f.Until != nil {
		until = ms(*f.Until)
	}
	athletes, err := list(f.Athletes)
	if err != nil {
		return nil, err
	}
	return collect(ctx, s.db, scanDerived, selectDerived, athletes, since, until)
}

// DerivedByKey is the derived session with a key; the bool says whether there
// is one. Aliases are not followed.
func (s *Store) DerivedByKey(ctx context.Context, key string) (Derived, bool, error) {
	rows, err := collect(ctx, s.db, scanDerived, selectDerivedKey, key)
	if err != nil || len(rows) == 0 {
		return Derived{}, false, err
	}
	return rows[0], true, nil
}

func scanDerived(scan scanner) (d Derived, err error) {
	var start int64
	err = scan(&d.Key, &d.Athlete, &start, &d.Household, &d.Status, &d.Method, &d.Body)
	d.Start = moment(start)
	return d, err
}
