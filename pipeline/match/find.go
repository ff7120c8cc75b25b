package match

import (
	"fmt"
	"math"
	"sort"
	"time"

	"saltpan/pipeline/record"
)

// Find says for every session which weigh-in is its before and which its
// after, and asks what only a person can say. The order of the input does not
// matter, but that matches come in the order of Input.Bouts.
func Find(in Input) Output {
	h := newHousehold(in)
	clocks, notes, asked := h.clocks()
	all := h.gather(clocks)
	judge(all)
	found := map[string]Match{}
	for _, c := range all {
		found[c.bout.Session] = c.decide(c.post)
	}
	share(all, found)
	out := Output{Scales: notes}
	for _, b := range in.Bouts {
		out.Matches = append(out.Matches, found[b.Session])
	}
	out.Questions = append(asked, questions(all, found)...)
	return out
}

// judge gives all bouts their posteriors. How often an athlete weighs in at all
// is learnt on the way (expectation and maximisation, three rounds), with ten
// sessions of the prior.
func judge(all []*candidates) {
	groups := blocks(all)
	for round := 0; round < 3; round++ {
		for _, block := range groups {
			for i, post := range marginals(block) {
				block[i].post = post
			}
		}
		learn(all)
	}
}

func learn(all []*candidates) {
	sessions, before, after := map[string]float64{}, map[string]float64{}, map[string]float64{}
	for _, c := range all {
		sessions[c.bout.Athlete]++
		before[c.bout.Athlete] += 1 - c.post.noBefore
		after[c.bout.Athlete] += 1 - c.post.noAfter
	}
	for _, c := range all {
		n := sessions[c.bout.Athlete] + priorSessions
		c.pBefore = (before[c.bout.Athlete] + pReading*priorSessions) / n
		c.pAfter = (after[c.bout.Athlete] + pReading*priorSessions) / n
	}
}

// gather collects the candidates of all bouts of the household, by start.
func (h *household) gather(s shifts) []*candidates {
	var all []*candidates
	for _, key := range sortedKeys(h.byAthlete) {
		all = append(all, h.gatherFor(key, h.byAthlete[key], s)...)
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].bout.Start.Before(all[j].bout.Start) })
	h.reserve(all)
	h.twins(all)
	contest(all)
	return all
}

func (h *household) gatherFor(athlete string, bouts []Bout, s shifts) []*candidates {
	pool, zoneless := h.pool(athlete, s)
	usual := h.usual(athlete)
	own := marks(bouts, pool, usual)
	if usual == 0 && len(bouts) < few && disagree(own) {
		own = nil
	}
	other := h.strangers(athlete, bouts, pool)
	all := make([]*candidates, 0, len(bouts))
	for _, b := range bouts {
		c := newCandidates(b)
		c.owner, c.few, c.noZone = h.owner, len(bouts) < few, anyNear(zoneless, b)
		var gate float64
		c.track, gate = track(own, b.Start, usual)
		c.before = h.fill(c, Before, windowBefore(b, pool), pool, gate)
		c.after = h.fill(c, After, windowAfter(b, pool), pool, gate)
		c.rate(&other)
		all = append(all, c)
	}
	return all
}

func (c *candidates) rate(s *strangers) {
	for _, list := range [][]reading{c.before, c.after} {
		for i, r := range list {
			list[i].rate = s.rate(r, c.centre(r))
		}
	}
}

func newCandidates(b Bout) *candidates {
	return &candidates{
		bout: b, pBefore: pReading, pAfter: pReading, window: map[Slot][]reading{}, choices: map[Slot][]reading{},
		told: map[Slot]record.Answer{}, forced: map[Slot]bool{},
	}
}

// fill has the readings for one slot: what a person answered, else those of
// the window that pass the mass gate.
func (h *household) fill(c *candidates, side Slot, window, pool []reading, gate float64) []reading {
	if a, ok := h.answers[slotKey{c.bout.Session, side}]; ok {
		if a.Choice == "neither" || a.Choice == "unknown" {
			c.told[side] = a
			return nil
		}
		if r, ok := chosen(pool, a.WeighIn, c.bout, side); ok {
			c.told[side], c.forced[side] = a, true
			return []reading{r}
		}
	}
	var out []reading
	for _, r := range window {
		if plausible(c.bout, side, r, c.track, gate) {
			out = append(out, r)
		}
	}
	c.window[side] = out
	return out
}

// chosen is the reading a person chose, at the instant nearest to the slot.
func chosen(pool []reading, id string, b Bout, side Slot) (best reading, ok bool) {
	edge := b.Start
	if side == After {
		edge = b.Stop
	}
	for _, r := range pool {
		if r.in.ID == id && (!ok || r.at.Sub(edge).Abs() < best.at.Sub(edge).Abs()) {
			best, ok = r, true
		}
	}
	return best, ok
}

func (c *candidates) side(s Slot) []reading {
	if s == Before {
		return c.before
	}
	return c.after
}

// anyNear reports whether a weigh-in without a zone, of a list by wall time,
// could lie near a bout in some zone: within 14 h and the window.
func anyNear(zoneless []record.WeighIn, b Bout) bool {
	from, to := b.Start.Add(-maxBefore-14*time.Hour), b.Stop.Add(maxAfter+14*time.Hour)
	i := sort.Search(len(zoneless), func(i int) bool { return zoneless[i].Wall.After(from) })
	return i < len(zoneless) && zoneless[i].Wall.Before(to)
}

// decide makes a match of the posteriors of a bout.
func (c *candidates) decide(p posterior) Match {
	m := Match{Session: c.bout.Session, Before: c.fillOf(Before, p.before, p.noBefore), After: c.fillOf(After, p.after, p.noAfter)}
	if c.few {
		c.fewSessions(&m)
	}
	m.Before.Why, m.After.Why = c.placed(m.Before), c.placed(m.After)
	m.Flags = c.flags(m)
	return m
}

// placed adds to the reason that readings could not be placed in time.
func (c *candidates) placed(f Fill) string {
	if c.noZone && f.Link == nil {
		return f.Why + "; readings of about that time name no zone and cannot be placed"
	}
	return f.Why
}

// threshold is the probability from which a reading is linked: higher when
// another of the household weighs much the same, out of reach when there is
// no track yet to tell the two apart.
func (c *candidates) threshold(r reading) float64 {
	switch {
	case c.twin == "" || c.owned(r):
		return linkAt
	case c.few:
		return 2
	}
	return linkTwinAt
}

// known reports whether there is a mass to judge a reading by, or somebody
// said whose it is.
func (c *candidates) known(r reading) bool { return c.track > 0 || c.owned(r) }

func (c *candidates) fillOf(side Slot, post []float64, none float64) Fill {
	f := Fill{Slot: side, None: none}
	list := c.side(side)
	if a, ok := c.told[side]; ok {
		return c.fillTold(f, a, list)
	}
	if len(list) == 0 {
		f.Why = "no plausible reading in its window"
		return f
	}
	best, sum := c.pooled(list, post)
	switch {
	case sum >= c.threshold(list[best]) && c.known(list[best]):
		f.Link = &Candidate{WeighIn: list[best].in, At: list[best].at, Posterior: sum}
		f.Why = fmt.Sprintf("%d in its window; this one with probability %.3f by gap and mass", len(list), sum)
	case none >= noneAt:
		f.Why = fmt.Sprintf("%d in its window; none belongs to it with probability %.2f", len(list), none)
	default:
		f.Asked = questionID(c.bout.Session, side, list)
		c.choices[side] = list
		f.Why = "not sure enough by gap and mass"
		if c.threshold(list[best]) > linkAt {
			f.Why = "it could as well be a reading of " + c.twin
		}
	}
	return f
}

func (c *candidates) fillTold(f Fill, a record.Answer, list []reading) Fill {
	switch a.Choice {
	case "neither":
		f.None, f.Why = 1, "a person said there is none"
	case "unknown":
		f.None, f.Why = 1-c.seen(f.Slot), "a person said they do not know"
	default:
		f.None, f.Why = 0, "a person chose it"
		f.Link = &Candidate{WeighIn: list[0].in, At: list[0].at, Posterior: 1}
	}
	return f
}

// seen is the probability that the athlete weighs in at a slot at all.
func (c *candidates) seen(s Slot) float64 {
	if s == Before {
		return c.pBefore
	}
	return c.pAfter
}

// pooled is the most probable reading with the probability of all that show
// the same mass within their steps on the same scale: which of those is taken
// makes no difference, unless another slot could have one of them.
func (c *candidates) pooled(list []reading, post []float64) (best int, sum float64) {
	for i := range list {
		if post[i] > post[best] {
			best = i
		}
	}
	for i, r := range list {
		if i == best || !c.contested[r.in.ID] && !c.contested[list[best].in.ID] && same(r, list[best]) {
			sum += post[i]
		}
	}
	return best, sum
}

// same reports whether two readings show one mass within a step of one scale.
func same(a, b reading) bool {
	return a.in.Scale == b.in.Scale && math.Abs(a.kg()-b.kg()) <= a.in.MassStep.Kilograms()+1e-9
}

func (c *candidates) flags(m Match) []string {
	var out []string
	if m.Before.Asked != "" && len(c.choices[Before]) > 1 || m.After.Asked != "" && len(c.choices[After]) > 1 {
		out = append(out, "several-candidates")
	}
	b, a := m.Before.Link, m.After.Link
	if b != nil && c.bout.Start.Sub(b.At) > longBefore || a != nil && a.At.Sub(c.bout.Stop) > longAfter {
		out = append(out, "long-gap")
	}
	if b != nil && a != nil && b.WeighIn.Scale != a.WeighIn.Scale {
		out = append(out, "two-scales")
	}
	if c.noZone && (b == nil || a == nil) {
		out = append(out, "no-zone")
	}
	return out
}
