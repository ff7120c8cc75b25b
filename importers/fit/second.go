package fit

import (
	"bytes"
	"fmt"
	"sync"
	"time"

	oracle "github.com/tormoder/fit"

	"saltpan/importers/importer"
	"saltpan/pipeline/record"
)

const secondReader = "tormoder/fit"

// secondLock keeps the second decoder to one file at a time: it adds up
// compressed distances in package variables.
var secondLock sync.Mutex

// secondOpinion asks the second reader if that is wanted, or if the first
// found damage. What the first could not read at all is taken from the second.
func (r *reading) secondOpinion() {
	damaged := r.res.Refused != nil && (r.res.Refused.Code == importer.Truncated || r.res.Refused.Code == importer.Checksum)
	for _, a := range r.res.Activities {
		damaged = damaged || a.Salvaged != ""
	}
	if !damaged && (!r.src.Hints.Second || len(r.res.Activities) == 0) {
		return
	}
	parts, err := readSecond(r.src.Data)
	found := r.secondBouts(parts)
	if r.res.Refused != nil {
		r.rescue(found)
	}
	for i := range r.res.Activities {
		r.res.Activities[i].Second = totals(r.res.Activities[i], found, err)
	}
}

// rescue takes the second reader's bouts where the first found nothing.
func (r *reading) rescue(found []record.Activity) {
	if len(found) == 0 {
		return
	}
	why := "read by the second reader only: " + r.res.Refused.Text
	r.res.Refused = nil
	for _, a := range found {
		r.add(r.own(a, &part{fault: fault{text: why}}))
	}
}

func (r *reading) secondBouts(parts []part) (out []record.Activity) {
	for i := range parts {
		rows, _, _ := tidy(parts[i].rows, parts[i].sessions)
		out = append(out, parts[i].bouts(rows)...)
	}
	return out
}

// totals are those of the bout that starts within a minute of a, of several
// the one nearest in start and length.
func totals(a record.Activity, found []record.Activity, err error) *record.Totals {
	out := &record.Totals{Reader: secondReader}
	if err != nil {
		out.Failed = err.Error()
	}
	b := nearest(a, found)
	if b == nil {
		if err == nil {
			out.Failed = "no session at this start"
		}
		return out
	}
	out.Start, out.Elapsed, out.Moving = &b.Start, &b.Elapsed, b.Moving
	out.Distance, out.MeanHRBpm, out.Samples = b.Distance, b.MeanHRBpm, len(b.Samples)
	return out
}

func nearest(a record.Activity, found []record.Activity) (best *record.Activity) {
	var least time.Duration
	for i := range found {
		b := &found[i]
		apart := b.Start.Sub(a.Start).Abs()
		if d := apart + (b.Elapsed - a.Elapsed).Abs(); apart <= time.Minute && (best == nil || d < least) {
			best, least = b, d
		}
	}
	return best
}

// readSecond decodes data with the second decoder; what it read before an
// error comes with the error.
func readSecond(data []byte) (parts []part, err error) {
	secondLock.Lock()
	defer secondLock.Unlock()
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the second reader stopped: %v", p)
		}
	}()
	files, err := oracle.DecodeChained(bytes.NewReader(data))
	for _, f := range files {
		if a, aerr := f.Activity(); aerr == nil {
			parts = append(parts, partOf(a))
		}
	}
	if err != nil && len(parts) > 0 {
		parts[len(parts)-1].fault = fault{importer.Truncated, err.Error()}
	}
	return parts, err
}

// partOf is what the second decoder read, in the first one's terms.
func partOf(a *oracle.ActivityFile) part {
	p := part{fileType: typeActivity, sport: [2]int64{-1, -1}}
	for _, s := range a.Sessions {
		p.sessions = append(p.sessions, sessionOf(s))
	}
	for _, m := range a.Records {
		p.rows = append(p.rows, rowOf(m))
	}
	return p
}

func sessionOf(s *oracle.SessionMsg) session {
	return session{
		start: seconds(s.StartTime), stop: seconds(s.Timestamp),
		elapsed: known(s.TotalElapsedTime), timer: known(s.TotalTimerTime), distance: centimetres(known(s.TotalDistance)),
		sport: knownByte(byte(s.Sport)), subSport: knownByte(byte(s.SubSport)),
		hr: int64(s.AvgHeartRate), ascent: knownShort(s.TotalAscent), temp: none,
		lat: s.StartPositionLat.Semicircles(), lon: s.StartPositionLong.Semicircles(),
	}
}

func rowOf(m *oracle.RecordMsg) row {
	r := blank(seconds(m.Timestamp))
	r.lat, r.lon = m.PositionLat.Semicircles(), m.PositionLong.Semicircles()
	if d := m.GetDistanceScaled(); d < farthest/100 {
		r.distance = float32(d)
	}
	r.altitude, r.speed = float32(m.GetEnhancedAltitudeScaled()), float32(m.GetEnhancedSpeedScaled())
	r.hr = bpm(int64(m.HeartRate))
	if m.Temperature != 0x7F {
		r.temp = float32(m.Temperature)
	}
	return r
}

// seconds is a time of the second decoder as FIT seconds; its missing time is
// the FIT epoch and becomes 0.
func seconds(t time.Time) uint32 { return uint32(t.Sub(epoch) / time.Second) }

func known(v uint32) int64 {
	if v == 0xFFFFFFFF {
		return -1
	}
	return int64(v)
}

func knownShort(v uint16) int64 {
	if v == 0xFFFF {
		return -1
	}
	return int64(v)
}

func knownByte(v byte) int64 {
	if v == 0xFF {
		return -1
	}
	return int64(v)
}
