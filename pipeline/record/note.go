package record

import (
	"time"

	"saltpan/pipeline/quantity"
)

// Note is what a person adds about a session: everything drunk, eaten or left
// in the toilet between the two weigh-ins, and what else bears on the balance.
// A nil field was not said; an explicit nothing is zero. A later note replaces
// the fields it names and leaves the others.
type Note struct {
	Session string    `json:"session"`
	At      time.Time `json:"at"` // when it was told

	Drunk *quantity.Volume `json:"drunk_l,omitempty"`
	Eaten *quantity.Mass   `json:"eaten_kg,omitempty"`
	Urine *quantity.Volume `json:"urine_l,omitempty"`
	// Toilet is "none", "yes" (amount unknown) or "" (not said).
	Toilet string         `json:"toilet,omitempty"`
	Stool  *quantity.Mass `json:"stool_kg,omitempty"`
	// Poured is fluid poured over the body or spilled: drunk by nobody. It has
	// to be told apart from what was drunk.
	Poured *quantity.Volume `json:"poured_l,omitempty"`
	// ClothesOff is the mass of clothes taken off after the first weigh-in.
	ClothesOff *quantity.Mass `json:"clothes_off_kg,omitempty"`
	// ClothesWet is sweat held in clothes still worn at the second weigh-in.
	ClothesWet *quantity.Mass `json:"clothes_wet_kg,omitempty"`
	// PickedUp and LeftBehind are for weighing while carrying.
	PickedUp   *quantity.Mass `json:"picked_up_kg,omitempty"`
	LeftBehind *quantity.Mass `json:"left_behind_kg,omitempty"`
	Towelled   *bool          `json:"towelled,omitempty"`

	Race     *bool                 `json:"race,omitempty"`
	Indoor   *bool                 `json:"indoor,omitempty"`
	Room     *quantity.Temperature `json:"room_temp_c,omitempty"`
	Fan      *bool                 `json:"fan,omitempty"`
	AirTemp  *quantity.Temperature `json:"air_temp_c,omitempty"`
	Humidity *float64              `json:"humidity_pct,omitempty"`
	Weighing Weighing              `json:"weighing,omitempty"`
	Gut      *int                  `json:"gut_0_10,omitempty"`
	Thirst   *int                  `json:"thirst_0_10,omitempty"`
	Felt     string                `json:"felt,omitempty"`
	Origin   Origin                `json:"origin"`
}

// Over is n with the fields that later names put in place.
func (n Note) Over(later Note) Note {
	out := n
	out.Session, out.At, out.Origin = later.Session, later.At, later.Origin
	take(&out.Drunk, later.Drunk)
	take(&out.Eaten, later.Eaten)
	take(&out.Urine, later.Urine)
	takeText(&out.Toilet, later.Toilet)
	take(&out.Stool, later.Stool)
	take(&out.Poured, later.Poured)
	take(&out.ClothesOff, later.ClothesOff)
	take(&out.ClothesWet, later.ClothesWet)
	take(&out.PickedUp, later.PickedUp)
	take(&out.LeftBehind, later.LeftBehind)
	take(&out.Towelled, later.Towelled)
	take(&out.Race, later.Race)
	take(&out.Indoor, later.Indoor)
	take(&out.Room, later.Room)
	take(&out.Fan, later.Fan)
	take(&out.AirTemp, later.AirTemp)
	take(&out.Humidity, later.Humidity)
	takeText(&out.Weighing, later.Weighing)
	take(&out.Gut, later.Gut)
	take(&out.Thirst, later.Thirst)
	takeText(&out.Felt, later.Felt)
	out.settleToilet(later)
	return out
}

// settleToilet keeps word and amounts from contradicting each other: the later
// of them holds.
func (n *Note) settleToilet(later Note) {
	amount := later.Urine != nil && *later.Urine > 0 || later.Stool != nil && *later.Stool > 0
	switch {
	case later.Toilet == "none":
		n.Urine, n.Stool = later.Urine, later.Stool
	case amount && n.Toilet == "none":
		n.Toilet = "yes"
	}
}

func take[T any](to **T, from *T) {
	if from != nil {
		*to = from
	}
}

func takeText[T ~string](to *T, from T) {
	if from != "" {
		*to = from
	}
}
