package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/store"
)

type athleteOptions struct {
	name, sex, height, mass, zone, from, to, weighing, inbox, medical string
	born, maxHR, restHR                                               int
}

func athleteCommand(e *env) *cobra.Command {
	list := &cobra.Command{Use: "list", Short: "List the athletes", Example: "  saltpan athlete list", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return runAthleteList(c.Context(), e) }}
	show := &cobra.Command{Use: "show [KEY]", Short: "Show an athlete's settings", Example: "  saltpan athlete show ines", Args: cobra.MaximumNArgs(1),
		ValidArgsFunction: e.completeAthlete,
		RunE:              func(c *cobra.Command, args []string) error { return runAthleteShow(c.Context(), e, firstArg(args)) }}
	return group("athlete", "Add athletes and change their settings", "  saltpan athlete add ines --mass 62kg --zone Europe/Lisbon",
		athleteSetting(e, "add"), athleteSetting(e, "set"), list, show, consentCommand(e), eraseCommand(e))
}

func athleteSetting(e *env, verb string) *cobra.Command {
	var o athleteOptions
	short := map[string]string{"add": "Add an athlete", "set": "Change an athlete's settings"}[verb]
	c := &cobra.Command{
		Use: verb + " KEY", Short: short,
		Example: "  saltpan athlete " + verb + " ines --mass 62kg --zone Europe/Lisbon --weighing body",
		Args:    cobra.ExactArgs(1), ValidArgsFunction: e.completeAthlete,
		RunE: func(c *cobra.Command, args []string) error {
			return runAthleteSetting(c.Context(), o, e, verb, args[0])
		},
	}
	f := c.Flags()
	f.StringVar(&o.name, "name", "", "name, also as it stands in a scale's person column")
	f.StringVar(&o.sex, "sex", "", "f or m")
	f.IntVar(&o.born, "born", 0, "year of birth")
	f.StringVar(&o.height, "height", "", "such as 1.68m or 168cm")
	f.StringVar(&o.mass, "mass", "", "usual body mass, such as 62kg or 137lb")
	f.StringVar(&o.zone, "zone", "", "home time zone, such as Europe/Lisbon; with --from and --to a trip")
	f.StringVar(&o.from, "from", "", "first day of a trip to --zone, YYYY-MM-DD")
	f.StringVar(&o.to, "to", "", "last day of a trip to --zone, YYYY-MM-DD")
	f.StringVar(&o.weighing, "weighing", "", "body (undressed or light kit) or carrying (dressed, with bottles and pack)")
	f.IntVar(&o.maxHR, "max-hr", 0, "highest heart rate, bpm")
	f.IntVar(&o.restHR, "rest-hr", 0, "resting heart rate, bpm")
	f.StringVar(&o.inbox, "inbox", "", "folder that ingest reads for this athlete when no path is given")
	f.StringVar(&o.medical, "medical", "", "comma-separated conditions that bear on drinking, or none")
	return c
}

func runAthleteSetting(ctx context.Context, o athleteOptions, e *env, verb, key string) error {
	a, err := o.athlete(key, e)
	if err != nil {
		return err
	}
	st, err := e.create(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	if err := mustExist(ctx, st, key, verb == "set"); err != nil {
		return err
	}
	err = st.Change(ctx, e.now(), "athlete "+verb, key, func(tx *store.Tx) error { return tx.PutAthlete(a) })
	if err != nil {
		return err
	}
	diff, err := e.derive(ctx, st, key)
	if err != nil {
		return err
	}
	if len(diff.changed) > 0 && !e.json {
		fmt.Fprintf(e.out, "%d sessions changed\n", len(diff.changed))
	}
	return runAthleteShow(ctx, e, key)
}

func mustExist(ctx context.Context, st *store.Store, key string, want bool) error {
	_, there, err := st.Athlete(ctx, key)
	switch {
	case err != nil:
		return err
	case there && !want:
		return withHint(usagef("athlete %q is there already", key), "`saltpan athlete set %s` changes settings", key)
	case !there && want:
		_, err := pick(ctx, st, key)
		return err
	}
	return nil
}

// athlete checks the options and makes the settings of them.
func (o athleteOptions) athlete(key string, e *env) (record.Athlete, error) {
	a := record.Athlete{Key: key, Name: o.name, Sex: o.sex, Born: o.born, Zone: o.zone, MaxHRBpm: o.maxHR, RestHRBpm: o.restHR,
		Weighing: record.Weighing(o.weighing), Units: record.Units(e.units), Inbox: o.inbox}
	if !keyPattern.MatchString(key) {
		return a, usagef("athlete %q: want a short word of small letters, digits and _", key)
	}
	for _, check := range []error{
		oneOf("--sex", o.sex, "f", "m"), oneOf("--weighing", o.weighing, "body", "carrying"),
		checkZone("--zone", o.zone), within("--born", o.born, 1900, e.now().Year()), within("--max-hr", o.maxHR, 100, 240),
		within("--rest-hr", o.restHR, 25, 110), o.bodySizes(&a), o.trip(&a),
	} {
		if check != nil {
			return a, check
		}
	}
	o.conditions(&a)
	return a, nil
}

func (o athleteOptions) bodySizes(a *record.Athlete) error {
	if o.mass != "" {
		m, err := quantity.ParseMass(o.mass)
		if err != nil {
			return usagef("--mass: %w", err)
		}
		if m < 25 || m > 300 {
			return usagef("--mass %q: want a body mass of 25 to 300 kg", o.mass)
		}
		a.UsualMass = &m
	}
	if o.height != "" {
		h, err := quantity.ParseDistance(o.height)
		if err != nil || h < 1 || h > 2.5 {
			return usagef("--height %q: want 1 to 2.5 m, such as 1.68m or 168cm", o.height)
		}
		a.HeightM = float64(h)
	}
	return nil
}

func (o athleteOptions) trip(a *record.Athlete) error {
	if o.from == "" && o.to == "" {
		return nil
	}
	for flag, date := range map[string]string{"--from": o.from, "--to": o.to} {
		if _, err := time.Parse("2006-01-02", date); err != nil {
			return usagef("%s %q: a trip needs --zone, --from and --to, dates such as 2026-04-12", flag, date)
		}
	}
	if o.zone == "" || o.to < o.from {
		return usagef("a trip needs --zone, and --to not before --from")
	}
	a.Zone, a.Trips = "", []record.Trip{{Zone: o.zone, From: o.from, To: o.to}}
	return nil
}

func (o athleteOptions) conditions(a *record.Athlete) {
	if o.medical == "" {
		return
	}
	list := []string{}
	if o.medical != "none" {
		for _, c := range strings.Split(o.medical, ",") {
			list = append(list, strings.TrimSpace(c))
		}
	}
	a.Medical = &list
}

func oneOf(flag, value string, words ...string) error {
	if value == "" || slices.Contains(words, value) {
		return nil
	}
	return usagef("%s %q: want %s", flag, value, strings.Join(words, " or "))
}

func within(flag string, v, lo, hi int) error {
	if v == 0 || v >= lo && v <= hi {
		return nil
	}
	return usagef("%s %d: want %d to %d", flag, v, lo, hi)
}

func checkZone(flag, zone string) error {
	if zone == "" {
		return nil
	}
	if _, err := time.LoadLocation(zone); err != nil || zone == "Local" {
		return usagef("%s %q: want a zone such as Europe/Lisbon or America/Denver", flag, zone)
	}
	return nil
}
