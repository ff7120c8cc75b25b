// Package importertest is the suite every importer runs. An importer's
// testdata folder holds sample files, FILE.golden beside each with what is
// read in it, and source.txt that says where each sample comes from.
package importertest

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// Run checks one importer on every sample in testdata.
func Run(t *testing.T, imp importer.Importer, hints importer.Hints) {
	t.Helper()
	samples := list(t)
	if len(samples) == 0 {
		t.Fatal("no samples in testdata")
	}
	origins, err := os.ReadFile("testdata/source.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range samples {
		t.Run(filepath.Base(path), func(t *testing.T) {
			if !strings.Contains(string(origins), filepath.Base(path)) {
				t.Errorf("testdata/source.txt does not say where %s comes from", filepath.Base(path))
			}
			sample(t, imp, path, hints)
		})
	}
}

// Source makes a source of bytes, as the command line would.
func Source(path string, data []byte, hints importer.Hints) importer.Source {
	return importer.Source{Path: path, Data: data, SHA256: importer.Hash(data), Hints: hints}
}

func list(t *testing.T) []string {
	all, err := filepath.Glob("testdata/*")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, p := range all {
		info, err := os.Stat(p)
		if err == nil && !info.IsDir() && !strings.HasSuffix(p, ".golden") && filepath.Base(p) != "source.txt" {
			out = append(out, p)
		}
	}
	return out
}

func sample(t *testing.T, imp importer.Importer, path string, hints importer.Hints) {
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	src := Source(filepath.Base(path), data, hints)
	if !imp.Identify(src.Head()) {
		t.Fatalf("%s does not identify %s", imp.Name(), path)
	}
	got := imp.Read(src)
	Check(t, got)
	if again := imp.Read(src); !reflect.DeepEqual(Text(got), Text(again)) {
		t.Error("two reads of the same bytes differ")
	}
	golden(t, path+".golden", Text(got))
	cuts(t, imp, src)
}

// cuts reads the sample cut off at each of its first 64 bytes and at 200
// lengths after that: never a panic, never a result that breaks the contract.
func cuts(t *testing.T, imp importer.Importer, src importer.Source) {
	n := len(src.Data)
	step := max(1, (n-64)/200)
	for cut := 0; cut < n; {
		short := Source(src.Path, src.Data[:cut:cut], src.Hints)
		start := time.Now()
		Check(t, imp.Read(short))
		if d := time.Since(start); d > 10*time.Second {
			t.Fatalf("cut at %d bytes took %v", cut, d)
		}
		if cut < 64 {
			cut++
		} else {
			cut += step
		}
	}
}

// Check fails if a result breaks the contract.
func Check(t *testing.T, r importer.Result) {
	t.Helper()
	if r.Empty() && r.Skipped == "" && r.Refused == nil {
		t.Error("no fact, no reason to skip and no refusal")
	}
	if r.Refused != nil && !r.Empty() {
		t.Error("refused and yet facts were taken")
	}
	if r.Refused != nil {
		checkProblem(t, *r.Refused)
	}
	for _, p := range r.Problems {
		checkProblem(t, p)
	}
	for _, a := range r.Activities {
		checkActivity(t, a)
	}
	for _, w := range r.WeighIns {
		if !(w.Mass > 0) || w.Wall.Before(importer.Earliest.Add(-26*time.Hour)) || w.ID == "" {
			t.Errorf("weigh-in that cannot be: %+v", w)
		}
	}
}

func checkProblem(t *testing.T, p importer.Problem) {
	t.Helper()
	known := false
	for _, c := range importer.Codes() {
		known = known || c == p.Code
	}
	if !known || p.Path == "" || p.Text == "" {
		t.Errorf("problem without a known code, a path or a text: %+v", p)
	}
}

// Text renders what was read for people and golden files.
func Text(r importer.Result) string {
	var b strings.Builder
	for _, a := range r.Activities {
		js, _ := json.Marshal(a)
		fmt.Fprintf(&b, "activity %s\n  %d samples", js, len(a.Samples))
		if n := len(a.Samples); n > 0 {
			fmt.Fprintf(&b, ", first %+v, last %+v", a.Samples[0], a.Samples[n-1])
		}
		b.WriteByte('\n')
	}
	write(&b, "weigh-in", r.WeighIns)
	write(&b, "note", r.Notes)
	write(&b, "weather", r.Weather)
	for _, p := range r.Problems {
		fmt.Fprintf(&b, "problem %s\n", problem(p))
	}
	if r.Skipped != "" {
		fmt.Fprintf(&b, "skipped %s\n", r.Skipped)
	}
	if r.Refused != nil {
		fmt.Fprintf(&b, "refused %s\n", problem(*r.Refused))
	}
	for _, w := range r.Why {
		fmt.Fprintf(&b, "why %s\n", w)
	}
	return b.String()
}

func problem(p importer.Problem) string {
	return fmt.Sprintf("%s %s:%d: %s | %s", p.Code, p.Path, p.Line, p.Text, p.Hint)
}

func write[T any](b *strings.Builder, name string, facts []T) {
	for _, f := range facts {
		js, _ := json.Marshal(f)
		fmt.Fprintf(b, "%s %s\n", name, js)
	}
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; run the test with -update to write it", err)
	}
	if string(want) != got {
		t.Errorf("%s differs; got\n%s", path, got)
	}
}
