package store

import (
	"context"
	"errors"

	"saltpan/pipeline/record"
)

const (
	insertCorrection = `INSERT INTO correction (change_id, kind, at_utc_ms, activities_json, weigh_in, athlete)
		VALUES (?, ?, ?, ?, ?, ?)`
	selectCorrection = `SELECT kind, at_utc_ms, activities_json, weigh_in, athlete
		FROM correction WHERE change_id IN active_change
		ORDER BY at_utc_ms, id`
)

// PutCorrection adds what a person put right.
func (t *Tx) PutCorrection(c record.Correction) error {
	activities, err := list(c.Activities)
	if err != nil {
		return err
	}
	_, err = t.fact(insertCorrection, c.Kind, ms(c.At), activities, c.WeighIn, c.Athlete)
	return err
}

func corrections(ctx context.Context, q querier) ([]record.Correction, error) {
	return collect(ctx, q, func(scan scanner) (c record.Correction, err error) {
		var at int64
		var activities *string
		err = scan(&c.Kind, &at, &activities, &c.WeighIn, &c.Athlete)
		c.At = moment(at)
		return c, errors.Join(err, unlist(activities, &c.Activities))
	}, selectCorrection)
}
