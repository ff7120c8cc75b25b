package fit

import (
	"encoding/binary"
	"fmt"

	"saltpan/importers/importer"
)

// crcPoly is CRC-16/ARC reflected: the FIT protocol's checksum, initial value 0.
const crcPoly = 0xA001

// crcTable[k][b] is the checksum of byte b followed by k zero bytes, so that
// eight bytes are taken at a time. It is never changed.
var crcTable = func() (t [8][256]uint16) {
	for b := range 256 {
		c := uint16(b)
		for range 8 {
			if c&1 == 1 {
				c = c>>1 ^ crcPoly
			} else {
				c >>= 1
			}
		}
		t[0][b] = c
	}
	for k := 1; k < 8; k++ {
		for b := range 256 {
			t[k][b] = t[k-1][b]>>8 ^ t[0][t[k-1][b]&0xFF]
		}
	}
	return t
}()

// crc16 is the FIT checksum of b. Over data and its own checksum it is 0.
func crc16(b []byte) uint16 {
	c := uint16(0)
	t := &crcTable
	for ; len(b) >= 8; b = b[8:] {
		c ^= uint16(b[0]) | uint16(b[1])<<8
		c = t[7][c&0xFF] ^ t[6][c>>8] ^ t[5][b[2]] ^ t[4][b[3]] ^ t[3][b[4]] ^ t[2][b[5]] ^ t[1][b[6]] ^ t[0][b[7]]
	}
	for _, x := range b {
		c = c>>8 ^ t[0][byte(c)^x]
	}
	return c
}

// chunk is one FIT file of a chain, header included.
type chunk struct {
	data  []byte
	fault fault // of its length or checksum
}

// fault is what is wrong with a chunk; the zero value is nothing.
type fault struct {
	code importer.Code
	text string
}

// isHeader reports whether a FIT header stands at the start of b.
func isHeader(b []byte) bool {
	return len(b) >= 12 && (b[0] == 12 || b[0] == 14) && len(b) >= int(b[0]) && string(b[8:12]) == ".FIT"
}

// split cuts data into the files chained in it; rest is what follows the last.
func split(data []byte) (chunks []chunk, rest []byte) {
	for isHeader(data) {
		c, n := first(data)
		chunks = append(chunks, c)
		data = data[n:]
	}
	return chunks, data
}

// first is the first file in data and its length. The header's own checksum is
// not looked at: 0 means "not computed", and the file's checksum covers it.
func first(data []byte) (chunk, int) {
	head := int(data[0])
	size := int64(binary.LittleEndian.Uint32(data[4:8]))
	end := int64(head) + size + 2
	switch {
	case size == 0 && (len(data) <= head+2 || isHeader(data[head+2:])):
		return chunk{data: data[:head]}, min(len(data), head+2)
	case size == 0:
		return resized(data, fault{importer.Truncated, "its header gives no length, as if the recording never ended"}), len(data)
	case end > int64(len(data)):
		return resized(data, fault{importer.Truncated, fmt.Sprintf("it ends after %d of %d bytes", len(data), end)}), len(data)
	case crc16(data[:end]) == 0:
		return chunk{data: data[:end]}, int(end)
	case int64(len(data)) > end && crc16(data) == 0:
		return resized(data, fault{}), len(data)
	}
	return chunk{data[:end], fault{importer.Checksum, "its checksum is wrong"}}, int(end)
}

// resized is data as one file whose header tells its true length. If the
// checksum at the very end is right, only the header was wrong.
func resized(data []byte, f fault) chunk {
	size := len(data) - int(data[0])
	if crc16(data) == 0 {
		size, f = size-2, fault{}
	}
	out := append([]byte(nil), data...)
	binary.LittleEndian.PutUint32(out[4:8], uint32(size))
	return chunk{out, f}
}
