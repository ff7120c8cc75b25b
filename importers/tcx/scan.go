package tcx

import (
	"fmt"
	"math"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/trackxml"
)

// document is what one file holds.
type document struct {
	bouts    []bout
	courses  int
	workouts int
	// damage says what is wrong with the file or the container around it.
	damage     string
	damageLine int
	tooLarge   *importer.Problem
	tally      *trackxml.Tally
	clock      *trackxml.Clock

	bout  *bout
	lap   *lap
	point *trackxml.Point
	// What is written in the open point.
	dated    bool
	lat, lon string
	brk      bool // the next point starts a new stretch
	total    int
}

// bout is one Activity element, or the Transition between two.
type bout struct {
	line   int
	sport  string
	id     time.Time
	offset *time.Duration
	device []string // what the Creator element says
	laps   []lap
	points []trackxml.Point
	dated  bool // a point or a lap has a time written, usable or not
	cut    bool // damage left it open
}

// lap is one Lap element. What it does not say is NaN or zero.
type lap struct {
	line     int
	start    time.Time
	seconds  float64
	distance float64
	hrBpm    uint8
	tracks   int
}

func scan(src importer.Source) *document {
	tally := &trackxml.Tally{Path: src.Path}
	d := &document{tally: tally, clock: trackxml.NewClock(src.Hints.Zone, tally)}
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
	if d.bout != nil {
		d.bout.cut = true
		d.endBout()
	}
	return d
}

func (d *document) limit(src importer.Source, line int, text string) {
	d.tooLarge = &importer.Problem{Code: importer.TooLarge, Path: src.Path, Line: line, Text: text}
}

func (d *document) open(s *trackxml.Scanner) {
	line := s.Line()
	switch parent := s.Parent(); {
	case s.Name == "Course" && parent == "Courses":
		d.courses++
	case s.Name == "Workout" && parent == "Workouts":
		d.workouts++
	case s.Name == "Activity" && (parent == "Activities" || parent == "FirstSport" || parent == "NextSport"):
		d.endBout()
		d.clock.Begin()
		d.bout = &bout{line: line, sport: s.Attr("Sport")}
	case s.Name == "Transition" && parent == "NextSport":
		d.endBout()
		d.clock.Begin()
		d.bout = &bout{line: line, sport: "transition"}
		d.openLap(s)
	case d.bout == nil:
	case s.Name == "Lap" && parent == "Activity":
		d.openLap(s)
	case s.Name == "Track" && d.lap != nil:
		d.brk = d.lap.tracks > 0
		d.lap.tracks++
	case s.Name == "Trackpoint" && parent == "Track":
		p := trackxml.NewPoint(line)
		p.Break, d.brk = d.brk, false
		d.point, d.dated, d.lat, d.lon = &p, false, "", ""
		d.total++
	}
}

func (d *document) openLap(s *trackxml.Scanner) {
	d.lap = &lap{line: s.Line(), seconds: math.NaN(), distance: math.NaN()}
	start := s.Attr("StartTime")
	d.bout.dated = d.bout.dated || start != ""
	d.lap.start = d.clock.Read(start, s.Line())
}

func (d *document) close(s *trackxml.Scanner) {
	switch {
	case d.bout == nil:
	case s.Name == "Activity":
		d.endBout()
	case s.Name == "Transition" && s.Parent() == "NextSport":
		d.endLap()
		d.endBout()
	case s.Name == "Lap" && s.Parent() == "Activity":
		d.endLap()
	case s.Name == "Trackpoint" && d.point != nil:
		d.endPoint()
	case d.point != nil:
		d.pointValue(s)
	case d.lap != nil:
		d.lapValue(s)
	default:
		d.boutValue(s)
	}
}

func (d *document) pointValue(s *trackxml.Scanner) {
	line := s.Line()
	switch s.Parent() + "/" + s.Name {
	case "Trackpoint/Time":
		text := s.Text()
		d.dated = text != ""
		d.bout.dated = d.bout.dated || d.dated
		d.point.At = d.clock.Read(text, line)
	case "Position/LatitudeDegrees":
		d.lat = s.Text()
	case "Position/LongitudeDegrees":
		d.lon = s.Text()
	case "Trackpoint/AltitudeMeters":
		d.point.Altitude = d.tally.Number("an altitude", s.Text(), -1000, 20_000, line)
	case "Trackpoint/DistanceMeters":
		d.point.Distance = d.tally.Number("a distance", s.Text(), 0, farthest, line)
	case "HeartRateBpm/Value":
		d.point.HRBpm = d.tally.HeartRate(s.Text(), line)
	case "TPX/Speed":
		d.point.Speed = d.tally.Number("a speed", s.Text(), 0, 200, line)
	}
}

func (d *document) lapValue(s *trackxml.Scanner) {
	line := s.Line()
	switch s.Parent() + "/" + s.Name {
	case "Lap/TotalTimeSeconds", "Transition/TotalTimeSeconds":
		d.lap.seconds = d.tally.Number("a lap time", s.Text(), 0, 30*86400, line)
	case "Lap/DistanceMeters", "Transition/DistanceMeters":
		d.lap.distance = d.tally.Number("a lap distance", s.Text(), 0, farthest, line)
	case "AverageHeartRateBpm/Value":
		d.lap.hrBpm = d.tally.HeartRate(s.Text(), line)
	}
}

func (d *document) boutValue(s *trackxml.Scanner) {
	switch s.Parent() + "/" + s.Name {
	case "Activity/Id":
		if at, ok := trackxml.ParseStamp(s.Text()); ok && !at.Naive {
			d.bout.id = at.Time
		}
	case "Creator/Name", "Creator/UnitId", "Creator/ProductID":
		d.bout.device = append(d.bout.device, s.Text())
	}
}

func (d *document) endPoint() {
	p := *d.point
	d.point = nil
	p.Place(d.lat, d.lon, d.tally)
	if !d.dated {
		d.tally.Add(importer.BadTime, "a point without a time gives its place only", "", p.Line, "")
	}
	if p.At.IsZero() && !p.Placed() {
		return
	}
	d.bout.points = append(d.bout.points, p)
}

func (d *document) endLap() {
	if d.lap != nil {
		d.bout.laps = append(d.bout.laps, *d.lap)
	}
	d.lap, d.brk = nil, false
}

// endBout also ends the activity and the lap that damage left open; a point
// that is not closed may be half there and is not taken.
func (d *document) endBout() {
	if d.bout == nil {
		return
	}
	d.endLap()
	d.bout.offset = d.clock.Offset
	d.bouts = append(d.bouts, *d.bout)
	d.bout, d.point = nil, nil
}
