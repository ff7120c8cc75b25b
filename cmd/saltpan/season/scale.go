package season

import (
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"

	"saltpan/pipeline/simulate"
)

// scaleFile is everything a scale showed, in the dialect of its app: in the
// athlete's folder, or above the folders where several athletes share it.
func scaleFile(sc simulate.Scale, all []simulate.WeighIn) file {
	var rows []simulate.WeighIn
	for _, w := range all {
		if w.Scale == sc.Key {
			rows = append(rows, w)
		}
	}
	switch {
	case len(sc.Athletes) > 1:
		return file{sc.Key + "-scale.csv", commaCSV(rows)}
	case sc.Pounds:
		return file{path.Join(sc.Athletes[0], "scale.csv"), poundsCSV(rows)}
	}
	return file{path.Join(sc.Athletes[0], "scale.csv"), semicolonCSV(rows)}
}

// semicolonCSV has decimal commas, dotted dates, a person column and the
// newest row first.
func semicolonCSV(rows []simulate.WeighIn) []byte {
	var w strings.Builder
	w.WriteString("Person;Fett (%);Gewicht (kg);Uhrzeit;Datum\r\n")
	slices.Reverse(rows)
	for _, r := range rows {
		line := fmt.Sprintf("%s;%.1f;%.1f;%s\r\n", r.Person, fatPercent(r), r.Shown.Kilograms(),
			r.Wall.Format("15:04;02_01_2006"))
		w.WriteString(strings.NewReplacer(".", ",", "_", ".").Replace(line))
	}
	return []byte(w.String())
}

// commaCSV has ISO times to the second and no person column.
func commaCSV(rows []simulate.WeighIn) []byte {
	var w bytes.Buffer
	w.WriteString("weight (kg),body fat (%),recorded\n")
	for _, r := range rows {
		fmt.Fprintf(&w, "%.2f,%.1f,%s\n", r.Shown.Kilograms(), fatPercent(r), r.Wall.Format("2006-01-02 15:04:05"))
	}
	return w.Bytes()
}

// poundsCSV has month-first dates, a twelve-hour clock and pounds.
func poundsCSV(rows []simulate.WeighIn) []byte {
	var w bytes.Buffer
	w.WriteString("Time,Date,Weight (lb)\n")
	for _, r := range rows {
		fmt.Fprintf(&w, "%s,%.1f\n", r.Wall.Format("3:04 PM,01/02/2006"), r.Shown.Pounds())
	}
	return w.Bytes()
}

// fatPercent is a column that must not be taken for a mass.
func fatPercent(r simulate.WeighIn) float64 {
	return 14 + 0.1*float64(int(r.Shown.Kilograms()*10)%130)
}
