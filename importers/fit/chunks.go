package fit

import (
	"encoding/binary"
	"fmt"

	"saltpan/importers/importer"
)

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
	case int64(len(data)) > end && !isHeader(data[end:]) && crc16(data) == 0:
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
