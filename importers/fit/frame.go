package fit

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/muktihari/fit/decoder"

	"saltpan/importers/importer"
)

// Limits on one file.
const (
	maxRecords  = 500_000
	maxMessages = 2_000_000
)

var errTooLarge = errors.New("more than 500000 records or 2000000 messages")

// layout is how the messages of one local number are laid out.
type layout struct {
	mesg   uint16
	length int
	fields []field
	stamp  int // index of the timestamp in fields, -1 if there is none
}

// scan walks the messages of one chunk and collects what is kept.
type scan struct {
	part
	layouts  [16]layout
	last     uint32 // the last timestamp, for compressed ones
	travel   travel
	messages int
	size     int // of the chunk, to guess how many records will come
}

// read decodes a chunk as far as it goes. The error is errTooLarge or nil;
// damage stands in the part's fault.
func read(c chunk) (p part, err error) {
	s := &scan{size: len(c.data)}
	s.part = part{fileType: -1, sport: [2]int64{-1, -1}, fault: c.fault}
	n, derr := s.decode(c.data)
	if errors.Is(derr, errTooLarge) {
		return part{}, errTooLarge
	}
	if derr != nil && (s.fault.text == "" || !errors.Is(derr, io.EOF) && !errors.Is(derr, io.ErrUnexpectedEOF)) {
		s.fault = fault{importer.Truncated, fmt.Sprintf("it cannot be read past byte %d of %d", n, len(c.data))}
	}
	return s.part, nil
}

// decode runs the decoder; a panic in it counts as damage at that place.
func (s *scan) decode(data []byte) (n int64, err error) {
	if len(data) <= int(data[0]) {
		return 0, nil
	}
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	return decoder.NewRaw().Decode(bytes.NewReader(data), s.frame)
}

func (s *scan) frame(flag decoder.RawFlag, b []byte) error {
	switch flag {
	case decoder.RawFlagMesgDef:
		s.define(b)
	case decoder.RawFlagMesgData:
		s.data(b)
	default:
		return nil
	}
	s.messages++
	if s.messages > maxMessages || len(s.rows) > maxRecords {
		return errTooLarge
	}
	return nil
}

// define takes in a definition message. Developer fields follow the others in
// every message and are stepped over with its length.
func (s *scan) define(b []byte) {
	l := &s.layouts[b[0]&0x0F]
	big := b[2] == 1
	l.mesg = binary.LittleEndian.Uint16(b[3:5])
	if big {
		l.mesg = binary.BigEndian.Uint16(b[3:5])
	}
	l.fields, l.stamp, l.length = l.fields[:0], -1, 1
	for d := b[6 : 6+3*int(b[5])]; len(d) > 0; d = d[3:] {
		l.add(d, big)
	}
}

// add takes in one field definition: number, size, base type.
func (l *layout) add(d []byte, big bool) {
	num, size, base := d[0], int(d[1]), d[2]
	k, ok := kindOf(size, base)
	if ok && keeps(l.mesg, num) {
		if num == fieldTimestamp {
			l.stamp = len(l.fields)
		}
		l.fields = append(l.fields, field{num: num, kind: k, big: big, off: l.length, size: size})
	}
	l.length += size
}

func (s *scan) data(b []byte) {
	l := &s.layouts[b[0]&0x0F]
	if b[0]&0x80 != 0 {
		l = &s.layouts[b[0]>>5&0x03]
	}
	at := s.stamp(l, b)
	if l.mesg == mesgRecord {
		s.record(l, b, at)
		return
	}
	s.other(message{l, b}, at)
}

// stamp is the message's time in FIT seconds, 0 if it has none. A compressed
// timestamp holds the five low bits only and counts on from the last time seen.
func (s *scan) stamp(l *layout, b []byte) uint32 {
	if l.stamp >= 0 {
		v, ok := l.fields[l.stamp].number(b)
		if !ok {
			return 0
		}
		s.last = uint32(v)
		return s.last
	}
	if b[0]&0x80 == 0 || s.last == 0 {
		return 0
	}
	s.last += (uint32(b[0]) - s.last) & 0x1F
	return s.last
}

// record takes in a record message. Speed and altitude come in two widths, of
// which the wider one wins.
func (s *scan) record(l *layout, b []byte, at uint32) {
	if s.rows == nil {
		s.rows = make([]row, 0, min(s.size/len(b)+1, maxRecords))
	}
	r := blank(at)
	for i := range l.fields {
		f := &l.fields[i]
		v, ok := f.number(b)
		if f.num == recordSpeedDistance && f.size == 3 {
			s.travel.take(&r, b[f.off:])
			continue
		}
		if ok {
			r.set(f.num, v)
		}
	}
	s.rows = append(s.rows, r)
}

// set takes in one field of a record in the units of the FIT profile.
func (r *row) set(num byte, v int64) {
	switch num {
	case recordLat:
		r.lat = int32(v)
	case recordLong:
		r.lon = int32(v)
	case recordDistance:
		if v < farthest {
			r.distance = float32(float64(v) / 100)
		}
	case recordHR:
		r.hr = bpm(v)
	case recordTemp:
		r.temp = float32(v)
	case recordFineAltitude:
		r.altitude = float32(v)/5 - 500
	case recordFineSpeed:
		r.speed = float32(v) / 1000
	case recordAltitude:
		if r.altitude != r.altitude {
			r.altitude = float32(v)/5 - 500
		}
	case recordSpeed:
		if r.speed != r.speed {
			r.speed = float32(v) / 1000
		}
	}
}

// bpm is a heart rate, 0 if it cannot be one: 0 and 255 stand for "no reading".
func bpm(v int64) uint8 {
	if v <= 0 || v >= 255 {
		return 0
	}
	return uint8(v)
}

// travel adds up compressed_speed_distance: 12 bits of speed in 1/100 m/s and
// 12 bits of distance in 1/16 m that roll over every 256 m.
type travel struct {
	last  uint32
	total uint32
}

func (t *travel) take(r *row, b []byte) {
	if b[0] == 0xFF && b[1] == 0xFF && b[2] == 0xFF {
		return
	}
	now := uint32(b[1])>>4 | uint32(b[2])<<4
	t.total += (now - t.last) & 0xFFF
	t.last = now
	if r.distance != r.distance {
		r.distance = float32(float64(t.total) / 16)
	}
	if r.speed != r.speed {
		r.speed = float32(uint32(b[0])|uint32(b[1]&0x0F)<<8) / 100
	}
}

// blank is a row in which everything but the time is missing.
func blank(at uint32) row {
	nan := float32(math.NaN())
	return row{at: at, lat: noPlace, lon: noPlace, distance: nan, altitude: nan, speed: nan, temp: nan}
}
