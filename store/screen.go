package store

import (
	"context"
	"errors"

	"saltpan/pipeline/record"
)

const (
	insertScreen = `INSERT INTO screen (change_id, athlete, at_utc_ms, yes_1, yes_2, yes_3, yes_4, yes_5, safety_json)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`
	selectScreen = `SELECT athlete, at_utc_ms, yes_1, yes_2, yes_3, yes_4, yes_5, safety_json
		FROM screen WHERE change_id IN active_change
		ORDER BY at_utc_ms, id`
)

// PutScreen adds one set of answers to the salt screen.
func (t *Tx) PutScreen(s record.Screen) error {
	safety, err := list(s.Safety)
	if err != nil {
		return err
	}
	_, err = t.fact(insertScreen, s.Athlete, ms(s.At), s.Yes[0], s.Yes[1], s.Yes[2], s.Yes[3], s.Yes[4], safety)
	return err
}

func screens(ctx context.Context, q querier) ([]record.Screen, error) {
	return collect(ctx, q, func(scan scanner) (s record.Screen, err error) {
		var at int64
		var safety *string
		err = scan(&s.Athlete, &at, &s.Yes[0], &s.Yes[1], &s.Yes[2], &s.Yes[3], &s.Yes[4], &safety)
		s.At = moment(at)
		return s, errors.Join(err, unlist(safety, &s.Safety))
	}, selectScreen)
}
