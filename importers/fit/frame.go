package fit

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"

	"github.com/muktihari/fit/decoder"

	"saltpan/importers/importer"
)

// Limits on one file and all that is chained to it.
const (
	maxRecords  = 500_000
	maxMessages = 2_000_000
	maxSessions = 1_000
	maxChunks   = 100
)

var errTooLarge = errors.New("more than 500000 records, 2000000 messages, 1000 sessions or 100 chained files")

// budget is what the chunks of a file may still hold.
type budget struct{ records, messages, sessions int }

// layout is how the messages of one local number are laid out.
type layout struct {
	mesg   uint16
	length int
	fields []field // without the timestamp
	stamp  field   // the timestamp; its size is 0 if there is none
}

// scan walks the messages of one chunk and collects what is kept.
type scan struct {
	part
	layouts [16]layout
	last    uint32 // the last timestamp, for compressed ones
	travel  travel
	left    *budget
	size    int // of the chunk, to guess how many records will come
}

// read decodes a chunk as far as it goes. The error is errTooLarge or nil;
// damage stands in the part's fault.
func read(c chunk, left *budget) (p part, err error) {
	s := &scan{size: len(c.data), left: left}
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
	s.left.messages--
	if s.left.messages < 0 || s.left.records < 0 || s.left.sessions < 0 {
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
	l.fields, l.stamp, l.length = l.fields[:0], field{}, 1
	for d := b[6 : 6+3*int(b[5])]; len(d) > 0; d = d[3:] {
		l.add(d, big)
	}
}

// add takes in one field definition: number, size, base type.
func (l *layout) add(d []byte, big bool) {
	num, size, base := d[0], int(d[1]), d[2]
	k, ok := kindOf(size, base)
	f := field{num: num, kind: k, big: big, off: l.length, size: size}
	switch {
	case ok && num == fieldTimestamp:
		l.stamp = f
	case ok && keeps(l.mesg, num):
		l.fields = append(l.fields, f)
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
	if l.stamp.size > 0 {
		v, ok := l.stamp.number(b)
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
