package store

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"io"
	"math"
	"time"

	"saltpan/pipeline/record"
)

// A packed series is one byte that says how the rest is written (plain or
// deflated), then the number of samples, one byte that says which columns are
// there, the times in milliseconds, and those columns one after the other. What
// stands there is each value's step from the one before (for floats the bits
// that differ), since steps repeat where values do not. Everything is
// little-endian.
const (
	plain    = 0
	deflated = 1

	headerSize = 5 // number of samples, columns present
	timeSize   = 4 // signed milliseconds reach 24 days
	valueSize  = 4 // float32
)

// maxPacked bounds what a damaged or hostile blob can make us allocate: it is
// well above the half million samples an importer lets through.
const maxPacked = 64 << 20

// floatColumns are the columns of a sample in the order they are packed.
func floatColumns(s *record.Sample) [4]*float32 {
	return [4]*float32{&s.Distance, &s.Altitude, &s.Speed, &s.Temp}
}

// heartRateBit follows the bits of the float columns.
const heartRateBit = 4

// pack writes samples as one blob and gives its SHA-256.
func pack(samples []record.Sample) (blob []byte, sum string, err error) {
	raw := packColumns(samples)
	var b bytes.Buffer
	b.Grow(len(raw))
	b.WriteByte(deflated)
	w, err := flate.NewWriter(&b, flate.BestSpeed)
	if err != nil {
		return nil, "", err
	}
	if _, err := w.Write(raw); err != nil {
		return nil, "", err
	}
	if err := w.Close(); err != nil {
		return nil, "", err
	}
	blob = b.Bytes()
	if len(blob) > len(raw) {
		blob = append([]byte{plain}, raw...)
	}
	return blob, hash(blob), nil
}

func hash(blob []byte) string {
	sum := sha256.Sum256(blob)
	return hex.EncodeToString(sum[:])
}

func packColumns(samples []record.Sample) []byte {
	present := columnsPresent(samples)
	raw := make([]byte, 0, headerSize+len(samples)*(timeSize+4*valueSize+1))
	raw = binary.LittleEndian.AppendUint32(raw, uint32(len(samples)))
	raw = append(raw, present)
	var last uint32
	for _, s := range samples {
		now := uint32(int32(s.At.Milliseconds()))
		raw = binary.LittleEndian.AppendUint32(raw, now-last)
		last = now
	}
	for c := range heartRateBit {
		if present&(1<<c) == 0 {
			continue
		}
		last = 0
		for i := range samples {
			now := math.Float32bits(*floatColumns(&samples[i])[c])
			raw = binary.LittleEndian.AppendUint32(raw, now^last)
			last = now
		}
	}
	if present&(1<<heartRateBit) != 0 {
		var last byte
		for _, s := range samples {
			raw = append(raw, s.HRBpm-last)
			last = s.HRBpm
		}
	}
	return raw
}

// columnsPresent has a bit for each column with at least one value.
func columnsPresent(samples []record.Sample) (bits byte) {
	for i := range samples {
		for c, v := range floatColumns(&samples[i]) {
			if *v == *v { // not NaN
				bits |= 1 << c
			}
		}
		if samples[i].HRBpm != 0 {
			bits |= 1 << heartRateBit
		}
	}
	return bits
}

// unpack reads what pack wrote.
func unpack(blob []byte) ([]record.Sample, error) {
	if len(blob) == 0 {
		return nil, fmt.Errorf("the packed samples are empty")
	}
	raw, err := inflate(blob[0], blob[1:])
	if err != nil {
		return nil, err
	}
	if len(raw) < headerSize {
		return nil, fmt.Errorf("the packed samples end after %d bytes", len(raw))
	}
	n, present := int(binary.LittleEndian.Uint32(raw)), raw[4]
	raw = raw[headerSize:]
	if want := packedSize(n, present); len(raw) != want {
		return nil, fmt.Errorf("the packed samples have %d bytes where %d samples take %d", len(raw), n, want)
	}
	return unpackColumns(raw, n, present), nil
}

// inflate undoes what the first byte says was done to the rest.
func inflate(how byte, rest []byte) ([]byte, error) {
	switch how {
	case plain:
		return rest, nil
	case deflated:
		raw, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(rest)), maxPacked))
		if err != nil {
			return nil, fmt.Errorf("the packed samples cannot be inflated: %w", err)
		}
		return raw, nil
	}
	return nil, fmt.Errorf("the samples are packed in an unknown way, %d", how)
}

func packedSize(n int, present byte) int {
	size := n * timeSize
	for c := range heartRateBit {
		if present&(1<<c) != 0 {
			size += n * valueSize
		}
	}
	if present&(1<<heartRateBit) != 0 {
		size += n
	}
	return size
}

func unpackColumns(raw []byte, n int, present byte) []record.Sample {
	samples := make([]record.Sample, n)
	var last uint32
	for i := range samples {
		last += binary.LittleEndian.Uint32(raw[i*timeSize:])
		samples[i].At = time.Duration(int32(last)) * time.Millisecond
	}
	raw = raw[n*timeSize:]
	missing := float32(math.NaN())
	for c := range heartRateBit {
		there := present&(1<<c) != 0
		last = 0
		for i := range samples {
			v := floatColumns(&samples[i])[c]
			*v = missing
			if there {
				last ^= binary.LittleEndian.Uint32(raw[i*valueSize:])
				*v = math.Float32frombits(last)
			}
		}
		if there {
			raw = raw[n*valueSize:]
		}
	}
	if present&(1<<heartRateBit) != 0 {
		var last byte
		for i := range samples {
			last += raw[i]
			samples[i].HRBpm = last
		}
	}
	return samples
}
