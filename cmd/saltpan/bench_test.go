package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/muktihari/fit/decoder"

	"saltpan/cmd/saltpan/season"
)

// runsInSeason is how many runs the season of the benchmarks has, with one
// scale CSV of 1,000 rows beside them.
const runsInSeason = 300

func writeRuns(b *testing.B) string {
	b.Helper()
	dir := b.TempDir()
	if _, err := season.WriteRuns(dir, runsInSeason, 1); err != nil {
		b.Fatal(err)
	}
	return dir
}

// quietly runs a command with its results thrown away.
func quietly(b *testing.B, args ...string) {
	b.Helper()
	code := execute(context.Background(), &env{in: strings.NewReader(""), out: io.Discard, voice: voice{io.Discard}, now: time.Now}, args)
	if code != 0 {
		b.Fatalf("saltpan %v: exit code %d", args, code)
	}
}

// BenchmarkSeason sets the ingest of a season beside what it cannot do without:
// reading and hashing the files, and the bare framing of their messages.
func BenchmarkSeason(b *testing.B) {
	dir := writeRuns(b)
	b.Run("read+sha256", func(b *testing.B) {
		for range b.N {
			eachFile(b, dir, func(data []byte) { sha256.Sum256(data) })
		}
	})
	b.Run("bare-decoder", func(b *testing.B) {
		for range b.N {
			eachFile(b, dir, func(data []byte) { frames(b, data) })
		}
	})
	store := filepath.Join(b.TempDir(), "s.db")
	b.Run("first-ingest", func(b *testing.B) {
		for range b.N {
			store = filepath.Join(b.TempDir(), "s.db")
			quietly(b, "--store", store, "athlete", "add", "ines", "--mass", "60kg", "--zone", "Europe/Lisbon")
			quietly(b, "--store", store, "--quiet", "ingest", "--athlete", "ines", dir)
		}
	})
	b.Run("second-ingest", func(b *testing.B) {
		store := filepath.Join(b.TempDir(), "s.db")
		quietly(b, "--store", store, "--quiet", "ingest", "--athlete", "ines", "--zone", "Europe/Lisbon", dir)
		b.ResetTimer()
		for range b.N {
			quietly(b, "--store", store, "--quiet", "ingest", "--athlete", "ines", dir)
		}
	})
}

func eachFile(b *testing.B, dir string, do func([]byte)) {
	b.Helper()
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		do(data)
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
}

// frames walks the messages of a FIT file without looking into them.
func frames(b *testing.B, data []byte) {
	if !strings.Contains(string(data[:min(len(data), 14)]), ".FIT") {
		return
	}
	_, err := decoder.NewRaw().Decode(bytes.NewReader(data), func(decoder.RawFlag, []byte) error { return nil })
	if err != nil && err != io.EOF {
		b.Fatal(err)
	}
}
