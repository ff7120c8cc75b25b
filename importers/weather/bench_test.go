package weather

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

// A year of hours, as a table and as reports.
func BenchmarkRead(b *testing.B) {
	var rows, reports strings.Builder
	rows.WriteString("time,temp_c,rh,wind_m_s,dewpoint_c,pressure_hpa\n")
	for t := time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC); t.Year() == 2025; t = t.Add(time.Hour) {
		fmt.Fprintf(&rows, "%s,%d.5,71,3.4,4.1,1013.2\n", t.Format("2006-01-02 15:04"), 5+t.Hour())
		fmt.Fprintf(&reports, "%s METAR XAAA %sZ 24010KT 9999 FEW030 %02d/04 Q1013=\n", t.Format("200601021504"), t.Format("021504"), 5+t.Hour())
	}
	for name, text := range map[string]string{"table": rows.String(), "reports": reports.String()} {
		src := importertest.Source("air.csv", []byte(text), importer.Hints{Zone: "Europe/Lisbon"})
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if n := len(New().Read(src).Weather); n < 8750 {
					b.Fatalf("%d observations of 8760", n)
				}
			}
		})
	}
}
