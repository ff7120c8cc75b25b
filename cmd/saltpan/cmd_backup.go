package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"
)

func backupCommand(e *env) *cobra.Command {
	return &cobra.Command{Use: "backup FILE", Short: "Write a verified copy of the store", Example: "  saltpan backup ~/saltpan-2026-04-12.db", Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return runBackup(c.Context(), e, args[0]) }}
}

func runBackup(ctx context.Context, e *env, file string) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	if err := st.Backup(ctx, file); err != nil {
		return err
	}
	return e.sayFile("verified copy in", file)
}

func (e *env) sayFile(what, file string) error {
	if e.json {
		return writeJSON(e.out, map[string]string{"file": file})
	}
	fmt.Fprintf(e.out, "%s %s\n", what, file)
	return nil
}
