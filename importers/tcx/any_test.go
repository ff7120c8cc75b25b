package tcx

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

// TestAnyBytes: whatever happens to a file's bytes, the result keeps the contract.
func TestAnyBytes(t *testing.T) {
	paths, err := filepath.Glob("testdata/*.tcx")
	if err != nil || len(paths) == 0 {
		t.Fatal("no samples", err)
	}
	var samples [][]byte
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		samples = append(samples, data)
	}
	rapid.Check(t, func(r *rapid.T) {
		data := slices.Clone(rapid.SampledFrom(samples).Draw(r, "sample"))
		for range rapid.IntRange(1, 12).Draw(r, "changes") {
			at := rapid.IntRange(0, len(data)-1).Draw(r, "at")
			data[at] = rapid.OneOf(rapid.Byte(), rapid.SampledFrom([]byte("0123456789.<>/\"&-"))).Draw(r, "byte")
		}
		hints := importer.Hints{Second: rapid.Bool().Draw(r, "second"), Zone: rapid.SampledFrom([]string{"", "Europe/Berlin"}).Draw(r, "zone")}
		importertest.Check(t, New().Read(importertest.Source("x.tcx", data, hints)))
		if t.Failed() {
			r.Fatalf("bytes %q", data)
		}
	})
}
