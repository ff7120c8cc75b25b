package session

import (
	"time"

	"saltpan/pipeline/record"
)

// hand is what people put right, by activity ID. The last word counts.
type hand struct {
	dropped map[string]bool
	moved   map[string]string
	joined  map[string]int // number of the join an activity belongs to
	split   map[string]int
}

func readCorrections(list []record.Correction) hand {
	h := hand{map[string]bool{}, map[string]string{}, map[string]int{}, map[string]int{}}
	for i, c := range list {
		for _, id := range c.Activities {
			switch c.Kind {
			case record.DropActivity:
				h.dropped[id] = true
			case record.MoveActivity:
				h.moved[id] = c.Athlete
			case record.Join:
				h.joined[id] = i + 1
				delete(h.split, id)
			case record.Split:
				h.split[id] = i + 1
				delete(h.joined, id)
			}
		}
	}
	return h
}

func (h hand) apply(acts []record.Activity) []record.Activity {
	var out []record.Activity
	for _, a := range acts {
		if h.dropped[a.ID] {
			continue
		}
		if to := h.moved[a.ID]; to != "" {
			a.Athlete = to
		}
		out = append(out, a)
	}
	return out
}

// join groups the parts of one athlete, ordered by start, into sessions.
func join(parts []Part, h hand, weighed func(string, time.Time, time.Time) bool) [][]Part {
	var out [][]Part
	for _, p := range parts {
		if n := len(out); n > 0 && continues(out[n-1], p, h, weighed) {
			out[n-1] = append(out[n-1], p)
			continue
		}
		out = append(out, []Part{p})
	}
	return out
}

// continues reports whether p goes on with the session so far. A person's word
// decides; without one athlete, sport and device must agree, the stop must be
// short and nobody may have stepped on a scale in it.
func continues(sofar []Part, p Part, h hand, weighed func(string, time.Time, time.Time) bool) bool {
	last := sofar[len(sofar)-1]
	if j := number(h.joined, p); j != 0 && j == number(h.joined, last) {
		return true
	}
	if s := number(h.split, p); s != 0 && s == number(h.split, last) {
		return false
	}
	a, b := last.Best, p.Best
	gap := b.Start.Sub(a.Stop())
	return a.Sport == b.Sport && a.Device == b.Device && gap >= 0 && gap <= MaxJoinGap &&
		(weighed == nil || !weighed(a.Athlete, a.Stop(), b.Start))
}

func number(of map[string]int, p Part) int {
	n := 0
	for _, a := range p.Copies {
		n = max(n, of[a.ID])
	}
	return n
}
