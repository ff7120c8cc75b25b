package weather

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"saltpan/importers/importer"
	"saltpan/pipeline/record"
)

// finish sorts what was taken and makes one of what stands there twice.
func (j *job) finish() *importer.Problem {
	if j.lacking > 0 {
		j.say("rows without an air temperature: %d, passed over", j.lacking)
	}
	if j.other > 0 {
		j.say("forecasts and reports without an observation: %d, passed over", j.other)
	}
	if len(j.all) == 0 {
		return j.nothing()
	}
	slices.SortStableFunc(j.all, func(a, b observation) int {
		return cmp.Or(a.At.Compare(b.At), strings.Compare(a.Station, b.Station))
	})
	j.merge()
	j.sayStations()
	for _, o := range j.all {
		j.out.Weather = append(j.out.Weather, o.Weather)
	}
	slices.SortStableFunc(j.out.Problems, func(a, b importer.Problem) int { return a.Line - b.Line })
	return nil
}

// sayStations names the stations: with more than one, a declared place is
// right for one of them at most.
func (j *job) sayStations() {
	var names []string
	for _, o := range j.all {
		if o.Station != "" && !slices.Contains(names, o.Station) && len(names) < 10 {
			names = append(names, o.Station)
		}
	}
	if len(names) > 0 {
		j.say("stations: %q", names)
	}
	if len(names) > 1 && j.src.Hints.Place != nil {
		j.say("all of them were given the declared place")
	}
}

// nothing is the refusal of a source without one observation: the first row's
// fault, if rows had any.
func (j *job) nothing() *importer.Problem {
	if len(j.out.Problems) == 0 {
		return &importer.Problem{Code: importer.Empty, Text: "no observation of the air temperature"}
	}
	p := j.out.Problems[0]
	p.Text = "no row could be taken; the first: " + p.Text
	return &p
}

// merge makes one of neighbours with the same time and station.
func (j *job) merge() {
	kept, merged := j.all[:1], 0
	for _, o := range j.all[1:] {
		last := &kept[len(kept)-1]
		if !o.At.Equal(last.At) || o.Station != last.Station {
			kept = append(kept, o)
			continue
		}
		merged++
		j.join(last, o)
	}
	if merged > 0 {
		j.say("rows with the time and station of another: %d, merged", merged)
	}
	j.all = kept
}

// join adds o to kept. A correction replaces what it corrects; otherwise what
// was said first stays, and a different temperature is a problem.
func (j *job) join(kept *observation, o observation) {
	if o.corrects && !kept.corrects {
		*kept, o = o, *kept
	} else if math.Abs(kept.AirTempC-o.AirTempC) > 0.5 && kept.corrects == o.corrects {
		j.problem(o.Origin.Line, &fault{importer.BadTime, fmt.Sprintf("time %s: %.1f °C here and %.1f °C in line %d; the earlier line stays",
			o.At.Format("2006-01-02T15:04Z"), o.AirTempC, kept.AirTempC, kept.Origin.Line), "keep the row that is right"})
		return
	}
	for _, f := range []func(*record.Weather) **float64{
		func(w *record.Weather) **float64 { return &w.DewPointC }, func(w *record.Weather) **float64 { return &w.HumidityPct },
		func(w *record.Weather) **float64 { return &w.WindMPerS }, func(w *record.Weather) **float64 { return &w.SunWPerM2 },
		func(w *record.Weather) **float64 { return &w.PressureHPa },
	} {
		if to := f(&kept.Weather); *to == nil {
			*to = *f(&o.Weather)
		}
	}
}
