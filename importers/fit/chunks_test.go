package fit

import (
	"bytes"
	"encoding/binary"
	"testing"

	"saltpan/importers/importer/importertest"
)

// Chains, headers and lengths that are not what the protocol says.
func TestContainersOfAllKinds(t *testing.T) {
	run := encode(t, runOf(10))
	later := encode(t, joined(fileOf(typeActivity), recordsOf(began+5000, 10), sessionOfSport(1, began+5000, 10)))
	tail := raw(14, definition(0, mesgHR, 253, 4, 0x86), data(0, le(began)))
	zeroCRC := bytes.Clone(run)
	zeroCRC[12], zeroCRC[13] = 0, 0
	binary.LittleEndian.PutUint16(zeroCRC[len(zeroCRC)-2:], crc16(zeroCRC[:len(zeroCRC)-2]))
	size := func(v uint32) []byte {
		out := bytes.Clone(run)
		binary.LittleEndian.PutUint32(out[4:], v)
		return out
	}
	resum := func(b []byte) []byte {
		binary.LittleEndian.PutUint16(b[len(b)-2:], crc16(b[:len(b)-2]))
		return b
	}
	torn := bytes.Clone(later)
	torn[9] = 'X'
	for _, c := range []struct {
		name     string
		data     []byte
		bouts    int
		problems int
		salvaged bool
	}{
		{"plain", run, 1, 0, false},
		{"header of 12 bytes", withHeader12(run), 1, 0, false},
		{"header checksum 0", zeroCRC, 1, 0, false},
		{"two files in one", append(bytes.Clone(run), later...), 2, 0, false},
		{"the same file twice", append(bytes.Clone(run), run...), 1, 0, false},
		{"heart-rate tails", append(append(bytes.Clone(run), tail...), tail...), 1, 0, false},
		{"second header torn", append(bytes.Clone(run), torn...), 1, 1, false},
		{"second file cut short", append(bytes.Clone(run), later[:20]...), 1, 1, false},
		{"zeros after the end", append(bytes.Clone(run), make([]byte, 100)...), 1, 0, false},
		{"bytes after the end", append(bytes.Clone(run), "trailing"...), 1, 1, false},
		{"length 0, as if the battery died", size(0)[:len(run)-2], 1, 0, true},
		{"length 0, checksum right", resum(size(0)), 1, 0, false},
		{"length too great, checksum right", resum(size(1 << 20)), 1, 0, false},
		{"length too small, checksum right", resum(size(200)), 1, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := readAll(t, c.data)
			if len(got.Activities) != c.bouts || len(got.Problems) != c.problems {
				t.Fatalf("want %d bouts, %d problems: %s", c.bouts, c.problems, importertest.Text(got))
			}
			if a := got.Activities[0]; (a.Salvaged != "") != c.salvaged || len(a.Samples) != 10 {
				t.Errorf("%d samples, salvaged %q", len(a.Samples), a.Salvaged)
			}
		})
	}
}
