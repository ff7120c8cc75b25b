package main

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"testing"

	"saltpan/cmd/saltpan/season"
	"saltpan/pipeline/simulate"
)

// TestTwoIngestsAtOnce reads the same season by two processes at once: each
// file is stored once, neither stops, and the sessions are those of one.
func TestTwoIngestsAtOnce(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if _, err := season.Write(dir, simulate.Run(demoSeed, simulate.Options{})); err != nil {
		t.Fatal(err)
	}
	store := filepath.Join(t.TempDir(), "s.db")
	say(t, store, "athlete", "add", "ines", "--zone", "Europe/Lisbon") // the store is there for both
	var said [2]bytes.Buffer
	var running [2]*exec.Cmd
	for i := range running {
		running[i] = exec.Command("saltpan", "--store", store, "--quiet", "ingest", "--by-folder", "--zone", "Europe/Lisbon", dir)
		running[i].Stderr = &said[i]
		if err := running[i].Start(); err != nil {
			t.Fatal(err)
		}
	}
	for i := range running {
		if err := running[i].Wait(); err != nil {
			t.Errorf("process %d: %v\n%s", i+1, err, said[i].Bytes())
		}
	}
	alone := filepath.Join(t.TempDir(), "s.db")
	say(t, alone, "athlete", "add", "ines", "--zone", "Europe/Lisbon")
	say(t, alone, "--quiet", "ingest", "--by-folder", "--zone", "Europe/Lisbon", dir)
	a, b := say(t, alone, "--json", "sessions"), say(t, store, "--json", "sessions")
	if !bytes.Equal(a, b) {
		firstDifference(t, a, b)
	}
}
