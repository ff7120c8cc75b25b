package unpack

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"saltpan/importers/importer"
)

// TestAnyBytes: whatever is done to an archive, nothing panics, everything given
// has a path under the archive's own, and every problem a code of the list.
func TestAnyBytes(t *testing.T) {
	inner := zipped(t, entry{name: "in.gz", data: gzipped(text(300))})
	seeds := [][]byte{gzipped(text(500)), inner, zipped(t, entry{name: "a/b", data: text(200)}, entry{name: "c.zip", data: inner})}
	rapid.Check(t, func(r *rapid.T) {
		data := slices.Clone(seeds[rapid.IntRange(0, 2).Draw(r, "seed")])
		for range rapid.IntRange(0, 8).Draw(r, "changes") {
			data[rapid.IntRange(0, len(data)-1).Draw(r, "at")] = rapid.Byte().Draw(r, "byte")
		}
		data = data[:rapid.IntRange(0, len(data)).Draw(r, "length")]
		n := 0
		for src, p := range expand("x", data) {
			n++
			if !strings.HasPrefix(src.Path, "x") || strings.Contains(src.Path, "..") {
				r.Errorf("path %q", src.Path)
			}
			if p != nil && (!slices.Contains(importer.Codes(), p.Code) || p.Text == "" || p.Path != src.Path) {
				r.Errorf("problem %+v", p)
			}
			if p == nil && src.SHA256 != importer.Hash(src.Data) {
				r.Error("wrong hash")
			}
		}
		if n == 0 {
			r.Error("neither a source nor a problem")
		}
	})
}
