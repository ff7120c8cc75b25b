// Package importers has the list of all importers and finds the one that
// knows a file.
package importers

import (
	"fmt"
	"strings"

	"saltpan/importers/fit"
	"saltpan/importers/gpx"
	"saltpan/importers/importer"
	"saltpan/importers/notes"
	"saltpan/importers/scale"
	"saltpan/importers/tcx"
	"saltpan/importers/weather"
)

// All is the explicit list of importers.
func All() []importer.Importer {
	return []importer.Importer{fit.New(), gpx.New(), tcx.New(), scale.New(), notes.New(), weather.New()}
}

// Find gives the one importer that knows a source. It goes by content. None,
// or two that claim the same file, is a problem that says so.
func Find(all []importer.Importer, src importer.Source) (importer.Importer, *importer.Problem) {
	if len(src.Data) == 0 {
		return nil, &importer.Problem{Code: importer.Empty, Path: src.Path, Text: "the file is empty", Hint: "sync or export it again"}
	}
	var found []importer.Importer
	var names []string
	for _, imp := range all {
		if imp.Identify(src.Head()) {
			found, names = append(found, imp), append(names, imp.Name())
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return nil, &importer.Problem{Code: importer.UnknownFormat, Path: src.Path, Text: "not a file saltpan reads: " + looksLike(src.Head()),
			Hint: "it reads FIT, GPX and TCX activities, scale and weather CSV and the notes sheet, also inside gzip and zip"}
	}
	return nil, &importer.Problem{Code: importer.AmbiguousFormat, Path: src.Path,
		Text: fmt.Sprintf("%s all claim it; want exactly one", strings.Join(names, " and "))}
}

// looksLike says in words what a file seems to be, for the commonest strays.
func looksLike(head []byte) string {
	for _, k := range []struct{ magic, word string }{
		{"\xff\xd8\xff", "it is a photo"}, {"\x89PNG", "it is a picture"}, {"%PDF", "it is a PDF"},
		{"SQLite format 3", "it is a database"}, {"PK\x03\x04", "it is a zip inside a zip inside a zip"}, {"{", "it is JSON"}, {"<", "it is some other XML"},
	} {
		if strings.HasPrefix(string(head), k.magic) {
			return k.word
		}
	}
	return "no header or signature that is known"
}
