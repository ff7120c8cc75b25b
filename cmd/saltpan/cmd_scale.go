package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"saltpan/pipeline/match"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/store"
)

type scaleOptions struct {
	unit, zone, step, shift string
	athletes                []string
}

func scaleCommand(e *env) *cobra.Command {
	list := &cobra.Command{Use: "list", Short: "List the scales and what is known of their clocks", Example: "  saltpan scale list", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return runScaleList(c.Context(), e) }}
	var o scaleOptions
	set := &cobra.Command{Use: "set NAME", Short: "Say what a scale's files leave open", Example: "  saltpan scale set hall --unit kg --zone Europe/Lisbon --step 100g",
		Args: cobra.ExactArgs(1), RunE: func(c *cobra.Command, args []string) error { return runScaleSet(c.Context(), o, e, args[0]) }}
	f := set.Flags()
	f.StringVar(&o.unit, "unit", "", "kg, lb or st, for files that do not say")
	f.StringVar(&o.zone, "zone", "", "time zone of its clock")
	f.StringVar(&o.step, "step", "", "smallest difference it shows, such as 100g or 0.2lb")
	f.StringVar(&o.shift, "shift", "", "what to add to its clock, such as 1h or -5min")
	f.StringSliceVar(&o.athletes, "athlete", nil, "who uses it")
	forget := &cobra.Command{Use: "forget NAME", Short: "Take all readings of a scale out of account", Example: "  saltpan scale forget gym", Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return runScaleForget(c.Context(), e, args[0]) }}
	return group("scale", "List scales and say what their files leave open", "  saltpan scale set hall --unit kg", list, set, forget)
}

func runScaleSet(ctx context.Context, o scaleOptions, e *env, key string) error {
	s, err := o.scale(key)
	if err != nil {
		return err
	}
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	for _, a := range o.athletes {
		if _, err := pick(ctx, st, a); err != nil {
			return err
		}
	}
	if err := o.known(ctx, st, key); err != nil {
		return err
	}
	return e.write(ctx, st, "scale set", key, nil, func(tx *store.Tx) error { return tx.PutScale(s) })
}

// known refuses a scale that is neither there nor said to be somebody's: one
// shared by everybody would make one household of all.
func (o scaleOptions) known(ctx context.Context, st *store.Store, key string) error {
	facts, err := st.Facts(ctx)
	if err != nil || len(o.athletes) > 0 || len(facts.Athletes) == 1 {
		return err
	}
	for _, s := range facts.Scales {
		if s.Key == key {
			return nil
		}
	}
	return withHint(usagef("no scale %q", key), "`saltpan scale list` names them; --athlete KEY makes a new one")
}

func (o scaleOptions) scale(key string) (record.Scale, error) {
	s := record.Scale{Key: key, Unit: o.unit, Zone: o.zone, Athletes: o.athletes}
	if err := oneOf("--unit", o.unit, "kg", "lb", "st"); err != nil {
		return s, err
	}
	if err := checkZone("--zone", o.zone); err != nil {
		return s, err
	}
	if o.step != "" {
		m, err := quantity.ParseMass(o.step)
		if err != nil || m <= 0 || m > 2 {
			return s, usagef("--step %q: want a small mass such as 100g or 0.2lb", o.step)
		}
		s.Step = &m
	}
	return s, o.addShift(&s)
}

func (o scaleOptions) addShift(s *record.Scale) error {
	if o.shift == "" {
		return nil
	}
	d, err := quantity.ParseDuration(strings.TrimLeft(o.shift, "+-"))
	if err != nil || d > 26*time.Hour {
		return usagef("--shift %q: want a time such as 1h or -5min", o.shift)
	}
	if strings.HasPrefix(o.shift, "-") {
		d = -d
	}
	s.Shift = &d
	return nil
}

func runScaleForget(ctx context.Context, e *env, key string) error {
	return e.known(ctx, func(st *store.Store, facts record.Facts) error {
		var gone []record.Correction
		for _, w := range facts.WeighIns {
			if w.Scale == key {
				gone = append(gone, record.Correction{Kind: record.DropWeighIn, At: e.now().UTC(), WeighIn: w.ID})
			}
		}
		if len(gone) == 0 {
			return withHint(usagef("no readings of a scale %q", key), "`saltpan scale list` names the scales")
		}
		return e.write(ctx, st, "scale forget", key, nil, func(tx *store.Tx) error {
			for _, c := range gone {
				if err := tx.PutCorrection(c); err != nil {
					return err
				}
			}
			return nil
		})
	})
}

func runScaleList(ctx context.Context, e *env) error {
	st, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	facts, err := st.Facts(ctx)
	if err != nil {
		return err
	}
	d, err := e.readDerived(ctx, st, selection{})
	if err != nil {
		return err
	}
	if e.json {
		for _, s := range facts.Scales {
			writeJSON(e.out, s)
		}
		return nil
	}
	rows := [][]string{{"scale", "athletes", "readings kept", "unit", "zone", "clock"}}
	for _, s := range facts.Scales {
		rows = append(rows, []string{s.Key, usersText(s), fmt.Sprint(readingsOf(facts, s.Key)), s.Unit, s.Zone, clockText(s, d.scales)})
	}
	if err := table(e.out, rows); err != nil {
		return err
	}
	return e.sayClocks(d.scales)
}

func usersText(s record.Scale) string {
	if len(s.Athletes) == 0 {
		return "everybody"
	}
	return strings.Join(s.Athletes, ", ")
}

func readingsOf(f record.Facts, scale string) int {
	n := 0
	for _, w := range f.WeighIns {
		if w.Scale == scale {
			n++
		}
	}
	return n
}

func clockText(s record.Scale, found []match.ScaleNote) string {
	if s.Shift != nil {
		return "told: " + s.Shift.String()
	}
	for _, n := range found {
		if n.Scale == s.Key && n.Shift != 0 {
			return "corrected by " + n.Shift.String()
		}
	}
	return "as it is"
}

// sayClocks shows what was corrected, with example rows and how to take it back.
func (e *env) sayClocks(found []match.ScaleNote) error {
	for _, n := range found {
		fmt.Fprintf(e.out, "\n%s: %s\n", n.Scale, n.Text)
		rows := [][]string{{"row", "read as"}}
		for _, x := range n.Examples {
			rows = append(rows, []string{x.WeighIn.Origin.String(), x.At.Format("2006-01-02 15:04 MST")})
		}
		if err := table(e.out, rows); err != nil {
			return err
		}
		if n.Question != "" {
			fmt.Fprintf(e.out, "if that is wrong: `saltpan answer %s neither`\n", n.Question)
		}
	}
	return nil
}
