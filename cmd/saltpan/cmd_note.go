package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"saltpan/pipeline"
	"saltpan/pipeline/record"
	"saltpan/store"
)

func noteCommand(e *env) *cobra.Command {
	var words noteWords
	c := &cobra.Command{
		Use:   "note SESSION",
		Short: "Say what was drunk, eaten or left in the toilet between the two weigh-ins",
		Long: `note adds to what is known about a session: everything between the two weigh-ins.
"none" is an answer: it is not the same as saying nothing. A later note replaces
what it names and leaves the rest. Without options it asks; with "-" it reads
lines such as
  ines-2026-04-12-0803 drunk=600ml eaten=40g toilet=none`,
		Example: `  saltpan note ines-2026-04-12-0803 --drunk 600ml --eaten 40g --toilet none
  saltpan note ines-2026-04-12-0803 --drunk none --urine 200ml
  saltpan note ines-2026-04-12-0803 --indoor --room 21C --fan`,
		Args: cobra.ExactArgs(1), ValidArgsFunction: e.completeSession,
		RunE: func(c *cobra.Command, args []string) error {
			if args[0] == "-" {
				return noteLines(c.Context(), e)
			}
			return runNote(c.Context(), words, e, args[0])
		},
	}
	words = noteWords{}
	for _, k := range noteKinds {
		c.Flags().StringVar(words.at(k.name), k.name, "", k.help)
	}
	for _, name := range switches {
		c.Flags().Lookup(name).NoOptDefVal = "yes"
	}
	return c
}

func runNote(ctx context.Context, words noteWords, e *env, key string) error {
	return e.about(ctx, key, func(st *store.Store, s pipeline.Session) error {
		if words.empty() {
			if err := e.askNote(words, s); err != nil {
				return err
			}
		}
		n, err := words.note(s.Key)
		if err != nil {
			return usage(err)
		}
		return e.putNote(ctx, st, s, n)
	})
}

func (e *env) putNote(ctx context.Context, st *store.Store, s pipeline.Session, n record.Note) error {
	n.At = e.now().UTC()
	return e.write(ctx, st, "note", s.Key, []string{s.Athlete}, func(tx *store.Tx) error { return tx.PutNote(n) })
}

// askNote asks a person at a terminal, or reads one answer a line.
func (e *env) askNote(words noteWords, s pipeline.Session) error {
	in := bufio.NewScanner(e.in)
	fmt.Fprintf(e.voice.w, "%s, %s. Everything between the two weigh-ins; \"none\" for nothing, Enter to leave open.\n", s.Key, localTime(s.Start, s.Zone))
	for _, k := range noteKinds {
		if k.ask == "" {
			continue
		}
		fmt.Fprintf(e.voice.w, "%s ", k.ask)
		if !in.Scan() {
			break
		}
		*words.at(k.name) = strings.TrimSpace(in.Text())
	}
	if words.empty() {
		return withHint(errNothing, "`saltpan note %s --drunk 600ml --toilet none`, or --drunk none", s.Key)
	}
	return in.Err()
}

// noteLines reads notes from standard input, one session a line; a line with a
// mistake comes back with its number and the rest is taken.
func noteLines(ctx context.Context, e *env) error {
	in := bufio.NewScanner(e.in)
	bad := false
	for line := 1; in.Scan(); line++ {
		text := strings.TrimSpace(in.Text())
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		if err := noteLine(ctx, e, text); err != nil {
			var u usageError
			if !errors.As(err, &u) {
				return err
			}
			e.voice.say("-:%d: %v", line, err)
			bad = true
		}
	}
	if bad {
		return errSomeRefused
	}
	return in.Err()
}

func noteLine(ctx context.Context, e *env, text string) error {
	fields := strings.Fields(text)
	words := noteWords{}
	for _, f := range fields[1:] {
		name, value, ok := strings.Cut(f, "=")
		if !ok || !isNoteKind(name) {
			return usagef("%q: want words such as drunk=600ml or toilet=none", f)
		}
		*words.at(name) = value
	}
	if words.empty() {
		return usagef("%q says nothing about the session", text)
	}
	return runNote(ctx, words, e, fields[0])
}
