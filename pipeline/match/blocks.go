package match

// posterior has the marginals of one bout, by candidate.
type posterior struct {
	before, after     []float64
	noBefore, noAfter float64
}

// most bounds the assignments that are enumerated in a block.
const most = 100_000

// blocks are the bouts that compete for readings, directly or through others.
func blocks(all []*candidates) [][]*candidates {
	sets, first := newSets(len(all)), map[string]int{}
	for i, c := range all {
		for id := range c.ids() {
			if j, ok := first[id]; ok {
				sets.join(i, j)
			} else {
				first[id] = i
			}
		}
	}
	members := make([][]*candidates, len(all))
	for i, c := range all {
		lowest := sets.of(i)
		members[lowest] = append(members[lowest], c)
	}
	var out [][]*candidates
	for _, m := range members {
		if m != nil {
			out = append(out, m)
		}
	}
	return out
}

// sets are disjoint sets of numbers, each known by its lowest.
type sets []int

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

func (s sets) of(i int) int {
	for s[i] != i {
		i = s[i]
	}
	return i
}

func (s sets) join(i, j int) {
	a, b := s.of(i), s.of(j)
	s[max(a, b)] = min(a, b)
}

// marginals weighs every assignment of a block in which no reading is used
// twice: exact in a block of ordinary size.
func marginals(block []*candidates) []posterior {
	choices, product := make([][]option, len(block)), 1
	for i, c := range block {
		choices[i] = scaled(c.options())
		product = min(product*len(choices[i]), most+1)
	}
	if product > most {
		return propagate(block, choices)
	}
	return enumerate(block, choices)
}

func enumerate(block []*candidates, choices [][]option) []posterior {
	post := make([]posterior, len(block))
	for i, c := range block {
		post[i] = posterior{before: make([]float64, len(c.before)), after: make([]float64, len(c.after))}
	}
	total := walk(block, choices, make([]option, len(block)), map[string]bool{}, 0, 1, post)
	for i := range post {
		post[i].scale(total)
	}
	return post
}

// scaled divides the weights by the largest, so that products stay in range.
func scaled(list []option) []option {
	top := 0.0
	for _, o := range list {
		top = max(top, o.weight)
	}
	for i := range list {
		list[i].weight /= top
	}
	return list
}

func walk(block []*candidates, choices [][]option, picked []option, used map[string]bool, i int, weight float64, post []posterior) float64 {
	if i == len(block) {
		for k, o := range picked {
			post[k].add(o, weight)
		}
		return weight
	}
	total := 0.0
	for _, o := range choices[i] {
		ids := block[i].takes(o)
		if anyOf(ids, used) {
			continue
		}
		for _, id := range ids {
			used[id] = true
		}
		picked[i] = o
		total += walk(block, choices, picked, used, i+1, weight*o.weight, post)
		for _, id := range ids {
			delete(used, id)
		}
	}
	return total
}

// takes has the weigh-ins that an option uses up. What a person gave to a
// slot takes nothing from another.
func (c *candidates) takes(o option) []string {
	ids := make([]string, 0, 2)
	if o.before >= 0 && !c.forced[Before] {
		ids = append(ids, c.before[o.before].in.ID)
	}
	if o.after >= 0 && !c.forced[After] {
		ids = append(ids, c.after[o.after].in.ID)
	}
	return ids
}

func anyOf(ids []string, used map[string]bool) bool {
	for _, id := range ids {
		if used[id] {
			return true
		}
	}
	return false
}

func (p *posterior) add(o option, weight float64) {
	if o.before >= 0 {
		p.before[o.before] += weight
	} else {
		p.noBefore += weight
	}
	if o.after >= 0 {
		p.after[o.after] += weight
	} else {
		p.noAfter += weight
	}
}

func (p *posterior) scale(total float64) {
	for i := range p.before {
		p.before[i] /= total
	}
	for i := range p.after {
		p.after[i] /= total
	}
	p.noBefore /= total
	p.noAfter /= total
}
