package main

import (
	"context"

	"github.com/spf13/cobra"

	"saltpan/store"
)

func restoreCommand(e *env) *cobra.Command {
	return &cobra.Command{Use: "restore FILE", Short: "Take a backup into use, for instance on a new computer", Example: "  saltpan restore ~/saltpan-2026-04-12.db", Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return runRestore(c.Context(), e, args[0]) }}
}

func runRestore(ctx context.Context, e *env, file string) error {
	to, err := e.where()
	if err != nil {
		return err
	}
	if err := store.Restore(ctx, file, to); err != nil {
		return err
	}
	st, err := store.Open(ctx, to)
	if err != nil {
		return err
	}
	defer st.Close()
	if _, err := e.derive(ctx, st); err != nil {
		return err
	}
	return e.sayFile("restored to", to)
}
