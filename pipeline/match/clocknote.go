package match

import (
	"fmt"
	"sort"
	"time"
)

func (h *household) clockQuestion(e clockEvidence, f fault) Question {
	text := fmt.Sprintf("the clock of scale %q seems off: %s gives %d sessions a pair, as it stands %d have one; is it so", e.scale, f, e.count(f), e.count(fault{}))
	return Question{ID: e.id(f), Scale: e.scale, Text: text, Choices: h.examples(e, f)}
}

// String is a fault in words.
func (f fault) String() string {
	if f.winter == f.summer {
		return fmt.Sprintf("adding %+d h", f.winter)
	}
	return fmt.Sprintf("adding %+d h in standard time and %+d h in summer time", f.winter, f.summer)
}

// clockNotes announce a fault that was put right, one note for each of its
// shifts in turn.
func (h *household) clockNotes(e clockEvidence, f fault) []ScaleNote {
	n := ScaleNote{
		Scale: e.scale, Question: e.id(f), Posterior: e.posterior(f), Examples: h.examples(e, f),
		Text: fmt.Sprintf("the clock of scale %q was put right by %s: %d of %d sessions then have a plausible pair, %d without", e.scale, f, e.count(f), e.sessions[0]+e.sessions[1], e.count(fault{})),
	}
	if f.winter == f.summer {
		n.Shift = time.Duration(f.winter) * time.Hour
		return []ScaleNote{n}
	}
	var out []ScaleNote
	for _, p := range h.periods(e) {
		n.From, n.To, n.Shift = p[0], p[1], shifts{e.scale: {f, e.loc}}.of(e.scale, p[0])
		if n.Shift != 0 {
			out = append(out, n)
		}
	}
	return out
}

// periods are the stretches of one season from the first to the last reading.
func (h *household) periods(e clockEvidence) [][2]time.Time {
	pool := h.readings(e.scale, shifts{})
	if len(pool) == 0 {
		return nil
	}
	first, last := pool[0].at, pool[len(pool)-1].at
	var out [][2]time.Time
	from := first
	for at := first; at.Before(last); at = at.Add(time.Hour) {
		if seasonOf(at, e.loc) != seasonOf(from, e.loc) {
			at = at.Truncate(time.Hour)
			out = append(out, [2]time.Time{from, at})
			from = at
		}
	}
	return append(out, [2]time.Time{from, last})
}

// readings are those of one scale for everybody, each once.
func (h *household) readings(scale string, s shifts) []reading {
	var out []reading
	seen := map[string]bool{}
	for _, key := range sortedKeys(h.byAthlete) {
		pool, _ := h.poolOn(scale, key, s)
		for _, r := range pool {
			if !seen[r.in.ID] {
				out = append(out, r)
			}
			seen[r.in.ID] = true
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].at.Before(out[j].at) })
	return out
}

// examples are three readings that find a session under a fault. They show one
// choice and so share its id.
func (h *household) examples(e clockEvidence, f fault) []Candidate {
	s := shifts{e.scale: {f, e.loc}}
	var out []Candidate
	for _, key := range sortedKeys(h.byAthlete) {
		pool, _ := h.poolOn(e.scale, key, s)
		for _, b := range h.byAthlete[key] {
			for _, r := range windowBefore(b, pool) {
				if len(out) < 3 && s.of(e.scale, r.at) != 0 && len(windowAfter(b, pool)) > 0 {
					out = append(out, Candidate{ID: "a", WeighIn: r.in, At: r.at, Posterior: e.posterior(f)})
					break
				}
			}
		}
	}
	return out
}
