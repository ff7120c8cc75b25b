package main

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// A file is read once it has rested, and the folders are looked through again
// now and then: events get lost, and network shares send none.
const (
	settle = time.Second
	rescan = time.Minute
)

// follow stays and reads what comes, until interrupted.
func (g *ingest) follow(ctx context.Context, args []string) error {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return err
	}
	defer w.Close()
	if err := watch(w, args); err != nil {
		return err
	}
	g.e.voice.say("following %s; interrupt to end", strings.Join(args, ", "))
	rest := time.NewTimer(rescan)
	for {
		select {
		case <-ctx.Done():
			return nil // the way to end it
		case ev := <-w.Events:
			if ev.Has(fsnotify.Create) {
				w.Add(ev.Name) // a new folder; a file is watched with its folder
			}
			rest.Reset(settle)
		case err := <-w.Errors:
			g.e.voice.say("%v", err)
			rest.Reset(settle)
		case <-rest.C:
			if err := g.once(ctx, args); err != nil && !errors.Is(err, errSomeRefused) && ctx.Err() == nil {
				return err
			}
			rest.Reset(rescan)
		}
	}
}

func watch(w *fsnotify.Watcher, args []string) error {
	for _, arg := range args {
		err := filepath.WalkDir(arg, func(path string, d fs.DirEntry, err error) error {
			if err == nil && (d.IsDir() || path == arg) {
				return w.Add(path)
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}
