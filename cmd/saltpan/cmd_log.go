package main

import (
	"context"
	"fmt"
	"math"
	"strconv"

	"github.com/spf13/cobra"

	"saltpan/store"
)

func logCommand(e *env) *cobra.Command {
	var n int
	c := &cobra.Command{Use: "log", Short: "List what was stored and told, newest first", Example: "  saltpan log -n 20", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return runLog(c.Context(), e, n) }}
	c.Flags().IntVarP(&n, "last", "n", 20, "how many entries")
	return c
}

// entry is what one command stored or told: an ingest is one, whatever the
// number of its files.
type entry struct {
	changes []store.Change // newest first
}

// entries groups the log by command.
func entries(log []store.Change) []entry {
	var out []entry
	for _, c := range log {
		if n := len(out); n > 0 && out[n-1].takes(c) {
			out[n-1].changes = append(out[n-1].changes, c)
			continue
		}
		out = append(out, entry{[]store.Change{c}})
	}
	return out
}

func (x entry) takes(c store.Change) bool {
	first := x.changes[0]
	return first.Command == c.Command && first.At.Equal(c.At) && first.Undone == c.Undone
}

// text says what an entry is about, and how many inputs more.
func (x entry) text() string {
	last := x.changes[len(x.changes)-1]
	if n := len(x.changes) - 1; n > 0 {
		return fmt.Sprintf("%s and %d more", last.Text, n)
	}
	return last.Text
}

func runLog(ctx context.Context, e *env, n int) error {
	if n < 1 {
		return usagef("--last %d: want at least 1", n)
	}
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	all, err := st.Log(ctx, math.MaxInt32)
	if err != nil {
		return err
	}
	list := entries(all)
	return e.sayLog(list[:min(n, len(list))])
}

func (e *env) sayLog(list []entry) error {
	rows := [][]string{{"number", "when", "command", "what", ""}}
	for _, x := range list {
		c := x.changes[0]
		if e.json {
			writeJSON(e.out, struct {
				ID      int64  `json:"number"`
				At      string `json:"at"`
				Command string `json:"command"`
				Text    string `json:"text"`
				Inputs  int    `json:"inputs"`
				Undone  bool   `json:"undone"`
			}{c.ID, stamp(c.At), c.Command, x.text(), len(x.changes), c.Undone})
			continue
		}
		undone := ""
		if c.Undone {
			undone = "undone"
		}
		rows = append(rows, []string{fmt.Sprint(c.ID), c.At.Format("2006-01-02 15:04"), c.Command, x.text(), undone})
	}
	if e.json {
		return nil
	}
	return table(e.out, rows)
}

func undoCommand(e *env) *cobra.Command {
	var number int64
	c := &cobra.Command{Use: "undo [N]", Short: "Take back what the last N commands stored or told (default 1)",
		Long: "undo takes back what the last N commands stored or told. With --number it takes back\n" +
			"one entry of the log; if that is an undo, what it took back holds again.",
		Example: "  saltpan undo\n  saltpan undo 3\n  saltpan undo --number 17", Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return runUndo(c.Context(), e, firstArg(args), number) }}
	c.Flags().Int64Var(&number, "number", 0, "the number of one entry of the log, an undo too")
	return c
}

func runUndo(ctx context.Context, e *env, text string, number int64) error {
	n := 1
	if text != "" {
		var err error
		if n, err = strconv.Atoi(text); err != nil || n < 1 || number != 0 {
			return usagef("%q: want how many to take back, such as 1, or --number alone", text)
		}
	}
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	taken, err := e.takeBack(ctx, st, n, number)
	if err != nil {
		return err
	}
	if _, err := e.derive(ctx, st); err != nil {
		return err
	}
	if len(taken) == 0 && number != 0 {
		return withHint(usagef("no entry %d that still holds", number), "`saltpan log` lists them")
	}
	if len(taken) == 0 {
		e.voice.say("there is nothing to take back")
		return nil
	}
	return e.sayLog(taken)
}

// takeBack retracts the last n entries that still hold, the newest first, or
// the one with the number, an undo too.
func (e *env) takeBack(ctx context.Context, st *store.Store, n int, number int64) ([]entry, error) {
	all, err := st.Log(ctx, math.MaxInt32)
	if err != nil {
		return nil, err
	}
	var taken []entry
	var ids []int64
	for _, x := range entries(all) {
		if len(taken) == n {
			break
		}
		c := x.changes[0]
		if c.Undone || number == 0 && c.Command == "undo" || number != 0 && c.ID != number {
			continue
		}
		for _, c := range x.changes {
			ids = append(ids, c.ID)
		}
		x.changes[0].Undone = true
		taken = append(taken, x)
	}
	if len(ids) > 0 {
		_, err = st.Retract(ctx, e.now(), ids...)
	}
	return taken, err
}
