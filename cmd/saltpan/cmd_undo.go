package main

import (
	"context"
	"math"
	"strconv"

	"github.com/spf13/cobra"

	"saltpan/store"
)

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
