package main

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"saltpan/pipeline/record"
	"saltpan/store"
)

// chooseOptions are the options of commands that list sessions.
type chooseOptions struct {
	athletes []string
	since    string
	until    string
}

func (o *chooseOptions) add(e *env, c *cobra.Command) {
	f := c.Flags()
	f.StringSliceVar(&o.athletes, "athlete", nil, "only these athletes")
	f.StringVar(&o.since, "since", "", "from this date on, YYYY-MM-DD")
	f.StringVar(&o.until, "until", "", "up to and including this date, YYYY-MM-DD")
	c.RegisterFlagCompletionFunc("athlete", e.completeAthlete)
}

// check looks at the dates before any store is opened.
func (o chooseOptions) check() error {
	for flag, text := range map[string]string{"--since": o.since, "--until": o.until} {
		if _, err := day(flag, text, 0); err != nil {
			return err
		}
	}
	return nil
}

// selection makes a selection of the options. Dates are taken
// a day wide on both sides of UTC; sessions are then held to their own zone.
func (o chooseOptions) selection(ctx context.Context, st *store.Store) (selection, error) {
	sel := selection{athletes: o.athletes}
	for _, key := range o.athletes {
		if _, err := pick(ctx, st, key); err != nil {
			return sel, err
		}
	}
	var err error
	if sel.since, err = day("--since", o.since, -24*time.Hour); err != nil {
		return sel, err
	}
	sel.until, err = day("--until", o.until, 48*time.Hour)
	return sel, err
}

func day(flag, text string, widen time.Duration) (*time.Time, error) {
	if text == "" {
		return nil, nil
	}
	t, err := time.Parse("2006-01-02", text)
	if err != nil {
		return nil, usagef("%s %q: want a date such as 2026-04-12", flag, text)
	}
	t = t.Add(widen)
	return &t, nil
}

// choose reads the sessions that were asked for.
func (e *env) choose(ctx context.Context, st *store.Store, o chooseOptions) (derived, error) {
	sel, err := o.selection(ctx, st)
	if err != nil {
		return derived{}, err
	}
	d, err := e.readDerived(ctx, st, sel)
	if err != nil {
		return d, err
	}
	kept := d.sessions[:0]
	for _, s := range d.sessions {
		date := s.Start.In(location(s.Zone)).Format("2006-01-02")
		if (o.since == "" || date >= o.since) && (o.until == "" || date <= o.until) {
			kept = append(kept, s)
		}
	}
	d.sessions = kept
	return d, nil
}

func sessionsCommand(e *env) *cobra.Command {
	var o chooseOptions
	c := &cobra.Command{
		Use:     "sessions",
		Short:   "List sessions with loss, loss rate and what is missing",
		Example: "  saltpan sessions --athlete ines --since 2026-04-01",
		Args:    cobra.NoArgs,
		RunE:    func(c *cobra.Command, _ []string) error { return runSessions(c.Context(), o, e) },
	}
	o.add(e, c)
	return c
}

func runSessions(ctx context.Context, o chooseOptions, e *env) error {
	if err := o.check(); err != nil {
		return err
	}
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	d, err := e.choose(ctx, st, o)
	if err != nil {
		return err
	}
	if e.json {
		for _, s := range d.sessions {
			if err := writeJSON(e.out, toJSON(s)); err != nil {
				return err
			}
		}
		return nil
	}
	if len(d.sessions) == 0 {
		fmt.Fprintln(e.out, "no sessions; `saltpan ingest PATH` reads activity files")
		return nil
	}
	athletes, err := byKey(ctx, st)
	if err != nil {
		return err
	}
	if err := e.sessionTable(d.sessions, athletes); err != nil {
		return err
	}
	fmt.Fprintln(e.out, "\nintervals are 95 %; ≥ is the least it can be without a note; change % is body mass after against before")
	return nil
}

func byKey(ctx context.Context, st *store.Store) (map[string]record.Athlete, error) {
	all, err := st.Athletes(ctx)
	out := map[string]record.Athlete{}
	for _, a := range all {
		out[a.Key] = a
	}
	return out, err
}
