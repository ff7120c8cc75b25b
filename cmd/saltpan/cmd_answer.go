package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"saltpan/pipeline"
	"saltpan/pipeline/match"
	"saltpan/pipeline/record"
	"saltpan/store"
)

func answerCommand(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "answer QUESTION [CHOICE]",
		Short: "Answer a question about which weigh-in belongs to a session",
		Long: `answer settles a question that ` + "`saltpan missing`" + ` lists. Without a choice it
shows the candidates. CHOICE is a letter, "neither" or "unknown". The answer is
kept, also when files are read again, and ` + "`saltpan undo`" + ` takes it back.`,
		Example: `  saltpan answer q1a2b3c4d
  saltpan answer q1a2b3c4d a`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(c *cobra.Command, args []string) error { return runAnswer(c.Context(), e, args) },
	}
}

func runAnswer(ctx context.Context, e *env, args []string) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	d, err := e.readDerived(ctx, st, selection{})
	if err != nil {
		return err
	}
	q, err := findQuestion(d, args[0])
	if err != nil {
		return err
	}
	if len(args) == 1 {
		return e.showQuestion(q, zoneOf(d, q.Session))
	}
	a, err := answer(q, args[1])
	if err != nil {
		return err
	}
	a.At = e.now().UTC()
	return e.write(ctx, st, "answer", q.ID+" "+a.Choice, nil, func(tx *store.Tx) error { return tx.PutAnswer(a) })
}

func findQuestion(d derived, id string) (match.Question, error) {
	for _, q := range d.questions {
		if q.ID == id {
			return q, nil
		}
	}
	for _, n := range d.scales {
		if n.Question != "" && n.Question == id {
			return match.Question{ID: id, Scale: n.Scale, Text: n.Text, Choices: n.Examples}, nil
		}
	}
	return match.Question{}, withHint(usagef("no question %q", id), "`saltpan missing` lists them")
}

// zoneOf is the zone of a session, UTC if it is about none.
func zoneOf(d derived, session string) string {
	for _, s := range d.sessions {
		if s.Key == session {
			return s.Zone
		}
	}
	return "UTC"
}

func (e *env) showQuestion(q match.Question, zone string) error {
	if e.json {
		return writeJSON(e.out, question(q, pipeline.Session{}))
	}
	fmt.Fprintln(e.out, strings.TrimSpace(q.Session+"\n"+q.Text))
	rows := [][]string{{"choice", "time", "mass kg", "from"}}
	for _, c := range q.Choices {
		rows = append(rows, []string{c.ID, c.At.In(location(zone)).Format("2006-01-02 15:04 MST"), fmt.Sprintf("%.2f", c.WeighIn.Mass.Kilograms()), c.WeighIn.Origin.String()})
	}
	rows = append(rows, []string{"neither"}, []string{"unknown"})
	return table(e.out, rows)
}

// answer makes the fact of a choice; it keeps what was asked about, so that it
// stays true when questions are numbered anew.
func answer(q match.Question, choice string) (record.Answer, error) {
	a := record.Answer{Question: q.ID, Choice: choice, Session: q.Session, Slot: string(q.Slot)}
	if choice == "neither" || choice == "unknown" {
		return a, nil
	}
	var ids []string
	for _, c := range q.Choices {
		if c.ID == choice {
			a.WeighIn = c.WeighIn.ID
			return a, nil
		}
		ids = append(ids, c.ID)
	}
	return a, usagef("choice %q: want %s, neither or unknown", choice, strings.Join(ids, ", "))
}
