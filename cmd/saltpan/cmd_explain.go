package main

import (
	"context"
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"saltpan/pipeline"
	"saltpan/pipeline/balance"
	"saltpan/pipeline/heat"
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

// explainConditions shows the air and the effort, each with where it came from.
func (e *env) explainConditions(s pipeline.Session) {
	if s.Air == nil {
		fmt.Fprintf(e.out, "air     not known: %s\n", s.AirWhy)
	} else {
		t := s.Air.Temp
		fmt.Fprintf(e.out, "air     %s °C, from %s: %s\n", quantity.FormatInterval(float64(t.Value), float64(t.Lo), float64(t.Hi), 1), t.From, s.AirWhy)
	}
	if s.Air != nil && s.Air.Vapour != nil {
		v := s.Air.Vapour
		fmt.Fprintf(e.out, "        vapour pressure %s hPa\n", quantity.FormatInterval(float64(v.Value), float64(v.Lo), float64(v.Hi), 1))
	}
	e.explainHeat(s)
	e.explainEffort(s)
}

// explainHeat shows the indices of heat, each with how it was reckoned.
func (e *env) explainHeat(s pipeline.Session) {
	if s.Heat == nil {
		return
	}
	for _, x := range []struct {
		name  string
		index *heat.Index
	}{{"dew point", s.Heat.DewPoint}, {"WBGT", s.Heat.WBGT}, {"heat index", s.Heat.HeatIndex}} {
		if i := x.index; i != nil {
			fmt.Fprintf(e.out, "        %s %s °C, %s\n", x.name, quantity.FormatInterval(float64(i.Value), float64(i.Lo), float64(i.Hi), 1), i.By)
		}
	}
	if l := s.Heat.Load; l != nil {
		fmt.Fprintf(e.out, "        to stay in balance %.0f of at most %.0f W/m² had to evaporate\n", l.Required.Value, l.Most.Value)
	}
	for _, w := range s.Heat.Warnings {
		fmt.Fprintf(e.out, "        %s\n", w.Text)
	}
}

func (e *env) explainEffort(s pipeline.Session) {
	if s.Effort == nil || s.Effort.Rate == nil {
		return
	}
	r := s.Effort.Rate
	fmt.Fprintf(e.out, "effort  %s W from %s", quantity.FormatInterval(float64(r.Value), float64(r.Lo), float64(r.Hi), 0), r.From)
	if two := s.Effort.Second; two != nil {
		fmt.Fprintf(e.out, "; %s says %s W", two.From, quantity.FormatInterval(float64(two.Value), float64(two.Lo), float64(two.Hi), 0))
	}
	fmt.Fprintln(e.out)
	for _, w := range s.Effort.Warnings {
		fmt.Fprintf(e.out, "        %s\n", w.Text)
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

func methodsCommand(e *env) *cobra.Command {
	return &cobra.Command{Use: "methods", Short: "List every parameter with value, uncertainty, unit, range and source", Example: "  saltpan methods", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error { return runMethods(e) }}
}

// paramJSON is a parameter in `methods --json`.
type paramJSON struct {
	Name      string  `json:"name"`
	Value     float64 `json:"value"`
	U         float64 `json:"u"`
	Unit      string  `json:"unit"`
	Lo        float64 `json:"range_lo,omitempty"`
	Hi        float64 `json:"range_hi,omitempty"`
	RangeUnit string  `json:"range_unit,omitempty"`
	Source    string  `json:"source"`
	Kind      string  `json:"source_kind"`
	Text      string  `json:"source_text"`
	DOI       string  `json:"doi,omitempty"`
	Where     string  `json:"where,omitempty"`
	Note      string  `json:"note,omitempty"`
}

func runMethods(e *env) error {
	rows := [][]string{{"parameter", "value", "± u", "unit", "range", "source", "where"}}
	for _, p := range pipeline.Params() {
		if e.json {
			writeJSON(e.out, paramJSON{p.Name, p.Value, p.U, p.Unit, p.Lo, p.Hi, p.RangeUnit, p.Ref.Key, p.Ref.Kind, p.Ref.Text, p.Ref.DOI, p.Where, p.Note})
			continue
		}
		span := ""
		if p.Lo != 0 || p.Hi != 0 {
			span = fmt.Sprintf("%g-%g %s", p.Lo, p.Hi, p.RangeUnit)
		}
		rows = append(rows, []string{p.Name, fmt.Sprint(p.Value), fmt.Sprintf("%.2g", p.U), p.Unit, span, p.Ref.Key, strings.TrimSpace(p.Where + " " + p.Note)})
	}
	if e.json {
		return nil
	}
	if err := table(e.out, rows); err != nil {
		return err
	}
	return e.references()
}

func (e *env) references() error {
	fmt.Fprintln(e.out)
	seen := map[string]bool{}
	for _, p := range pipeline.Params() {
		if !seen[p.Ref.Key] {
			seen[p.Ref.Key] = true
			fmt.Fprintf(e.out, "%s (%s): %s %s\n", p.Ref.Key, p.Ref.Kind, p.Ref.Text, p.Ref.DOI)
		}
	}
	return nil
}
