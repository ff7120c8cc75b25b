package main

import (
	"context"
	"fmt"
	"slices"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

func runAthleteList(ctx context.Context, e *env) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	all, err := st.Athletes(ctx)
	if err != nil {
		return err
	}
	rows := [][]string{{"athlete", "name", "mass", "zone", "weighing"}}
	for _, a := range all {
		if e.json {
			writeJSON(e.out, a)
			continue
		}
		rows = append(rows, []string{a.Key, a.Name, massText(a, e), a.Zone, string(weighingOf(a))})
	}
	if e.json {
		return nil
	}
	return table(e.out, rows)
}

func weighingOf(a record.Athlete) record.Weighing {
	if a.Weighing == "" {
		return record.Body
	}
	return a.Weighing
}

func massText(a record.Athlete, e *env) string {
	if a.UsualMass == nil {
		return ""
	}
	return quantity.FormatMass(*a.UsualMass, quantity.Units(e.unitsFor(a)))
}

func runAthleteShow(ctx context.Context, e *env, key string) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	a, err := pick(ctx, st, key)
	if err != nil {
		return err
	}
	if e.json {
		return writeJSON(e.out, a)
	}
	medical := "not answered"
	if a.Medical != nil {
		medical = orNone(*a.Medical)
	}
	rows := [][]string{{"athlete", a.Key}, {"name", a.Name}, {"sex", a.Sex}, {"born", orBlank(a.Born)}, {"height", heightText(a)}, {"usual mass", massText(a, e)},
		{"zone", a.Zone}, {"weighing", string(weighingOf(a))}, {"units", string(e.unitsFor(a))}, {"max heart rate", orBlank(a.MaxHRBpm)},
		{"rest heart rate", orBlank(a.RestHRBpm)}, {"inbox", a.Inbox}, {"medical", medical}}
	for _, t := range a.Trips {
		rows = append(rows, []string{"trip", t.Zone + " " + t.From + " to " + t.To})
	}
	return table(e.out, filled(rows))
}

// filled leaves out what is not known.
func filled(rows [][]string) [][]string {
	return slices.DeleteFunc(rows, func(r []string) bool { return r[1] == "" })
}

func heightText(a record.Athlete) string {
	if a.HeightM == 0 {
		return ""
	}
	return fmt.Sprintf("%.2f m", a.HeightM)
}

func orBlank(v int) string {
	if v == 0 {
		return ""
	}
	return fmt.Sprint(v)
}
