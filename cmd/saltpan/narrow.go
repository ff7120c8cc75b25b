package main

import (
	"fmt"
	"math"
	"strings"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
)

// remedies say what would take most of a cause of uncertainty away, by the
// beginning of the cause.
var remedies = []struct{ cause, do string }{
	{"reading/", "a scale with a finer step"},
	{"scale-offset/", "the same scale before and after"},
	{"drunk", "weighing the bottles before and after"},
	{"eaten", "weighing or reading off what is eaten"},
	{"urine", "saying whether there was a toilet stop, and how much"},
	{"toilet", "saying whether there was a toilet stop, and how much"},
	{"clothes", "weighing undressed, or weighing the clothes too"},
	{"param:balance.nonsweat", "a weather file with humidity"},
	{"param:balance.urine", "saying whether there was a toilet stop, and how much"},
	{"param:balance.void", "measuring what was left in the toilet"},
	{"param:balance.gap", "weighing closer to the start and the stop"},
	{"param:balance.eaten", "saying what was eaten"},
	{"link", "a scale that names who stands on it"},
}

// narrower says what would narrow an interval most, and by how much: the parts
// of one remedy are taken away together. Empty if no remedy takes a tenth.
func narrower(loss measure.Estimate[quantity.Volume]) string {
	total := math.Pow(loss.U(), 2)
	share := map[string]float64{}
	best := ""
	for _, p := range loss.Budget {
		if do := remedy(p.Cause); do != "" {
			share[do] += p.U * p.U / total
			if best == "" || share[do] > share[best] {
				best = do
			}
		}
	}
	by := 1 - math.Sqrt(max(0, 1-share[best]))
	if best == "" || by < 0.1 {
		return ""
	}
	return fmt.Sprintf("%s would narrow it most, by up to %.0f %%", best, 100*by)
}

func remedy(cause string) string {
	for _, r := range remedies {
		if strings.HasPrefix(cause, r.cause) {
			return r.do
		}
	}
	return ""
}
