package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"
)

var errDamage = errors.New("the store is damaged")

func checkCommand(e *env) *cobra.Command {
	return &cobra.Command{Use: "check", Short: "Look through the store for damage", Example: "  saltpan check", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return runCheck(c.Context(), e) }}
}

func runCheck(ctx context.Context, e *env) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	found, err := st.Check(ctx)
	if err != nil {
		return err
	}
	if e.json {
		if found == nil {
			found = []string{}
		}
		if err := writeJSON(e.out, map[string]any{"store": st.Path(), "damage": found}); err != nil {
			return err
		}
	}
	for _, f := range found {
		e.voice.say("%s", f)
	}
	if len(found) > 0 {
		return withHint(errDamage, "`saltpan restore BACKUP --store NEWFILE` from a backup, then ingest the files again")
	}
	if !e.json {
		fmt.Fprintf(e.out, "%s: no damage found\n", st.Path())
	}
	return nil
}
