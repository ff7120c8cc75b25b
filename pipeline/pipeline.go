// Package pipeline derives sessions from facts. It is the only place that
// knows the order of the stages.
package pipeline

import (
	"slices"
	"sort"
	"time"

	"saltpan/pipeline/heat"
	"saltpan/pipeline/match"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/session"
)

// Method is the version of everything derived here; it rises when a result
// can change, so that older derived rows are rebuilt.
const Method = "pipeline/2"

// DeriveHousehold derives all sessions of the athletes who share scales. digests
// are those of the activities, by their IDs. The result depends on nothing but
// these and the facts, and not on their order.
func DeriveHousehold(f record.Facts, digests map[string]Digest) Household {
	sessions, keys := session.Assemble(session.Input{Athletes: f.Athletes, Activities: f.Activities,
		Corrections: f.Corrections, Keys: f.Keys, Weighed: weighed(f)})
	sessions = slices.DeleteFunc(sessions, func(s session.Session) bool { return !ofHousehold(f, s.Athlete) })
	notes := latestNotes(f.Notes, sessions)
	found := match.Find(match.Input{Athletes: f.Athletes, Bouts: bouts(f, sessions, notes), WeighIns: kept(f),
		Scales: f.Scales, Backgrounds: f.Backgrounds, Answers: f.Answers})
	around := survey(f, digests, sessions, notes)
	out := Household{Questions: found.Questions, Scales: found.Scales, Keys: keys}
	for i, s := range sessions {
		out.Sessions = append(out.Sessions, derive(f, around, s, notes[s.Key], found.Matches[i], notesOn(found.Scales)))
	}
	return out
}

// ofHousehold reports whether a session's athlete is one of the household: a
// session moved to somebody of another one is derived there.
func ofHousehold(f record.Facts, key string) bool {
	return slices.ContainsFunc(f.Athletes, func(a record.Athlete) bool { return a.Key == key })
}

// derive is the way of one session through the stages.
func derive(f record.Facts, around surroundings, s session.Session, note *record.Note, m match.Match, scales map[string]match.ScaleNote) Session {
	a := athlete(f, s.Athlete)
	out := describe(f, s, a)
	out.Note = note
	if note != nil && note.Weighing != "" {
		out.Weighing = note.Weighing
	}
	out.Before, out.BeforeWhy = linked(f, m.Before), m.Before.Why
	out.After, out.AfterWhy = linked(f, m.After), m.After.Why
	out.Indoor = indoor(s, note)
	out.Air, out.AirWhy = heat.Conditions(around.where(s, note), f.Weather)
	out.Effort = around.effortOf(out, a)
	out.Heat = heatOf(out, s, a)
	weigh(&out)
	out.Sodium = concentration(f, s)
	out.SodiumLoss = sodiumLoss(out)
	out.Flags = raise(out, s, m, scales)
	out.Status = status(out, m)
	return out
}

func describe(f record.Facts, s session.Session, a record.Athlete) Session {
	out := Session{Key: s.Key, Aliases: s.Aliases, Athlete: s.Athlete, Sport: s.Sport, Start: s.Start,
		Zone: session.Local(s, f.Athletes).Location().String(), Elapsed: s.Elapsed, Moving: s.Moving,
		Distance: s.Distance, Ascent: s.Ascent, MeanHRBpm: s.MeanHRBpm, WatchTemp: s.MeanTemp, Weighing: record.Body}
	if a.Weighing != "" {
		out.Weighing = a.Weighing
	}
	for _, p := range s.Parts {
		part := Part{Activity: p.Best.ID, Start: p.Best.Start, Elapsed: p.Best.Elapsed}
		for _, c := range p.Copies {
			part.Files = append(part.Files, c.Origin)
		}
		out.Parts = append(out.Parts, part)
	}
	return out
}

// bouts are the sessions as matching sees them.
func bouts(f record.Facts, sessions []session.Session, notes map[string]*record.Note) []match.Bout {
	out := make([]match.Bout, len(sessions))
	for i, s := range sessions {
		a := athlete(f, s.Athlete)
		out[i] = match.Bout{Session: s.Key, Athlete: s.Athlete, Start: s.Start, Stop: s.Stop(), Weighing: a.Weighing}
		if n := notes[s.Key]; n != nil {
			out[i].Drunk = netDrunk(*n)
			if n.Weighing != "" {
				out[i].Weighing = n.Weighing
			}
		}
	}
	return out
}

func netDrunk(n record.Note) quantity.Volume {
	var v quantity.Volume
	if n.Drunk != nil {
		v += *n.Drunk
	}
	if n.Urine != nil {
		v -= *n.Urine
	}
	return v
}

// linked is the weigh-in of a slot, nil if there is none.
func linked(f record.Facts, fill match.Fill) *WeighIn {
	if fill.Link == nil {
		return nil
	}
	w := fill.Link.WeighIn
	step := w.MassStep
	for _, s := range f.Scales {
		if s.Key == w.Scale && s.Step != nil {
			step = *s.Step
		}
	}
	return &WeighIn{ID: w.ID, At: fill.Link.At, Mass: w.Mass, Step: step, Scale: w.Scale,
		From: w.Origin, Also: w.Also, Posterior: fill.Link.Posterior}
}

func athlete(f record.Facts, key string) record.Athlete {
	for _, a := range f.Athletes {
		if a.Key == key {
			return a
		}
	}
	return record.Athlete{Key: key}
}

// kept are the weigh-ins that nobody took out.
func kept(f record.Facts) []record.WeighIn {
	dropped := map[string]bool{}
	for _, c := range f.Corrections {
		if c.Kind == record.DropWeighIn {
			dropped[c.WeighIn] = true
		}
	}
	var out []record.WeighIn
	for _, w := range f.WeighIns {
		if !dropped[w.ID] {
			out = append(out, w)
		}
	}
	return out
}

// latestNotes merges the notes of each session, older first, under its key.
func latestNotes(notes []record.Note, sessions []session.Session) map[string]*record.Note {
	name := map[string]string{}
	for _, s := range sessions {
		for _, alias := range s.Aliases {
			name[alias] = s.Key
		}
	}
	for _, s := range sessions {
		name[s.Key] = s.Key
	}
	out := map[string]*record.Note{}
	for _, n := range notes {
		key := name[n.Session]
		if key == "" {
			continue
		}
		if old := out[key]; old != nil {
			n = old.Over(n)
		}
		out[key] = &n
	}
	return out
}

func notesOn(scales []match.ScaleNote) map[string]match.ScaleNote {
	out := map[string]match.ScaleNote{}
	for _, s := range scales {
		out[s.Scale] = s
	}
	return out
}

// weighed answers whether an athlete stood on a scale between two moments.
func weighed(f record.Facts) func(string, time.Time, time.Time) bool {
	own := match.OwnMoments(match.Input{Athletes: f.Athletes, Scales: f.Scales, WeighIns: kept(f)})
	return func(athlete string, from, to time.Time) bool {
		at := own[athlete]
		next := sort.Search(len(at), func(i int) bool { return at[i].After(from) })
		return next < len(at) && at[next].Before(to)
	}
}
