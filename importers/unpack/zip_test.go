package unpack

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"io/fs"
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
)

func TestMembersInOrder(t *testing.T) {
	want(t, expand("a.zip", zipped(t,
		entry{name: "2026/"},
		entry{name: "2026/run.fit", data: text(100)},
		entry{name: "__MACOSX/2026/._run.fit", data: text(10)},
		entry{name: "2026/.DS_Store", data: text(10)},
		entry{name: "2026/Thumbs.db", data: text(10)},
		entry{name: `win\run.fit`, data: text(7)},
		entry{name: "run.gpx.gz", data: gzipped(text(30))},
	)), "a.zip!2026/run.fit 100", "a.zip!win/run.fit 7", "a.zip!run.gpx.gz 30")
}

func TestUnsafeNamesAreNotRead(t *testing.T) {
	for _, name := range []string{"../evil.fit", "a/../../evil.fit", "/abs.fit", `C:\x.fit`, "c:x.fit", `a\..\..\b.fit`, `\\host\x`, "a\x00.fit", "..", "a/.."} {
		if safe(name) {
			t.Errorf("%q is taken to be safe", name)
		}
		lines := got(expand("a.zip", zipped(t, entry{name: name, data: text(9)}, entry{name: "ok", data: text(3)})))
		if len(lines) != 2 || !strings.HasSuffix(lines[0], " unsafe-name") || lines[1] != "a.zip!ok 3" {
			t.Errorf("%q: got %q", name, lines)
		}
		if path := strings.Fields(lines[0])[0]; strings.Contains(path, "..") || strings.ContainsAny(path, "\x00\\") {
			t.Errorf("%q: label %q", name, path)
		}
	}
	for _, name := range []string{"a..b.fit", "...", ".hidden", "ab:c", "été.fit"} {
		if !safe(name) {
			t.Errorf("%q is taken to be unsafe", name)
		}
	}
}

func TestLabels(t *testing.T) {
	seen := map[string]int{}
	for _, c := range [][2]string{
		{"a/run.fit", "a/run.fit"}, {"a/run.fit", "a/run.fit#2"}, {"./a//b", "a/b"}, {"a\nb\x1b[31m", "a_b_[31m"},
		{"gpj\u202etif", "gpj_tif"}, {"caf\xe9.csv", "caf_.csv"}, {"", "member 1"}, {strings.Repeat("n", 6000), strings.Repeat("n", maxName) + "…"},
	} {
		if l := label(c[0], 0, seen); l != c[1] {
			t.Errorf("label of %.20q is %q, want %q", c[0], l, c[1])
		}
	}
}

func TestWhatIsNotRead(t *testing.T) {
	want(t, expand("a.zip", zipped(t,
		entry{name: "link", data: []byte("/etc/passwd"), edit: func(h *zip.FileHeader) { h.SetMode(fs.ModeSymlink | 0o777) }},
		entry{name: "pipe", data: nil, edit: func(h *zip.FileHeader) { h.SetMode(fs.ModeNamedPipe | 0o600) }},
		entry{name: "ok", data: text(3)},
	)), "a.zip!link unsupported", "a.zip!pipe unsupported", "a.zip!ok 3")
}

// patch changes one field of every header of a member: its offsets in the local
// header and in the directory are those of APPNOTE.TXT 4.3.7 and 4.3.12.
func patch(data []byte, local, central int, v uint16) []byte {
	out := bytes.Clone(data)
	for i := range len(out) - 4 {
		switch string(out[i : i+4]) {
		case "PK\x03\x04":
			binary.LittleEndian.PutUint16(out[i+local:], v)
		case "PK\x01\x02":
			binary.LittleEndian.PutUint16(out[i+central:], v)
		}
	}
	return out
}

func TestEncryptedAndUnknownMethods(t *testing.T) {
	data := zipped(t, entry{name: "x", data: text(50)})
	want(t, expand("a.zip", patch(data, 6, 8, 9)), "a.zip!x unsupported")
	for _, method := range []uint16{9, 12, 14, 93, 99} { // deflate64, bzip2, LZMA, zstandard, AES
		want(t, expand("a.zip", patch(data, 8, 10, method)), "a.zip!x unsupported")
	}
}

func TestNesting(t *testing.T) {
	leaf := zipped(t, entry{name: "run.fit.gz", data: gzipped(text(20))}, entry{name: "b", data: text(5)})
	one := zipped(t, entry{name: "in.zip", data: leaf})
	want(t, expand("a.zip", one), "a.zip!in.zip!run.fit.gz 20", "a.zip!in.zip!b 5")
	two := zipped(t, entry{name: "mid.zip", data: one}, entry{name: "c", data: text(4)})
	want(t, expand("a.zip", two), "a.zip!mid.zip!in.zip too-large", "a.zip!c 4")
	want(t, expand("a.zip.gz", gzipped(leaf)), "a.zip.gz!run.fit.gz too-large", "a.zip.gz!b 5")
}

func TestOneBadMemberNeverStopsTheOthers(t *testing.T) {
	data := zipped(t, entry{name: "a", data: text(20)}, entry{name: "bad", data: text(4000)}, entry{name: "c", data: text(30)})
	at := bytes.Index(data, []byte("PK\x03\x04")) + 200
	data[at+1000] ^= 0xff
	lines := got(expand("x", data))
	if len(lines) != 3 || lines[0] != "x!a 20" || lines[2] != "x!c 30" ||
		!strings.Contains(lines[1], "checksum") && !strings.Contains(lines[1], "damaged") {
		t.Errorf("got %q", lines)
	}
}

func TestMemberBombs(t *testing.T) {
	want(t, expand("x", zipped(t, entry{name: "zeros", data: make([]byte, 8<<20)}, entry{name: "ok", data: text(5)})),
		"x!zeros too-large", "x!ok 5")
	inner := zipped(t, entry{name: "z", data: gzipped(make([]byte, 2<<20))})
	want(t, expand("x", zipped(t, entry{name: "in.zip", data: inner})), "x!in.zip!z too-large")
}

// A header that claims less than what comes out does not get round the limits:
// the count is of bytes that came out.
func TestLyingSize(t *testing.T) {
	data := zipped(t, entry{name: "x", data: text(3000)})
	at := bytes.Index(data, []byte("PK\x01\x02"))
	binary.LittleEndian.PutUint32(data[at+24:], 100)
	lines := got(expand("a", data))
	if len(lines) != 1 || strings.HasPrefix(lines[0], "a!x 3000") && !strings.Contains(lines[0], "size") {
		t.Errorf("got %q", lines)
	}
}

// forged repeats the one directory entry of an archive n times.
func forged(t testing.TB, n int, member entry) []byte {
	data := zipped(t, member)
	dir, end := bytes.Index(data, []byte("PK\x01\x02")), bytes.LastIndex(data, []byte("PK\x05\x06"))
	one := data[dir:end]
	out := append(bytes.Clone(data[:dir]), bytes.Repeat(one, n)...)
	tail := bytes.Clone(data[end:])
	binary.LittleEndian.PutUint16(tail[8:], uint16(n))
	binary.LittleEndian.PutUint16(tail[10:], uint16(n))
	binary.LittleEndian.PutUint32(tail[12:], uint32(len(one)*n))
	return append(out, tail...)
}

func TestOverlappingMembersAreRefused(t *testing.T) {
	start := time.Now()
	lines := got(expand("x", forged(t, 1000, entry{name: "f", data: make([]byte, 1<<20)})))
	if len(lines) != 1000 {
		t.Fatalf("%d lines, want 1000", len(lines))
	}
	for _, l := range lines {
		if !strings.HasSuffix(l, "too-large") {
			t.Fatalf("got %q", l)
		}
	}
	if d := time.Since(start); d > 2*time.Second {
		t.Errorf("took %v", d)
	}
}

func TestTooManyMembers(t *testing.T) {
	want(t, expand("x", forged(t, MaxMembers+1, entry{name: "f", data: text(1)})), "x too-large")
	// A list of 24 MiB is given up before it is held.
	want(t, expand("x", forged(t, 500_000, entry{name: "f", data: text(1)})), "x too-large")
}

func TestBudgetOfAnArchive(t *testing.T) {
	data := zipped(t, entry{name: "a", data: text(600)}, entry{name: "b", data: text(600)}, entry{name: "c", data: text(600)})
	var lines []string
	w := newWalk(func(src importer.Source, p *importer.Problem) bool {
		if p != nil {
			lines = append(lines, src.Path+" "+string(p.Code))
		} else {
			lines = append(lines, src.Path)
		}
		return true
	})
	w.budget.bytes = 1000
	w.source(importer.Source{Path: "x", Data: data}, level{})
	if g := strings.Join(lines, ", "); g != "x!a, x!b too-large, x!c too-large" {
		t.Errorf("got %s", g)
	}
}

func TestArchivesThatAreNone(t *testing.T) {
	whole := zipped(t, entry{name: "a", data: text(2000)})
	want(t, expand("x", whole[:len(whole)/2]), "x truncated")
	want(t, expand("x", whole[:4]), "x truncated")
	want(t, expand("x", zipped(t)), "x empty")
	want(t, expand("x", zipped(t, entry{name: "__MACOSX/a", data: text(5)})), "x empty")
	want(t, expand("x", zipped(t, entry{name: "[Content_Types].xml", data: text(9)}, entry{name: "xl/s.xml", data: text(9)})), "x unsupported")
}

func BenchmarkZip(b *testing.B) {
	var entries []entry
	for range 50 {
		entries = append(entries, entry{name: "run.fit", data: text(200_000)})
	}
	data := zipped(b, entries...)
	b.SetBytes(50 * 200_000)
	for b.Loop() {
		for range expand("x", data) {
		}
	}
}
