package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"saltpan/cmd/saltpan/season"
	"saltpan/pipeline/simulate"
)

// TestHalvesGiveTheSameAsTheWhole reads a season at once, and in two halves, the
// second half first: every number and every link must come out the same.
func TestHalvesGiveTheSameAsTheWhole(t *testing.T) {
	t.Parallel()
	s := simulate.Run(demoSeed, simulate.Options{})
	whole, halves := t.TempDir(), t.TempDir()
	names, err := season.Write(whole, s)
	if err != nil {
		t.Fatal(err)
	}
	one, two := filepath.Join(t.TempDir(), "s.db"), filepath.Join(t.TempDir(), "s.db")
	for _, store := range []string{one, two} {
		for _, a := range season.Athletes(s) {
			say(t, store, "athlete", "add", a.Key, "--zone", a.Zone, "--mass", massWord(a.UsualMass.Kilograms()), "--weighing", string(weighingOf(a)))
		}
	}
	say(t, one, "ingest", "--by-folder", whole)
	copyHalf(t, whole, halves, names, 1)
	say(t, two, "ingest", "--by-folder", halves)
	copyHalf(t, whole, halves, names, 0)
	copyNotes(t, whole, halves, names)
	say(t, two, "ingest", "--by-folder", halves)
	a, b := say(t, one, "--json", "sessions"), say(t, two, "--json", "sessions")
	if !bytes.Equal(a, b) {
		firstDifference(t, a, b)
	}
}

func massWord(kg float64) string { return strconv.FormatFloat(kg, 'f', -1, 64) + "kg" }

func copyHalf(t *testing.T, from, to string, names []string, odd int) {
	t.Helper()
	for i, n := range names {
		if i%2 == odd && filepath.Base(n) != "notes.csv" {
			copyFile(t, filepath.Join(from, n), filepath.Join(to, n))
		}
	}
}

// copyNotes copies the sheets, which name sessions of both halves, when these are there.
func copyNotes(t *testing.T, from, to string, names []string) {
	t.Helper()
	for _, n := range names {
		if filepath.Base(n) == "notes.csv" {
			copyFile(t, filepath.Join(from, n), filepath.Join(to, n))
		}
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.MkdirAll(filepath.Dir(to), 0o755)
	}
	if err == nil {
		err = os.WriteFile(to, data, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func firstDifference(t *testing.T, a, b []byte) {
	t.Helper()
	as, bs := bytes.Split(a, []byte("\n")), bytes.Split(b, []byte("\n"))
	if len(as) != len(bs) {
		t.Errorf("%d sessions at once, %d in halves", len(as)-1, len(bs)-1)
	}
	for i := range min(len(as), len(bs)) {
		if !bytes.Equal(as[i], bs[i]) {
			t.Fatalf("line %d\nat once:   %s\nin halves: %s", i+1, as[i], bs[i])
		}
	}
}
