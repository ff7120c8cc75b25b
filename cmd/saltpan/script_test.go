package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"saltpan/cmd/saltpan/season"
	"saltpan/pipeline/simulate"
)

// code runs a command and checks its exit code: code 3 saltpan ingest x.
func code(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N command [args]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	got := 0
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// grab sets a variable to what a pattern's group matched in the last output:
// grab Q '"id":"(q[0-9a-f]+)"'.
func grab(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: grab NAME PATTERN")
	}
	found := regexp.MustCompile(args[1]).FindStringSubmatch(ts.ReadFile("stdout"))
	if len(found) != 2 {
		ts.Fatalf("no match for %q in stdout", args[1])
	}
	ts.Setenv(args[0], found[1])
}

// maker is the command make. The season is written once for all scripts.
func maker(t *testing.T) func(*testscript.TestScript, bool, []string) {
	files := sync.OnceValue(func() string {
		dir := t.TempDir()
		if _, err := season.Write(dir, simulate.Run(demoSeed, simulate.Options{})); err != nil {
			t.Error(err)
		}
		return dir
	})
	return func(ts *testscript.TestScript, neg bool, args []string) { makeInputs(ts, neg, args, files) }
}

// makeInputs makes what cannot stand as text in a script:
//
//	make season DIR           the demo's files
//	make zip OUT NAME=FILE …  an archive whose members have any name
//	make gzip OUT FILE        FILE packed
//	make bomb OUT             300 MiB of zeros in a small zip
//	make bytes OUT HEX        raw bytes
//	make cut OUT FILE N       the first N bytes of FILE
//	make flip OUT FILE N      FILE with byte N changed; -1 is the last
func makeInputs(ts *testscript.TestScript, neg bool, args []string, season func() string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: make WHAT OUT …")
	}
	out := ts.MkAbs(args[1])
	switch args[0] {
	case "season":
		ts.Check(os.CopyFS(out, os.DirFS(season())))
	case "zip":
		ts.Check(os.WriteFile(out, zipOf(ts, args[2:]), 0o644))
	case "gzip":
		ts.Check(os.WriteFile(out, gzipOf([]byte(ts.ReadFile(args[2]))), 0o644))
	case "bomb":
		ts.Check(os.WriteFile(out, bomb(), 0o644))
	case "bytes":
		data := make([]byte, 0, len(args[2])/2)
		for i := 0; i+1 < len(args[2]); i += 2 {
			b, err := strconv.ParseUint(args[2][i:i+2], 16, 8)
			ts.Check(err)
			data = append(data, byte(b))
		}
		ts.Check(os.WriteFile(out, data, 0o644))
	case "cut", "flip":
		data := []byte(ts.ReadFile(args[2]))
		n, err := strconv.Atoi(args[3])
		ts.Check(err)
		if n < 0 {
			n += len(data)
		}
		if args[0] == "cut" {
			data = data[:n]
		} else {
			data[n] ^= 0xff
		}
		ts.Check(os.WriteFile(out, data, 0o644))
	default:
		ts.Fatalf("make %s: no such thing", args[0])
	}
}

func zipOf(ts *testscript.TestScript, members []string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, m := range members {
		name, file, _ := strings.Cut(m, "=")
		w, err := z.Create(name)
		ts.Check(err)
		data, err := os.ReadFile(filepath.Clean(ts.MkAbs(file)))
		ts.Check(err)
		_, err = w.Write(data)
		ts.Check(err)
	}
	ts.Check(z.Close())
	return b.Bytes()
}

func gzipOf(data []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write(data)
	z.Close()
	return b.Bytes()
}

// bomb is a small zip with one member of 300 MiB.
func bomb() []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, _ := z.Create("run.fit")
	zeros := make([]byte, 1<<20)
	for range 300 {
		w.Write(zeros)
	}
	z.Close()
	return b.Bytes()
}
