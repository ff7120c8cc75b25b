package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"
	"unicode"

	"saltpan/importers/importer"
	"saltpan/importers/unpack"
)

// input is one file below an argument. Only this file opens input files.
type input struct {
	label  string // relative to the argument, with slashes; what messages and JSON show
	file   string // where it is
	folder string // first folder below the argument, empty for files in the argument itself
	size   int64
	mtime  time.Time
	inode  int64
}

// stdin is the label of what is read from standard input.
const stdin = "-"

// inputs lists the files below the arguments, in order of argument and name.
// Hidden files and half-written ones (*.part) are left alone. What cannot be
// looked at comes back as a problem.
func inputs(args []string) ([]input, []importer.Problem) {
	var files []input
	var problems []importer.Problem
	for _, arg := range args {
		if arg == stdin {
			files = append(files, input{label: stdin, file: stdin})
			continue
		}
		found, bad := below(arg)
		files, problems = append(files, found...), append(problems, bad...)
	}
	return files, problems
}

func below(arg string) (files []input, problems []importer.Problem) {
	err := filepath.WalkDir(arg, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			problems = append(problems, unreadable(arg, path, err))
			return nil
		}
		hidden := strings.HasPrefix(d.Name(), ".") && path != arg
		if d.IsDir() {
			if hidden {
				return fs.SkipDir
			}
			return nil
		}
		if hidden || strings.HasSuffix(d.Name(), ".part") {
			return nil
		}
		info, err := os.Stat(path)
		if err != nil {
			problems = append(problems, unreadable(arg, path, err))
			return nil
		}
		if info.Mode().IsRegular() {
			files = append(files, makeInput(arg, path, info))
		}
		return nil
	})
	if err != nil {
		problems = append(problems, unreadable(arg, arg, err))
	}
	sort.Slice(files, func(i, j int) bool { return files[i].label < files[j].label })
	return files, problems
}

func makeInput(arg, path string, info fs.FileInfo) input {
	in := input{label: label(arg, path), file: path, size: info.Size(), mtime: info.ModTime(), inode: inode(info)}
	if first, _, ok := strings.Cut(in.label, "/"); ok {
		in.folder = first
	}
	return in
}

func label(arg, path string) string {
	rel, err := filepath.Rel(arg, path)
	if err != nil || rel == "." {
		return printable(filepath.Base(path))
	}
	return printable(filepath.ToSlash(rel))
}

// printable keeps a file's name from steering the terminal.
func printable(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return unicode.ReplacementChar
		}
		return r
	}, name)
}

func unreadable(arg, path string, err error) importer.Problem {
	return importer.Problem{Code: importer.Unreadable, Path: label(arg, path), Text: reason(err), Hint: "check that the path is right and that you may read it"}
}

// reason is a system error without the path, which stands before it already.
func reason(err error) string {
	if p, ok := err.(*fs.PathError); ok {
		return p.Err.Error()
	}
	return err.Error()
}

// read gives the sources in one file: itself, or the members of an archive.
func (in input) read(e *env, yield func(importer.Source, *importer.Problem) bool) {
	if in.file == stdin {
		data, err := io.ReadAll(io.LimitReader(e.in, unpack.MaxMember+1))
		if err != nil {
			yield(importer.Source{}, &importer.Problem{Code: importer.Unreadable, Path: stdin, Text: reason(err)})
			return
		}
		unpack.Expand(source(stdin, data))(yield)
		return
	}
	f, err := os.Open(in.file)
	if err != nil {
		yield(importer.Source{}, &importer.Problem{Code: importer.Unreadable, Path: in.label, Text: reason(err), Hint: "check that you may read it"})
		return
	}
	defer f.Close()
	in.open(f, yield)
}

func (in input) open(f *os.File, yield func(importer.Source, *importer.Problem) bool) {
	head := make([]byte, importer.HeadSize)
	n, _ := io.ReadFull(f, head)
	if unpack.IsZip(head[:n]) {
		unpack.ExpandZip(in.label, f, in.size, importer.Hints{})(yield)
		return
	}
	if in.size > unpack.MaxMember {
		yield(importer.Source{}, &importer.Problem{Code: importer.TooLarge, Path: in.label,
			Text: fmt.Sprintf("%d MiB, want at most %d MiB", in.size>>20, int64(unpack.MaxMember)>>20)})
		return
	}
	data := make([]byte, 0, in.size+1)
	data = append(data, head[:n]...)
	rest, err := io.ReadAll(io.LimitReader(f, unpack.MaxMember+1))
	if err != nil {
		yield(importer.Source{}, &importer.Problem{Code: importer.Unreadable, Path: in.label, Text: reason(err)})
		return
	}
	unpack.Expand(source(in.label, append(data, rest...)))(yield)
}

func source(path string, data []byte) importer.Source {
	return importer.Source{Path: path, Data: data}
}
