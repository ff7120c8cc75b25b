package match

import "math"

// twinKg is how near two athletes of a household must weigh for a reading
// without a name to be either's (own rule: a day's swing on both sides).
const twinKg = 3.0

// twins notes for every bout who else on the same scales weighs the same.
func (h *household) twins(all []*candidates) {
	byAthlete := map[string][]*candidates{}
	for _, c := range all {
		byAthlete[c.bout.Athlete] = append(byAthlete[c.bout.Athlete], c)
	}
	for _, c := range all {
		for _, key := range sortedKeys(h.athletes) {
			if c.twin == "" && key != c.bout.Athlete && h.near(c, key, byAthlete[key]) {
				c.twin = key
			}
		}
	}
}

// near reports whether another athlete weighs what this one does and could
// have made one of the candidates.
func (h *household) near(c *candidates, key string, theirs []*candidates) bool {
	mass := h.usual(key)
	if len(theirs) > 0 && theirs[len(theirs)/2].track > 0 {
		mass = theirs[len(theirs)/2].track
	}
	if mass == 0 || c.track == 0 || math.Abs(mass-c.track) > twinKg {
		return false
	}
	for _, list := range [][]reading{c.before, c.after} {
		for _, r := range list {
			if !c.owned(r) && h.mayBe(r.in, key) {
				return true
			}
		}
	}
	return false
}

// owned reports whether a person or a column says that a reading is this athlete's.
func (c *candidates) owned(r reading) bool { return c.owner[r.in.ID] == c.bout.Athlete }
