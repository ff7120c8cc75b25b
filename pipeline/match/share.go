package match

// reserve takes readings that a person gave to a slot from all other slots.
func (h *household) reserve(all []*candidates) {
	given := map[string]bool{}
	for _, c := range all {
		for side := range c.forced {
			given[c.side(side)[0].in.ID] = true
		}
	}
	for _, c := range all {
		if !c.forced[Before] {
			c.before = without(c.before, given)
		}
		if !c.forced[After] {
			c.after = without(c.after, given)
		}
	}
}

func without(list []reading, ids map[string]bool) []reading {
	var out []reading
	for _, r := range list {
		if !ids[r.in.ID] {
			out = append(out, r)
		}
	}
	return out
}

// share asks where a reading linked after one session lies in the window
// before the next of the same athlete, or the other way round, and that slot
// is left empty: whether anything was drunk, eaten or left in the toilet in
// between only a person knows, so it is never linked twice unasked.
func share(all []*candidates, found map[string]Match) {
	last := map[string]*candidates{}
	for _, c := range all {
		if p := last[c.bout.Athlete]; p != nil {
			a, b := found[p.bout.Session], found[c.bout.Session]
			b.Before = c.offer(b.Before, a.After.Link)
			a.After = p.offer(a.After, b.Before.Link)
			b.Flags, a.Flags = c.flags(b), p.flags(a)
			found[p.bout.Session], found[c.bout.Session] = a, b
		}
		last[c.bout.Athlete] = c
	}
}

// offer asks whether the link of the neighbouring slot fills an empty slot too.
func (c *candidates) offer(f Fill, link *Candidate) Fill {
	if _, told := c.told[f.Slot]; told || link == nil || f.Link != nil || f.Asked != "" {
		return f
	}
	for _, r := range c.window[f.Slot] {
		if r.in.ID == link.WeighIn.ID {
			f.Asked = questionID(c.bout.Session, f.Slot, []reading{r})
			f.Why = "the reading in its window serves the neighbouring session; whether it serves both only a person knows"
			c.choices[f.Slot] = []reading{r}
			return f
		}
	}
	return f
}
