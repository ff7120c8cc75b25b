package main

// The policy tests keep the shape of the source tree: who may import whom,
// what stays pure, what is documented. They read the sources with go/parser and
// run nothing. A rule that no longer fits is changed here, with its reason.

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// top is the root of the repository, seen from this package.
const top = "../.."

// goFile is one parsed source file.
type goFile struct {
	path   string // "pipeline/match/find.go"
	pkg    string // "pipeline/match"
	test   bool
	syntax *ast.File
	fset   *token.FileSet
}

// at is where a node stands, as "pipeline/match/find.go:17".
func (f goFile) at(n ast.Node) string {
	return f.path + ":" + strconv.Itoa(f.fset.Position(n.Pos()).Line)
}

// imports gives every path that the file imports.
func (f goFile) imports() []string {
	var out []string
	for _, spec := range f.syntax.Imports {
		out = append(out, strings.Trim(spec.Path.Value, `"`))
	}
	return out
}

// sources parses every Go file of the module.
func sources(t *testing.T) []goFile {
	t.Helper()
	fset := token.NewFileSet()
	var out []goFile
	for _, name := range tree(t) {
		if path.Ext(name) != ".go" || strings.Contains(name, "testdata/") {
			continue
		}
		syntax, err := parser.ParseFile(fset, filepath.Join(top, name), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, goFile{path: name, pkg: path.Dir(name), test: strings.HasSuffix(name, "_test.go"), syntax: syntax, fset: fset})
	}
	if len(out) == 0 {
		t.Fatal("no Go files found; the tests run from cmd/saltpan")
	}
	return out
}

// packages are the folders with Go files other than tests.
func packages(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, f := range sources(t) {
		if !f.test && !slices.Contains(out, f.pkg) {
			out = append(out, f.pkg)
		}
	}
	return out
}

// tree lists every file of the repository, ignored ones left out.
func tree(t *testing.T) []string {
	t.Helper()
	ignored := strings.Fields(read(t, ".gitignore"))
	var out []string
	err := filepath.WalkDir(top, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(top, name)
		switch rel = filepath.ToSlash(rel); {
		case rel == ".git" && d.IsDir():
			return filepath.SkipDir
		case rel == ".git" || d.IsDir() || matches(ignored, rel):
			return nil
		}
		out = append(out, rel)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// matches knows the two kinds of pattern that .gitignore has: "/name" at the
// top, and "*.ext" anywhere.
func matches(patterns []string, name string) bool {
	return slices.ContainsFunc(patterns, func(p string) bool {
		if rooted, ok := strings.CutPrefix(p, "/"); ok {
			return rooted == name
		}
		hit, _ := path.Match(p, path.Base(name))
		return hit
	})
}

// read gives a file of the repository as text.
func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(top, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// TestTopLevel keeps the top of the tree small enough to take in at a glance.
func TestTopLevel(t *testing.T) {
	want := []string{".ci", ".gitignore", "DEVELOPERS.md", "LICENSE", "README.md", "cmd", "go.mod", "go.sum",
		"importers", "pipeline", "store", "testdata"}
	for _, name := range tree(t) {
		if first, _, _ := strings.Cut(name, "/"); !slices.Contains(want, first) {
			t.Errorf("%s: the top level holds only %s", name, strings.Join(want, " "))
		}
	}
}

// machinePath is an absolute path of the machine that somebody worked on.
var machinePath = regexp.MustCompile(`(^|[^A-Za-z0-9_.-])/(?:root|home|work)/`)

// maxLines is where a file is split.
const maxLines = 500

// TestFiles holds files short and free of paths that exist on one machine only.
func TestFiles(t *testing.T) {
	for _, name := range tree(t) {
		text := read(t, name)
		if bytes.IndexByte([]byte(text), 0) >= 0 { // a sample, not text
			continue
		}
		lines := strings.Split(text, "\n")
		split := path.Base(name) != "go.sum" && (!strings.Contains(name, "testdata/") || path.Ext(name) == ".txtar")
		if split && len(lines)-1 > maxLines {
			t.Errorf("%s has %d lines; split it at %d", name, len(lines)-1, maxLines)
		}
		for i, line := range lines {
			if machinePath.MatchString(line) {
				t.Errorf("%s:%d: a path of one machine: %s", name, i+1, strings.TrimSpace(line))
			}
		}
	}
}
