package main

import (
	"context"
	"time"

	"github.com/spf13/cobra"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/sodium"
	"saltpan/store"
)

type sodiumOptions struct{ method, site, date string }

func sodiumCommand(e *env) *cobra.Command {
	var o sodiumOptions
	c := &cobra.Command{
		Use:     "sodium [KEY] CONCENTRATION",
		Short:   "Add a measured sweat sodium concentration",
		Example: "  saltpan sodium ines 950mg/L --method patch --site \"dorsal forearm\" --date 2026-04-12\n  saltpan sodium 41mmol/L --method whole-body",
		Args:    cobra.RangeArgs(1, 2), ValidArgsFunction: e.completeAthlete,
		RunE: func(c *cobra.Command, args []string) error { return runSodium(c.Context(), o, e, args) },
	}
	c.Flags().StringVar(&o.method, "method", "whole-body", "whole-body or patch")
	c.Flags().StringVar(&o.site, "site", "", "where the patch sat: dorsal forearm, thigh, five-site …")
	c.Flags().StringVar(&o.date, "date", "", "day of the test, YYYY-MM-DD (default today)")
	return c
}

func runSodium(ctx context.Context, o sodiumOptions, e *env, args []string) error {
	key, text := "", args[0]
	if len(args) == 2 {
		key, text = args[0], args[1]
	}
	c, err := quantity.ParseConcentration(text)
	if err != nil {
		return usage(err)
	}
	at, err := o.check(e.now(), c)
	if err != nil {
		return err
	}
	return e.whom(ctx, key, func(st *store.Store, a record.Athlete) error {
		test := record.SodiumTest{Athlete: a.Key, At: at, Concentration: c, Method: o.method, Site: o.site}
		err := st.Change(ctx, e.now(), "sodium", a.Key+" "+text, func(tx *store.Tx) error { return tx.PutSodiumTest(test) })
		if err != nil {
			return err
		}
		if _, err := e.derive(ctx, st, a.Key); err != nil {
			return err
		}
		return e.saySodium(ctx, st, a.Key)
	})
}

func (o sodiumOptions) check(now time.Time, c quantity.Concentration) (time.Time, error) {
	at := now.UTC()
	if err := oneOf("--method", o.method, sodium.WholeBody, sodium.Patch); err != nil {
		return at, err
	}
	if c < 2 || c > 200 {
		return at, usagef("%.0f mg/L: want 46 to 4,600 mg/L (2 to 200 mmol/L)", c.MilligramsPerLitre())
	}
	if o.method == sodium.Patch {
		if _, err := sodium.FromSite(c, o.site); err != nil {
			return at, usagef("--site: %w", err)
		}
	}
	if o.date == "" {
		return at, nil
	}
	t, err := time.Parse(time.DateOnly, o.date)
	if err != nil {
		return at, usagef("--date %q: want a date such as 2026-04-12", o.date)
	}
	return t, nil
}
