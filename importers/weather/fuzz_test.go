package weather

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
		r := New().Read(importertest.Source("air.csv", data, importer.Hints{Zone: "Europe/Lisbon", Dates: "dmy"}))
		importertest.Check(t, r)
		for i, w := range r.Weather {
			if w.AirTempC < -60 || w.AirTempC > 60 || w.At.Before(importer.Earliest) || !w.At.Before(latest) || w.Origin.Line < 1 {
				t.Errorf("observation that cannot be: %+v", w)
			}
			if i > 0 && (w.At.Before(r.Weather[i-1].At) || w.At.Equal(r.Weather[i-1].At) && w.Station <= r.Weather[i-1].Station) {
				t.Errorf("observation out of order or twice: %+v", w)
			}
			for m, v := range map[meaning]*float64{dewPoint: w.DewPointC, humidity: w.HumidityPct, wind: w.WindMPerS, sun: w.SunWPerM2, pressure: w.PressureHPa} {
				if v != nil && !(*v >= bounds[m][0] && *v <= bounds[m][1]) {
					t.Errorf("%s that cannot be: %v", m, *v)
				}
			}
		}
	})
}
