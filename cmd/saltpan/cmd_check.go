package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"saltpan/store"
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
