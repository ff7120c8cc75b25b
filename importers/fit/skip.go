package fit

import "fmt"

// File types of the FIT profile that can hold bouts.
const (
	typeActivity = 4
	typeWeight   = 9
	typeSummary  = 20
	// typeMaker is the first of the types left to makers.
	typeMaker   = 0xF7
	typeUnknown = 0xFF
)

// kinds are the file types of the FIT profile in plain words.
var kinds = map[int64]string{
	1: "a device description", 2: "device settings", 3: "sport settings", typeActivity: "an activity",
	5: "a workout", 6: "a course", 7: "a training schedule", typeWeight: "a scale's readings",
	10: "lifetime totals", 11: "goals", 14: "blood pressure", 15: "daily monitoring",
	typeSummary: "an activity's summary", 28: "daily monitoring", 32: "daily monitoring", 34: "a course segment", 35: "a list of course segments", 40: "device settings",
}

// holdsBouts reports whether sessions and records are to be taken from a part.
// Courses have records too, with times nobody ran. Files that say nothing of
// their type are taken by what they hold.
func (p *part) holdsBouts() bool {
	switch t := p.fileType; {
	case t == typeActivity || t == typeSummary:
		return true
	case t < 0 || t >= typeMaker:
		return len(p.rows)+len(p.sessions) > 0
	}
	return false
}

// kind says in plain words what a part is.
func (p *part) kind() string {
	if name := kinds[p.fileType]; name != "" {
		return name
	}
	if p.fileType >= 0 {
		return fmt.Sprintf("a file of type %d", p.fileType)
	}
	return "a file that names no type"
}
