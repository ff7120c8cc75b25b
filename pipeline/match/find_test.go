package match

import (
	"testing"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

var day = time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)

func kg(v float64) *quantity.Mass { m := quantity.Kilograms(v); return &m }

// at is a weigh-in of the hall scale, minutes after midnight UTC on day.
func at(id string, minutes float64, mass float64) record.WeighIn {
	return record.WeighIn{ID: id, Scale: "hall", Wall: day.Add(time.Duration(minutes * float64(time.Minute))), Zone: "UTC",
		Resolution: time.Minute, Mass: quantity.Kilograms(mass), MassStep: quantity.Grams(100), Origin: record.Origin{Path: "hall.csv"}}
}

func bout(session, athlete string, start, stop float64) Bout {
	return Bout{Session: session, Athlete: athlete, Start: day.Add(time.Duration(start * float64(time.Minute))), Stop: day.Add(time.Duration(stop * float64(time.Minute)))}
}

func linked(f Fill) string {
	if f.Link == nil {
		return ""
	}
	return f.Link.WeighIn.ID
}

// One run and two readings of an athlete nobody knows anything about.
func TestFindLinksTheFirstSession(t *testing.T) {
	out := Find(Input{
		Athletes: []record.Athlete{{Key: "ines"}},
		Bouts:    []Bout{bout("s1", "ines", 420, 490)},
		WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("w2", 497, 60.5)},
	})
	m := out.Matches[0]
	if linked(m.Before) != "w1" || linked(m.After) != "w2" || len(out.Questions) != 0 {
		t.Errorf("got before %q (%+v), after %q (%+v), %d questions", linked(m.Before), m.Before, linked(m.After), m.After, len(out.Questions))
	}
}

func TestFindLeavesAHousemate(t *testing.T) {
	out := Find(Input{
		Athletes: []record.Athlete{{Key: "ines"}},
		Bouts:    []Bout{bout("s1", "ines", 420, 490)},
		WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("x1", 415, 82.0), at("w2", 497, 60.5)},
	})
	m := out.Matches[0]
	if linked(m.Before) != "w1" || linked(m.After) != "w2" {
		t.Errorf("got before %q (%+v), after %q (%+v)", linked(m.Before), m.Before, linked(m.After), m.After)
	}
}
