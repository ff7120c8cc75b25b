package main

import (
	"context"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"saltpan/pipeline"
	"saltpan/pipeline/balance"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/store"
)

func explainCommand(e *env) *cobra.Command {
	return &cobra.Command{Use: "explain SESSION", Short: "Show the whole working of a session's numbers, down to file and line",
		Example: "  saltpan explain ines-2026-04-12-0803", Args: cobra.ExactArgs(1), ValidArgsFunction: e.completeSession,
		RunE: func(c *cobra.Command, args []string) error { return runExplain(c.Context(), e, args[0]) }}
}

// workingJSON is a session with the working of its balance.
type workingJSON struct {
	sessionJSON
	Working *balance.Result `json:"working,omitempty"`
	Why     []string        `json:"why"`
	Sodium  string          `json:"sodium_basis"`
}

func runExplain(ctx context.Context, e *env, key string) error {
	return e.about(ctx, key, func(_ *store.Store, s pipeline.Session) error {
		if e.json {
			return writeJSON(e.out, workingJSON{toJSON(s), s.Balance, []string{"before: " + s.BeforeWhy, "after: " + s.AfterWhy}, s.Sodium.Text})
		}
		return e.explain(s)
	})
}

func (e *env) explain(s pipeline.Session) error {
	fmt.Fprintf(e.out, "%s: %s on %s, %s\n\n", s.Key, s.Sport, localTime(s.Start, s.Zone), hms(s.Elapsed))
	e.explainReadings(s)
	e.explainConditions(s)
	if s.Balance != nil {
		if err := e.explainBalance(s); err != nil {
			return err
		}
	}
	fmt.Fprintf(e.out, "\nsodium: %s\n", s.Sodium.Text)
	for _, f := range s.Flags {
		fmt.Fprintf(e.out, "\n%s (%s): %s\n", f.Code, f.Level, f.Text)
		if f.Do != "" {
			fmt.Fprintf(e.out, "  %s\n", f.Do)
		}
	}
	fmt.Fprintln(e.out)
	for _, p := range s.Parts {
		for i, f := range p.Files {
			role := "read from"
			if i > 0 {
				role = "also told by"
			}
			fmt.Fprintf(e.out, "%s %s (reader %s, sha256 %.12s)\n", role, f, f.Reader, f.SHA256)
		}
	}
	return nil
}

func (e *env) explainReadings(s pipeline.Session) {
	for _, w := range []struct {
		slot string
		in   *pipeline.WeighIn
		why  string
	}{{"before", s.Before, s.BeforeWhy}, {"after", s.After, s.AfterWhy}} {
		if w.in == nil {
			fmt.Fprintf(e.out, "%-7s no weigh-in: %s\n", w.slot, w.why)
			continue
		}
		fmt.Fprintf(e.out, "%-7s %.2f kg at %s, %s (scale %s); %s\n", w.slot, w.in.Mass.Kilograms(),
			localTime(w.in.At, s.Zone), fromText(*w.in), w.in.Scale, w.why)
	}
}

// fromText says where a mass was read.
func fromText(w pipeline.WeighIn) string {
	if w.From.Path == "" {
		return w.ID + " by hand"
	}
	return "from " + w.From.String()
}

func (e *env) explainBalance(s pipeline.Session) error {
	b := s.Balance
	fmt.Fprintln(e.out)
	rows := [][]string{{"term", "kg", "±  (95 %)", "in words", "source"}}
	for _, t := range b.Terms {
		rows = append(rows, []string{t.Name, fmt.Sprintf("%+.3f", t.KG.Value), fmt.Sprintf("%.3f", measure.K95*t.KG.U()), t.Text, t.Source})
	}
	if err := table(e.out, rows); err != nil {
		return err
	}
	loss, rate := lossText(s, quantity.Metric)
	fmt.Fprintf(e.out, "\nsweat loss %s L, %s L/h over %s\n", loss, rate, hms(s.Elapsed))
	if !b.AtLeast {
		fmt.Fprintf(e.out, "simple loss %.2f L, %.2f L/h (a kilogram taken as a litre, without breath and gas exchange; common practice)\n", b.Simple.Value, b.SimpleRate.Value)
	}
	explainParts(e, b)
	fmt.Fprintln(e.out, "\nwhere the uncertainty comes from")
	if err := e.explainBudget(b.Sweat); err != nil {
		return err
	}
	if do := narrower(b.Sweat); do != "" {
		fmt.Fprintln(e.out, do)
	}
	return nil
}

// explainParts shows what is lost beside the session itself, and the water deficit.
func explainParts(e *env, b *balance.Result) {
	if g := b.GapSweat; g.Method != "" && !g.AtLeast {
		fmt.Fprintf(e.out, "of that %s L between weigh-in and start or stop: part of the loss, not of the rate\n", quantity.FormatVolumeInterval(g.Value, g.Lo, g.Hi, quantity.Metric))
	}
	if d := b.Deficit; d.Method != "" && !d.AtLeast {
		fmt.Fprintf(e.out, "water deficit %s L, after what was drunk and the water that burning fuel gives\n", quantity.FormatVolumeInterval(d.Value, d.Lo, d.Hi, quantity.Metric))
	}
}

// explainBudget lists the causes by their share of the variance.
func (e *env) explainBudget(loss measure.Estimate[quantity.Volume]) error {
	total := math.Pow(loss.U(), 2)
	rows := [][]string{{"cause", "u L", "share"}}
	for _, p := range loss.ByShare() {
		rows = append(rows, []string{p.Cause, fmt.Sprintf("%.3f", math.Abs(p.U)), fmt.Sprintf("%.0f %%", 100*p.U*p.U/total)})
	}
	return table(e.out, rows)
}
