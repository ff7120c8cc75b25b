package pipeline

import (
	"time"

	"saltpan/pipeline/balance"
	"saltpan/pipeline/effort"
	"saltpan/pipeline/flags"
	"saltpan/pipeline/heat"
	"saltpan/pipeline/match"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/sodium"
)

// Status is what a session still needs; the first that applies.
type Status string

// The five statuses, in the order in which they apply.
const (
	Unusable     Status = "unusable"
	NeedsAnswer  Status = "needs-answer"
	NeedsWeighIn Status = "needs-weigh-in"
	NeedsNote    Status = "needs-note"
	Complete     Status = "complete"
)

// Session is everything derived about one session. It can be thrown away and
// is rebuilt to the same bytes.
type Session struct {
	Key     string         `json:"key"`
	Aliases []string       `json:"aliases,omitempty"`
	Athlete string         `json:"athlete"`
	Sport   string         `json:"sport"`
	Start   time.Time      `json:"start"`
	Zone    string         `json:"zone"`
	Elapsed time.Duration  `json:"elapsed"`
	Moving  *time.Duration `json:"moving,omitempty"`
	// Gaps are the stops between parts of a session that was stopped and restarted.
	Parts     []Part                `json:"parts"`
	Distance  *quantity.Distance    `json:"distance_m,omitempty"`
	Ascent    *quantity.Distance    `json:"ascent_m,omitempty"`
	MeanHRBpm *float64              `json:"mean_hr_bpm,omitempty"`
	WatchTemp *quantity.Temperature `json:"watch_temp_c,omitempty"`
	Indoor    bool                  `json:"indoor,omitempty"`
	// Air is nil when nothing says it; AirWhy says how it was found or why not.
	Air    *heat.Air      `json:"air,omitempty"`
	AirWhy string         `json:"air_why,omitempty"`
	Effort *effort.Result `json:"effort,omitempty"`
	// Heat is what the air meant for this effort, as far as both are known.
	Heat     *heat.Result    `json:"heat,omitempty"`
	Weighing record.Weighing `json:"weighing"`
	Before   *WeighIn        `json:"before,omitempty"`
	After    *WeighIn        `json:"after,omitempty"`
	Note     *record.Note    `json:"note,omitempty"`
	// Balance is nil until both weigh-ins are there.
	Balance *balance.Result `json:"balance,omitempty"`
	Sodium  sodium.Result   `json:"sodium"`
	// SodiumLoss is nil until there is a loss; with Balance.AtLeast only Lo stands.
	SodiumLoss *measure.Estimate[quantity.SodiumMass] `json:"sodium_loss_mg,omitempty"`
	Status     Status                                 `json:"status"`
	Flags      []flags.Flag                           `json:"flags"`
	// BeforeWhy and AfterWhy say how each weigh-in was found or why there is none.
	BeforeWhy string `json:"before_why,omitempty"`
	AfterWhy  string `json:"after_why,omitempty"`
}

// Part is one piece of a session with the files that tell it, fullest first.
type Part struct {
	Activity string          `json:"activity"`
	Start    time.Time       `json:"start"`
	Elapsed  time.Duration   `json:"elapsed"`
	Files    []record.Origin `json:"files"`
}

// WeighIn is a weigh-in that was given to a session.
type WeighIn struct {
	ID        string          `json:"id"`
	At        time.Time       `json:"at"`
	Mass      quantity.Mass   `json:"mass_kg"`
	Step      quantity.Mass   `json:"step_kg"`
	Scale     string          `json:"scale"`
	From      record.Origin   `json:"from"`
	Also      []record.Origin `json:"also,omitempty"`
	Posterior float64         `json:"posterior"`
}

// Household is everything derived about the athletes who share scales.
type Household struct {
	Sessions  []Session
	Questions []match.Question
	Scales    []match.ScaleNote
	// Keys are the session keys given for the first time; they are to be kept.
	Keys []record.SessionKey
}
