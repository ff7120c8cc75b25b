package match

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"time"

	"saltpan/pipeline/record"
)

// Rules for a clock that is whole hours off (own rules): a fault of one hour
// is rarer than none by e^-4, any other by e^-8; with eight pairs more than
// without it is corrected and announced, with four it is asked about.
const (
	maxShift     = 14 // h, as far as zones reach
	priorHour    = -4.0
	priorHours   = -8.0
	pairedShare  = 0.6 // sessions with a plausible pair under the right clock
	pairsToAsk   = 4
	pairsToApply = 8
	applyAt      = 0.99
	askBelow     = 0.1 // probability of no fault below which to ask
)

// fault is what to add to a clock, in whole hours, in standard time and in
// summer time: they differ for a clock that nobody changes twice a year.
type fault struct{ winter, summer int }

// clock is a fault with the zone that tells summer from winter.
type clock struct {
	fault
	loc *time.Location
}

// shifts says what to add to the clock of each scale.
type shifts map[string]clock

func (s shifts) of(scale string, at time.Time) time.Duration {
	c, ok := s[scale]
	if !ok {
		return 0
	}
	if at.In(c.loc).IsDST() {
		return time.Duration(c.summer) * time.Hour
	}
	return time.Duration(c.winter) * time.Hour
}

// clockEvidence counts the sessions with a plausible pair of readings of one
// scale for every shift: pairs[0] in standard time, pairs[1] in summer time.
type clockEvidence struct {
	scale    string
	loc      *time.Location
	sessions [2]int
	pairs    [2]map[int]int
}

// clocks finds the scales whose clock is whole hours off.
func (h *household) clocks() (found shifts, notes []ScaleNote, asked []Question) {
	found = shifts{}
	used := map[string]bool{}
	for _, w := range h.weighIns {
		used[w.Scale] = used[w.Scale] || h.scales[w.Scale].Shift == nil && !typed(w)
	}
	for _, scale := range sortedKeys(used) {
		if !used[scale] {
			continue
		}
		e := h.evidence(scale)
		f, how := e.judge(h.scaleAnswer)
		if f == (fault{}) || how == leave {
			continue
		}
		if how == ask {
			asked = append(asked, h.clockQuestion(e, f))
			continue
		}
		found[scale] = clock{f, e.loc}
		notes = append(notes, h.clockNotes(e, f)...)
	}
	return found, notes, asked
}

type verdict int

const (
	leave verdict = iota
	ask
	apply
)

// judge weighs the faults against each other. What a person answered stands.
func (e clockEvidence) judge(answers map[string]record.Answer) (fault, verdict) {
	best, bestScore := fault{}, math.Inf(-1)
	for _, f := range e.faults() {
		if a, ok := answers[e.id(f)]; ok && a.Choice != "neither" && a.Choice != "unknown" {
			return f, apply
		}
		if score := e.score(f); score > bestScore {
			best, bestScore = f, score
		}
	}
	more := e.count(best) - e.count(fault{})
	_, answered := answers[e.id(best)]
	switch {
	case answered || more < pairsToAsk:
		return best, leave
	case more >= pairsToApply && e.posterior(best) >= applyAt:
		return best, apply
	case e.posterior(fault{}) < askBelow:
		return best, ask
	}
	return best, leave
}

// faults are the shifts that the sessions seen can tell apart, none first.
func (e clockEvidence) faults() []fault {
	out := []fault{{}}
	for s := -maxShift; s <= maxShift; s++ {
		for d := -1; d <= 1; d++ {
			if f := (fault{s, s + d}); f != (fault{}) && (d == 0 || e.sessions[0] > 0 && e.sessions[1] > 0) {
				out = append(out, f)
			}
		}
	}
	return out
}

func (e clockEvidence) count(f fault) int { return e.pairs[0][f.winter] + e.pairs[1][f.summer] }

// score is log prior + log likelihood, less what all faults share. Sessions
// are taken as independent: under the right clock a session has a pair with
// probability q, under a wrong one with the chance rate c, so that each pair
// adds logit q - logit c.
func (e clockEvidence) score(f fault) float64 {
	return priorOf(f) + float64(e.count(f))*(logit(pairedShare)-logit(e.chance()))
}

func priorOf(f fault) float64 {
	switch {
	case f == fault{}:
		return 0
	case abs(f.winter) <= 1 && abs(f.summer) <= 1:
		return priorHour
	}
	return priorHours
}

// chance is the share of sessions that a wrong clock pairs: the median over
// all shifts, most of which are wrong.
func (e clockEvidence) chance() float64 {
	var counts []float64
	for s := -maxShift; s <= maxShift; s++ {
		counts = append(counts, float64(e.pairs[0][s]+e.pairs[1][s]))
	}
	n := float64(e.sessions[0] + e.sessions[1])
	return math.Min((median(counts)+0.5)/(n+1), pairedShare/2)
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }

func abs(n int) int { return max(n, -n) }

// posterior is the probability of a fault among all that were weighed.
func (e clockEvidence) posterior(f fault) float64 {
	sum := 0.0
	for _, g := range e.faults() {
		sum += math.Exp(e.score(g) - e.score(f))
	}
	return 1 / sum
}

// id names the question about a fault by scale and shift alone.
func (e clockEvidence) id(f fault) string {
	return hashed("scale", e.scale, strconv.Itoa(f.winter), strconv.Itoa(f.summer))
}

// evidence pairs the sessions of everybody who uses a scale with its readings
// at every shift.
func (h *household) evidence(scale string) clockEvidence {
	e := clockEvidence{scale: scale, loc: h.clockZone(scale), pairs: [2]map[int]int{{}, {}}}
	for _, key := range sortedKeys(h.byAthlete) {
		pool, _ := h.poolOn(scale, key, shifts{})
		bouts := spanned(h.byAthlete[key], pool)
		for _, b := range bouts {
			e.sessions[seasonOf(b.Start, e.loc)]++
		}
		for s := -maxShift; s <= maxShift; s++ {
			e.pair(s, anchors(moved(bouts, -time.Duration(s)*time.Hour), pool, h.usual(key)))
		}
	}
	return e
}

// pair counts the pairs found at a shift, each reading once.
func (e clockEvidence) pair(shift int, found []anchor) {
	seen := map[string]bool{}
	for _, a := range found {
		if !seen[a.weighIn] {
			e.pairs[seasonOf(a.at.Add(time.Duration(shift)*time.Hour), e.loc)][shift]++
		}
		seen[a.weighIn] = true
	}
}

func seasonOf(at time.Time, loc *time.Location) int {
	if at.In(loc).IsDST() {
		return 1
	}
	return 0
}

// spanned are the bouts within a day of the first and last reading.
func spanned(bouts []Bout, pool []reading) []Bout {
	var out []Bout
	for _, b := range bouts {
		if len(pool) > 0 && b.Stop.After(pool[0].at.Add(-24*time.Hour)) && b.Start.Before(pool[len(pool)-1].at.Add(24*time.Hour)) {
			out = append(out, b)
		}
	}
	return out
}

func moved(bouts []Bout, by time.Duration) []Bout {
	out := make([]Bout, len(bouts))
	for i, b := range bouts {
		b.Start, b.Stop = b.Start.Add(by), b.Stop.Add(by)
		out[i] = b
	}
	return out
}

// clockZone is the zone a scale's clock is set to, UTC when its rows say their
// offset or nothing is known.
func (h *household) clockZone(scale string) *time.Location {
	for _, w := range h.weighIns {
		if w.Scale != scale {
			continue
		}
		names := []string{w.Zone, h.scales[scale].Zone}
		for _, key := range sortedKeys(h.athletes) {
			if h.mayBe(w, key) {
				names = append(names, h.athletes[key].Zone)
			}
		}
		if loc := h.zone(names...); loc != nil && w.UTCOffset == nil {
			return loc
		}
	}
	return time.UTC
}

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
