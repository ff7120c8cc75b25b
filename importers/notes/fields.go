package notes

import (
	"strings"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// field is a column of the sheet.
type field struct {
	name string
	unit string // of a number that names none
	// set puts a cell into a note or says what is wrong with it; nil for a
	// column that is there only to be looked at.
	set func(n *record.Note, cell, unit string) *fault
}

// fault is what is wrong with a cell.
type fault struct {
	code importer.Code
	want string
	hint string
}

// fields are the columns of the sheet, in its order.
func fields() []field {
	return []field{
		{name: "session"}, {name: "athlete"}, {name: "start"}, {name: "elapsed"}, {name: "missing"},
		{"drunk", "l", volume(func(n *record.Note) **quantity.Volume { return &n.Drunk })},
		{"eaten", "g", mass(func(n *record.Note) **quantity.Mass { return &n.Eaten })},
		{"urine", "l", volume(func(n *record.Note) **quantity.Volume { return &n.Urine })},
		{"toilet", "", toilet},
		{"poured", "l", volume(func(n *record.Note) **quantity.Volume { return &n.Poured })},
		{"clothes_off", "g", mass(func(n *record.Note) **quantity.Mass { return &n.ClothesOff })},
		{"picked_up", "g", mass(func(n *record.Note) **quantity.Mass { return &n.PickedUp })},
		{"left_behind", "g", mass(func(n *record.Note) **quantity.Mass { return &n.LeftBehind })},
		{"weighing", "", weighing},
		{"towelled", "", yesNo(func(n *record.Note) **bool { return &n.Towelled })},
		{"race", "", yesNo(func(n *record.Note) **bool { return &n.Race })},
		{"indoor", "", yesNo(func(n *record.Note) **bool { return &n.Indoor })},
		{"felt", "", felt},
	}
}

// more are columns that are read if somebody adds them.
func more() []field {
	return []field{
		{"stool", "g", mass(func(n *record.Note) **quantity.Mass { return &n.Stool })},
		{"clothes_wet", "g", mass(func(n *record.Note) **quantity.Mass { return &n.ClothesWet })},
		{"fan", "", yesNo(func(n *record.Note) **bool { return &n.Fan })},
	}
}

// usUnits are the units of the sheet for people who think in them.
var usUnits = map[string]string{"l": "floz", "g": "oz"}

// units are the words a header may end with.
var units = map[string]string{"l": "l", "ml": "ml", "cl": "cl", "dl": "dl", "floz": "floz", "fl oz": "floz",
	"kg": "kg", "g": "g", "oz": "oz", "lb": "lb"}

// column finds the field that a header cell names, a field without a name if none.
func column(cell string) field {
	words := table.Words(unguard(cell))
	for _, f := range append(fields(), more()...) {
		name := strings.ReplaceAll(f.name, "_", " ")
		if words == name {
			f.unit = "" // then each number has to say its own
			return f
		}
		if rest, ok := strings.CutPrefix(words, name+" "); ok && f.unit != "" && sameDimension(units[rest], f.unit) {
			f.unit = units[rest]
			return f
		}
	}
	return field{}
}

func sameDimension(a, b string) bool {
	volume := map[string]bool{"l": true, "ml": true, "cl": true, "dl": true, "floz": true}
	return a != "" && volume[a] == volume[b]
}
