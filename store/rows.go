package store

import (
	"context"
	"encoding/json"
	"time"

	"saltpan/pipeline/record"
)

// scanner is the Scan of one row.
type scanner func(dest ...any) error

// collect reads all rows of a query.
func collect[T any](ctx context.Context, q querier, read func(scanner) (T, error), query string, args ...any) ([]T, error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, reason(err)
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		one, err := read(rows.Scan)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, reason(rows.Err())
}

// ms is a moment as milliseconds since 1970 UTC, the form all moments have in
// the file: it sorts, and no clock read here is finer.
func ms(t time.Time) int64 { return t.UnixMilli() }

func moment(ms int64) time.Time { return time.UnixMilli(ms).UTC() }

func duration(ms int64) time.Duration { return time.Duration(ms) * time.Millisecond }

// optMS is a duration in milliseconds, NULL for nil.
func optMS(d *time.Duration) *int64 {
	if d == nil {
		return nil
	}
	v := d.Milliseconds()
	return &v
}

func optDuration(ms *int64) *time.Duration {
	if ms == nil {
		return nil
	}
	d := duration(*ms)
	return &d
}

// filled is NULL for the zero value.
func filled[T comparable](v T) *T {
	var zero T
	if v == zero {
		return nil
	}
	return &v
}

// fill puts a value from the file in place unless it is NULL.
func fill[T any](to *T, v *T) {
	if v != nil {
		*to = *v
	}
}

// list is a list as JSON text, NULL if it is nil.
func list[T any](v []T) (*string, error) {
	if v == nil {
		return nil, nil
	}
	return asJSON(v)
}

func asJSON(v any) (*string, error) {
	b, err := json.Marshal(v)
	s := string(b)
	return &s, err
}

// unlist reads what list wrote.
func unlist[T any](text *string, to *T) error {
	if text == nil {
		return nil
	}
	return json.Unmarshal([]byte(*text), to)
}

// degrees are the two columns of a position.
func degrees(p *record.Position) (lat, lon *float64) {
	if p == nil {
		return nil, nil
	}
	return &p.Lat, &p.Lon
}

func position(lat, lon *float64) *record.Position {
	if lat == nil || lon == nil {
		return nil
	}
	return &record.Position{Lat: *lat, Lon: *lon}
}
