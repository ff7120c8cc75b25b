package match

import (
	"math"
	"sort"
	"time"

	"saltpan/pipeline/record"
)

// Time windows of the two slots (common practice: weigh in shortly before and
// shortly after; the longest gaps are our own rule, so that what is lost in
// the gap stays small beside what is lost in the session).
const (
	maxBefore  = 90 * time.Minute
	maxAfter   = 60 * time.Minute
	clockSlack = 2 * time.Minute // a scale that shows minutes, a watch started late
	longBefore = 45 * time.Minute
	longAfter  = 30 * time.Minute
)

// Mass gates (own rules). Six percent holds a season's drift and a day's swing
// around a recent median; twelve, a usual mass told once and not since.
const (
	gateTrack   = 0.06
	gateUsual   = 0.12
	carriedKg   = 8.0 // the most kit a carrying weigh-in adds
	minLoss     = -0.2
	maxLoss     = 3.5 // L/h; above every whole-body rate in the usual literature
	minLossKept = -0.5
)

// candidates are the readings of one athlete that could fill the slots of a bout.
type candidates struct {
	bout          Bout
	before, after []reading
	track         float64            // kg, 0 when nothing is known
	window        map[Slot][]reading // plausible ones, taken elsewhere or not
	choices       map[Slot][]reading // what a question asks about
	told          map[Slot]record.Answer
	forced        map[Slot]bool
	contested     map[string]bool // readings that could fill other slots too
	pBefore       float64         // probability that the athlete weighs in before
	pAfter        float64
	few           bool // the athlete has few sessions
	noZone        bool // weigh-ins of that time could not be placed
	owner         map[string]string
	twin          string // another of the household who weighs the same
	post          posterior
}

// within are the readings of a sorted pool from one instant to another.
func within(pool []reading, from, to time.Time) []reading {
	i := sort.Search(len(pool), func(i int) bool { return !pool[i].at.Before(from) })
	j := sort.Search(len(pool), func(j int) bool { return pool[j].at.After(to) })
	if i >= j {
		return nil
	}
	return pool[i:j]
}

func windowBefore(b Bout, pool []reading) []reading {
	return within(pool, b.Start.Add(-maxBefore), earlier(b.Start.Add(clockSlack), b.Stop))
}

func windowAfter(b Bout, pool []reading) []reading {
	return within(pool, later(b.Stop.Add(-clockSlack), b.Start), b.Stop.Add(maxAfter))
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// lossRate is the simple loss of a pair in litres per hour. What was carried
// and drunk cancels out between carrying weigh-ins.
func lossRate(b Bout, before, after reading) float64 {
	loss := before.kg() - after.kg()
	if b.Weighing != record.Carrying {
		loss += b.Drunk.Litres()
	}
	return loss / hours(b)
}

// hours is the length of a bout, at least a quarter of an hour so that a
// scale's step does not look like a rate.
func hours(b Bout) float64 { return math.Max(b.Stop.Sub(b.Start).Hours(), 0.25) }

// sameKind reports whether two weigh-ins may be a pair: of two that a person
// declared, both or neither with kit.
func sameKind(before, after reading) bool {
	b, a := before.in.Carrying, after.in.Carrying
	return b == nil || a == nil || *b == *a
}

func carrying(b Bout, r reading) bool {
	if r.in.Carrying != nil {
		return *r.in.Carrying
	}
	return b.Weighing == record.Carrying
}

// plausible is the mass gate. After a bout the athlete may be lighter by what
// was lost, or heavier by what was drunk.
func plausible(b Bout, side Slot, r reading, track, gate float64) bool {
	if track == 0 || r.told() {
		return true
	}
	low, high := track*(1-gate), track*(1+gate)
	if carrying(b, r) {
		high += carriedKg
	}
	if side == After {
		low -= 1.5 * hours(b)
	}
	return low <= r.kg() && r.kg() <= high
}

// anchor is the mass before a bout where a pair of readings in its windows
// makes a plausible loss: such pairs are the athlete's own far more often than not.
type anchor struct {
	at        time.Time
	kg        float64
	weighIn   string  // the before
	low, high float64 // kg, of all such pairs
}

// anchors looks for one in every bout of an athlete; of several pairs the one
// closest around the bout. A pair loses no less than least, in litres per hour.
func anchors(bouts []Bout, pool []reading, usual, least float64) []anchor {
	var out []anchor
	for _, b := range bouts {
		best, bestCost := anchor{at: b.Start, low: math.Inf(1)}, math.Inf(1)
		for _, r := range windowBefore(b, pool) {
			for _, s := range windowAfter(b, pool) {
				rate := lossRate(b, r, s)
				if r.in.ID == s.in.ID || rate < least || rate > maxLoss || !plausible(b, Before, r, usual, gateUsual) {
					continue
				}
				cost := b.Start.Sub(r.at).Abs().Hours() + s.at.Sub(b.Stop).Abs().Hours()
				best.low, best.high = math.Min(best.low, r.kg()), math.Max(best.high, r.kg())
				if cost < bestCost {
					best.kg, best.weighIn, bestCost = r.kg(), r.in.ID, cost
				}
			}
		}
		if best.kg > 0 {
			out = append(out, best)
		}
	}
	return out
}

// marks are the anchors of an athlete's body mass. One who always carries has
// only anchors with kit: those less the usual kit.
func marks(bouts []Bout, pool []reading, usual float64) []anchor {
	var body, kit []Bout
	for _, b := range bouts {
		if b.Weighing == record.Carrying {
			kit = append(kit, b)
		} else {
			body = append(body, b)
		}
	}
	out := anchors(body, pool, usual, minLoss)
	if len(out) == 0 && usual == 0 {
		out = anchors(kit, pool, usual, minLoss)
		for i := range out {
			out[i].kg -= meanKit
		}
	}
	return out
}

// disagree reports whether plausible pairs were made at masses that cannot be
// one person's: then nobody knows yet which are the athlete's.
func disagree(all []anchor) bool {
	low, high := math.Inf(1), 0.0
	for _, a := range all {
		low, high = math.Min(low, a.low), math.Max(high, a.high)
	}
	return high > low*(1+gateTrack)
}

// track is the athlete's recent mass around an instant: the median of the nine
// anchors nearest in time, else the usual mass; 0 when neither is known. The
// gate that goes with it comes along.
func track(all []anchor, at time.Time, usual float64) (kg, gate float64) {
	i := sort.Search(len(all), func(i int) bool { return !all[i].at.Before(at) })
	lo, hi := max(0, i-5), min(len(all), i+4)
	switch {
	case hi-lo >= 3, hi > lo && usual == 0:
		masses := make([]float64, 0, 9)
		for _, a := range all[lo:hi] {
			masses = append(masses, a.kg)
		}
		return median(masses), gateTrack
	case usual > 0:
		return usual, gateUsual
	}
	return 0, 0
}

func median(v []float64) float64 {
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	n := len(s)
	if n%2 == 1 {
		return s[n/2]
	}
	return (s[n/2-1] + s[n/2]) / 2
}
