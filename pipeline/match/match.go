// Package match finds which weigh-in of a scale belongs to which session, as
// the one before or the one after. A wrong pair is worse than none: it becomes
// a plausible false loss. What is not sure is asked about.
//
// Time. A weigh-in has the time its scale wrote. Its instant follows from the
// offset in its row, else from the zone declared for its file, of its scale,
// of the athlete on that date: see [Instants] for what happens when clocks
// change. A clock that is whole hours off shows in the sessions that have a
// pair of readings only when it is moved (clock.go).
//
// Candidates. A before lies at most 90 min before the start, an after at most
// 60 min after the stop, both near the athlete's recent mass (candidates.go).
//
// Score. Every way to fill the slots of sessions that compete for readings is
// weighed: the density of the gaps, of the mass around the recent mass, of the
// loss the pair makes, against the rate at which readings come that have
// nothing to do with a session (score.go, strangers.go). A reading fills one
// slot of one athlete. The probabilities of a slot, "none" among them, are the
// sums over all assignments (blocks.go), or belief propagation where those are
// too many (large.go). How often an athlete weighs in is learnt; the other
// parameters are priors of our own.
//
// Decision. Linked from 0.95; none from 0.80; else asked (Fellegi and Sunter
// 1969, "A theory for record linkage", Journal of the American Statistical
// Association 64: two thresholds with a band for a person between them).
// Before there is a track, in the first five sessions, the one plausible
// reading on each side is linked if they make a plausible loss (few.go).
// Somebody within 3 kg who uses the same scale raises the threshold to 0.99
// and is asked about in the first sessions (twins.go). A reading that could
// serve two sessions of one athlete is never linked twice unasked (share.go).
// What a person answered stands.
//
// Known limits. The posterior is a little too sure of readings of the
// athlete's own morning routine that happen to lie before a session. Clock
// faults are sought in whole hours and by summer and winter time alone: not
// minutes, drift, or a fault that begins in mid-season.
package match

import (
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// Bout is a session as far as matching needs to know it.
type Bout struct {
	Session  string // session key
	Athlete  string
	Start    time.Time
	Stop     time.Time
	Weighing record.Weighing
	// Drunk is what the note says was drunk less what was left in the toilet,
	// zero when there is no note: it bears on the mass expected after.
	Drunk quantity.Volume
}

// Input is one household: everybody who uses the same scales.
type Input struct {
	Athletes    []record.Athlete
	Bouts       []Bout
	WeighIns    []record.WeighIn
	Scales      []record.Scale
	Backgrounds []record.Background
	Answers     []record.Answer
}

// Slot is a side of a session.
type Slot string

// The two slots.
const (
	Before Slot = "before"
	After  Slot = "after"
)

// Candidate is one weigh-in that could fill a slot.
type Candidate struct {
	ID      string // "a", "b" … within a question
	WeighIn record.WeighIn
	At      time.Time // the instant it is taken to mean
	// Posterior is the probability that it fills the slot.
	Posterior float64
}

// Fill is what is known about one slot.
type Fill struct {
	Slot Slot
	// Link is the weigh-in that fills it, nil if none or undecided.
	Link *Candidate
	// None is the probability that there is no weigh-in for it.
	None float64
	// Asked is the id of the open question about this slot, if any.
	Asked string
	// Why says in words how it was decided, for explain.
	Why string
}

// Match is the result for one session.
type Match struct {
	Session string
	Before  Fill
	After   Fill
	// Flags names what a person should know: "several-candidates", "long-gap" …
	Flags []string
}

// Question is something only a person can settle. Its id hashes the facts
// asked about.
type Question struct {
	ID      string
	Athlete string
	Session string
	Slot    Slot   // empty for a question about a scale
	Scale   string // set for a question about a scale's clock or unit
	Text    string
	Choices []Candidate
}

// ScaleNote is what was found out about a scale.
type ScaleNote struct {
	Scale string
	// Question is the id under which the answer "neither" takes it back.
	Question string
	// Shift is what was added to its clock, with the posterior of that fault.
	Shift     time.Duration
	Posterior float64
	From, To  time.Time // the period it holds for; zero is open
	// Examples are three rows with the shift applied.
	Examples []Candidate
	Text     string
}

// Output is the result for a household.
type Output struct {
	Matches   []Match // in the order of Input.Bouts
	Questions []Question
	Scales    []ScaleNote
}
