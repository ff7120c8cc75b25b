// Package simulate makes a season of an invented trail-running club with known
// truth: who sweated how much, what they drank, what the scale should have
// shown. Stages are tested against it and the demo is written from it. All
// names, places and sweat laws are invented; masses balance exactly.
package simulate

import (
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// Season is a club's season with the truth behind every reading.
type Season struct {
	Club     string
	Town     string
	Zone     string // IANA name; everybody lives by it
	Athletes []Athlete
	Scales   []Scale
	Sessions []Session // by athlete, then by start
	WeighIns []WeighIn // by the true instant
}

// Athlete is a runner of the club: the settings a store would hold and the
// truth that it has to find out.
type Athlete struct {
	record.Athlete
	Scale     string         // key of the scale used before and after sessions
	EasySpeed quantity.Speed // at 15 °C
	Law       Law
}

// Law is how fast an athlete sweats: a plane over air temperature and speed.
type Law struct {
	Easy      quantity.Rate // at 15 °C and 2.8 m/s
	PerDegree float64       // L/h for each °C
	PerSpeed  float64       // L/h for each m/s
}

// Rate is the expected loss rate in L/h, never below 0.15.
func (l Law) Rate(air quantity.Temperature, v quantity.Speed) quantity.Rate {
	rate := float64(l.Easy) + l.PerDegree*(air.Celsius()-15) + l.PerSpeed*(float64(v)-2.8)
	return quantity.Rate(max(rate, 0.15))
}

// Session is one run: what was recorded, what was told, and what was true.
type Session struct {
	Key       string
	Athlete   string
	Parts     []Part // two where the watch was stopped and started anew
	SubSport  string // "trail" or "treadmill"
	Race      bool
	Twice     bool // recorded by two devices
	AirTemp   quantity.Temperature
	Speed     quantity.Speed // mean while moving
	MeanHRBpm float64
	Relief    quantity.Distance // climb of one loop of the course
	BeforeAt  time.Time         // when the scale was stepped on, if it was
	AfterAt   time.Time
	Truth     Truth
	Note      *record.Note // nil if none was written
}

// Indoor reports whether the run was on a treadmill.
func (s Session) Indoor() bool { return s.SubSport == treadmillSubSport }

// Start is the first moment of the session, UTC.
func (s Session) Start() time.Time { return s.Parts[0].Start }

// Stop is the last moment of the session, UTC.
func (s Session) Stop() time.Time { return s.Parts[len(s.Parts)-1].Stop() }

// Elapsed runs from start to stop, pauses included.
func (s Session) Elapsed() time.Duration { return s.Stop().Sub(s.Start()) }

// Moving is the time the watch ran.
func (s Session) Moving() time.Duration {
	var sum time.Duration
	for _, p := range s.Parts {
		sum += p.Moving()
	}
	return sum
}

// Distance is the way run, in metres.
func (s Session) Distance() quantity.Distance {
	var sum quantity.Distance
	for _, p := range s.Parts {
		sum += p.Distance
	}
	return sum
}

// Part is one recording, with at most one pause.
type Part struct {
	Start    time.Time // UTC, whole seconds
	Elapsed  time.Duration
	Pause    time.Duration // how long the watch was paused
	PauseAt  time.Duration // after how long
	Distance quantity.Distance
}

// Stop is the last moment of the recording, UTC.
func (p Part) Stop() time.Time { return p.Start.Add(p.Elapsed) }

// Moving is the elapsed time without the pause.
func (p Part) Moving() time.Duration { return p.Elapsed - p.Pause }

// Truth is what really came and went between the two weigh-ins:
// After = Before + Drunk + Eaten - Urine - Sweat - NonSweat, in kilograms.
type Truth struct {
	Before   quantity.Mass // of the body alone
	After    quantity.Mass
	Drunk    quantity.Volume
	Eaten    quantity.Mass
	Urine    quantity.Volume
	Sweat    quantity.Volume // from weigh-in to weigh-in
	Rate     quantity.Rate   // sweat from start to stop, per elapsed hour
	NonSweat quantity.Mass   // breath water and gas exchange
	// KitBefore and KitAfter are on the scale as well: zero when weighed as body.
	KitBefore  quantity.Mass
	KitAfter   quantity.Mass
	ClothesOff quantity.Mass // taken off between the weigh-ins
	ClothesWet quantity.Mass // sweat still held in what was worn
}

// Scale is a scale, its faults and the other people who use it.
type Scale struct {
	Key      string
	Athletes []string
	Others   []Person
	Pounds   bool          // shows pounds
	Step     quantity.Mass // smallest difference it shows
	Bias     quantity.Mass // added to every mass
	// MissedSummerTime is set when its clock stayed on winter time.
	MissedSummerTime bool
}

// Person is somebody on the scale who is no athlete of the club.
type Person struct {
	Name string
	Mass quantity.Mass
}

// WeighIn is one reading of a scale.
type WeighIn struct {
	Scale   string
	Person  string // first name of whoever stood there
	Athlete string // key, empty for others
	Session string // key of the session it belongs to, if any
	Slot    string // "before", "after" or ""
	At      time.Time
	Wall    time.Time     // what the scale's clock showed, with UTC as a stand-in
	True    quantity.Mass // what stood on the scale
	Shown   quantity.Mass // what the scale showed
}
