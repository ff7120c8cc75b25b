package main

import (
	"context"
	"fmt"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"saltpan/importers/notes"
	"saltpan/pipeline"
	"saltpan/pipeline/match"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

type missingOptions struct {
	choose chooseOptions
	sheet  string
}

func missingCommand(e *env) *cobra.Command {
	var o missingOptions
	c := &cobra.Command{
		Use:   "missing",
		Short: "List what is missing, by what it is worth; write a sheet to fill in",
		Long: `missing lists notes, weigh-ins and questions that sessions wait for, the one that
would narrow a loss rate most first. With --sheet it writes a CSV to fill in with
any spreadsheet; ` + "`saltpan ingest SHEET`" + ` takes it back.`,
		Example: `  saltpan missing --athlete ines
  saltpan missing --sheet notes.csv`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return runMissing(c.Context(), o, e) },
	}
	o.choose.add(e, c)
	c.Flags().StringVar(&o.sheet, "sheet", "", "write the sessions that lack a note to this CSV")
	return c
}

// toDo is one thing to do, a line of `missing --json`.
type toDo struct {
	Kind    string  `json:"kind"`
	ID      string  `json:"id"`
	Athlete string  `json:"athlete"`
	Session string  `json:"session,omitempty"`
	Worth   float64 `json:"worth_l_per_h"`
	Text    string  `json:"text"`
	Choices []any   `json:"choices,omitempty"`
}

type choiceJSON struct {
	ID     string  `json:"id"`
	At     string  `json:"at"`
	MassKg float64 `json:"mass_kg"`
	From   string  `json:"from"`
}

func runMissing(ctx context.Context, o missingOptions, e *env) error {
	if err := o.choose.check(); err != nil {
		return err
	}
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	d, err := e.choose(ctx, st, o.choose)
	if err != nil {
		return err
	}
	athletes, err := byKey(ctx, st)
	if err != nil {
		return err
	}
	if o.sheet != "" {
		return e.writeSheet(o.sheet, d.sessions, athletes)
	}
	if len(o.choose.athletes) == 0 {
		all, err := e.readDerived(ctx, st, selection{})
		if err != nil {
			return err
		}
		d.questions = all.questions
	}
	return e.sayToDo(toDoList(d))
}

// toDoList is everything that waits, the most worth first.
func toDoList(d derived) []toDo {
	var out []toDo
	byKey := map[string]pipeline.Session{}
	for _, s := range d.sessions {
		byKey[s.Key] = s
		switch s.Status {
		case pipeline.NeedsNote:
			out = append(out, toDo{Kind: "note", ID: s.Key, Athlete: s.Athlete, Session: s.Key, Worth: worth(s), Text: noteWanted(s)})
		case pipeline.NeedsWeighIn:
			out = append(out, toDo{Kind: "weigh-in", ID: s.Key, Athlete: s.Athlete, Session: s.Key, Worth: worth(s), Text: needOf(s) + " missing; it cannot be made up for, but one made by hand can be told"})
		}
	}
	for _, q := range d.questions {
		s, shown := byKey[q.Session]
		if q.Session == "" || shown {
			out = append(out, question(q, s))
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Worth > out[j].Worth })
	return out
}

// noteWanted says what a note should tell, with the day on the athlete's own clock.
func noteWanted(s pipeline.Session) string {
	return "what was drunk, eaten and left in the toilet on " + localTime(s.Start, s.Zone)
}

func question(q match.Question, s pipeline.Session) toDo {
	out := toDo{Kind: "question", ID: q.ID, Athlete: q.Athlete, Session: q.Session, Text: q.Text, Worth: worth(s)}
	for _, c := range q.Choices {
		out.Choices = append(out.Choices, choiceJSON{ID: c.ID, At: stamp(c.At), MassKg: c.WeighIn.Mass.Kilograms(), From: c.WeighIn.Origin.String()})
	}
	out.Choices = append(out.Choices, "neither", "unknown")
	return out
}

// spreadOfRates is the standard deviation of whole-body sweating rates among
// endurance athletes, 0.57 L/h (Barnes et al. 2019, J Sports Sci 37:2356-2366):
// what is not known about a session before it is measured.
const spreadOfRates = 0.57

// worth is how much the half-width of a session's loss rate would shrink, L/h:
// from what is known without measuring to what the scale's own step leaves.
func worth(s pipeline.Session) float64 {
	hours := s.Elapsed.Hours()
	if hours <= 0 {
		return measure.K95 * spreadOfRates // a question about a scale bears on many sessions
	}
	left := measure.K95 * 0.0408 / hours // UN-01: two readings of a 0.1 kg scale
	return max(0, measure.K95*spreadOfRates-left)
}

func (e *env) sayToDo(list []toDo) error {
	if e.json {
		for _, t := range list {
			if err := writeJSON(e.out, t); err != nil {
				return err
			}
		}
		return nil
	}
	if len(list) == 0 {
		fmt.Fprintln(e.out, "nothing is missing")
		return nil
	}
	rows := [][]string{{"what", "for", "worth L/h", "in words"}}
	for _, t := range list {
		rows = append(rows, []string{t.Kind, t.ID, fmt.Sprintf("%.2f", t.Worth), t.Text})
	}
	if err := table(e.out, rows); err != nil {
		return err
	}
	fmt.Fprintln(e.out, "\nworth is how much narrower the loss rate would get; notes: `saltpan note SESSION`, questions: `saltpan answer QUESTION`")
	return nil
}

// writeSheet writes the sessions that lack a note, in the units of their
// athletes if these agree.
func (e *env) writeSheet(path string, list []pipeline.Session, athletes map[string]record.Athlete) error {
	var rows []notes.Row
	var wanting []pipeline.Session
	for _, s := range list {
		if s.Status != pipeline.NeedsNote {
			continue
		}
		wanting = append(wanting, s)
		rows = append(rows, notes.Row{Session: s.Key, Athlete: s.Athlete, Start: s.Start.In(location(s.Zone)).Format("2006-01-02 15:04"),
			Elapsed: hms(s.Elapsed), Missing: "note"})
	}
	us := e.tableUnits(wanting, athletes) == quantity.US
	var b strings.Builder
	if err := notes.Write(&b, rows, us); err != nil {
		return err
	}
	if err := writeFile(path, []byte(b.String())); err != nil {
		return err
	}
	if e.json {
		return writeJSON(e.out, map[string]any{"sheet": path, "rows": len(rows)})
	}
	fmt.Fprintf(e.out, "%s: %d sessions to fill in; \"0\" is nothing, empty is not said; then `saltpan ingest %s`\n", path, len(rows), path)
	return nil
}
