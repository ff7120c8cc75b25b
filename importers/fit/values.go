package fit

import (
	"bytes"
	"encoding/binary"
	"strings"
)

// kind is how a field's bytes are read.
type kind byte

const (
	unsigned8 kind = iota
	unsigned8z
	signed8
	unsigned16
	unsigned16z
	signed16
	unsigned32
	unsigned32z
	signed32
	text
	octets
)

// field is one field of a message layout.
type field struct {
	num       byte
	kind      kind
	big       bool // big-endian
	off, size int  // in bytes; off counts the message's header byte
}

// kindOf is the kind of a field of this size and base type. A size that does
// not fit the type is read as a plain number of that size: some recorders say
// 32 bits and write 8. Of an array the first element is read.
func kindOf(size int, base byte) (kind, bool) {
	k, width := baseKind(base)
	if width == 0 || size == 0 {
		return 0, false
	}
	if size%width == 0 {
		return k, true
	}
	switch size {
	case 1:
		return unsigned8, true
	case 2:
		return unsigned16, true
	}
	return 0, false
}

// baseKind is the kind and width in bytes of a FIT base type; 64-bit and
// floating types, which none of our fields has, are width 0.
func baseKind(base byte) (kind, int) {
	switch base {
	case 0x00, 0x02:
		return unsigned8, 1
	case 0x0A:
		return unsigned8z, 1
	case 0x01:
		return signed8, 1
	case 0x84:
		return unsigned16, 2
	case 0x8B:
		return unsigned16z, 2
	case 0x83:
		return signed16, 2
	case 0x86:
		return unsigned32, 4
	case 0x8C:
		return unsigned32z, 4
	case 0x85:
		return signed32, 4
	case 0x07:
		return text, 1
	case 0x0D:
		return octets, 1
	}
	return 0, 0
}

// number is the field's value in message b, false if it holds the type's
// "no value" or is no number.
func (f *field) number(b []byte) (int64, bool) {
	b = b[f.off:]
	switch f.kind {
	case unsigned8, octets:
		return int64(b[0]), b[0] != 0xFF
	case unsigned8z:
		return int64(b[0]), b[0] != 0
	case signed8:
		return int64(int8(b[0])), b[0] != 0x7F
	case unsigned16:
		v := f.uint16(b)
		return int64(v), v != 0xFFFF
	case unsigned16z:
		v := f.uint16(b)
		return int64(v), v != 0
	case signed16:
		v := f.uint16(b)
		return int64(int16(v)), v != 0x7FFF
	case unsigned32:
		v := f.uint32(b)
		return int64(v), v != 0xFFFFFFFF
	case unsigned32z:
		v := f.uint32(b)
		return int64(v), v != 0
	case signed32:
		v := f.uint32(b)
		return int64(int32(v)), v != 0x7FFFFFFF
	}
	return 0, false
}

func (f *field) uint16(b []byte) uint16 {
	if f.big {
		return binary.BigEndian.Uint16(b)
	}
	return binary.LittleEndian.Uint16(b)
}

func (f *field) uint32(b []byte) uint32 {
	if f.big {
		return binary.BigEndian.Uint32(b)
	}
	return binary.LittleEndian.Uint32(b)
}

// words is the text of a field, whatever its encoding, up to the first NUL.
func (f *field) words(b []byte) string {
	b, _, _ = bytes.Cut(b[f.off:f.off+f.size], []byte{0})
	return strings.ToValidUTF8(string(b), "?")
}
