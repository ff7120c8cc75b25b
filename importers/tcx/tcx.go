// Package tcx reads training-centre files (TCX version 2): one activity for
// each Activity element, also inside a multi-sport session. TCX has no element
// for a pause and no temperature. Courses and workouts are passed over: the
// times in a course are made up.
package tcx

import (
	"fmt"
	"strings"

	"saltpan/importers/importer"
	"saltpan/importers/importer/trackxml"
)

const (
	name    = "tcx"
	version = 1
)

// Reader reads TCX files.
type Reader struct{}

// New makes a reader of TCX files.
func New() Reader { return Reader{} }

// Name is "tcx".
func (Reader) Name() string { return name }

// Version is the reader's version.
func (Reader) Version() int { return version }

// Identify reports whether the root element is TrainingCenterDatabase, in any
// encoding.
func (Reader) Identify(head []byte) bool {
	return strings.EqualFold(trackxml.Root(head), "TrainingCenterDatabase")
}

// Read takes every recorded activity.
func (Reader) Read(src importer.Source) importer.Result {
	d := scan(src)
	res := importer.Result{Why: d.why()}
	if d.tooLarge != nil {
		res.Refused = d.tooLarge
		return res
	}
	for _, b := range d.bouts {
		if a, ok := d.activity(src, b); ok {
			a.ID = fmt.Sprintf("%s:%d", src.SHA256, len(res.Activities))
			res.Activities = append(res.Activities, a)
		}
	}
	res.Problems = d.tally.Problems()
	if res.Empty() {
		d.nothing(src, &res)
	}
	return res
}

// nothing says why there is no activity: the first cause that applies.
func (d *document) nothing(src importer.Source, res *importer.Result) {
	refused := d.tally.First(importer.NoZone)
	if refused == nil {
		refused = d.tally.First(importer.BadTime)
	}
	switch {
	case refused != nil:
	case len(src.Data) == 0:
		refused = &importer.Problem{Code: importer.Empty, Text: "no bytes"}
	case d.courses > 0:
		res.Skipped = "a course"
	case d.workouts > 0:
		res.Skipped = "a workout"
	case d.damage != "":
		refused = &importer.Problem{Code: importer.Truncated, Line: d.damageLine,
			Text: "no point with a time before the damage: " + d.damage, Hint: "get the file from the recorder again"}
	default:
		refused = &importer.Problem{Code: importer.Empty, Text: "no activity with a time in it"}
	}
	if refused != nil {
		refused.Path = src.Path
		res.Refused, res.Problems = refused, nil
	}
}

func (d *document) why() []string {
	out := []string{fmt.Sprintf("root element TrainingCenterDatabase, %d activities, %d points, %d courses, %d workouts",
		len(d.bouts), d.total, d.courses, d.workouts)}
	if d.damage != "" {
		out = append(out, "damaged: "+d.damage)
	}
	return out
}
