// Package gpx reads recorded tracks in GPX 1.0 and 1.1: one activity for each
// track. GPX has no timer and no laps. A track in which most points have no
// time was planned, not recorded; it is passed over like a route.
package gpx

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/trackxml"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

const (
	name    = "gpx"
	version = 1
	// farthest bounds what a bout can cover, in metres.
	farthest = 1e7
)

// Reader reads GPX files.
type Reader struct{}

// New makes a reader of GPX files.
func New() Reader { return Reader{} }

// Name is "gpx".
func (Reader) Name() string { return name }

// Version is the reader's version.
func (Reader) Version() int { return version }

// Identify reports whether the root element is gpx, in any encoding.
func (Reader) Identify(head []byte) bool { return strings.EqualFold(trackxml.Root(head), "gpx") }

// Read takes every recorded track.
func (Reader) Read(src importer.Source) importer.Result {
	d := scan(src)
	res := importer.Result{Why: d.why()}
	if d.tooLarge != nil {
		res.Refused = d.tooLarge
		return res
	}
	for _, trk := range d.tracks {
		res.Activities = append(res.Activities, d.activities(src, trk, len(res.Activities))...)
	}
	d.second(src, &res)
	res.Problems = d.tally.Problems()
	if res.Empty() {
		d.nothing(src, &res)
	}
	return res
}

// nothing says why there is no activity: the first cause that applies.
func (d *document) nothing(src importer.Source, res *importer.Result) {
	refused := d.tally.First(importer.NoZone)
	if refused == nil {
		refused = d.tally.First(importer.BadTime)
	}
	switch {
	case refused != nil:
	case len(src.Data) == 0:
		refused = &importer.Problem{Code: importer.Empty, Text: "no bytes"}
	case d.damage != "":
		refused = &importer.Problem{Code: importer.Truncated, Line: d.damageLine,
			Text: "no point with a time before the damage: " + d.damage, Hint: "get the file from the recorder again"}
	case d.total > 0 || d.routes > 0:
		res.Skipped = "a route or planned track"
	case d.waypoints > 0:
		res.Skipped = "waypoints without a track"
	default:
		refused = &importer.Problem{Code: importer.Empty, Text: "no track, route or waypoint"}
	}
	if refused != nil {
		refused.Path = src.Path
		res.Refused, res.Problems = refused, nil
	}
}

// activities makes one activity of a track, several where its points lie more
// than twelve hours apart, none if it was planned.
func (d *document) activities(src importer.Source, trk track, number int) []record.Activity {
	if trk.planned() || trk.timed == 0 {
		return nil
	}
	var out []record.Activity
	parts := d.parts(trk)
	for _, points := range parts {
		a := d.activity(src, trk, points)
		a.ID = fmt.Sprintf("%s:%d", src.SHA256, number+len(out))
		if len(parts) == 1 {
			d.whole[a.ID] = trk.number
		}
		out = append(out, a)
	}
	return out
}

// parts splits at times far apart. A part with a single time is a fault of its
// clock.
func (d *document) parts(trk track) [][]trackxml.Point {
	all := trackxml.Split(trk.points, d.tally)
	if len(all) == 1 {
		return all
	}
	return slices.DeleteFunc(all, func(part []trackxml.Point) bool {
		first, timed := trackxml.Timed(part)
		if timed == 1 {
			d.tally.Add(importer.BadTime, trackxml.FarTime, first.At.Format(time.RFC3339), first.Line, "")
		}
		return timed == 1
	})
}

func (d *document) activity(src importer.Source, trk track, points []trackxml.Point) record.Activity {
	t := trackxml.Assemble(points, d.tally)
	sport, sub := trackxml.Sport(trk.kind)
	a := record.Activity{
		Athlete: src.Hints.Athlete, Sport: sport, SubSport: sub,
		Start: t.Start, Elapsed: t.Elapsed, UTCOffset: trk.offset,
		MeanHRBpm: t.MeanHRBpm, MeanTemp: t.MeanTemp, Device: d.device(),
		StartAt: t.StartAt, StopAt: t.StopAt, Salvaged: d.damage, Samples: t.Samples,
		Origin: record.Origin{Path: src.Path, Line: trk.line, SHA256: src.SHA256, Reader: fmt.Sprintf("%s/%d", name, version)},
	}
	if t.Stretches > 1 {
		a.Moving = &t.InStretches
	}
	switch m := quantity.Distance(t.Way); {
	case t.Way >= farthest:
		d.tally.Add(importer.OutOfRange, "a way longer than any bout was passed over", fmt.Sprintf("%.0f km", t.Way/1000), trk.line, "")
	case !math.IsNaN(t.Way):
		a.Distance = &m
	}
	return a
}

// device tells two recorders apart without naming them.
func (d *document) device() string {
	if d.creator == "" {
		return ""
	}
	return name + ":" + importer.Hash([]byte(d.creator))[:8]
}
