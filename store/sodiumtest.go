package store

import (
	"context"

	"saltpan/pipeline/record"
)

const (
	insertSodiumTest = `INSERT INTO sodium_test (change_id, athlete, at_utc_ms, concentration_mmol_per_l, method, site)
		VALUES (?, ?, ?, ?, ?, ?)`
	selectSodiumTest = `SELECT athlete, at_utc_ms, concentration_mmol_per_l, method, site
		FROM sodium_test WHERE change_id IN active_change
		ORDER BY at_utc_ms, id`
)

// PutSodiumTest adds a measured sodium concentration.
func (t *Tx) PutSodiumTest(s record.SodiumTest) error {
	_, err := t.fact(insertSodiumTest, s.Athlete, ms(s.At), s.Concentration, s.Method, s.Site)
	return err
}

func sodiumTests(ctx context.Context, q querier) ([]record.SodiumTest, error) {
	return collect(ctx, q, func(scan scanner) (s record.SodiumTest, err error) {
		var at int64
		err = scan(&s.Athlete, &at, &s.Concentration, &s.Method, &s.Site)
		s.At = moment(at)
		return s, err
	}, selectSodiumTest)
}
