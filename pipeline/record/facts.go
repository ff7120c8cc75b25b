package record

// Facts is everything the store holds about a set of athletes and the scales
// they use. Retracted facts are left out; corrections are not yet applied.
type Facts struct {
	Athletes    []Athlete
	Scales      []Scale
	Activities  []Activity // without samples
	WeighIns    []WeighIn
	Backgrounds []Background
	Notes       []Note // oldest first
	Screens     []Screen
	SodiumTests []SodiumTest
	Consents    []Consent // oldest first
	Weather     []Weather
	Answers     []Answer     // oldest first
	Corrections []Correction // oldest first
	Keys        []SessionKey
}

// SessionKey is the key a session was given when it was first derived. It
// stays: after a join, a split or a change of zone the old key is an alias.
type SessionKey struct {
	Key string `json:"key"`
	// Activity is the ID of the activity whose session the key names.
	Activity string `json:"activity"`
}
