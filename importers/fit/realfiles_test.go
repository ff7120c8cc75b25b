package fit

import (
	_ "embed"
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

// knownFiles are the SHA-256 of real FIT files and what two independent
// decoders, muktihari/fit with its full profile and fitdecode (Python), agree
// on in each. The files themselves are not here: some lie in the test data of
// the two decoder modules, others in the folder SALTPAN_REAL_FILES names.
//
//go:embed testdata/known/fit.json
var knownFiles []byte

type knownFile struct {
	SHA256   string
	Module   bool
	Refused  importer.Code
	Skipped  string
	WeighIns int `json:"weigh_ins"`

	Records   int
	Laps      int
	HRRecords int      `json:"hr_records"`
	MeanHR    *float64 `json:"mean_hr_bpm"` // zeros counted
	MeanTemp  *float64 `json:"mean_temp_c"`
	MinTemp   *float64 `json:"min_temp_c"`
	MaxTemp   *float64 `json:"max_temp_c"`
	MaxMetres *float64 `json:"max_distance_m"`
	First     time.Time
	Last      time.Time
	Sessions  []knownSession
}

type knownSession struct {
	Start    time.Time
	Sport    string
	Elapsed  *float64 `json:"elapsed_s"`
	Timer    *float64 `json:"timer_s"`
	Distance *float64 `json:"distance_m"`
	MeanHR   *float64 `json:"mean_hr_bpm"`
}

func TestKnownFiles(t *testing.T) {
	var table []knownFile
	if err := json.Unmarshal(knownFiles, &table); err != nil {
		t.Fatal(err)
	}
	inModules := bySHA256(t, moduleFolder(t, "github.com/muktihari/fit"), moduleFolder(t, "github.com/tormoder/fit"))
	elsewhere := map[string][]byte{}
	if dir := os.Getenv("SALTPAN_REAL_FILES"); dir != "" {
		elsewhere = bySHA256(t, dir)
	}
	for _, k := range table {
		t.Run(k.SHA256[:12], func(t *testing.T) {
			data, ok := inModules[k.SHA256]
			if !k.Module {
				data, ok = elsewhere[k.SHA256]
			}
			switch {
			case ok:
				checkKnown(t, k, data)
			case k.Module:
				t.Fatal("not found in the modules' test data")
			default:
				t.Skip("not in the folder of SALTPAN_REAL_FILES")
			}
		})
	}
}

func moduleFolder(t *testing.T, module string) string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", module).Output()
	if err != nil || len(out) < 2 {
		t.Fatalf("where is %s: %v", module, err)
	}
	return strings.TrimSpace(string(out))
}

func bySHA256(t *testing.T, dirs ...string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for _, dir := range dirs {
		err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !strings.EqualFold(filepath.Ext(path), ".fit") {
				return err
			}
			data, err := os.ReadFile(path)
			out[importer.Hash(data)] = data
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

func checkKnown(t *testing.T, k knownFile, data []byte) {
	got := New().Read(importertest.Source("known.fit", data, importer.Hints{Athlete: "ines"}))
	importertest.Check(t, got)
	checkMessages(t, k, data)
	switch {
	case k.Refused != "":
		if got.Refused == nil || got.Refused.Code != k.Refused {
			t.Errorf("got %s, want refused as %s", importertest.Text(got), k.Refused)
		}
	case k.Skipped != "":
		if got.Skipped != k.Skipped {
			t.Errorf("got %s, want skipped as %s", importertest.Text(got), k.Skipped)
		}
	case k.WeighIns > 0:
		if len(got.WeighIns) != k.WeighIns {
			t.Errorf("%d weigh-ins, want %d", len(got.WeighIns), k.WeighIns)
		}
	default:
		checkSessions(t, k, got)
	}
}

// checkSessions compares start exactly, times to 1 ms, distance to 1 cm and
// mean heart rate as the file's whole number.
func checkSessions(t *testing.T, k knownFile, got importer.Result) {
	if len(k.Sessions) == 0 {
		k.Sessions = []knownSession{fromRecords(k)}
	}
	if len(got.Activities) != len(k.Sessions) {
		t.Fatalf("%d activities, want %d: %s", len(got.Activities), len(k.Sessions), importertest.Text(got))
	}
	for i, w := range k.Sessions {
		a := got.Activities[i]
		if !a.Start.Equal(w.Start) || w.Sport != "" && a.Sport != w.Sport {
			t.Errorf("%s at %v, want %s at %v", a.Sport, a.Start, w.Sport, w.Start)
		}
		nearly(t, "elapsed", ptr(a.Elapsed.Seconds()), w.Elapsed, 0.001)
		var moving *float64
		if a.Moving != nil {
			moving = ptr(a.Moving.Seconds())
		}
		nearly(t, "moving", moving, w.Timer, 0.001)
		if w.Distance != nil {
			nearly(t, "distance", (*float64)(a.Distance), w.Distance, 0.01)
		}
		if w.MeanHR != nil && *w.MeanHR > 0 {
			nearly(t, "mean heart rate", a.MeanHRBpm, w.MeanHR, 0)
		}
	}
}

// fromRecords is the only session of a file that names none.
func fromRecords(k knownFile) knownSession {
	return knownSession{Start: k.First, Elapsed: ptr(k.Last.Sub(k.First).Seconds()), Distance: k.MaxMetres}
}

// checkMessages compares what was decoded before anything was sorted, merged
// or left out: counts exactly, means to the three digits they are given with.
func checkMessages(t *testing.T, k knownFile, data []byte) {
	var rows []row
	laps := 0
	chunks, _ := split(data)
	for i, c := range chunks {
		p, err := read(c, &budget{maxRecords, maxMessages, maxSessions})
		if err != nil {
			t.Fatal(err)
		}
		if i > 0 && c.fault.text != "" {
			continue // a damaged repeat of the first
		}
		rows, laps = append(rows, p.rows...), laps+len(p.laps)
	}
	if len(rows) != k.Records || laps != k.Laps {
		t.Errorf("%d records and %d laps, want %d and %d", len(rows), laps, k.Records, k.Laps)
	}
	if k.MeanHR != nil {
		n, sum := 0, 0.0
		for _, r := range rows {
			if r.hr > 0 {
				n++
			}
			sum += float64(r.hr)
		}
		// The known mean counts readings of 0, which add nothing to the sum.
		nearly(t, "sum of heart rates", &sum, ptr(*k.MeanHR*float64(k.HRRecords)), 0.0006*float64(k.HRRecords))
		if n > k.HRRecords {
			t.Errorf("%d heart rates, want at most %d", n, k.HRRecords)
		}
	}
	if k.MeanTemp != nil {
		nearly(t, "mean temperature", mean(rows, row.temperature), k.MeanTemp, 0.0006)
		lo, hi := temperatures(rows)
		nearly(t, "least temperature", &lo, k.MinTemp, 0)
		nearly(t, "greatest temperature", &hi, k.MaxTemp, 0)
	}
	if _, hi := distances(rows); k.MaxMetres != nil {
		nearly(t, "greatest distance", &hi, k.MaxMetres, 0.01)
	}
}

func temperatures(rows []row) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, r := range rows {
		if v, ok := r.temperature(); ok {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	return lo, hi
}

func nearly(t *testing.T, what string, got, want *float64, tolerance float64) {
	t.Helper()
	switch {
	case want == nil && got == nil:
	case want == nil || got == nil:
		t.Errorf("%s: got %v, want %v", what, got, want)
	case math.Abs(*got-*want) > tolerance+1e-9:
		t.Errorf("%s: got %v, want %v", what, *got, *want)
	}
}
