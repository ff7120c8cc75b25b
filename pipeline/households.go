package pipeline

import (
	"sort"

	"saltpan/pipeline/record"
)

// Households groups the athletes who share a scale: a change in one can move
// a weigh-in of another. Each group and the list are in alphabetical order.
func Households(athletes []record.Athlete, scales []record.Scale) [][]string {
	root := map[string]string{}
	for _, a := range athletes {
		root[a.Key] = a.Key
	}
	for _, s := range scales {
		users := s.Athletes
		if len(users) == 0 {
			users = keysOf(athletes)
		}
		for _, u := range users {
			union(root, users[0], u)
		}
	}
	groups := map[string][]string{}
	for _, a := range keysOf(athletes) {
		r := find(root, a)
		groups[r] = append(groups[r], a)
	}
	var out [][]string
	for _, g := range groups {
		out = append(out, g)
	}
	sort.Slice(out, func(i, j int) bool { return out[i][0] < out[j][0] })
	return out
}

func keysOf(athletes []record.Athlete) []string {
	var keys []string
	for _, a := range athletes {
		keys = append(keys, a.Key)
	}
	sort.Strings(keys)
	return keys
}

func find(root map[string]string, a string) string {
	for root[a] != "" && root[a] != a {
		a = root[a]
	}
	return a
}

// union gives two groups one root, the first in the alphabet.
func union(root map[string]string, a, b string) {
	a, b = find(root, a), find(root, b)
	root[max(a, b)] = min(a, b)
}
