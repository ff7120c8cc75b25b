package fit

import (
	"fmt"
	"time"
)

// part is what one chunk holds, in the units of the FIT profile.
type part struct {
	fileType int64 // -1 if there is no file_id
	hasID    bool
	device   identity
	sport    [2]int64 // of the sport message, -1 if there is none
	sessions []session
	laps     []lap
	rows     []row
	weights  []weight
	offset   *time.Duration // local time minus UTC
	local    uint32         // activity.local_timestamp, 0 if there is none
	fields   []string       // what developer fields are described as
	fault    fault
}

// identity is what tells recorders apart.
type identity struct {
	manufacturer, product, serial int64
	name                          string
}

// session is a session message. Numbers that the file lacks are -1, or none
// where negative ones can be.
type session struct {
	start, stop              uint32 // FIT seconds, 0 if missing
	elapsed, timer, distance int64  // ms, ms, cm
	sport, subSport          int64
	hr, ascent               int64
	temp                     int64
	lat, lon                 int32
}

// lap is a lap message.
type lap struct {
	start             uint32
	elapsed, distance int64
	sport, subSport   int64
}

// row is a record message.
type row struct {
	at                              uint32
	lat, lon                        int32 // semicircles
	distance, altitude, speed, temp float32
	hr                              uint8
}

// weight is a weight_scale message.
type weight struct {
	at   uint32
	mass int64 // in 0.01 kg
	user int64 // -1 if there is none
}

// maxDescriptions is how many developer fields are told.
const maxDescriptions = 32

// none stands for a missing temperature.
const none = int64(-1 << 31)

// farthest bounds a distance in cm: nobody covers 9000 km in a bout.
const farthest = 900_000_000

// noPlace is the FIT value for "no position".
const noPlace = int32(0x7FFFFFFF)

// message is one data message with its layout.
type message struct {
	*layout
	b []byte
}

// get is the value of a field, or missing if the message lacks it.
func (m message) get(num byte, missing int64) int64 {
	for i := range m.fields {
		if f := &m.fields[i]; f.num == num {
			if v, ok := f.number(m.b); ok {
				return v
			}
		}
	}
	return missing
}

// distance is a distance in cm, -1 if the message lacks it or it cannot be.
func (m message) distance(num byte) int64 { return centimetres(m.get(num, -1)) }

// centimetres is a distance, -1 if it cannot be one.
func centimetres(v int64) int64 {
	if v < 0 || v >= farthest {
		return -1
	}
	return v
}

// text is the text of a field, empty if the message lacks it.
func (m message) text(num byte) string {
	for i := range m.fields {
		if f := &m.fields[i]; f.num == num && f.kind == text {
			return f.words(m.b)
		}
	}
	return ""
}

// other takes in every message that is not a record.
func (s *scan) other(m message, at uint32) {
	switch m.mesg {
	case mesgFileID:
		s.fileID(m)
	case mesgSport:
		s.sport = [2]int64{m.get(sportSport, -1), m.get(sportSubSport, -1)}
	case mesgSession:
		s.sessions = append(s.sessions, newSession(m, at))
		s.left.sessions--
	case mesgLap:
		s.laps = append(s.laps, newLap(m))
		s.left.records--
	case mesgDeviceInfo:
		s.deviceInfo(m)
	case mesgWeightScale:
		s.weights = append(s.weights, weight{at, m.get(weightMass, -1), m.get(weightUser, -1)})
		s.left.records--
	case mesgActivity:
		s.activity(m, at)
	case mesgFieldDescription:
		if len(s.fields) < maxDescriptions {
			s.fields = append(s.fields, fmt.Sprintf("%q in %q", m.text(descriptionName), m.text(descriptionUnits)))
		}
	}
}

// fileID takes the first: what damage turns into another is not believed.
func (s *scan) fileID(m message) {
	if s.hasID {
		return
	}
	s.hasID, s.fileType = true, m.get(fileIDType, -1)
	s.device = identity{m.get(fileIDManufacturer, 0), m.get(fileIDProduct, 0), m.get(fileIDSerial, 0), m.text(fileIDProductName)}
}

// deviceInfo takes the recorder itself, index 0, where file_id says nothing.
func (s *scan) deviceInfo(m message) {
	if m.get(deviceIndex, -1) != 0 || s.device.product != 0 || s.device.serial != 0 || s.device.name != "" {
		return
	}
	s.device = identity{m.get(deviceManufacturer, 0), m.get(deviceProduct, 0), m.get(deviceSerial, 0), m.text(deviceProductName)}
}

func newSession(m message, at uint32) session {
	return session{
		start: uint32(m.get(sessionStart, 0)), stop: at,
		elapsed: m.get(sessionElapsed, -1), timer: m.get(sessionTimer, -1), distance: m.distance(sessionDistance),
		sport: m.get(sessionSport, -1), subSport: m.get(sessionSubSport, -1),
		hr: m.get(sessionMeanHR, -1), ascent: m.get(sessionAscent, -1), temp: m.get(sessionMeanTemp, none),
		lat: int32(m.get(sessionStartLat, int64(noPlace))), lon: int32(m.get(sessionStartLong, int64(noPlace))),
	}
}

func newLap(m message) lap {
	return lap{uint32(m.get(lapStart, 0)), m.get(lapElapsed, -1), m.distance(lapDistance),
		m.get(lapSport, -1), m.get(lapSubSport, -1)}
}

// activity takes local time minus UTC, where it can be one: a multiple of a
// quarter of an hour within 14 h. Some recorders write other things there.
func (s *scan) activity(m message, at uint32) {
	s.local = uint32(m.get(activityLocal, 0))
	d := time.Duration(int64(s.local)-int64(at)) * time.Second
	if isDate(at) && isDate(s.local) && d%(15*time.Minute) == 0 && d.Abs() <= 14*time.Hour {
		s.offset = &d
	}
}
