package store

import (
	"context"

	"saltpan/pipeline/record"
)

const (
	insertNote = `INSERT INTO note (change_id, session, at_utc_ms, drunk_l, eaten_kg, urine_l, toilet, stool_kg,
		poured_l, clothes_off_kg, clothes_wet_kg, picked_up_kg, left_behind_kg, towelled, race, indoor, room_temp_c,
		fan, air_temp_c, humidity_pct, weighing, gut_0_10, thirst_0_10, felt,
		origin_path, origin_line, origin_sha256, origin_reader)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
	selectNote = `SELECT session, at_utc_ms, drunk_l, eaten_kg, urine_l, toilet, stool_kg,
		poured_l, clothes_off_kg, clothes_wet_kg, picked_up_kg, left_behind_kg, towelled, race, indoor, room_temp_c,
		fan, air_temp_c, humidity_pct, weighing, gut_0_10, thirst_0_10, felt,
		origin_path, origin_line, origin_sha256, origin_reader
		FROM note WHERE change_id IN active_change
		ORDER BY at_utc_ms, id`
)

// PutNote adds what a person said about a session. Earlier notes stay; the
// fields this one names replace theirs when they are read together.
func (t *Tx) PutNote(n record.Note) error {
	_, err := t.fact(insertNote, n.Session, ms(n.At), n.Drunk, n.Eaten, n.Urine, n.Toilet, n.Stool,
		n.Poured, n.ClothesOff, n.ClothesWet, n.PickedUp, n.LeftBehind, n.Towelled, n.Race, n.Indoor, n.Room,
		n.Fan, n.AirTemp, n.Humidity, n.Weighing, n.Gut, n.Thirst, n.Felt,
		n.Origin.Path, n.Origin.Line, n.Origin.SHA256, n.Origin.Reader)
	return err
}

func notes(ctx context.Context, q querier) ([]record.Note, error) {
	return collect(ctx, q, func(scan scanner) (n record.Note, err error) {
		var at int64
		err = scan(&n.Session, &at, &n.Drunk, &n.Eaten, &n.Urine, &n.Toilet, &n.Stool,
			&n.Poured, &n.ClothesOff, &n.ClothesWet, &n.PickedUp, &n.LeftBehind, &n.Towelled, &n.Race, &n.Indoor, &n.Room,
			&n.Fan, &n.AirTemp, &n.Humidity, &n.Weighing, &n.Gut, &n.Thirst, &n.Felt,
			&n.Origin.Path, &n.Origin.Line, &n.Origin.SHA256, &n.Origin.Reader)
		n.At = moment(at)
		return n, err
	}, selectNote)
}
