package match

import (
	"fmt"
	"sort"
	"time"

	"saltpan/pipeline/record"
)

// few is how many sessions an athlete needs before there is a track to judge by.
const few = 5

// Find says for every session which weigh-in is its before and which its
// after, and asks what only a person can say. The order of the input does not
// matter, but that matches come in the order of Input.Bouts.
func Find(in Input) Output {
	h := newHousehold(in)
	clocks, notes, asked := h.clocks()
	all := h.gather(clocks)
	found := map[string]Match{}
	for _, block := range blocks(all) {
		for i, post := range enumerate(block) {
			block[i].post = post
			found[block[i].bout.Session] = block[i].decide(post)
		}
	}
	share(all, found)
	out := Output{Scales: notes}
	for _, b := range in.Bouts {
		out.Matches = append(out.Matches, found[b.Session])
	}
	out.Questions = append(asked, questions(all, found)...)
	return out
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
	return all
}

func (h *household) gatherFor(athlete string, bouts []Bout, s shifts) []*candidates {
	pool, zoneless := h.pool(athlete, s)
	usual := h.usual(athlete)
	marks := anchors(bouts, pool, usual)
	if usual == 0 && len(bouts) < few && disagree(marks) {
		marks = nil
	}
	other := h.strangers(bouts, pool)
	all := make([]*candidates, 0, len(bouts))
	for _, b := range bouts {
		c := newCandidates(b)
		c.others, c.owner, c.few, c.noZone = other, h.owner, len(bouts) < few, anyNear(zoneless, b)
		var gate float64
		c.track, gate = track(marks, b.Start, usual)
		c.before = h.fill(c, Before, windowBefore(b, pool), pool, gate)
		c.after = h.fill(c, After, windowAfter(b, pool), pool, gate)
		all = append(all, c)
	}
	return all
}

func newCandidates(b Bout) *candidates {
	return &candidates{
		bout: b, window: map[Slot][]reading{}, choices: map[Slot][]reading{},
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

// anyNear reports whether a weigh-in without a zone could lie near a bout in
// some zone: within 14 h and the window.
func anyNear(zoneless []record.WeighIn, b Bout) bool {
	for _, w := range zoneless {
		if w.Wall.After(b.Start.Add(-16*time.Hour)) && w.Wall.Before(b.Stop.Add(15*time.Hour)) {
			return true
		}
	}
	return false
}

// decide makes a match of the posteriors of a bout.
func (c *candidates) decide(p posterior) Match {
	m := Match{Session: c.bout.Session, Before: c.fillOf(Before, p.before, p.noBefore), After: c.fillOf(After, p.after, p.noAfter)}
	if c.few && len(c.before) == 1 && len(c.after) == 1 {
		c.fewRule(&m, p)
	}
	m.Flags = c.flags(m)
	return m
}

// threshold is the probability from which a reading is linked: higher when
// another of the household weighs much the same, out of reach when there is
// no track yet to tell the two apart.
func (c *candidates) threshold() float64 {
	switch {
	case c.twin == "":
		return linkAt
	case c.few:
		return 2
	}
	return linkTwinAt
}

// known reports whether there is a mass to judge a reading by, or somebody
// said whose it is.
func (c *candidates) known(r reading) bool { return c.track > 0 || c.owned(r) }

// fewRule links the one reading on each side of a session of a new athlete
// when they make a plausible loss: nothing else is there to judge by.
func (c *candidates) fewRule(m *Match, p posterior) {
	b, a := c.before[0], c.after[0]
	if rate := lossRate(c.bout, b, a); !c.pairs(b, a) || rate < minLoss || rate > maxLoss || c.twin != "" {
		return
	}
	why := "the only plausible reading in its window, and the loss it makes is plausible"
	if m.Before.Link == nil {
		m.Before = Fill{Slot: Before, Link: &Candidate{WeighIn: b.in, At: b.at, Posterior: p.before[0]}, None: p.noBefore, Why: why}
	}
	if m.After.Link == nil {
		m.After = Fill{Slot: After, Link: &Candidate{WeighIn: a.in, At: a.at, Posterior: p.after[0]}, None: p.noAfter, Why: why}
	}
}

func (c *candidates) fillOf(side Slot, post []float64, none float64) Fill {
	f := Fill{Slot: side, None: none}
	list := c.side(side)
	if a, ok := c.told[side]; ok {
		return c.fillTold(f, a, list)
	}
	if len(list) == 0 {
		f.Why = "no plausible reading in its window"
		if c.noZone {
			f.Why += "; readings of that time name no zone"
		}
		return f
	}
	best, sum := pooled(list, post)
	switch {
	case sum >= c.threshold() && c.known(list[best]):
		f.Link = &Candidate{WeighIn: list[best].in, At: list[best].at, Posterior: sum}
		f.Why = fmt.Sprintf("%d in its window; this one with probability %.3f by gap and mass", len(list), sum)
	case none >= noneAt:
		f.Why = fmt.Sprintf("%d in its window; none belongs to it with probability %.2f", len(list), none)
	default:
		f.Asked = questionID(c.bout.Session, side, list)
		c.choices[side] = list
		f.Why = "not sure enough by gap and mass"
		if c.twin != "" {
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
		f.Why = "a person said they do not know"
	default:
		f.None, f.Why = 0, "a person chose it"
		f.Link = &Candidate{WeighIn: list[0].in, At: list[0].at, Posterior: 1}
	}
	return f
}

// pooled is the most probable reading with the probability of all that show
// the same mass within their steps on the same scale: which of those is taken
// makes no difference.
func pooled(list []reading, post []float64) (best int, sum float64) {
	for i := range list {
		if post[i] > post[best] {
			best = i
		}
	}
	for i, r := range list {
		step := r.in.MassStep.Kilograms()
		if d := r.kg() - list[best].kg(); r.in.Scale == list[best].in.Scale && -step-1e-9 <= d && d <= step+1e-9 {
			sum += post[i]
		}
	}
	return best, sum
}

func (c *candidates) flags(m Match) []string {
	var out []string
	if m.Before.Asked != "" || m.After.Asked != "" {
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
