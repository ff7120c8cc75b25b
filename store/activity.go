package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"saltpan/pipeline/record"
)

const (
	insertActivity = `INSERT INTO activity (change_id, activity_id, athlete, sport, sub_sport, start_utc_ms,
		elapsed_ms, moving_ms, utc_offset_ms, distance_m, ascent_m, mean_hr_bpm, mean_temp_c, laps_json, device,
		start_lat_deg, start_lon_deg, stop_lat_deg, stop_lon_deg, salvaged, second_json,
		origin_path, origin_line, origin_sha256, origin_reader, samples_sha256, samples)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
	// A retracted change that comes back can bring content that was read again
	// in the meantime; the later reading stands.
	selectActivity = `SELECT activity_id, athlete, sport, sub_sport, start_utc_ms,
		elapsed_ms, moving_ms, utc_offset_ms, distance_m, ascent_m, mean_hr_bpm, mean_temp_c, laps_json, device,
		start_lat_deg, start_lon_deg, stop_lat_deg, stop_lon_deg, salvaged, second_json,
		origin_path, origin_line, origin_sha256, origin_reader
		FROM activity WHERE id IN (SELECT max(id) FROM activity WHERE change_id IN active_change
			GROUP BY activity_id, athlete)
		ORDER BY start_utc_ms, id`
	selectActivityThere = `SELECT EXISTS (SELECT 1 FROM activity WHERE activity_id = ? AND athlete = ?
		AND (SELECT active FROM change WHERE id = change_id))`
	selectSamples = `SELECT samples FROM activity WHERE activity_id = ?
		AND (SELECT active FROM change WHERE id = change_id) ORDER BY id DESC LIMIT 1`
)

// PutActivity adds a bout with its samples. The same bout twice for one
// athlete is an error: call Supersede first to replace it.
func (t *Tx) PutActivity(a record.Activity) error {
	var there bool
	if err := t.tx.QueryRowContext(t.ctx, selectActivityThere, a.ID, a.Athlete).Scan(&there); err != nil {
		return reason(err)
	}
	if there {
		return fmt.Errorf("activity %q of %q is in the store already", a.ID, a.Athlete)
	}
	laps, err := list(a.Laps)
	if err != nil {
		return err
	}
	var second *string
	if a.Second != nil {
		if second, err = asJSON(a.Second); err != nil {
			return err
		}
	}
	blob, sum, err := pack(a.Samples)
	if err != nil {
		return err
	}
	lat0, lon0 := degrees(a.StartAt)
	lat1, lon1 := degrees(a.StopAt)
	_, err = t.fact(insertActivity, a.ID, a.Athlete, a.Sport, a.SubSport, ms(a.Start),
		a.Elapsed.Milliseconds(), optMS(a.Moving), optMS(a.UTCOffset), a.Distance, a.Ascent, a.MeanHRBpm, a.MeanTemp,
		laps, a.Device, lat0, lon0, lat1, lon1, a.Salvaged, second,
		a.Origin.Path, a.Origin.Line, a.Origin.SHA256, a.Origin.Reader, sum, blob)
	return err
}

// Samples is the series of one activity, by its ID. It is empty for an
// activity that is not there.
func (s *Store) Samples(ctx context.Context, activityID string) ([]record.Sample, error) {
	var blob []byte
	err := s.db.QueryRowContext(ctx, selectSamples, activityID).Scan(&blob)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	} else if err != nil {
		return nil, reason(err)
	}
	samples, err := unpack(blob)
	if err != nil {
		return nil, fmt.Errorf("activity %q: %w; run check", activityID, err)
	}
	return samples, nil
}

func activities(ctx context.Context, q querier) ([]record.Activity, error) {
	return collect(ctx, q, scanActivity, selectActivity)
}

func scanActivity(scan scanner) (a record.Activity, err error) {
	var start, elapsed int64
	var moving, offset *int64
	var laps, second *string
	var lat0, lon0, lat1, lon1 *float64
	if err := scan(&a.ID, &a.Athlete, &a.Sport, &a.SubSport, &start, &elapsed, &moving, &offset,
		&a.Distance, &a.Ascent, &a.MeanHRBpm, &a.MeanTemp, &laps, &a.Device, &lat0, &lon0, &lat1, &lon1,
		&a.Salvaged, &second, &a.Origin.Path, &a.Origin.Line, &a.Origin.SHA256, &a.Origin.Reader); err != nil {
		return a, err
	}
	a.Start, a.Elapsed = moment(start), duration(elapsed)
	a.Moving, a.UTCOffset = optDuration(moving), optDuration(offset)
	a.StartAt, a.StopAt = position(lat0, lon0), position(lat1, lon1)
	return a, errors.Join(unlist(laps, &a.Laps), unlist(second, &a.Second))
}
