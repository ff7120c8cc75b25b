package store

import (
	"context"
	"database/sql"
	"errors"
	"strconv"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

const (
	insertWeighIn = `INSERT INTO weigh_in (weigh_in_id, scale, athlete, wall_ms, utc_offset_ms, zone,
		resolution_ms, mass_kg, mass_step_kg, person, carrying, also_json,
		origin_path, origin_line, origin_sha256, origin_reader)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
	insertWeighInChange = `INSERT OR IGNORE INTO weigh_in_change (change_id, weigh_in_id) VALUES (?, ?)`
	// The line may differ between two exports of one scale, the reading not.
	selectReading = `SELECT id FROM weigh_in WHERE scale = ? AND wall_ms = ? AND mass_kg = ? AND athlete = ?
		AND person = ? AND utc_offset_ms IS ? AND zone = ? AND resolution_ms = ? AND mass_step_kg = ?
		AND carrying IS ? AND origin_reader = ? ORDER BY id LIMIT 1`
	selectWeighIn = `SELECT id, weigh_in_id, scale, athlete, wall_ms, utc_offset_ms, zone, resolution_ms, mass_kg,
		mass_step_kg, person, carrying, also_json, origin_path, origin_line, origin_sha256, origin_reader
		FROM weigh_in WHERE id IN (SELECT weigh_in_id FROM weigh_in_change WHERE change_id IN active_change)
		ORDER BY wall_ms, id`
)

// PutWeighIns adds readings. One that an earlier export of the same scale held
// already keeps its first ID and place.
func (t *Tx) PutWeighIns(all []record.WeighIn) error {
	for _, w := range all {
		id, err := t.reading(w)
		if err != nil {
			return err
		}
		if _, err := t.fact(insertWeighInChange, id); err != nil {
			return err
		}
	}
	return nil
}

// reading is the row of a reading, new unless it was seen before. What a
// person tells is always new.
func (t *Tx) reading(w record.WeighIn) (id int64, err error) {
	if w.Origin.Path != "" {
		err = t.tx.QueryRowContext(t.ctx, selectReading, w.Scale, ms(w.Wall), w.Mass, w.Athlete, w.Person,
			optMS(w.UTCOffset), w.Zone, w.Resolution.Milliseconds(), w.MassStep, w.Carrying, w.Origin.Reader).Scan(&id)
		if !errors.Is(err, sql.ErrNoRows) {
			return id, reason(err)
		}
	}
	also, err := list(w.Also)
	if err != nil {
		return 0, err
	}
	return t.run(insertWeighIn, w.ID, w.Scale, w.Athlete, ms(w.Wall), optMS(w.UTCOffset), w.Zone,
		w.Resolution.Milliseconds(), w.Mass, w.MassStep, w.Person, w.Carrying, also,
		w.Origin.Path, w.Origin.Line, w.Origin.SHA256, w.Origin.Reader)
}

// stepOn is what makes two rows of a scale the same reading.
type stepOn struct {
	scale, athlete, person string
	wall                   time.Time
	mass                   quantity.Mass
}

// weighIns is every reading once. Where exports differ in the finest step
// they show, the finest is the scale's.
func weighIns(ctx context.Context, q querier) ([]record.WeighIn, error) {
	rows, err := collect(ctx, q, scanWeighIn, selectWeighIn)
	if err != nil {
		return nil, err
	}
	seen := make(map[stepOn]int, len(rows))
	out := rows[:0]
	for _, w := range rows {
		key := stepOn{w.Scale, w.Athlete, w.Person, w.Wall, w.Mass}
		i, again := seen[key]
		if again && w.Origin.Path != "" {
			out[i].MassStep = min(out[i].MassStep, w.MassStep)
			continue
		}
		seen[key] = len(out)
		out = append(out, w)
	}
	return out, nil
}

func scanWeighIn(scan scanner) (w record.WeighIn, err error) {
	var row, wall, resolution int64
	var offset *int64
	var also *string
	if err := scan(&row, &w.ID, &w.Scale, &w.Athlete, &wall, &offset, &w.Zone, &resolution, &w.Mass,
		&w.MassStep, &w.Person, &w.Carrying, &also,
		&w.Origin.Path, &w.Origin.Line, &w.Origin.SHA256, &w.Origin.Reader); err != nil {
		return w, err
	}
	if w.ID == "" {
		w.ID = strconv.FormatInt(row, 10)
	}
	w.Wall, w.Resolution, w.UTCOffset = moment(wall), duration(resolution), optDuration(offset)
	return w, unlist(also, &w.Also)
}
