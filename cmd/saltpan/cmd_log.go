package main

import (
	"context"
	"fmt"
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

func runLog(ctx context.Context, e *env, n int) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	all, err := st.Log(ctx, n)
	if err != nil {
		return err
	}
	return e.sayLog(all)
}

func (e *env) sayLog(all []store.Change) error {
	rows := [][]string{{"number", "when", "command", "what", ""}}
	for _, c := range all {
		if e.json {
			writeJSON(e.out, struct {
				ID      int64  `json:"number"`
				At      string `json:"at"`
				Command string `json:"command"`
				Text    string `json:"text"`
				Undone  bool   `json:"undone"`
			}{c.ID, stamp(c.At), c.Command, c.Text, c.Undone})
			continue
		}
		undone := ""
		if c.Undone {
			undone = "undone"
		}
		rows = append(rows, []string{fmt.Sprint(c.ID), c.At.Format("2006-01-02 15:04"), c.Command, c.Text, undone})
	}
	if e.json {
		return nil
	}
	return table(e.out, rows)
}

func undoCommand(e *env) *cobra.Command {
	return &cobra.Command{Use: "undo [N]", Short: "Take back the last N things that were stored or told (default 1)",
		Example: "  saltpan undo\n  saltpan undo 3", Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return runUndo(c.Context(), e, firstArg(args)) }}
}

func runUndo(ctx context.Context, e *env, text string) error {
	n := 1
	if text != "" {
		var err error
		if n, err = strconv.Atoi(text); err != nil || n < 1 {
			return usagef("%q: want how many to take back, such as 1", text)
		}
	}
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	taken, err := st.Undo(ctx, e.now(), n)
	if err != nil {
		return err
	}
	if _, err := e.derive(ctx, st); err != nil {
		return err
	}
	if len(taken) == 0 {
		e.voice.say("there is nothing to take back")
		return nil
	}
	return e.sayLog(taken)
}
