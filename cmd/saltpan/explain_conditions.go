package main

import (
	"fmt"

	"saltpan/pipeline"
	"saltpan/pipeline/heat"
	"saltpan/pipeline/quantity"
)

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
