package main

import (
	"fmt"
	"strconv"
	"strings"

	"saltpan/importers/importer"
	"saltpan/pipeline/record"
	"saltpan/store"
)

// siftWeather keeps observations; they are everybody's.
func (g *ingest) siftWeather(p piece, out *outcome) (func(*store.Tx) error, *importer.Problem) {
	out.Reason = fmt.Sprintf("%d observations", len(p.result.Weather))
	return func(tx *store.Tx) error {
		for key := range g.athletes {
			g.touched[key] = true
		}
		return tx.PutWeather(p.result.Weather)
	}, nil
}

// where reads --place LAT,LON[,ALT].
func (o ingestOptions) where() (*record.Position, *float64, error) {
	if o.place == "" {
		return nil, nil, nil
	}
	parts := strings.Split(o.place, ",")
	var v [3]float64
	for i, text := range parts {
		if i > 2 {
			break
		}
		n, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if err != nil {
			return nil, nil, usagef("--place %q: want LAT,LON or LAT,LON,ALT in degrees and metres, such as 38.7,-9.1,20", o.place)
		}
		v[i] = n
	}
	if len(parts) < 2 || len(parts) > 3 || v[0] < -90 || v[0] > 90 || v[1] < -180 || v[1] > 180 {
		return nil, nil, usagef("--place %q: want LAT,LON or LAT,LON,ALT in degrees and metres, such as 38.7,-9.1,20", o.place)
	}
	if len(parts) == 3 {
		return &record.Position{Lat: v[0], Lon: v[1]}, &v[2], nil
	}
	return &record.Position{Lat: v[0], Lon: v[1]}, nil, nil
}
