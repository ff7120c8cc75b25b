package match

// rounds of passing messages; blocks of people settle within a few.
const rounds = 30

// propagate gives the marginals of a block too large to enumerate by belief
// propagation: exact where the competition for readings has no cycle, close
// otherwise (Yedidia, Freeman and Weiss 2003, "Understanding belief
// propagation and its generalizations"; cited from memory).
func propagate(block []*candidates, choices [][]option) []posterior {
	odds := make([]map[string]float64, len(block)) // by bout: odds that it takes a reading the others leave
	for i := range odds {
		odds[i] = map[string]float64{}
	}
	for range rounds {
		total := totals(block, odds)
		next := make([]map[string]float64, len(block))
		for i, c := range block {
			next[i] = c.odds(choices[i], odds[i], total)
		}
		odds = next
	}
	total := totals(block, odds)
	post := make([]posterior, len(block))
	for i, c := range block {
		post[i] = c.beliefs(choices[i], odds[i], total)
	}
	return post
}

func totals(block []*candidates, odds []map[string]float64) map[string]float64 {
	total := map[string]float64{}
	for i, c := range block {
		for _, id := range sortedKeys(c.ids()) {
			total[id] += odds[i][id]
		}
	}
	return total
}

// left is the weight of a reading for a bout given what the others want of it.
func left(id string, own, total map[string]float64) float64 {
	return 1 / (1 + max(total[id]-own[id], 0))
}

// odds are those of taking each reading against not taking it.
func (c *candidates) odds(list []option, own, total map[string]float64) map[string]float64 {
	with, sum := map[string]float64{}, 0.0
	for _, o := range list {
		w := o.weight
		for _, id := range c.takes(o) {
			w *= left(id, own, total)
		}
		sum += w
		for _, id := range c.takes(o) {
			with[id] += w
		}
	}
	out := map[string]float64{}
	for id, w := range with {
		out[id] = w / left(id, own, total) / max(sum-w, 1e-12*sum)
	}
	return out
}

func (c *candidates) beliefs(list []option, own, total map[string]float64) posterior {
	p := posterior{before: make([]float64, len(c.before)), after: make([]float64, len(c.after))}
	sum := 0.0
	for _, o := range list {
		w := o.weight
		for _, id := range c.takes(o) {
			w *= left(id, own, total)
		}
		p.add(o, w)
		sum += w
	}
	p.scale(sum)
	return p
}
