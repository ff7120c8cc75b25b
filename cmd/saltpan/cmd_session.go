package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"saltpan/pipeline"
	"saltpan/pipeline/record"
	"saltpan/store"
)

func sessionCommand(e *env) *cobra.Command {
	var to string
	move := &cobra.Command{Use: "move SESSION", Short: "Give a session to another athlete",
		Example: "  saltpan session move ines-2026-04-12-0803 --to teo", Args: cobra.ExactArgs(1), ValidArgsFunction: e.completeSession,
		RunE: func(c *cobra.Command, args []string) error { return runMove(c.Context(), e, args[0], to) }}
	move.Flags().StringVar(&to, "to", "", "key of the athlete whose it is")
	move.MarkFlagRequired("to")
	drop := &cobra.Command{Use: "drop SESSION", Short: "Take a session out of account",
		Example: "  saltpan session drop ines-2026-04-12-0803", Args: cobra.ExactArgs(1), ValidArgsFunction: e.completeSession,
		RunE: func(c *cobra.Command, args []string) error { return correct(c.Context(), e, record.DropActivity, args) }}
	join := &cobra.Command{Use: "join SESSION SESSION…", Short: "Make one session of several",
		Example: "  saltpan session join ines-2026-04-12-0803 ines-2026-04-12-0851", Args: cobra.MinimumNArgs(2), ValidArgsFunction: e.completeSession,
		RunE: func(c *cobra.Command, args []string) error { return correct(c.Context(), e, record.Join, args) }}
	split := &cobra.Command{Use: "split SESSION", Short: "Keep the parts of a session apart",
		Example: "  saltpan session split ines-2026-04-12-0803", Args: cobra.ExactArgs(1), ValidArgsFunction: e.completeSession,
		RunE: func(c *cobra.Command, args []string) error { return runSplit(c.Context(), e, args[0]) }}
	return group("session", "Correct sessions: move, drop, join, split", "  saltpan session drop ines-2026-04-12-0803", move, drop, join, split)
}

// correct makes one correction of the activities of one or several sessions.
func correct(ctx context.Context, e *env, kind record.CorrectionKind, keys []string) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	c := record.Correction{Kind: kind, At: e.now().UTC()}
	var athletes []string
	for _, key := range keys {
		s, err := e.session(ctx, st, key)
		if err != nil {
			return err
		}
		ids, err := activitiesOf(ctx, st, s)
		if err != nil {
			return err
		}
		c.Activities = append(c.Activities, ids...)
		athletes = append(athletes, s.Athlete)
	}
	if kind == record.Join && differ(athletes) {
		return usagef("the sessions to join are of different athletes")
	}
	return e.write(ctx, st, "session "+string(kind), fmt.Sprint(keys), athletes, func(tx *store.Tx) error { return tx.PutCorrection(c) })
}

func differ(list []string) bool {
	for _, v := range list {
		if v != list[0] {
			return true
		}
	}
	return false
}

// activitiesOf are the ids of all copies of all parts of a session.
func activitiesOf(ctx context.Context, st *store.Store, s pipeline.Session) ([]string, error) {
	facts, err := st.Facts(ctx, s.Athlete)
	if err != nil {
		return nil, err
	}
	from := map[record.Origin]string{}
	for _, a := range facts.Activities {
		from[a.Origin] = a.ID
	}
	var ids []string
	for _, p := range s.Parts {
		ids = append(ids, p.Activity)
		for _, f := range p.Files {
			if id := from[f]; id != "" && id != p.Activity {
				ids = append(ids, id)
			}
		}
	}
	return ids, nil
}

func runSplit(ctx context.Context, e *env, key string) error {
	return e.about(ctx, key, func(st *store.Store, s pipeline.Session) error {
		if len(s.Parts) < 2 {
			return usagef("%s has one part; there is nothing to split", s.Key)
		}
		return correct(ctx, e, record.Split, []string{key})
	})
}

func runMove(ctx context.Context, e *env, key, to string) error {
	return e.about(ctx, key, func(st *store.Store, s pipeline.Session) error {
		a, err := pick(ctx, st, to)
		if err != nil {
			return err
		}
		ids, err := activitiesOf(ctx, st, s)
		if err != nil {
			return err
		}
		c := record.Correction{Kind: record.MoveActivity, At: e.now().UTC(), Activities: ids, Athlete: a.Key}
		return e.write(ctx, st, "session move", s.Key+" to "+a.Key, []string{s.Athlete, a.Key}, func(tx *store.Tx) error { return tx.PutCorrection(c) })
	})
}
