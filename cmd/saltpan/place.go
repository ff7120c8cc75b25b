package main

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"saltpan/pipeline/record"
	"saltpan/store"
)

// where is the file of the store.
func (e *env) where() (string, error) {
	for _, p := range []string{e.storePath, os.Getenv("SALTPAN_STORE")} {
		if p != "" {
			return p, nil
		}
	}
	dir, err := dataFolder()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, "saltpan", "saltpan.db"), nil
}

// dataFolder is where programs keep data on this system (XDG base directory
// specification; the standard library knows only the configuration folder).
func dataFolder() (string, error) {
	if p := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(p) {
		return p, nil
	}
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return os.UserConfigDir()
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", withHint(err, "name a file with --store")
	}
	return filepath.Join(home, ".local", "share"), nil
}

// open opens the store; create makes it if there is none.
func (e *env) open(ctx context.Context) (*store.Store, error) {
	path, err := e.where()
	if err != nil {
		return nil, err
	}
	return store.Open(ctx, path)
}

func (e *env) create(ctx context.Context) (*store.Store, error) {
	path, err := e.where()
	if err != nil {
		return nil, err
	}
	return store.Create(ctx, path)
}

// pick is the athlete a command is about: the key given, or the only one there is.
func pick(ctx context.Context, st *store.Store, key string) (record.Athlete, error) {
	all, err := st.Athletes(ctx)
	if err != nil {
		return record.Athlete{}, err
	}
	var keys []string
	for _, a := range all {
		if a.Key == key || key == "" && len(all) == 1 {
			return a, nil
		}
		keys = append(keys, a.Key)
	}
	if key == "" {
		return record.Athlete{}, usagef("which athlete? there are %s", orNone(keys))
	}
	return record.Athlete{}, withHint(usagef("no athlete %q; there are %s", key, orNone(keys)), "add one with `saltpan athlete add %s`", key)
}

func orNone(keys []string) string {
	if len(keys) == 0 {
		return "none"
	}
	return strings.Join(keys, ", ")
}

// unitsFor is how to show quantities of an athlete.
func (e *env) unitsFor(a record.Athlete) record.Units {
	switch {
	case e.units != "":
		return record.Units(e.units)
	case a.Units != "":
		return a.Units
	}
	return record.Metric
}

// firstArg is an optional first argument.
func firstArg(args []string) string {
	if len(args) == 0 {
		return ""
	}
	return args[0]
}
