package match

import (
	"sort"
)

// strangers has the readings of a pool that lie in no window of the athlete's
// own bouts, with what the scales counted and did not keep.
func (h *household) strangers(bouts []Bout, pool []reading) strangers {
	inside := map[string]bool{}
	for _, b := range bouts {
		for _, r := range windowBefore(b, pool) {
			inside[r.in.ID] = true
		}
		for _, r := range windowAfter(b, pool) {
			inside[r.in.ID] = true
		}
	}
	s := strangers{counted: map[[2]int]int{}}
	scales := map[string]bool{}
	for _, r := range pool {
		if !inside[r.in.ID] {
			s.outside = append(s.outside, r)
		}
		scales[r.in.Scale] = true
	}
	if len(pool) > 0 {
		s.hours = pool[len(pool)-1].at.Sub(pool[0].at).Hours()
	}
	for scale := range scales {
		for k, n := range h.background[scale] {
			s.counted[k] += n
		}
	}
	sort.SliceStable(s.outside, func(i, j int) bool { return s.outside[i].kg() < s.outside[j].kg() })
	return s
}

// near are the readings of a list sorted by mass within so many kilograms.
func near(list []reading, kg, within float64) []reading {
	i := sort.Search(len(list), func(i int) bool { return list[i].kg() >= kg-within })
	j := sort.Search(len(list), func(j int) bool { return list[j].kg() > kg+within })
	return list[i:j]
}
