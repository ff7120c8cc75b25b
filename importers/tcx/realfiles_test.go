package tcx

import (
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

// realFiles are files that others recorded, with values on which at least two
// independent decoders agree; they are looked for in $SALTPAN_REAL_FILES.
// Elapsed is that from the first to the last point; a last lap's total, which
// carries fractions of a second that points do not, may end up to 1 s later.
var realFiles = []struct {
	sha256     string
	points     int
	start      string
	elapsed    float64 // s
	moving     float64 // s, sum of the laps
	distance   float64 // m, sum of the laps
	laps       int
	heartRates int
	meanHR     float64
	placed     bool
}{
	{"75ef1eb3aad7a906471f17a1f5cf9c34af151b00f368625fae3921139dd48071", 384, "2012-12-26T21:29:53Z", 1992, 1992.78, 4689.243, 3, 383, 156.653, true},
	{"61e4a570ce7dc460563a17a53c12abe935a19d20e0cb722168cd06427edd169a", 384, "2012-12-26T21:29:53Z", 1992, 1992.78, 4689.243, 3, 0, 0, true},
	{"28259bfb9ee059ab2a3dceeed386001fdef7cb22f16f65516c2e68deb52b8a80", 215, "2025-10-24T15:25:26Z", 1638, 1638.071, 4111.48, 3, 215, 125.902, false},
	{"1a9f5362c2f28b64a5c41cffc1397f10fdd7e923ba19db6065b6b1c8ccf0e7e1", 494, "2009-05-28T20:29:02Z", 3058, 2878.86, 6188.301, 1, 492, 158.988, true},
}

func TestRealFiles(t *testing.T) {
	content := folder(t)
	for _, f := range realFiles {
		t.Run(f.sha256[:8], func(t *testing.T) {
			data, ok := content[f.sha256]
			if !ok {
				t.Fatal("not found")
			}
			res := read(t, string(data), importer.Hints{})
			a := only(t, res)
			n := 0
			for _, s := range a.Samples {
				if s.HRBpm > 0 {
					n++
				}
			}
			if a.Sport != "running" || len(a.Samples) != f.points || n != f.heartRates || len(a.Laps) != f.laps || (a.StartAt != nil) != f.placed {
				t.Errorf("%s, %d samples, %d heart rates, %d laps, start at %v", a.Sport, len(a.Samples), n, len(a.Laps), a.StartAt)
			}
			if got := a.Start.Format(time.RFC3339Nano); got != f.start {
				t.Errorf("start %s, want %s", got, f.start)
			}
			if over := a.Elapsed.Seconds() - f.elapsed; over < 0 || over > 1 {
				t.Errorf("elapsed %v, want %v s and at most 1 s more", a.Elapsed, f.elapsed)
			}
			// The laps of a run without a pause add up to less than 1 s over its points.
			near(t, "moving", a.Moving.Seconds(), min(f.moving, a.Elapsed.Seconds()), 0.001)
			near(t, "distance", float64(*a.Distance), f.distance, 0.001)
			if f.meanHR > 0 {
				near(t, "mean heart rate", *a.MeanHRBpm, f.meanHR, 0.001)
			} else if a.MeanHRBpm != nil {
				t.Errorf("mean heart rate %v, want none", *a.MeanHRBpm)
			}
			half := only(t, read(t, string(data[:len(data)/2]), importer.Hints{}))
			if half.Salvaged == "" || half.Elapsed >= a.Elapsed || *half.Distance >= *a.Distance {
				t.Errorf("half of it: salvaged %q, %v, %v m", half.Salvaged, half.Elapsed, *half.Distance)
			}
		})
	}
}

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if math.Abs(got-want) > by {
		t.Errorf("%s %v, want %v", what, got, want)
	}
}

func folder(t *testing.T) map[string][]byte {
	t.Helper()
	dir := os.Getenv("SALTPAN_REAL_FILES")
	if dir == "" {
		t.Skip("SALTPAN_REAL_FILES is not set")
	}
	paths, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, p := range paths {
		if data, err := os.ReadFile(p); err == nil {
			out[importer.Hash(data)] = data
		}
	}
	return out
}

func BenchmarkRead(b *testing.B) {
	src := importertest.Source("x.tcx", long(), importer.Hints{})
	b.SetBytes(int64(len(src.Data)))
	b.ReportAllocs()
	for b.Loop() {
		if res := New().Read(src); len(res.Activities[0].Samples) != 20_000 {
			b.Fatal("points are missing")
		}
	}
}

func BenchmarkHash(b *testing.B) {
	data := long()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		importer.Hash(data)
	}
}
