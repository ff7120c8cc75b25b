package weather

import (
	"fmt"
	"slices"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
	"saltpan/pipeline/record"
)

// rows reads a table.
func (j *job) rows(t table.Table) *importer.Problem {
	j.out.Why = append(j.out.Why, t.Why()...)
	c := j.choose(&t)
	if p := j.settle(&t, &c); p != nil {
		return p
	}
	k := newClockwork(c, j.src.Hints)
	j.say("zone: %s", k.why())
	for _, r := range t.Rows {
		if !slices.Equal(r.Cells, t.Header.Cells) { // files put together keep their headers
			j.row(t.Header, r, c, k)
		}
	}
	return nil
}

func (k *clockwork) why() string {
	switch {
	case k.fixed != nil:
		return k.columns.zone + ", by the header, where a row does not say it"
	case k.zone != nil:
		return k.zone.String() + ", as declared, where a row does not say it"
	}
	return "only where a row says it"
}

// row takes one row: without a time or a temperature nothing, without another
// number the rest.
func (j *job) row(header, r table.Row, c columns, k *clockwork) {
	if len(r.Cells) > len(header.Cells) {
		j.problem(r.Line, &fault{importer.BadNumber, fmt.Sprintf("row with %d cells: want at most %d as in the header", len(r.Cells), len(header.Cells)),
			"put numbers with a decimal comma in quotes"})
		return
	}
	o := observation{Weather: record.Weather{Station: r.Cell(c.at[station])}}
	var f *fault
	if o.At, f = k.instant(r, o.Station); f != nil {
		j.problem(r.Line, f)
		return
	}
	temp, f := c.reading(airTemp, r)
	switch {
	case f != nil:
		j.problem(r.Line, f)
		return
	case temp == nil:
		j.lacking++
		return
	}
	o.AirTempC = *temp
	for i, to := range []**float64{&o.DewPointC, &o.HumidityPct, &o.WindMPerS, &o.SunWPerM2, &o.PressureHPa} {
		if *to, f = c.reading(measured[1+i], r); f != nil {
			j.problem(r.Line, f)
		}
	}
	j.check(r.Line, &o.Weather)
	j.add(r.Line, o)
}

// reading is the number of a meaning in a row, nil if there is none.
func (c columns) reading(m meaning, r table.Row) (*float64, *fault) {
	cell := r.Cell(c.at[m])
	if absent(m, cell) {
		return nil, nil
	}
	unit := c.unit[m]
	if u := unitOf(m, r.Cell(c.at[unitName])); u != "" && (m == airTemp || m == dewPoint) {
		unit = u
	}
	v, f := reading(m, cell, unit)
	if f != nil {
		return nil, f
	}
	return &v, nil
}

// check leaves out a wind that cannot be, and a dew point that cannot be or is
// above the air's temperature by more than rounding can do: both may be in
// whole degrees.
func (j *job) check(line int, w *record.Weather) {
	if w.WindMPerS != nil {
		if _, f := within(wind, *w.WindMPerS, fmt.Sprintf("%.1f m/s", *w.WindMPerS)); f != nil {
			j.problem(line, f)
			w.WindMPerS = nil
		}
	}
	if w.DewPointC == nil {
		return
	}
	_, f := within(dewPoint, *w.DewPointC, fmt.Sprintf("%.1f °C", *w.DewPointC))
	if f == nil && *w.DewPointC > w.AirTempC+1.001 {
		f = &fault{importer.OutOfRange, fmt.Sprintf("dew point %.1f °C: want at most the air's %.1f °C", *w.DewPointC, w.AirTempC), ""}
	}
	if f != nil {
		j.problem(line, f)
		w.DewPointC = nil
	}
}
