package gpx

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/tkrajina/gpxgo/gpx"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

// long is a track of 50,000 points with heart rate and temperature.
func long() string {
	var b strings.Builder
	b.WriteString(`<gpx version="1.1" creator="composed for tests"><trk><type>running</type><trkseg>`)
	start := time.Date(2026, 4, 12, 7, 0, 0, 0, time.UTC)
	for i := range 50_000 {
		fmt.Fprintf(&b, `
   <trkpt lat="%.7f" lon="%.7f"><ele>%.2f</ele><time>%s</time><extensions><p:TrackPointExtension><p:atemp>21.0</p:atemp><p:hr>%d</p:hr></p:TrackPointExtension></extensions></trkpt>`,
			44+float64(i)*1e-5, -27+float64(i)*1e-5, float64(i%50), start.Add(time.Duration(i)*time.Second).Format(time.RFC3339), 120+i%40)
	}
	b.WriteString("\n</trkseg></trk></gpx>")
	return b.String()
}

func BenchmarkRead(b *testing.B) {
	src := importertest.Source("x.gpx", []byte(long()), importer.Hints{})
	b.SetBytes(int64(len(src.Data)))
	b.ReportAllocs()
	for b.Loop() {
		if res := New().Read(src); len(res.Activities[0].Samples) != 50_000 {
			b.Fatal("points are missing")
		}
	}
}

func BenchmarkSecondReader(b *testing.B) {
	data := []byte(long())
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := gpx.ParseBytes(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHash(b *testing.B) {
	data := []byte(long())
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		importer.Hash(data)
	}
}
