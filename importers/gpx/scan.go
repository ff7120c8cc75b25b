package gpx

import (
	"fmt"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/trackxml"
)

// document is what one file holds.
type document struct {
	tracks    []track
	routes    int
	waypoints int
	creator   string
	// damage says what is wrong with the file or the container around it.
	damage     string
	damageLine int
	tooLarge   *importer.Problem
	tally      *trackxml.Tally
	clock      *trackxml.Clock
	whole      map[string]int // activity ID → number of the track it is the whole of

	trk     *track
	point   *trackxml.Point
	depth   int // of the open point
	segment bool
	total   int
}

// track is one trk element.
type track struct {
	number int // among the trk elements, from 0
	line   int
	kind   string // the type element
	points []trackxml.Point
	timed  int // points with a usable time
	dated  int // points with a time written, usable or not
	offset *time.Duration
}

// planned reports that fewer than half of the points have a time: whoever
// records writes one with every point, whoever plans writes none or one at each
// turn.
func (t track) planned() bool { return 2*t.dated < len(t.points) }

func scan(src importer.Source) *document {
	tally := &trackxml.Tally{Path: src.Path}
	d := &document{tally: tally, clock: trackxml.NewClock(src.Hints.Zone, tally), whole: map[string]int{}}
	s := trackxml.NewScanner(src.Data)
	for s.Next() {
		if s.Opened {
			d.open(s)
		} else {
			d.close(s)
		}
		if d.total > trackxml.MaxPoints {
			d.limit(src, s.Line(), fmt.Sprintf("more than %d points", trackxml.MaxPoints))
			return d
		}
	}
	if err := s.Err(); err == trackxml.ErrTooDeep {
		d.limit(src, s.Line(), err.Error())
	} else if err != nil {
		d.damage, d.damageLine = err.Error(), s.Line()
	}
	if src.Damaged != "" {
		d.damage = strings.TrimSuffix(src.Damaged+"; "+d.damage, "; ")
	}
	d.endTrack()
	return d
}

func (d *document) limit(src importer.Source, line int, text string) {
	d.tooLarge = &importer.Problem{Code: importer.TooLarge, Path: src.Path, Line: line, Text: text}
}

func (d *document) open(s *trackxml.Scanner) {
	switch s.Name {
	case "gpx":
		d.creator = s.Attr("creator")
	case "rte":
		d.routes++
	case "wpt":
		d.waypoints++
	case "trk":
		d.endTrack()
		d.clock.Begin()
		d.trk = &track{number: len(d.tracks), line: s.Line()}
	case "trkseg":
		d.segment = true
	case "trkpt":
		if d.trk != nil && d.point == nil {
			d.openPoint(s)
		}
	}
}

func (d *document) openPoint(s *trackxml.Scanner) {
	p := trackxml.NewPoint(s.Line())
	p.Place(s.Attr("lat"), s.Attr("lon"), d.tally)
	p.Break, d.segment = d.segment, false
	d.point, d.depth = &p, len(s.Path)
	d.total++
}

func (d *document) close(s *trackxml.Scanner) {
	switch {
	case s.Name == "trk":
		d.endTrack()
	case d.point != nil && s.Name == "trkpt" && len(s.Path) == d.depth:
		d.endPoint()
	case d.point != nil:
		d.value(s, len(s.Path) == d.depth+1)
	case d.trk != nil && s.Name == "type" && s.Parent() == "trk":
		d.trk.kind = s.Text()
	}
}

// value reads what a point says, extensions by local name in any namespace.
// wtemp is the temperature of water and is not read.
func (d *document) value(s *trackxml.Scanner, direct bool) {
	line := s.Line()
	switch {
	case s.Name == "time" && direct:
		text := s.Text()
		if text != "" {
			d.trk.dated++
		}
		d.point.At = d.clock.Read(text, line)
	case s.Name == "ele" && direct:
		d.point.Altitude = d.tally.Number("an elevation", s.Text(), -1000, 20_000, line)
	case s.Name == "speed":
		d.point.Speed = d.tally.Number("a speed", s.Text(), 0, 200, line)
	case s.Name == "hr":
		d.point.HRBpm = d.tally.HeartRate(s.Text(), line)
	case s.Name == "atemp":
		d.point.Temp = d.tally.Number("a temperature", s.Text(), -60, 80, line)
	}
}

// endPoint keeps a point that says when or where it was.
func (d *document) endPoint() {
	p := *d.point
	d.point = nil
	if !p.At.IsZero() {
		d.trk.timed++
	}
	if p.At.IsZero() && !p.Placed() {
		return
	}
	d.trk.points = append(d.trk.points, p)
}

// endTrack also ends the track that damage left open. A point that is not
// closed is not taken: it may be half there.
func (d *document) endTrack() {
	if d.trk == nil {
		return
	}
	t := d.trk
	if n := t.untimed(); n > 0 && !t.planned() {
		d.tally.Add(importer.BadTime, "points without a time give their place only", fmt.Sprintf("%d of %d", n, len(t.points)), t.line, "")
	}
	t.offset = d.clock.Offset
	d.tracks = append(d.tracks, *t)
	d.trk, d.point, d.segment = nil, nil, false
}

func (t track) untimed() int { return len(t.points) - t.dated }

func (d *document) why() []string {
	out := []string{fmt.Sprintf("root element gpx, %d tracks, %d points, %d routes, %d waypoints",
		len(d.tracks), d.total, d.routes, d.waypoints)}
	if n, first := d.plannedTracks(); n > 0 {
		out = append(out, fmt.Sprintf("%d planned tracks, the first in line %d: %d of its %d points have a time",
			n, first.line, first.dated, len(first.points)))
	}
	if d.damage != "" {
		out = append(out, "damaged: "+d.damage)
	}
	return out
}

// plannedTracks counts the tracks that hold points and were planned.
func (d *document) plannedTracks() (n int, first track) {
	for _, t := range d.tracks {
		if !t.planned() {
			continue
		}
		if n == 0 {
			first = t
		}
		n++
	}
	return n, first
}
