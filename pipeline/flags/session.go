package flags

import (
	"fmt"
	"math"
	"strings"
	"time"

	"saltpan/pipeline/record"
)

// Limits of the flags.
const (
	// ShortSession is the length under which a 0.1 kg scale alone gives more
	// than ± 0.16 L/h (twice the 0.0816 L/h of UN-02).
	ShortSession = 30 * time.Minute
	// LongPause is when a pause is worth a remark (own rule).
	LongPause = 10 * time.Minute
	// LowestRate and HighestRate bound whole-body sweating rates measured in
	// 506 athletes (Baker et al. 2016, J Sports Sci 34:358-368), L/h.
	LowestRate, HighestRate = 0.26, 5.73
)

// Pause flags a long pause of the watch.
func Pause(elapsed time.Duration, moving *time.Duration) []Flag {
	if moving == nil || elapsed-*moving < LongPause {
		return nil
	}
	return []Flag{Raise("long-pause", fmt.Sprintf("%d min", int((elapsed-*moving).Round(time.Minute).Minutes())))}
}

// Mass flags a gain and losses over 2 % and 4 % of body mass. Limits: ACSM 2007
// and NATA 2017 (2 %); 4 % is where fluids leave the stomach more slowly (NATA 2017).
func Mass(changePct float64) []Flag {
	switch {
	case changePct > 0:
		return []Flag{Raise("gain")}
	case changePct < -4:
		return []Flag{Raise("loss-over-4")}
	case changePct < -2:
		return []Flag{Raise("loss-over-2")}
	}
	return nil
}

// Rate flags a loss rate outside the published ones.
func Rate(lPerH float64) []Flag {
	if lPerH < LowestRate || lPerH > HighestRate {
		return []Flag{Raise("implausible-rate")}
	}
	return nil
}

// Activity flags what is doubtful about a file that was read.
func Activity(a record.Activity) []Flag {
	var out []Flag
	if a.Salvaged != "" {
		out = append(out, Raise("salvaged", a.Salvaged))
	}
	if a.Second != nil && a.Second.Failed != "" && a.Salvaged == "" {
		out = append(out, Raise("not-checked"))
	}
	if d := Disagreement(a); d != "" {
		out = append(out, Raise("readers-disagree", d))
	}
	return out
}

// Disagreement says where two readers of one file differ by more than rounding,
// with both values; empty if they agree. Tolerances: 2 s (files round to a
// second), 0.5 % or 50 m, 1 bpm.
func Disagreement(a record.Activity) string {
	s := a.Second
	if s == nil || s.Failed != "" {
		return ""
	}
	var out []string
	if s.Start != nil && s.Start.Sub(a.Start).Abs() > 2*time.Second {
		out = append(out, fmt.Sprintf("start %s and %s", clock(a.Start), clock(*s.Start)))
	}
	if s.Elapsed != nil && (*s.Elapsed-a.Elapsed).Abs() > 2*time.Second {
		out = append(out, fmt.Sprintf("elapsed %v and %v", a.Elapsed, *s.Elapsed))
	}
	if s.Distance != nil && a.Distance != nil && far(float64(*a.Distance), float64(*s.Distance)) {
		out = append(out, fmt.Sprintf("distance %.0f m and %.0f m", *a.Distance, *s.Distance))
	}
	if s.MeanHRBpm != nil && a.MeanHRBpm != nil && math.Abs(*s.MeanHRBpm-*a.MeanHRBpm) > 1 {
		out = append(out, fmt.Sprintf("mean heart rate %.0f and %.0f bpm", *a.MeanHRBpm, *s.MeanHRBpm))
	}
	return strings.Join(out, ", ")
}

func clock(t time.Time) string { return t.UTC().Format(time.RFC3339) }

func far(a, b float64) bool { return math.Abs(a-b) > max(50, 0.005*a) }

func fill(text string, detail []any) string {
	if len(detail) == 0 {
		return text
	}
	return fmt.Sprintf(text, detail...)
}
