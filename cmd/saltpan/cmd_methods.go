package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"saltpan/pipeline"
)

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
