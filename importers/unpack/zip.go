package unpack

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"sort"
	"strings"

	"saltpan/importers/importer"
)

// zip gives the members of an archive in the order of its list.
func (w *walk) zip(src importer.Source, r io.ReaderAt, size int64, at level) bool {
	if at.zips >= maxZips {
		return w.refuse(src.Path, importer.TooLarge, "a zip archive inside a zip archive inside a zip archive", deepHint)
	}
	at.zips++
	files, p := list(r, size)
	if p == nil && len(files) > w.budget.members {
		p = &importer.Problem{Code: importer.TooLarge, Text: fmt.Sprintf("more than %d members", MaxMembers)}
	}
	if p == nil && isDocument(files) {
		p = &importer.Problem{Code: importer.Unsupported, Text: "an office document", Hint: "save the sheet as CSV and ingest that"}
	}
	if p != nil {
		return w.refuse(src.Path, p.Code, p.Text, p.Hint)
	}
	w.budget.members -= len(files)
	return w.members(src, files, at)
}

func (w *walk) members(src importer.Source, files []*zip.File, at level) bool {
	overlaps := overlapping(files)
	seen := map[string]int{}
	given := 0
	for i, f := range files {
		if isFolder(f) || isLitter(f.Name) {
			continue
		}
		given++
		path := src.Path + "!" + label(f.Name, i, seen)
		if w.budget.bytes <= 0 {
			return w.refuse(path, importer.TooLarge, fmt.Sprintf("more than %d GiB in all; the rest was not read", MaxArchive>>30), "")
		}
		member, p := w.member(f, overlaps[f])
		if p != nil {
			if !w.refuse(path, p.Code, p.Text, p.Hint) {
				return false
			}
			continue
		}
		member.Path, member.Hints, member.Damaged = path, src.Hints, both(src.Damaged, member.Damaged)
		if !w.source(member, at) {
			return false
		}
	}
	if given == 0 {
		return w.refuse(src.Path, importer.Empty, "an archive without files", "")
	}
	return true
}

// member reads one member, or says why not.
func (w *walk) member(f *zip.File, overlaps bool) (importer.Source, *importer.Problem) {
	if p := refusal(f, overlaps); p != nil {
		return importer.Source{}, p
	}
	most := allowed(int64(f.CompressedSize64))
	if f.UncompressedSize64 > uint64(most) {
		return importer.Source{}, &importer.Problem{Code: importer.TooLarge, Text: tooLarge(most)}
	}
	data, err := unpacked(f, min(most, w.budget.bytes))
	w.budget.bytes -= int64(len(data))
	switch {
	case errors.Is(err, errTooLarge):
		return importer.Source{}, &importer.Problem{Code: importer.TooLarge, Text: tooLarge(most)}
	case errors.Is(err, zip.ErrAlgorithm):
		return importer.Source{}, &importer.Problem{Code: importer.Unsupported, Text: fmt.Sprintf("packed by method %d, which is not read", f.Method),
			Hint: "unpack it with another program and ingest the file"}
	case err != nil && len(data) == 0:
		return importer.Source{}, &importer.Problem{Code: importer.Truncated, Text: "a member that is damaged from its first byte", Hint: "get the archive again"}
	}
	return importer.Source{Data: data, Damaged: zipDamage(err, len(data))}, nil
}

// refusal is what can be told of a member without unpacking it.
func refusal(f *zip.File, overlaps bool) *importer.Problem {
	switch {
	case !safe(f.Name):
		return &importer.Problem{Code: importer.UnsafeName, Text: fmt.Sprintf("a member named %.80q points outside its archive", f.Name),
			Hint: "do not trust this archive"}
	case !f.Mode().IsRegular():
		return &importer.Problem{Code: importer.Unsupported, Text: "a link or device, not a file"}
	case f.Flags&1 != 0:
		return &importer.Problem{Code: importer.Unsupported, Text: "encrypted", Hint: "unpack it with its password and ingest the file"}
	case overlaps:
		return &importer.Problem{Code: importer.TooLarge, Text: "a member that shares its bytes with another", Hint: "do not trust this archive"}
	}
	return nil
}

var errTooLarge = errors.New("over the limit")

// unpacked is the content of a member, or what came out before an error.
func unpacked(f *zip.File, most int64) ([]byte, error) {
	rc, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer rc.Close()
	data, err := io.ReadAll(io.LimitReader(rc, most+1))
	if int64(len(data)) > most {
		return data, errTooLarge
	}
	return data, err
}

func zipDamage(err error, got int) string {
	switch {
	case err == nil:
		return ""
	case errors.Is(err, zip.ErrChecksum):
		return "wrong in its checksum"
	case errors.Is(err, zip.ErrFormat):
		return "not of the size its archive claims"
	}
	return fmt.Sprintf("damaged after %d unpacked bytes", got)
}

// list reads the list of members without taking in one of any size.
func list(r io.ReaderAt, size int64) ([]*zip.File, *importer.Problem) {
	m := &meter{r: r, left: maxDirectory}
	zr, err := zip.NewReader(m, size)
	switch {
	case errors.Is(err, errTooLarge):
		return nil, &importer.Problem{Code: importer.TooLarge, Text: fmt.Sprintf("a list of members over %d MiB", maxDirectory>>20)}
	case err != nil && !errors.Is(err, zip.ErrInsecurePath):
		return nil, &importer.Problem{Code: importer.Truncated, Text: "a zip archive whose list of members is cut off or damaged", Hint: "get the archive again"}
	}
	m.open = true
	return zr.File, nil
}

// meter stops a reader after so many bytes, until it is opened.
type meter struct {
	r    io.ReaderAt
	left int64
	open bool
}

// ReadAt reads as long as there is allowance.
func (m *meter) ReadAt(p []byte, off int64) (int, error) {
	if m.open {
		return m.r.ReadAt(p, off)
	}
	if m.left -= int64(len(p)); m.left < 0 {
		return 0, errTooLarge
	}
	return m.r.ReadAt(p, off)
}

// overlapping finds the members that share packed bytes with another: honest
// archives have none, and with them the packed size says nothing about cost.
func overlapping(files []*zip.File) map[*zip.File]bool {
	type span struct {
		f        *zip.File
		from, to int64
	}
	var spans []span
	for _, f := range files {
		from, err := f.DataOffset()
		if err == nil && f.CompressedSize64 > 0 {
			spans = append(spans, span{f, from, from + int64(f.CompressedSize64)})
		}
	}
	sort.Slice(spans, func(i, j int) bool { return spans[i].from < spans[j].from })
	out := map[*zip.File]bool{}
	for i, widest := 1, 0; i < len(spans); i++ {
		if spans[i].from < spans[widest].to {
			out[spans[i].f], out[spans[widest].f] = true, true
		}
		if spans[i].to > spans[widest].to {
			widest = i
		}
	}
	return out
}

// isDocument knows the two families of office documents by their first members.
func isDocument(files []*zip.File) bool {
	for _, f := range files {
		if f.Name == "[Content_Types].xml" || f.Name == "mimetype" {
			return true
		}
	}
	return false
}

func isFolder(f *zip.File) bool {
	return strings.HasSuffix(f.Name, "/") || f.Mode().IsDir() || strings.HasSuffix(f.Name, `\`) && f.UncompressedSize64 == 0
}
