package match

// rounds of passing messages; blocks of people settle within a few.
const rounds = 30

// propagate gives the marginals of a block too large to enumerate by belief
// propagation: exact where the competition for readings has no cycle, close
// otherwise (Yedidia, Freeman and Weiss 2003, "Understanding belief
// propagation and its generalizations"; cited from memory).
func propagate(block []*candidates, choices [][]option) []posterior {
	nodes := newNodes(block, choices)
	for range rounds {
		total := wanted(nodes)
		for _, n := range nodes {
			n.listen(total)
			n.speak()
		}
	}
	total := wanted(nodes)
	post := make([]posterior, len(nodes))
	for i, n := range nodes {
		n.listen(total)
		post[i] = n.belief()
	}
	return post
}

// node is a bout with its messages to and from the readings it could take.
// Readings are numbered over the block, and within the node by position.
type node struct {
	c       *candidates
	list    []option
	takes   [][]int   // by option: positions of the readings it uses up
	reading []int     // by position: number in the block
	odds    []float64 // of taking the reading against not, if the others leave it
	left    []float64 // weight of the reading given what the others want of it
}

func newNodes(block []*candidates, choices [][]option) []*node {
	number := map[string]int{}
	nodes := make([]*node, len(block))
	for i, c := range block {
		n := &node{c: c, list: choices[i], takes: make([][]int, len(choices[i]))}
		position := map[string]int{}
		for k, o := range n.list {
			for _, id := range c.takes(o) {
				if _, ok := number[id]; !ok {
					number[id] = len(number)
				}
				if _, ok := position[id]; !ok {
					position[id] = len(n.reading)
					n.reading = append(n.reading, number[id])
				}
				n.takes[k] = append(n.takes[k], position[id])
			}
		}
		n.odds, n.left = make([]float64, len(n.reading)), make([]float64, len(n.reading))
		nodes[i] = n
	}
	return nodes
}

// wanted sums the odds of all bouts by reading.
func wanted(nodes []*node) map[int]float64 {
	total := map[int]float64{}
	for _, n := range nodes {
		for p, r := range n.reading {
			total[r] += n.odds[p]
		}
	}
	return total
}

func (n *node) listen(total map[int]float64) {
	for p, r := range n.reading {
		n.left[p] = 1 / (1 + max(total[r]-n.odds[p], 0))
	}
}

func (n *node) weight(k int) float64 {
	w := n.list[k].weight
	for _, p := range n.takes[k] {
		w *= n.left[p]
	}
	return w
}

func (n *node) speak() {
	with, sum := make([]float64, len(n.reading)), 0.0
	for k := range n.list {
		w := n.weight(k)
		sum += w
		for _, p := range n.takes[k] {
			with[p] += w
		}
	}
	for p, w := range with {
		n.odds[p] = w / n.left[p] / max(sum-w, 1e-12*sum)
	}
}

func (n *node) belief() posterior {
	p := posterior{before: make([]float64, len(n.c.before)), after: make([]float64, len(n.c.after))}
	sum := 0.0
	for k, o := range n.list {
		w := n.weight(k)
		p.add(o, w)
		sum += w
	}
	p.scale(sum)
	return p
}
