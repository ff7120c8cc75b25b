package match

// few is how many sessions an athlete needs before there is a track to judge by.
const few = 5

// fewSessions decides a session of a new athlete, of whom gaps and masses say
// little yet. One plausible reading on each side that makes a plausible loss
// is linked: nothing else is there to judge by. Where no two readings can be a
// pair one of them is somebody else's, and a person says which.
func (c *candidates) fewSessions(m *Match) {
	switch {
	case len(c.before) == 0 || len(c.after) == 0:
	case !c.anyPair():
		m.Before, m.After = c.doubt(m.Before), c.doubt(m.After)
	case len(c.before) == 1 && len(c.after) == 1 && c.soleFit(c.before[0], c.after[0]):
		m.Before = c.sole(m.Before, c.before[0], c.post.before[0])
		m.After = c.sole(m.After, c.after[0], c.post.after[0])
	}
}

func (c *candidates) anyPair() bool {
	for _, b := range c.before {
		for _, a := range c.after {
			if c.pairs(b, a) {
				return true
			}
		}
	}
	return false
}

// soleFit reports whether two readings are nobody else's and make a plausible loss.
func (c *candidates) soleFit(b, a reading) bool {
	rate := lossRate(c.bout, b, a)
	return c.pairs(b, a) && minLoss <= rate && rate <= maxLoss && c.threshold(b) <= 1 && c.threshold(a) <= 1 &&
		!c.contested[b.in.ID] && !c.contested[a.in.ID]
}

func (c *candidates) sole(f Fill, r reading, posterior float64) Fill {
	if f.Link != nil {
		return f
	}
	f.Link, f.Asked = &Candidate{WeighIn: r.in, At: r.at, Posterior: posterior}, ""
	f.Why = "the only plausible reading in its window, and the loss it makes is plausible"
	return f
}

func (c *candidates) doubt(f Fill) Fill {
	if _, told := c.told[f.Slot]; told {
		return f
	}
	f.Link, f.Why = nil, "no reading before and after make a plausible loss"
	f.Asked, c.choices[f.Slot] = questionID(c.bout.Session, f.Slot, c.side(f.Slot)), c.side(f.Slot)
	return f
}

// contest notes the readings that could fill several slots.
func contest(all []*candidates) {
	slots := map[string]int{}
	for _, c := range all {
		for _, list := range [][]reading{c.before, c.after} {
			for id := range idsOf(list) {
				slots[id]++
			}
		}
	}
	for _, c := range all {
		c.contested = map[string]bool{}
		for id := range c.ids() {
			c.contested[id] = slots[id] > 1
		}
	}
}

func (c *candidates) ids() map[string]bool { return idsOf(c.before, c.after) }

func idsOf(lists ...[]reading) map[string]bool {
	ids := map[string]bool{}
	for _, list := range lists {
		for _, r := range list {
			ids[r.in.ID] = true
		}
	}
	return ids
}
