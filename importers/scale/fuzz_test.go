package scale

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

func FuzzRead(f *testing.F) {
	samples, _ := filepath.Glob("testdata/*.*")
	for _, path := range samples {
		if data, err := os.ReadFile(path); err == nil && !strings.HasSuffix(path, ".golden") {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		New().Identify(data)
		r := New().Read(importertest.Source("scale.csv", data, importer.Hints{Unit: "kg", Dates: "dmy"}))
		importertest.Check(t, r)
		lines := map[int]bool{}
		for _, w := range r.WeighIns {
			if w.Mass < lightest || w.Mass > heaviest || w.MassStep <= 0 || w.Origin.Line < 2 || lines[w.Origin.Line] {
				t.Errorf("weigh-in that cannot be: %+v", w)
			}
			lines[w.Origin.Line] = true
			for _, o := range w.Also {
				if lines[o.Line] {
					t.Errorf("line %d stands in two weigh-ins", o.Line)
				}
				lines[o.Line] = true
			}
		}
	})
}
