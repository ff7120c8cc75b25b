package fit

import (
	"bytes"
	"encoding/binary"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/proto"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

// samplesOf are the files in testdata, by name.
func samplesOf(t *testing.T) map[string][]byte {
	run := encode(t, runOf(40))
	return map[string][]byte{
		"run.fit":           run,
		"run_cut.fit":       run[:len(run)*3/5],
		"summary_first.fit": encode(t, summaryFirst(), encoder.WithProtocolVersion(proto.V2)),
		"three_bouts.fit":   encode(t, threeBouts()),
		"big_endian.fit":    encode(t, runOf(20), encoder.WithBigEndian(), encoder.WithHeaderOption(encoder.HeaderOptionNormal, 15)),
		"old_watch.fit":     oldWatch(),
		"unset_clock.fit":   encode(t, unsetClock()),
		"chained.fit":       append(encode(t, runOf(10)), encode(t, joined(fileOf(2)))...),
		"course.fit":        encode(t, joined(fileOf(6), recordsOf(began, 5))),
		"weights.fit":       encode(t, weights()),
	}
}

func TestConformance(t *testing.T) {
	update := flag.Lookup("update").Value.String() == "true"
	for name, want := range samplesOf(t) {
		path := filepath.Join("testdata", name)
		if update {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what this test writes (%v); run with -update", path, err)
		}
	}
	importertest.Run(t, New(), importer.Hints{Athlete: "ines"})
}

// The catalogue of parametrised CRC algorithms (G. Cook) gives 0xBB3D for
// CRC-16/ARC over the nine ASCII digits.
func TestCRCOfCatalogue(t *testing.T) {
	if got := crc16([]byte("123456789")); got != 0xBB3D {
		t.Errorf("got %#x, want 0xbb3d", got)
	}
}

// Whatever the length, eight bytes at a time must give what one at a time does.
func TestCRCByEights(t *testing.T) {
	b := encode(t, runOf(3))
	for n := range b {
		slow := uint16(0)
		for _, x := range b[:n] {
			slow = slow>>8 ^ crcTable[0][byte(slow)^x]
		}
		if got := crc16(b[:n]); got != slow {
			t.Fatalf("%d bytes: %#x, one by one %#x", n, got, slow)
		}
	}
	if crc16(b) != 0 {
		t.Error("over a whole file with its checksum it must be 0")
	}
}

func TestIdentifyGoesByContent(t *testing.T) {
	for _, c := range []struct {
		head string
		want bool
	}{
		{"\x0e\x20\x00\x00\x00\x00\x00\x00.FIT\x00\x00", true},
		{"\x0c\x10\x00\x00\x00\x00\x00\x00.FIT", true},
		{"\x0d\x10\x00\x00\x00\x00\x00\x00.FIT\x00", false},
		{"\x0e\x10\x00\x00\x00\x00\x00\x00.FIT", false},
		{"<?xml version=\"1.0\"?>", false},
		{"", false},
	} {
		if got := New().Identify([]byte(c.head)); got != c.want {
			t.Errorf("%q: %v, want %v", c.head, got, c.want)
		}
	}
}

func TestNoFITHeader(t *testing.T) {
	for data, want := range map[string]importer.Code{
		"": importer.Empty, "\x0e\x20": importer.Truncated, "hello, this is text": importer.UnknownFormat,
	} {
		if got := readAll(t, []byte(data)); got.Refused == nil || got.Refused.Code != want {
			t.Errorf("%q: got %+v, want %s", data, got.Refused, want)
		}
	}
}

func TestTooManyRecords(t *testing.T) {
	many := bytes.Repeat(data(0, le(began)), maxRecords+1)
	got := readAll(t, raw(14, definition(0, mesgRecord, 253, 4, 0x86), many))
	if got.Refused == nil || got.Refused.Code != importer.TooLarge {
		t.Errorf("got %+v, want too-large", got.Refused)
	}
}

// A definition without fields makes messages of one byte each.
func TestTooManyMessages(t *testing.T) {
	got := readAll(t, raw(14, definition(0, mesgRecord), make([]byte, maxMessages)))
	if got.Refused == nil || got.Refused.Code != importer.TooLarge {
		t.Errorf("got %+v, want too-large", got.Refused)
	}
}

func TestTooManySessions(t *testing.T) {
	one := data(0, le(began))
	got := readAll(t, raw(14, definition(0, mesgSession, sessionStart, 4, 0x86), bytes.Repeat(one, maxSessions+1)))
	if got.Refused == nil || got.Refused.Code != importer.TooLarge {
		t.Errorf("got %+v, want too-large", got.Refused)
	}
}

func TestTooManyChainedFiles(t *testing.T) {
	got := readAll(t, bytes.Repeat(raw(14, definition(0, mesgHR), data(0)), maxChunks+1))
	if got.Refused == nil || got.Refused.Code != importer.TooLarge {
		t.Errorf("got %+v, want too-large", got.Refused)
	}
}

// Every byte of a file set to each of a few values: no panic, and the contract holds.
func TestDamageAnywhere(t *testing.T) {
	whole := encode(t, runOf(5))
	for i := range whole {
		for _, v := range []byte{0, 0x40, 0x7F, 0xFF, whole[i] ^ 1} {
			hurt := bytes.Clone(whole)
			hurt[i] = v
			readAll(t, hurt)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(encode(f, runOf(5)))
	f.Add(encode(f, weights()))
	f.Add(oldWatch())
	f.Fuzz(func(t *testing.T, b []byte) { readAll(t, b) })
}

// A record of nine fields, 36 bytes, as common watches write them.
func BenchmarkRead(b *testing.B) {
	const records = 20_000
	file := encode(b, runOf(records))
	src := importertest.Source("invented.fit", file, importer.Hints{Athlete: "ines"})
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		if got := New().Read(src); len(got.Activities) != 1 {
			b.Fatal(importertest.Text(got))
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/records, "ns/record")
}

// What the decoder alone takes to cut the same file into messages.
func BenchmarkFraming(b *testing.B) {
	const records = 20_000
	file := encode(b, runOf(records))
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		_, err := decoder.NewRaw().Decode(bytes.NewReader(file), func(decoder.RawFlag, []byte) error { return nil })
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/records, "ns/record")
}

func BenchmarkCRC(b *testing.B) {
	file := encode(b, runOf(1000))
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		crc16(file)
	}
}

// withHeader12 is a file with the short header, which has no checksum of its own.
func withHeader12(file []byte) []byte {
	body := file[14 : len(file)-2]
	out := append([]byte{12}, file[1:12]...)
	out = append(out, body...)
	return binary.LittleEndian.AppendUint16(out, crc16(out))
}
