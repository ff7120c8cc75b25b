package main

import (
	"context"
	"fmt"
	"math"

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
