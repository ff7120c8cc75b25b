// Package match finds which weigh-in of a scale belongs to which session, as
// the one before or the one after.
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
