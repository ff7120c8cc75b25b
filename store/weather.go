package store

import (
	"context"

	"saltpan/pipeline/record"
)

const (
	insertWeather = `INSERT INTO weather (change_id, at_utc_ms, air_temp_c, dew_point_c, humidity_pct, wind_m_per_s,
		sun_w_per_m2, pressure_hpa, lat_deg, lon_deg, altitude_m, station,
		origin_path, origin_line, origin_sha256, origin_reader)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
	// Files that overlap tell of the same moment at the same place; the last told stands.
	selectWeather = `SELECT at_utc_ms, air_temp_c, dew_point_c, humidity_pct, wind_m_per_s,
		sun_w_per_m2, pressure_hpa, lat_deg, lon_deg, altitude_m, station,
		origin_path, origin_line, origin_sha256, origin_reader
		FROM weather WHERE id IN (SELECT max(id) FROM weather WHERE change_id IN active_change
			GROUP BY at_utc_ms, station, lat_deg, lon_deg)
		ORDER BY at_utc_ms, id`
)

// PutWeather adds observations of the air.
func (t *Tx) PutWeather(all []record.Weather) error {
	for _, w := range all {
		lat, lon := degrees(w.Place)
		if _, err := t.fact(insertWeather, ms(w.At), w.AirTempC, w.DewPointC, w.HumidityPct, w.WindMPerS,
			w.SunWPerM2, w.PressureHPa, lat, lon, w.AltitudeM, w.Station,
			w.Origin.Path, w.Origin.Line, w.Origin.SHA256, w.Origin.Reader); err != nil {
			return err
		}
	}
	return nil
}

func weather(ctx context.Context, q querier) ([]record.Weather, error) {
	return collect(ctx, q, func(scan scanner) (w record.Weather, err error) {
		var at int64
		var lat, lon *float64
		err = scan(&at, &w.AirTempC, &w.DewPointC, &w.HumidityPct, &w.WindMPerS,
			&w.SunWPerM2, &w.PressureHPa, &lat, &lon, &w.AltitudeM, &w.Station,
			&w.Origin.Path, &w.Origin.Line, &w.Origin.SHA256, &w.Origin.Reader)
		w.At, w.Place = moment(at), position(lat, lon)
		return w, err
	}, selectWeather)
}
