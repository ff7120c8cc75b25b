package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"saltpan/cmd/saltpan/season"
	"saltpan/pipeline/simulate"
	"saltpan/store"
)

// demoSeed makes every demo the same.
const demoSeed = 1

func demoCommand(e *env) *cobra.Command {
	return &cobra.Command{Use: "demo [DIR]", Short: "Write an invented season as files, with a store of its own, and show it",
		Long:    "demo writes an invented season of a small running club as real files and reads\nthem into a store of its own below DIR (default: a new temporary folder). Your own\nstore is not touched.",
		Example: "  saltpan demo\n  saltpan demo ~/saltpan-demo", Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return runDemo(c.Context(), *e, firstArg(args)) }}
}

func runDemo(ctx context.Context, e env, dir string) error {
	dir, err := demoFolder(dir)
	if err != nil {
		return err
	}
	s := simulate.Run(demoSeed, simulate.Options{})
	files := filepath.Join(dir, "files")
	if _, err := season.Write(files, s); err != nil {
		return err
	}
	e.storePath = filepath.Join(dir, "store", "saltpan.db")
	st, err := e.create(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	err = st.Change(ctx, e.now(), "demo", s.Club, func(tx *store.Tx) error {
		for _, a := range season.Athletes(s) {
			if err := tx.PutAthlete(a); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	if err := demoIngest(ctx, e, st, files); err != nil {
		return err
	}
	return showDemo(ctx, &e, st, s, dir)
}

// demoFolder is a new or an empty folder: a demo overwrites nothing.
func demoFolder(dir string) (string, error) {
	if dir == "" {
		return os.MkdirTemp("", "saltpan-demo-")
	}
	list, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return dir, os.MkdirAll(dir, 0o700)
	}
	if err == nil && len(list) > 0 {
		return dir, withHint(usagef("%s is not empty", dir), "name a new folder")
	}
	return dir, err
}

// demoIngest reads the files without a word; the demo shows the result itself.
func demoIngest(ctx context.Context, e env, st *store.Store, files string) error {
	e.voice, e.ttyErr = voice{io.Discard}, false
	g, err := newIngest(ctx, ingestOptions{byFolder: true}, &e, st)
	if err != nil {
		return err
	}
	list, _ := inputs([]string{files})
	_, stopped, err := g.through(ctx, list)
	if err != nil {
		return err
	}
	return stopped
}

// newest is how many sessions the demo shows.
const newest = 12

func showDemo(ctx context.Context, e *env, st *store.Store, s simulate.Season, dir string) error {
	d, err := e.readDerived(ctx, st, selection{})
	if err != nil {
		return err
	}
	athletes, err := byKey(ctx, st)
	if err != nil {
		return err
	}
	n := needsOf(d.sessions)
	fmt.Fprintf(e.out, "%s of %s: an invented season, %d athletes, %d sessions. The newest:\n\n", s.Club, s.Town, len(athletes), len(d.sessions))
	if err := e.sessionTable(d.sessions[max(0, len(d.sessions)-newest):], athletes); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "\nintervals are 95 %%; ≥ is the least it can be without a note\n")
	fmt.Fprintf(e.out, "missing: %d notes, %d weigh-ins, %d answers\n", n.Note, n.WeighIn, len(d.questions))
	for _, c := range d.scales {
		fmt.Fprintf(e.out, "scale %s: %s\n", c.Scale, c.Text)
	}
	fmt.Fprintf(e.out, "\nthe files: %s\nthe store: %s\nlook around:\n  saltpan --store %s missing\n  saltpan --store %s explain %s\n",
		filepath.Join(dir, "files"), st.Path(), st.Path(), st.Path(), d.sessions[len(d.sessions)-1].Key)
	return nil
}
