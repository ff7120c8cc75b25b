package session

import (
	"sort"
	"strings"
	"time"

	"saltpan/pipeline/record"
)

// Same reports whether two activities of one athlete are the same bout told
// twice: nobody runs two bouts at once, so it is enough that they share more
// than half of the shorter one (own rule; two recorders started minutes apart
// still overlap, two runs of one day do not). Bouts that one file tells apart
// stay apart.
func Same(a, b record.Activity) bool {
	if source(a) == source(b) {
		return a.ID == b.ID
	}
	shared := earliest(a.Stop(), b.Stop()).Sub(latest(a.Start, b.Start))
	shorter := min(a.Elapsed, b.Elapsed)
	if shorter <= 0 {
		return !a.Start.Before(b.Start) && !a.Start.After(b.Stop()) || !b.Start.Before(a.Start) && !b.Start.After(a.Stop())
	}
	return shared > shorter/2
}

// source is the content an activity was read from: its ID without the number.
func source(a record.Activity) string {
	sha, _, _ := strings.Cut(a.ID, ":")
	return sha
}

func earliest(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// copies groups the activities of one athlete that tell the same bout. The
// fullest comes first; a shorter one joins the fullest it is the same as.
func copies(acts []record.Activity) []Part {
	sorted := append([]record.Activity(nil), acts...)
	sort.SliceStable(sorted, func(i, j int) bool { return fuller(sorted[i], sorted[j]) })
	byStart := index{}
	var parts []Part
	for _, a := range sorted {
		if i := byStart.same(parts, a); i >= 0 {
			parts[i].Copies = append(parts[i].Copies, a)
			continue
		}
		byStart.add(a, len(parts))
		parts = append(parts, Part{Best: a, Copies: []record.Activity{a}})
	}
	sort.Slice(parts, func(i, j int) bool {
		a, b := parts[i].Best, parts[j].Best
		if !a.Start.Equal(b.Start) {
			return a.Start.Before(b.Start)
		}
		return a.ID < b.ID
	})
	return parts
}

// fuller orders copies: undamaged first, then by what they tell, then by
// length, then by ID so that the order of files never matters.
func fuller(a, b record.Activity) bool {
	if (a.Salvaged == "") != (b.Salvaged == "") {
		return a.Salvaged == ""
	}
	if told(a) != told(b) {
		return told(a) > told(b)
	}
	if a.Elapsed != b.Elapsed {
		return a.Elapsed > b.Elapsed
	}
	return a.ID < b.ID
}

// told counts what a copy tells that another may not.
func told(a record.Activity) int {
	n := 0
	for _, yes := range []bool{a.Sport != record.UnknownSport, a.Moving != nil, a.Distance != nil, a.MeanHRBpm != nil, a.MeanTemp != nil} {
		if yes {
			n++
		}
	}
	return n
}

// index finds parts by day, so that a season is not compared pair by pair.
type index map[int64][]int

func day(t time.Time) int64 { return t.Unix() / 86400 }

func (x index) add(a record.Activity, part int) {
	for d := day(a.Start); d <= day(a.Stop()); d++ {
		x[d] = append(x[d], part)
	}
}

func (x index) same(parts []Part, a record.Activity) int {
	for d := day(a.Start); d <= day(a.Stop()); d++ {
		for _, i := range x[d] {
			if Same(parts[i].Best, a) {
				return i
			}
		}
	}
	return -1
}
