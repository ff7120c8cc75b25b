package main

import (
	"context"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"saltpan/pipeline/match"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/store"
)

type weighOptions struct {
	at       string
	scale    string
	carrying bool
}

func weighCommand(e *env) *cobra.Command {
	var o weighOptions
	c := &cobra.Command{
		Use:     "weigh [KEY] MASS",
		Short:   "Add a weigh-in by hand",
		Example: "  saltpan weigh ines 62.4kg --at \"2026-04-12 07:51\"\n  saltpan weigh 137.5lb",
		Args:    cobra.RangeArgs(1, 2), ValidArgsFunction: e.completeAthlete,
		RunE: func(c *cobra.Command, args []string) error { return runWeigh(c.Context(), o, e, args) },
	}
	c.Flags().StringVar(&o.at, "at", "", "when, on the athlete's clock: 2026-04-12 07:51 (default now)")
	c.Flags().StringVar(&o.scale, "scale", "", "name of the scale (default: the athlete's)")
	c.Flags().BoolVar(&o.carrying, "carrying", false, "dressed, with bottles, food and pack")
	c.AddCommand(weighDropCommand(e))
	return c
}

func runWeigh(ctx context.Context, o weighOptions, e *env, args []string) error {
	key, text := "", args[0]
	if len(args) == 2 {
		key, text = args[0], args[1]
	}
	m, err := quantity.ParseMass(text)
	if err != nil {
		return usage(err)
	}
	if m < 25 || m > 300 {
		return usagef("%q: want a body mass of 25 to 300 kg", text)
	}
	return e.whom(ctx, key, func(st *store.Store, a record.Athlete) error {
		w, err := o.weighIn(a, m, text, e.now())
		if err != nil {
			return err
		}
		return e.write(ctx, st, "weigh", a.Key+" "+text, []string{a.Key}, func(tx *store.Tx) error { return putTold(ctx, st, tx, w, a) })
	})
}

// weighIn makes the fact of a reading told by hand. Its step is the last digit that was said.
func (o weighOptions) weighIn(a record.Athlete, m quantity.Mass, text string, now time.Time) (record.WeighIn, error) {
	w := record.WeighIn{Scale: o.scale, Athlete: a.Key, Mass: m, MassStep: stepOf(text), Resolution: time.Minute}
	if w.Scale == "" {
		w.Scale = a.Key
	}
	if o.carrying || a.Weighing == record.Carrying {
		yes := true
		w.Carrying = &yes
	}
	at, err := o.moment(a, now)
	if err != nil {
		return w, err
	}
	_, offset := at.Zone()
	d := time.Duration(offset) * time.Second
	w.UTCOffset = &d
	w.Wall = at.UTC().Add(d).Truncate(time.Second)
	w.ID = fmt.Sprintf("told:%s-%s", a.Key, w.Wall.Format("2006-01-02-150405"))
	return w, nil
}

// moment is when a reading was taken: now, or as typed on the clock the athlete
// lived by on that date.
func (o weighOptions) moment(a record.Athlete, now time.Time) (time.Time, error) {
	if o.at == "" {
		return now.In(clockOn(a, now)), nil
	}
	if t, err := time.Parse(time.RFC3339, o.at); err == nil {
		return notAfter(t, now, o.at)
	}
	for _, layout := range []string{"2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02 15:04:05"} {
		wall, err := time.Parse(layout, o.at)
		if err != nil {
			continue
		}
		switch at := match.Instants(wall, clockOn(a, wall)); len(at) {
		case 0:
			return now, usagef("--at %q: clocks went forward then; there was no such time", o.at)
		case 1:
			return notAfter(at[0].In(clockOn(a, wall)), now, o.at)
		default:
			return now, withHint(usagef("--at %q: clocks went back then; there were two such times", o.at),
				"say which: --at %s or --at %s", at[0].In(clockOn(a, wall)).Format(time.RFC3339), at[1].In(clockOn(a, wall)).Format(time.RFC3339))
		}
	}
	return now, usagef("--at %q: want a date and time such as 2026-04-12 07:51", o.at)
}

// clockOn is the zone an athlete lives by on a date, this machine's if none is known.
func clockOn(a record.Athlete, date time.Time) *time.Location {
	if loc, err := time.LoadLocation(a.ZoneOn(date.Format(time.DateOnly))); err == nil && a.ZoneOn(date.Format(time.DateOnly)) != "" {
		return loc
	}
	return time.Local
}

func notAfter(at, now time.Time, text string) (time.Time, error) {
	if at.After(now) {
		return at, usagef("--at %q: that is still to come", text)
	}
	return at, nil
}

// lastNumber is the last number of a mass with its unit, "6lb" of "11st6lb".
var lastNumber = regexp.MustCompile(`(\d+)(?:[.,](\d+))?\s*([a-z]+)\s*$`)

// stepOf is the worth of the last digit that was said: 0.1 kg for "62.4kg", a
// pound for "11st6lb".
func stepOf(text string) quantity.Mass {
	m := lastNumber.FindStringSubmatch(strings.ToLower(text))
	if m == nil {
		return 0.1
	}
	digit := "1"
	if n := len(m[2]); n > 0 {
		digit = "0." + strings.Repeat("0", n-1) + "1"
	}
	step, err := quantity.ParseMass(digit + m[3])
	if err != nil {
		return 0.1
	}
	return step
}

// putTold keeps a reading told by hand, and its scale if it is new.
func putTold(ctx context.Context, st *store.Store, tx *store.Tx, w record.WeighIn, a record.Athlete) error {
	facts, err := st.Facts(ctx, a.Key)
	if err != nil {
		return err
	}
	known := false
	for _, s := range facts.Scales {
		known = known || s.Key == w.Scale
	}
	if !known {
		if err := tx.PutScale(record.Scale{Key: w.Scale, Athletes: []string{a.Key}}); err != nil {
			return err
		}
	}
	return tx.PutWeighIns([]record.WeighIn{w})
}

func weighDropCommand(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "drop FILE:LINE",
		Short:   "Take a reading out of account",
		Example: "  saltpan weigh drop scale.csv:17",
		Args:    cobra.ExactArgs(1),
		RunE:    func(c *cobra.Command, args []string) error { return runWeighDrop(c.Context(), e, args[0]) },
	}
}

func runWeighDrop(ctx context.Context, e *env, where string) error {
	return e.known(ctx, func(st *store.Store, facts record.Facts) error {
		var found []record.WeighIn
		for _, w := range facts.WeighIns {
			if addressOf(w.Origin, w.ID) == where {
				found = append(found, w)
			}
		}
		if len(found) > 1 {
			return withHint(usagef("%d readings are called %s", len(found), where), "ingest the files from the folder above them, so that their paths differ")
		}
		for _, w := range found {
			c := record.Correction{Kind: record.DropWeighIn, At: e.now().UTC(), WeighIn: w.ID}
			return e.write(ctx, st, "weigh drop", where, nil, func(tx *store.Tx) error { return tx.PutCorrection(c) })
		}
		if _, line, ok := strings.Cut(where, ":"); !ok || line == "" {
			return usagef("%q: want FILE:LINE as `saltpan explain` shows it", where)
		} else if _, err := strconv.Atoi(line); err != nil {
			return usagef("%q: want a line number after the colon", where)
		}
		return withHint(usagef("no reading kept from %s", where), "`saltpan explain SESSION` shows where each mass comes from")
	})
}

// addressOf is how a reading is named: FILE:LINE, or the id of one told by hand.
func addressOf(o record.Origin, id string) string {
	if o.Path == "" {
		return id
	}
	return o.String()
}
