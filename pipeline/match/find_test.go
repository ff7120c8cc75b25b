package match

import (
	"slices"
	"testing"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

var day = time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)

func minutes(v float64) time.Duration { return time.Duration(v * float64(time.Minute)) }

func kg(v float64) *quantity.Mass { m := quantity.Kilograms(v); return &m }

// at is a weigh-in of the hall scale, minutes after midnight of day.
func at(id string, minute, mass float64) record.WeighIn {
	return record.WeighIn{ID: id, Scale: "hall", Wall: day.Add(minutes(minute)), Zone: "UTC", Resolution: time.Minute,
		Mass: quantity.Kilograms(mass), MassStep: quantity.Grams(100), Origin: record.Origin{Path: "hall.csv"}}
}

func with(w record.WeighIn, change func(*record.WeighIn)) record.WeighIn {
	change(&w)
	return w
}

func bout(session, athlete string, start, stop float64) Bout {
	return Bout{Session: session, Athlete: athlete, Start: day.Add(minutes(start)), Stop: day.Add(minutes(stop))}
}

// run is the one session of most tests: 07:00 to 08:10 UTC.
var run = bout("s1", "ines", 420, 490)

func linked(f Fill) string {
	if f.Link == nil {
		return ""
	}
	return f.Link.WeighIn.ID
}

var (
	ines  = record.Athlete{Key: "ines"}
	known = record.Athlete{Key: "ines", Name: "Ines", UsualMass: kg(61)}
	tomas = record.Athlete{Key: "tomas", Name: "Tomas", UsualMass: kg(82)}
)

// Each rule of matching with what makes it a rule: common practice of the
// trade where it says so, else our own with its reason.
func TestFindRules(t *testing.T) {
	declared := true
	for _, tt := range []struct {
		rule          string
		in            Input
		before, after string
		asked         int
		flags         []string
	}{
		{
			rule: "common practice: the reading shortly before and the one shortly after are the pair, also of an athlete nobody knows",
			in:   Input{Athletes: []record.Athlete{ines}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("w2", 497, 60.5)}}, before: "w1", after: "w2",
		},
		{
			rule: "own: a housemate's reading makes no plausible loss with either of the athlete's",
			in:   Input{Athletes: []record.Athlete{ines}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("x1", 415, 82), at("w2", 497, 60.5)}}, before: "w1", after: "w2",
		},
		{
			rule: "own: two couples of readings and no mass known: nobody can say which is the athlete's",
			in: Input{Athletes: []record.Athlete{ines}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				at("w1", 410, 61.4), at("x1", 412, 82), at("w2", 497, 60.5), at("x2", 500, 81.3)}}, asked: 2, flags: []string{"several-candidates"},
		},
		{
			rule: "own: the same with the usual mass known: the mass gate decides",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				at("w1", 410, 61.4), at("x1", 412, 82), at("w2", 497, 60.5), at("x2", 500, 81.3)}}, before: "w1", after: "w2",
		},
		{
			rule: "own: a lone reading of an athlete whose mass is not known may be anybody's",
			in:   Input{Athletes: []record.Athlete{ines}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 410, 61.4)}}, asked: 1,
		},
		{
			rule: "own: no before earlier than 90 min, no after later than 60 min: too much is lost in the gap",
			in:   Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 420-91, 61.4), at("w2", 490+61, 60.5)}},
		},
		{
			rule: "own: two minutes of slack for a clock that shows minutes",
			in:   Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 421, 61.4), at("w2", 489, 60.5)}}, before: "w1", after: "w2",
		},
		{
			rule: "own: a reading in the middle of the session is neither",
			in:   Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 440, 61.4), at("w2", 470, 60.5)}},
		},
		{
			rule: "own: before over 45 min or after over 30 min is a long gap",
			in:   Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 420-50, 61.4), at("w2", 497, 60.5)}}, before: "w1", after: "w2", flags: []string{"long-gap"},
		},
		{
			rule: "own: a loss over 3.5 L/h is no pair (7 kg in 70 min)",
			in:   Input{Athletes: []record.Athlete{{Key: "ines", UsualMass: kg(64)}}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 410, 66), at("w2", 497, 59)}}, asked: 2,
		},
		{
			rule: "own: a gain that the drink explains is a pair (0.6 kg heavier after 1.5 L)",
			in: Input{Athletes: []record.Athlete{ines}, Bouts: []Bout{{Session: "s1", Athlete: "ines", Start: run.Start, Stop: run.Stop, Drunk: quantity.Litres(1.5)}},
				WeighIns: []record.WeighIn{at("w1", 410, 61.0), at("w2", 497, 61.6)}}, before: "w1", after: "w2",
		},
		{
			rule: "own: rows of a day's resolution are never paired",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				with(at("w1", 410, 61.4), func(w *record.WeighIn) { w.Resolution = 24 * time.Hour }), at("w2", 497, 60.5)}}, after: "w2",
		},
		{
			rule: "own: a weigh-in without any zone cannot be placed",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				with(at("w1", 410, 61.4), func(w *record.WeighIn) { w.Zone = "" }), at("w2", 497, 60.5)}}, after: "w2", flags: []string{"no-zone"},
		},
		{
			rule: "own: the person column decides, by key or name; others named there are nobody's",
			in: Input{Athletes: []record.Athlete{known, tomas}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				with(at("w1", 410, 61.4), func(w *record.WeighIn) { w.Person = "INES" }),
				with(at("x1", 415, 61.3), func(w *record.WeighIn) { w.Person = "Guest" }),
				with(at("x2", 493, 60.6), func(w *record.WeighIn) { w.Person = " tomas " }),
				with(at("w2", 497, 60.5), func(w *record.WeighIn) { w.Person = "Ines" })}}, before: "w1", after: "w2",
		},
		{
			rule: "own: a scale's users are told, others' sessions have nothing from it",
			in: Input{Athletes: []record.Athlete{known, tomas}, Scales: []record.Scale{{Key: "hall", Athletes: []string{"tomas"}}}, Bouts: []Bout{run},
				WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("w2", 497, 60.5)}},
		},
		{
			rule: "own: another of the household within 3 kg and no name on the rows: ask",
			in: Input{Athletes: []record.Athlete{known, {Key: "ana", UsualMass: kg(62.5)}}, Bouts: []Bout{run},
				WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("w2", 497, 60.5)}}, asked: 2,
		},
		{
			rule: "own: the same with names on the rows",
			in: Input{Athletes: []record.Athlete{known, {Key: "ana", UsualMass: kg(62.5)}}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				with(at("w1", 410, 61.4), func(w *record.WeighIn) { w.Person = "ines" }), with(at("w2", 497, 60.5), func(w *record.WeighIn) { w.Person = "ines" })}}, before: "w1", after: "w2",
		},
		{
			rule: "own: two readings of one mass minutes apart are one answer, whichever is taken",
			in:   Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w0", 405, 61.4), at("w1", 410, 61.4), at("w2", 497, 60.5)}}, before: "w1", after: "w2",
		},
		{
			rule: "own: two readings that differ are asked about",
			in:   Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w0", 405, 61.0), at("w1", 410, 61.5), at("w2", 497, 60.5)}}, after: "w2", asked: 1, flags: []string{"several-candidates"},
		},
		{
			rule: "own: two scales have offsets of their own",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				at("w1", 410, 61.4), with(at("w2", 497, 60.5), func(w *record.WeighIn) { w.Scale = "gym" })}}, before: "w1", after: "w2", flags: []string{"two-scales"},
		},
		{
			rule: "common practice: dressed and carrying both times; the mass lies kilograms above the athlete's own",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{{Session: "s1", Athlete: "ines", Start: run.Start, Stop: run.Stop, Weighing: record.Carrying}},
				WeighIns: []record.WeighIn{at("w1", 410, 65.9), at("w2", 497, 64.8)}}, before: "w1", after: "w2",
		},
		{
			rule: "own: a declared carrying weigh-in is no pair with a declared body weigh-in",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				with(at("w1", 410, 61.9), func(w *record.WeighIn) { w.Carrying = &declared }),
				with(at("w2", 497, 60.5), func(w *record.WeighIn) { w.Carrying = new(bool) })}}, asked: 2,
		},
		{
			rule: "own: what a person typed in for the athlete is preferred",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{
				at("w0", 412, 60.8), with(at("w1", 405, 61.5), func(w *record.WeighIn) { w.Athlete, w.Origin = "ines", record.Origin{} }), at("w2", 497, 60.5)}}, before: "w1", after: "w2",
		},
		{
			rule: "own: an answer stands, also against the rules; what makes no plausible loss with it is asked about",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w0", 300, 66), at("w1", 410, 61.4), at("w2", 497, 60.5)},
				Answers: []record.Answer{{Choice: "b", Session: "s1", Slot: "before", WeighIn: "w0"}}}, before: "w0", asked: 1, flags: []string{"long-gap"},
		},
		{
			rule: "own: neither and unknown leave the slot empty and are not asked again",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("w2", 497, 60.5)},
				Answers: []record.Answer{{Choice: "neither", Session: "s1", Slot: "before"}, {Choice: "unknown", Session: "s1", Slot: "after"}}},
		},
		{
			rule: "own: the last answer stands",
			in: Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("w2", 497, 60.5)},
				Answers: []record.Answer{{At: day.Add(2), Choice: "a", Session: "s1", Slot: "before", WeighIn: "w1"}, {At: day, Choice: "neither", Session: "s1", Slot: "before"}}}, before: "w1", after: "w2",
		},
	} {
		out := Find(tt.in)
		m := out.Matches[0]
		if linked(m.Before) != tt.before || linked(m.After) != tt.after || len(out.Questions) != tt.asked || !slices.Equal(m.Flags, tt.flags) {
			t.Errorf("%s:\n got before %q (%s; none %.3f), after %q (%s; none %.3f), %d questions, flags %q\nwant before %q, after %q, %d questions, flags %q", tt.rule,
				linked(m.Before), m.Before.Why, m.Before.None, linked(m.After), m.After.Why, m.After.None, len(out.Questions), m.Flags, tt.before, tt.after, tt.asked, tt.flags)
		}
	}
}

// The zone of a weigh-in is the first that is known, from the row outwards.
func TestFindZones(t *testing.T) {
	east := 2 * time.Hour
	local := func(change func(*record.WeighIn)) []record.WeighIn {
		var out []record.WeighIn
		for _, w := range []record.WeighIn{at("w1", 410+120, 61.4), at("w2", 497+120, 60.5)} { // two hours east of UTC
			w.Zone = ""
			out = append(out, with(w, change))
		}
		return out
	}
	none := func(*record.WeighIn) {}
	for _, tt := range []struct {
		name string
		in   Input
	}{
		{"offset in the row", Input{WeighIns: local(func(w *record.WeighIn) { w.UTCOffset, w.Zone = &east, "Asia/Tokyo" })}},
		{"declared for the file", Input{Scales: []record.Scale{{Key: "hall", Zone: "Asia/Tokyo"}}, WeighIns: local(func(w *record.WeighIn) { w.Zone = "Europe/Berlin" })}},
		{"of the scale", Input{Scales: []record.Scale{{Key: "hall", Zone: "Europe/Berlin"}}, Athletes: []record.Athlete{{Key: "ines", Zone: "Asia/Tokyo"}}, WeighIns: local(none)}},
		{"of a trip", Input{Athletes: []record.Athlete{{Key: "ines", Zone: "Asia/Tokyo", Trips: []record.Trip{{Zone: "Europe/Berlin", From: "2026-05-01", To: "2026-05-09"}}}}, WeighIns: local(none)}},
		{"of the athlete's home", Input{Athletes: []record.Athlete{{Key: "ines", Zone: "Europe/Berlin"}}, WeighIns: local(none)}},
		{"told shift of the scale", Input{Scales: []record.Scale{{Key: "hall", Zone: "Europe/London", Shift: new(-time.Hour)}}, WeighIns: local(none)}},
	} {
		tt.in.Bouts = []Bout{run}
		m := Find(tt.in).Matches[0]
		if linked(m.Before) != "w1" || linked(m.After) != "w2" {
			t.Errorf("%s: got before %q (%s), after %q (%s)", tt.name, linked(m.Before), m.Before.Why, linked(m.After), m.After.Why)
		}
	}
}

// In the hour that clocks go back a reading means two instants; the one that
// fits is taken. In the hour they skip it means none.
func TestFindAcrossTheChangeOfClocks(t *testing.T) {
	athlete := record.Athlete{Key: "ines", Zone: "Europe/Berlin", UsualMass: kg(61)}
	reading := func(id, wall string, mass float64) record.WeighIn {
		w := at(id, 0, mass)
		w.Zone = ""
		w.Wall, _ = time.Parse("2006-01-02 15:04", wall)
		return w
	}
	night := func(start time.Time) []Bout {
		return []Bout{{Session: "s1", Athlete: "ines", Start: start, Stop: start.Add(time.Hour)}}
	}
	m := Find(Input{Athletes: []record.Athlete{athlete}, Bouts: night(time.Date(2026, 10, 25, 1, 40, 0, 0, time.UTC)),
		WeighIns: []record.WeighIn{reading("w1", "2026-10-25 02:30", 61.4), reading("w2", "2026-10-25 03:47", 60.6)}}).Matches[0]
	if linked(m.Before) != "w1" || linked(m.After) != "w2" || !m.Before.Link.At.Equal(time.Date(2026, 10, 25, 1, 30, 0, 0, time.UTC)) {
		t.Errorf("overlap: got %+v, %+v", m.Before, m.After)
	}
	m = Find(Input{Athletes: []record.Athlete{athlete}, Bouts: night(time.Date(2026, 3, 29, 1, 40, 0, 0, time.UTC)),
		WeighIns: []record.WeighIn{reading("w1", "2026-03-29 02:30", 61.4), reading("w2", "2026-03-29 04:47", 60.6)}}).Matches[0]
	if linked(m.Before) != "" || linked(m.After) != "w2" {
		t.Errorf("gap: got %+v, %+v", m.Before, m.After)
	}
}

// A reading between two sessions of a day never serves both unasked; two
// readings there are told apart by their order.
func TestFindTwoSessionsADay(t *testing.T) {
	second := bout("s2", "ines", 540, 600)
	in := Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run, second},
		WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("w2", 495, 60.5), at("w4", 606, 59.9)}}
	out := Find(in)
	first, next := out.Matches[0], out.Matches[1]
	if linked(first.After) == "w2" && linked(next.Before) == "w2" || len(out.Questions) == 0 {
		t.Fatalf("one reading between: got after %q, before %q, %d questions", linked(first.After), linked(next.Before), len(out.Questions))
	}
	in.Answers = []record.Answer{{Session: "s1", Slot: "after", WeighIn: "w2", Choice: "a"}, {Session: "s2", Slot: "before", WeighIn: "w2", Choice: "a"}}
	out = Find(in)
	if linked(out.Matches[0].After) != "w2" || linked(out.Matches[1].Before) != "w2" || len(out.Questions) != 0 {
		t.Errorf("told that it serves both: got %+v", out)
	}
	in.Answers = nil
	in.WeighIns = append(in.WeighIns, at("w3", 532, 61.0))
	out = Find(in)
	if linked(out.Matches[0].After) != "w2" || linked(out.Matches[1].Before) != "w3" || len(out.Questions) != 0 {
		t.Errorf("two readings between: got after %+v, before %+v", out.Matches[0].After, out.Matches[1].Before)
	}
}

// The question names both candidates, oldest first, and keeps its id whatever
// else is known.
func TestFindAsks(t *testing.T) {
	in := Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run}, WeighIns: []record.WeighIn{at("w0", 405, 61.0), at("w1", 410, 61.5), at("w2", 497, 60.5)}}
	q := Find(in).Questions[0]
	if len(q.ID) != 9 || q.ID[0] != 'q' || q.Athlete != "ines" || q.Session != "s1" || q.Slot != Before || len(q.Choices) != 2 {
		t.Fatalf("got %+v", q)
	}
	if q.Choices[0].ID != "a" || q.Choices[0].WeighIn.ID != "w0" || q.Choices[1].ID != "b" || q.Choices[1].WeighIn.ID != "w1" {
		t.Errorf("got choices %+v", q.Choices)
	}
	in.WeighIns = append(in.WeighIns, at("w9", 900, 61.2))
	if again := Find(in).Questions[0]; again.ID != q.ID {
		t.Errorf("got %s, was %s", again.ID, q.ID)
	}
}

// What a person chose stands however absurd, and breaks nothing else.
func TestFindTakesAnyAnswer(t *testing.T) {
	in := Input{Athletes: []record.Athlete{known}, Bouts: []Bout{run, bout("s2", "ines", 2000, 2060)},
		WeighIns: []record.WeighIn{at("w0", 100, 300), at("w1", 410, 61.4), at("w2", 497, 60.5)}}
	for _, ids := range [][2]string{{"w0", "w0"}, {"w2", "w1"}, {"w0", "w2"}} {
		in.Answers = []record.Answer{{Session: "s1", Slot: "before", WeighIn: ids[0], Choice: "a"}, {Session: "s1", Slot: "after", WeighIn: ids[1], Choice: "a"}}
		m := Find(in).Matches[0]
		if linked(m.Before) != ids[0] || linked(m.After) != ids[1] || m.Before.Link.Posterior != 1 || m.After.None != 0 {
			t.Errorf("%v: got %+v", ids, m)
		}
	}
	in.Answers = []record.Answer{{Session: "s1", Slot: "before", WeighIn: "gone", Choice: "a"}}
	if m := Find(in).Matches[0]; linked(m.Before) != "w1" {
		t.Errorf("a weigh-in that is gone: got %+v", m)
	}
}
