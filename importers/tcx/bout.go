package tcx

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/trackxml"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// farthest bounds what a bout can cover, in metres.
const farthest = 1e7

// activity is false when nothing in the bout has a time.
func (d *document) activity(src importer.Source, b bout) (record.Activity, bool) {
	trackxml.DropStrays(b.points, d.tally)
	t := trackxml.Track{Way: math.NaN(), Counted: math.NaN()}
	if _, timed := trackxml.Timed(b.points); timed > 0 {
		t = trackxml.Assemble(b.points, d.tally)
	}
	a := record.Activity{
		Athlete: src.Hints.Athlete, Start: t.Start, Elapsed: t.Elapsed, UTCOffset: b.offset,
		MeanHRBpm: t.MeanHRBpm, Device: b.deviceID(), StartAt: t.StartAt, StopAt: t.StopAt, Samples: t.Samples,
		Origin: record.Origin{Path: src.Path, Line: b.line, SHA256: src.SHA256, Reader: fmt.Sprintf("%s/%d", name, version)},
	}
	a.Sport, a.SubSport = trackxml.Sport(b.sport)
	a.Distance = distance(t.Counted, t.Way)
	if b.cut {
		a.Salvaged = d.damage
		return a, !a.Start.IsZero()
	}
	if src.Damaged != "" {
		a.Salvaged = d.damage
	}
	d.laps(&a, b)
	return a, !a.Start.IsZero()
}

// distance is the first one that is known.
func distance(metres ...float64) *quantity.Distance {
	for _, m := range metres {
		if m < farthest {
			d := quantity.Distance(m)
			return &d
		}
	}
	return nil
}

// deviceID tells two recorders apart without naming them.
func (b bout) deviceID() string {
	if len(b.device) == 0 {
		return ""
	}
	return name + ":" + importer.Hash([]byte(strings.Join(b.device, "\n")))[:8]
}

// laps puts the totals of the laps in place of those of the points. A bout
// whose points and laps say no time starts where its id says.
func (d *document) laps(a *record.Activity, b bout) {
	var total, metres float64
	var hr, hrTime float64
	laps := d.believable(*a, b.laps)
	for _, l := range laps {
		total, metres = total+l.seconds, metres+l.distance
		if l.hrBpm > 0 && l.seconds > 0 {
			hr, hrTime = hr+float64(l.hrBpm)*l.seconds, hrTime+l.seconds
		}
		d.span(a, l)
	}
	if !b.dated && !b.id.Before(importer.Earliest) && total > 0 {
		a.Start, a.Elapsed = b.id.UTC(), seconds(total)
	}
	if len(laps) == 0 {
		return
	}
	if metres > 0 || a.Distance == nil {
		a.Distance = cmp.Or(distance(metres), a.Distance)
	}
	if a.MeanHRBpm == nil && hrTime > 0 {
		mean := hr / hrTime
		a.MeanHRBpm = &mean
	}
	d.moving(a, total, b)
}

// believable leaves out laps that start far from all points.
func (d *document) believable(a record.Activity, laps []lap) []lap {
	if a.Start.IsZero() {
		return laps
	}
	var out []lap
	for _, l := range laps {
		off := max(a.Start.Sub(l.start), l.start.Sub(a.Stop()))
		if !l.start.IsZero() && off > trackxml.FarApart {
			d.tally.Add(importer.BadTime, "a lap that starts more than 12 h from all points was passed over",
				l.start.Format(time.RFC3339), l.line, "")
			continue
		}
		out = append(out, l)
	}
	return out
}

// span widens the bout to a lap: from the earliest lap or point to the latest
// point or end of a lap.
func (d *document) span(a *record.Activity, l lap) {
	if l.start.IsZero() {
		return
	}
	stop := l.start
	if !math.IsNaN(l.seconds) {
		elapsed := seconds(l.seconds)
		stop = l.start.Add(elapsed)
		a.Laps = append(a.Laps, record.Lap{Start: l.start, Elapsed: elapsed, Distance: distance(l.distance)})
	}
	switch {
	case a.Start.IsZero():
		a.Start = l.start
	case l.start.Before(a.Start):
		shift := a.Start.Sub(l.start)
		for i := range a.Samples {
			a.Samples[i].At += shift
		}
		a.Start, a.Elapsed = l.start, a.Elapsed+shift
	}
	a.Elapsed = max(a.Elapsed, stop.Sub(a.Start))
}

// moving is the sum of the laps' timer times. Laps that overlap by more than a
// second each cannot be summed.
func (d *document) moving(a *record.Activity, total float64, b bout) {
	if math.IsNaN(total) || total == 0 {
		return
	}
	moving := seconds(total)
	if moving > a.Elapsed+time.Duration(len(b.laps))*time.Second {
		d.tally.Add(importer.OutOfRange, "lap times that add up to more than the bout were passed over", fmt.Sprintf("%v in %v", moving, a.Elapsed), b.line, "")
		return
	}
	moving = min(moving, a.Elapsed)
	a.Moving = &moving
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s*1e6)) * time.Microsecond }
