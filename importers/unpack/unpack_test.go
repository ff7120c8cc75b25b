package unpack

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"strings"
	"testing"

	"saltpan/importers/importer"
)

// got is what an input gave, one line each: "PATH SIZE [DAMAGE]" or "PATH CODE".
func got(members Members) []string {
	var out []string
	for src, p := range members {
		switch {
		case p != nil:
			out = append(out, fmt.Sprintf("%s %s", p.Path, p.Code))
		case src.Damaged != "":
			out = append(out, fmt.Sprintf("%s %d %s", src.Path, len(src.Data), src.Damaged))
		default:
			out = append(out, fmt.Sprintf("%s %d", src.Path, len(src.Data)))
		}
	}
	return out
}

func want(t *testing.T, members Members, lines ...string) {
	t.Helper()
	if g, w := strings.Join(got(members), "\n"), strings.Join(lines, "\n"); g != w {
		t.Errorf("got\n%s\nwant\n%s", g, w)
	}
}

func expand(path string, data []byte) Members {
	return Expand(importer.Source{Path: path, Data: data})
}

func gzipped(data []byte) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	w.Write(data)
	w.Close()
	return b.Bytes()
}

// entry is one member of an archive made for a test.
type entry struct {
	name string
	data []byte
	edit func(*zip.FileHeader)
}

func zipped(t testing.TB, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate}
		if e.edit != nil {
			e.edit(h)
		}
		f, err := w.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(e.name, "/") {
			continue
		}
		if _, err := f.Write(e.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// text does not compress well, so that cuts fall inside it.
func text(n int) []byte {
	out, x := make([]byte, n), uint32(7)
	for i := range out {
		x = x*1664525 + 1013904223 // Numerical Recipes' linear congruence
		out[i] = byte(x >> 24)
	}
	return out
}

func TestOtherFilesPassAsTheyAre(t *testing.T) {
	in := importer.Source{Path: "run.gpx.zip", Data: []byte("<gpx/>"), Hints: importer.Hints{Athlete: "ines"}}
	for src, p := range Expand(in) {
		if p != nil || src.SHA256 != importer.Hash(in.Data) || src.Hints.Athlete != "ines" || src.Path != in.Path {
			t.Errorf("got %+v, %v", src, p)
		}
	}
	want(t, expand("empty", nil), "empty 0")
}

func TestHintsReachEveryMember(t *testing.T) {
	inner := zipped(t, entry{name: "a", data: gzipped([]byte("x"))})
	data := zipped(t, entry{name: "b.zip", data: inner}, entry{name: "c", data: []byte("y")})
	n := 0
	for src, p := range ExpandZip("in.zip", bytes.NewReader(data), int64(len(data)), importer.Hints{Zone: "Europe/Lisbon"}) {
		if n++; p != nil || src.Hints.Zone != "Europe/Lisbon" || src.SHA256 != importer.Hash(src.Data) {
			t.Errorf("got %+v, %v", src, p)
		}
	}
	if n != 2 {
		t.Errorf("%d members, want 2", n)
	}
}

func TestStopsWhenAsked(t *testing.T) {
	data := zipped(t, entry{name: "a", data: []byte("1")}, entry{name: "b", data: []byte("2")})
	for src := range expand("x.zip", data) {
		if src.Path != "x.zip!a" {
			t.Errorf("went on to %s", src.Path)
		}
		break
	}
}

func TestZipFromDiskEqualsZipInMemory(t *testing.T) {
	data := zipped(t, entry{name: "a", data: text(5000)}, entry{name: "../b", data: nil})
	want(t, ExpandZip("x", bytes.NewReader(data), int64(len(data)), importer.Hints{}), got(expand("x", data))...)
}

// failing is a disk that stops reading.
type failing struct{ io.ReaderAt }

func (f failing) ReadAt(p []byte, off int64) (int, error) {
	if off < 100 {
		return 0, io.ErrNoProgress
	}
	return f.ReaderAt.ReadAt(p, off)
}

func TestDiskErrorCostsOneMember(t *testing.T) {
	data := zipped(t, entry{name: "a", data: text(3000)}, entry{name: "b", data: text(10)})
	want(t, ExpandZip("x", failing{bytes.NewReader(data)}, int64(len(data)), importer.Hints{}), "x!a truncated", "x!b 10")
}
