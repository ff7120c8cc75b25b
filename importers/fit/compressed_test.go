package fit

import (
	"math"
	"testing"
	"time"

	"github.com/muktihari/fit/encoder"

	"saltpan/pipeline/record"
)

// oldWatch has a 12-byte header, compressed timestamps, speed and distance in
// three bytes, and 16-bit altitude.
func oldWatch() []byte {
	parts := [][]byte{
		definition(0, mesgFileID, fileIDType, 1, 0x00, fileIDProduct, 2, 0x84), data(0, []byte{typeActivity, 9, 0}),
		definition(1, mesgSession, 253, 4, 0x86, sessionStart, 4, 0x86, sessionSport, 1, 0x00, sessionElapsed, 4, 0x86),
		definition(2, mesgRecord, recordSpeedDistance, 3, 0x0D, recordHR, 1, 0x02, recordAltitude, 2, 0x84),
		definition(3, 21, 253, 4, 0x86), data(3, le(began)),
	}
	for i := range 40 {
		at, metres := began+uint32(i*3), i*12
		step := metres * 16 & 0xFFF
		speed := 400
		parts = append(parts, data(0x80|2<<5|byte(at&0x1F),
			[]byte{byte(speed), byte(speed>>8) | byte(step)<<4, byte(step >> 4), byte(130 + i%5)}, []byte{0xE8, 0x0A}))
	}
	parts = append(parts, data(1, le(began+117), le(began), []byte{1}, le(117_000)))
	return raw(12, parts...)
}

// Compressed timestamps roll over every 32 s and compressed distance every
// 256 m; by construction 40 records every 3 s, 12 m apart at 4 m/s, at raw
// altitude 0x0AE8, which is 2792/5 - 500 m.
func TestCompressedTimeSpeedAndDistance(t *testing.T) {
	a := only(t, oldWatch())
	if len(a.Samples) != 40 || a.Distance == nil || *a.Distance != 468 || a.Sport != record.Running {
		t.Fatalf("%d samples, %v m, %s", len(a.Samples), a.Distance, a.Sport)
	}
	for i, s := range a.Samples {
		if s.At != time.Duration(3*i)*time.Second || s.Distance != float32(12*i) || s.Speed != 4 || math.Abs(float64(s.Altitude)-58.4) > 1e-3 {
			t.Fatalf("sample %d: %+v", i, s)
		}
	}
}

// The encoder's own compressed timestamps give the same samples as plain ones.
func TestEncodersCompressedTimestamps(t *testing.T) {
	plain := only(t, encode(t, runOf(100)))
	packed := only(t, encode(t, runOf(100), encoder.WithHeaderOption(encoder.HeaderOptionCompressedTimestamp, 3)))
	if len(plain.Samples) != 100 || len(packed.Samples) != 100 {
		t.Fatalf("%d and %d samples", len(plain.Samples), len(packed.Samples))
	}
	for i := range plain.Samples {
		if plain.Samples[i] != packed.Samples[i] {
			t.Fatalf("sample %d: %+v and %+v", i, plain.Samples[i], packed.Samples[i])
		}
	}
}
