package store

import (
	"context"

	"saltpan/pipeline/record"
)

const (
	insertBackground = `INSERT INTO background (change_id, scale, mass_kg, hour, readings) VALUES (?, ?, ?, ?, ?)
		ON CONFLICT DO UPDATE SET readings = readings + excluded.readings`
	selectBackground = `SELECT scale, mass_kg, hour, sum(readings)
		FROM background WHERE change_id IN active_change
		GROUP BY scale, mass_kg, hour ORDER BY scale, mass_kg, hour`
)

// AddBackground counts readings that were not kept, by {kilogram, hour}.
func (t *Tx) AddBackground(scale string, counts map[[2]int]int) error {
	for cell, n := range counts {
		if _, err := t.fact(insertBackground, scale, cell[0], cell[1], n); err != nil {
			return err
		}
	}
	return nil
}

func backgrounds(ctx context.Context, q querier) ([]record.Background, error) {
	var out []record.Background
	_, err := collect(ctx, q, func(scan scanner) (struct{}, error) {
		var scale string
		var cell [2]int
		var n int
		err := scan(&scale, &cell[0], &cell[1], &n)
		if len(out) == 0 || out[len(out)-1].Scale != scale {
			out = append(out, record.Background{Scale: scale, Count: map[[2]int]int{}})
		}
		out[len(out)-1].Count[cell] = n
		return struct{}{}, err
	}, selectBackground)
	return out, err
}
