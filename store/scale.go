package store

import (
	"context"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

const (
	insertScale = `INSERT INTO scale (change_id, key, athletes_json, unit, zone, step_kg, shift_ms)
		VALUES (?, ?, ?, ?, ?, ?, ?)`
	selectScale = `SELECT key, athletes_json, unit, zone, step_kg, shift_ms
		FROM scale WHERE change_id IN active_change
		ORDER BY key, id`
)

// PutScale adds what is now known about a scale. Empty fields are left as they
// were; an empty, non-nil Athletes makes it everybody's again.
func (t *Tx) PutScale(s record.Scale) error {
	athletes, err := list(s.Athletes)
	if err != nil {
		return err
	}
	_, err = t.fact(insertScale, s.Key, athletes, filled(s.Unit), filled(s.Zone), s.Step, optMS(s.Shift))
	return err
}

// scales is every scale, by key.
func scales(ctx context.Context, q querier) ([]record.Scale, error) {
	var out []record.Scale
	_, err := collect(ctx, q, func(scan scanner) (struct{}, error) {
		var key string
		var athletes, unit, zone *string
		var step *quantity.Mass
		var shift *int64
		if err := scan(&key, &athletes, &unit, &zone, &step, &shift); err != nil {
			return struct{}{}, err
		}
		if len(out) == 0 || out[len(out)-1].Key != key {
			out = append(out, record.Scale{Key: key})
		}
		s := &out[len(out)-1]
		fill(&s.Unit, unit)
		fill(&s.Zone, zone)
		if step != nil {
			s.Step = step
		}
		if shift != nil {
			s.Shift = optDuration(shift)
		}
		if athletes != nil {
			s.Athletes = nil
		}
		return struct{}{}, unlist(athletes, &s.Athletes)
	}, selectScale)
	return out, err
}
