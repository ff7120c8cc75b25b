// Package unpack turns gzip files and zip archives into sources. It goes by
// content, never by extension; it works in memory and writes nothing. A bad
// member is a problem of its own and never stops the others.
package unpack

import (
	"bytes"
	"fmt"
	"io"
	"iter"

	"saltpan/importers/importer"
)

// Members is what an input holds, one after the other: a source to read, or a
// problem and a source that has only the path it concerns.
type Members = iter.Seq2[importer.Source, *importer.Problem]

// IsZip reports whether data that begins with head is a zip archive.
func IsZip(head []byte) bool {
	return bytes.HasPrefix(head, []byte("PK\x03\x04")) || bytes.HasPrefix(head, []byte("PK\x05\x06")) ||
		bytes.HasPrefix(head, []byte("PK\x07\x08PK\x03\x04"))
}

// IsGzip reports whether data that begins with head is a gzip file.
func IsGzip(head []byte) bool { return bytes.HasPrefix(head, []byte("\x1f\x8b\x08")) }

// Expand gives the members of a gzip file or zip archive held in memory, and
// any other source as it is.
func Expand(src importer.Source) Members {
	return func(yield func(importer.Source, *importer.Problem) bool) {
		w := newWalk(yield)
		w.source(src, level{})
	}
}

// ExpandZip gives the members of a zip archive of size bytes that is not held in
// memory. Members carry the hints.
func ExpandZip(path string, r io.ReaderAt, size int64, hints importer.Hints) Members {
	return func(yield func(importer.Source, *importer.Problem) bool) {
		w := newWalk(yield)
		w.zip(importer.Source{Path: path, Hints: hints}, r, size, level{})
	}
}

// level is how many containers of each kind lie around something. A zip may
// hold zips and gzip files; none of these may hold the like again.
type level struct{ zips, gzips int }

const (
	maxZips  = 2
	maxGzips = 1
)

// walk is one run over an input.
type walk struct {
	yield  func(importer.Source, *importer.Problem) bool
	budget budget
}

func newWalk(yield func(importer.Source, *importer.Problem) bool) *walk {
	return &walk{yield: yield, budget: budget{bytes: MaxArchive, members: MaxMembers}}
}

// source gives one source, unpacked as far as it goes; false stops the walk.
func (w *walk) source(src importer.Source, at level) bool {
	switch {
	case IsZip(src.Data):
		return w.zip(src, bytes.NewReader(src.Data), int64(len(src.Data)), at)
	case IsGzip(src.Data):
		return w.gzip(src, at)
	case len(src.Data) > MaxMember:
		return w.refuse(src.Path, importer.TooLarge, fmt.Sprintf("more than %d MiB", MaxMember>>20), "")
	}
	if src.SHA256 == "" {
		src.SHA256 = importer.Hash(src.Data)
	}
	return w.yield(src, nil)
}

func (w *walk) refuse(path string, code importer.Code, text, hint string) bool {
	return w.yield(importer.Source{Path: path}, &importer.Problem{Code: code, Path: path, Text: text, Hint: hint})
}

const deepHint = "unpack the outer archive and ingest what is in it"
