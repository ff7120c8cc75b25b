package notes

import (
	"cmp"
	"regexp"
	"strings"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// The most that a note can hold: more is a slip of the unit.
const (
	mostVolume quantity.Volume = 40
	mostMass   quantity.Mass   = 40
)

var (
	bare = regexp.MustCompile(`^[0-9]+([.,][0-9]+)?$`)
	// grouped may be a decimal or a group of thousands: nobody drinks 1.500 ml,
	// and yet it must not be guessed.
	grouped = regexp.MustCompile(`^[1-9][0-9]{0,2}[.,][0-9]{3}\s*(ml|g|$)`)
)

// withUnit is a cell with the column's unit put after a number that names none.
// Words for nothing are zero, of the unit zero if the column has none.
func withUnit(cell, unit, zero string) (string, *fault) {
	text := table.Fold(cell)
	switch {
	case is(text, nothingWords):
		return "0" + cmp.Or(unit, zero), nil
	case strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−"):
		return "", &fault{importer.OutOfRange, "want a number not below zero", ""}
	}
	if m := grouped.FindStringSubmatch(text); m != nil && (m[1] != "" || unit == "ml" || unit == "g") {
		return "", &fault{importer.BadNumber, "it could be a decimal or thousands", "write it without a sign between the digits"}
	}
	if bare.MatchString(text) {
		text += unit
	}
	return text, nil
}

func volume(at func(*record.Note) **quantity.Volume) func(*record.Note, string, string) *fault {
	return func(n *record.Note, cell, unit string) *fault {
		text, f := withUnit(cell, unit, "l")
		if f != nil {
			return f
		}
		v, err := quantity.ParseVolume(text)
		if err != nil {
			return &fault{importer.BadNumber, wantNumber(unit, "600 ml"), ""}
		}
		if v > mostVolume {
			return &fault{importer.OutOfRange, "want at most 40 l", "check the unit"}
		}
		return put(at(n), v)
	}
}

func mass(at func(*record.Note) **quantity.Mass) func(*record.Note, string, string) *fault {
	return func(n *record.Note, cell, unit string) *fault {
		text, f := withUnit(cell, unit, "g")
		if f != nil {
			return f
		}
		v, err := quantity.ParseMass(text)
		if err != nil {
			return &fault{importer.BadNumber, wantNumber(unit, "250 g"), ""}
		}
		if v > mostMass {
			return &fault{importer.OutOfRange, "want at most 40 kg", "check the unit"}
		}
		return put(at(n), v)
	}
}

// wantNumber says what a cell could be.
func wantNumber(unit, example string) string {
	if unit == "" {
		return "want a number with its unit such as " + example
	}
	return "want a number in " + unit + ", or one with its unit such as " + example
}

// put sets a value that was not set by another column.
func put[T any](to **T, v T) *fault {
	if *to != nil {
		return &fault{importer.BadNumber, "another column says it already", "fill in one of the two"}
	}
	*to = &v
	return nil
}

var (
	yesWords     = strings.Fields("yes y true 1 x ja j oui o si s sim da tak kylla k evet да ✓ ✔ はい 是")
	noWords      = strings.Fields("no n false 0 nein nej nee non nao nie ei hayir нет いいえ 否")
	nothingWords = strings.Fields("none nothing nil nichts keine rien aucun nada nulla niente niets ingenting intet")
)

func is(text string, list []string) bool {
	for _, w := range list {
		if w == text {
			return true
		}
	}
	return false
}

func yesNo(at func(*record.Note) **bool) func(*record.Note, string, string) *fault {
	return func(n *record.Note, cell, _ string) *fault {
		switch text := table.Fold(cell); {
		case is(text, yesWords):
			return put(at(n), true)
		case is(text, noWords):
			return put(at(n), false)
		}
		return &fault{importer.BadNumber, "want yes or no", ""}
	}
}

func toilet(n *record.Note, cell, _ string) *fault {
	switch text := table.Fold(cell); {
	case is(text, yesWords):
		n.Toilet = "yes"
	case is(text, noWords), is(text, nothingWords):
		n.Toilet = "none"
	default:
		return &fault{importer.BadNumber, "want yes or none", "write an amount in the urine column"}
	}
	return nil
}

func weighing(n *record.Note, cell, _ string) *fault {
	switch w := record.Weighing(table.Fold(cell)); w {
	case record.Body, record.Carrying:
		n.Weighing = w
		return nil
	}
	return &fault{importer.BadNumber, "want body or carrying", ""}
}

func felt(n *record.Note, cell, _ string) *fault {
	n.Felt = cell
	return nil
}
