package match

import (
	"sort"
	"time"
)

// ownShare is how far a reading may be from the usual mass to be taken for the
// athlete's where no name stands beside it (body mass varies by 1-2 % from day
// to day; a run and its drinks add up to 4 %).
const ownShare = 0.06

// OwnMoments are the moments at which each athlete is believed to have stood on
// a scale, in order: told by name, or within 6 % of the usual mass. A clock
// that is wrong and not yet told to be is taken at its word.
func OwnMoments(in Input) map[string][]time.Time {
	h := newHousehold(in)
	out := map[string][]time.Time{}
	for athlete := range h.athletes {
		pool, _ := h.pool(athlete, nil)
		for _, r := range pool {
			if h.isOwn(r, athlete) {
				out[athlete] = append(out[athlete], r.at)
			}
		}
		sort.Slice(out[athlete], func(i, j int) bool { return out[athlete][i].Before(out[athlete][j]) })
	}
	return out
}

func (h *household) isOwn(r reading, athlete string) bool {
	if h.owner[r.in.ID] == athlete || r.in.Athlete == athlete {
		return true
	}
	usual := h.usual(athlete)
	return usual > 0 && r.in.Mass.Kilograms() > usual*(1-ownShare) && r.in.Mass.Kilograms() < usual*(1+ownShare)
}
