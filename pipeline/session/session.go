// Package session makes sessions of activities: copies of one bout that
// arrived in several files are one, and the pieces of a run that was stopped
// and restarted are joined.
package session

import (
	"sort"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// MaxJoinGap is the longest stop between two pieces that are still one run
// (own rule: a longer stop gives time to drink, eat and change unnoticed).
const MaxJoinGap = 15 * time.Minute

// Session is one bout of an athlete, from one or several activity files.
type Session struct {
	// Key is fixed when first derived; Aliases are older keys of its activities.
	Key     string
	Aliases []string
	Athlete string
	Sport   string
	// SubSport is the first part's, "treadmill" or "trail".
	SubSport string
	Start    time.Time
	// Elapsed runs from the first start to the last stop, gaps between parts included.
	Elapsed time.Duration
	// Moving is the sum of the parts' timers; nil when one of them has none.
	Moving    *time.Duration
	Distance  *quantity.Distance
	Ascent    *quantity.Distance
	MeanHRBpm *float64
	MeanTemp  *quantity.Temperature
	UTCOffset *time.Duration
	StartAt   *record.Position
	// Parts are the pieces in order, each with all its copies.
	Parts []Part
}

// Part is one piece of a session.
type Part struct {
	// Best is the fullest copy; Copies are all of them, best first.
	Best   record.Activity
	Copies []record.Activity
}

// Stop is the last moment of the session, UTC.
func (s Session) Stop() time.Time { return s.Start.Add(s.Elapsed) }

// Activities are the IDs of all copies of all parts.
func (s Session) Activities() []string {
	var ids []string
	for _, p := range s.Parts {
		for _, a := range p.Copies {
			ids = append(ids, a.ID)
		}
	}
	return ids
}

// Input is what a household's sessions are made of.
type Input struct {
	Athletes    []record.Athlete
	Activities  []record.Activity
	Corrections []record.Correction
	Keys        []record.SessionKey
	// Weighed reports whether the athlete stood on a scale between two moments.
	Weighed func(athlete string, from, to time.Time) bool
}

// Assemble gives the sessions, oldest first, and the keys given for the first time.
func Assemble(in Input) ([]Session, []record.SessionKey) {
	hand := readCorrections(in.Corrections)
	var out []Session
	for _, acts := range byAthlete(hand.apply(in.Activities)) {
		parts := copies(acts)
		for _, group := range join(parts, hand, in.Weighed) {
			out = append(out, build(group))
		}
	}
	sort.Slice(out, func(i, j int) bool { return earlier(out[i], out[j]) })
	return out, giveKeys(out, in)
}

func earlier(a, b Session) bool {
	if !a.Start.Equal(b.Start) {
		return a.Start.Before(b.Start)
	}
	if a.Athlete != b.Athlete {
		return a.Athlete < b.Athlete
	}
	return a.Parts[0].Best.ID < b.Parts[0].Best.ID
}

func byAthlete(acts []record.Activity) [][]record.Activity {
	groups := map[string][]record.Activity{}
	var names []string
	for _, a := range acts {
		if groups[a.Athlete] == nil {
			names = append(names, a.Athlete)
		}
		groups[a.Athlete] = append(groups[a.Athlete], a)
	}
	sort.Strings(names)
	var out [][]record.Activity
	for _, n := range names {
		out = append(out, groups[n])
	}
	return out
}

func build(parts []Part) Session {
	first, last := parts[0].Best, parts[len(parts)-1].Best
	s := Session{Athlete: first.Athlete, Sport: first.Sport, SubSport: first.SubSport, Start: first.Start,
		Elapsed: last.Stop().Sub(first.Start), UTCOffset: first.UTCOffset, StartAt: first.StartAt, Parts: parts}
	s.Moving = sum(parts, func(a record.Activity) *time.Duration { return a.Moving })
	s.Distance = sum(parts, func(a record.Activity) *quantity.Distance { return a.Distance })
	s.Ascent = sum(parts, func(a record.Activity) *quantity.Distance { return a.Ascent })
	s.MeanHRBpm = mean(parts, func(a record.Activity) *float64 { return a.MeanHRBpm })
	s.MeanTemp = mean(parts, func(a record.Activity) *quantity.Temperature { return a.MeanTemp })
	return s
}

// sum adds what every part tells; nil if one of them does not tell it.
func sum[T ~int64 | ~float64](parts []Part, of func(record.Activity) *T) *T {
	var total T
	for _, p := range parts {
		v := of(p.Best)
		if v == nil {
			return nil
		}
		total += *v
	}
	return &total
}

// mean weights what the parts tell by their elapsed time.
func mean[T ~float64](parts []Part, of func(record.Activity) *T) *T {
	var total, weight float64
	for _, p := range parts {
		if v := of(p.Best); v != nil {
			w := max(p.Best.Elapsed.Seconds(), 1)
			total, weight = total+w*float64(*v), weight+w
		}
	}
	if weight == 0 {
		return nil
	}
	m := T(total / weight)
	return &m
}
