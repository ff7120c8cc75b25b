package match

import (
	"math"
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
	clockLoss    = 0.2 // L/h, the least that makes a pair tell of the clock: two readings at rest differ less
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
			e.pair(s, anchors(moved(bouts, -time.Duration(s)*time.Hour), pool, h.usual(key), clockLoss))
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
