package match

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// season is an athlete in Berlin who weighs in 9 min before and 6 min after a
// run every other day, at hours that change, by a clock that runs late by
// what late says. Some mornings a housemate of 80 kg weighs in too.
func season(first time.Time, sessions int, late func(time.Time) time.Duration) Input {
	loc, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		panic(err)
	}
	in := Input{Athletes: []record.Athlete{{Key: "ines", Zone: "Europe/Berlin", UsualMass: kg(61)}}, Scales: []record.Scale{{Key: "hall"}}}
	weigh := func(at time.Time, mass float64) {
		wall := at.Add(-late(at)).In(loc)
		in.WeighIns = append(in.WeighIns, record.WeighIn{
			ID: fmt.Sprintf("w%04d", len(in.WeighIns)), Scale: "hall", Resolution: time.Minute,
			Wall: time.Date(wall.Year(), wall.Month(), wall.Day(), wall.Hour(), wall.Minute(), 0, 0, time.UTC),
			Mass: quantity.Kilograms(mass), MassStep: quantity.Grams(100), Origin: record.Origin{Path: "hall.csv"},
		})
	}
	for i := range sessions {
		start := first.AddDate(0, 0, 2*i).Add(time.Duration(i*7%12) * 47 * time.Minute)
		length := minutes(float64(45 + i*13%60))
		before := 61 + 0.1*float64(i%7)
		in.Bouts = append(in.Bouts, Bout{Session: fmt.Sprintf("s%03d", i), Athlete: "ines", Start: start, Stop: start.Add(length)})
		weigh(start.Add(minutes(-9)), before)
		weigh(start.Add(length+minutes(6)), before-0.8*length.Hours())
		if i%3 == 0 {
			weigh(start.Add(24*time.Hour), 80+0.1*float64(i%5))
		}
	}
	return in
}

func pairs(out Output) (n int) {
	for _, m := range out.Matches {
		if m.Before.Link != nil && m.After.Link != nil {
			n++
		}
	}
	return n
}

var (
	spring  = time.Date(2026, 5, 4, 5, 0, 0, 0, time.UTC)
	onTime  = func(time.Time) time.Duration { return 0 }
	hours1  = func(time.Time) time.Duration { return time.Hour }
	hours11 = func(time.Time) time.Duration { return -11 * time.Hour }
)

func TestFindLeavesAGoodClock(t *testing.T) {
	out := Find(season(spring, 20, onTime))
	if pairs(out) != 20 || len(out.Scales) != 0 || len(out.Questions) != 0 {
		t.Errorf("got %d pairs, notes %+v, questions %+v", pairs(out), out.Scales, out.Questions)
	}
}

// Own rule: with eight pairs more than without a shift, and a posterior of
// 0.99, the clock is put right and announced; one answer takes it back.
func TestFindCorrectsAClockAndTakesItBack(t *testing.T) {
	for _, tt := range []struct {
		late func(time.Time) time.Duration
		want time.Duration
	}{{hours1, time.Hour}, {hours11, -11 * time.Hour}} {
		in := season(spring, 20, tt.late)
		out := Find(in)
		if pairs(out) != 20 || len(out.Scales) != 1 || len(out.Questions) != 0 {
			t.Fatalf("got %d pairs, notes %+v, questions %+v", pairs(out), out.Scales, out.Questions)
		}
		n := out.Scales[0]
		if n.Shift != tt.want || n.Posterior < 0.99 || n.Posterior > 1 || len(n.Examples) != 3 || !n.From.IsZero() {
			t.Errorf("got note %+v", n)
		}
		if e := n.Examples[0]; !e.At.Equal(out.Matches[0].Before.Link.At) {
			t.Errorf("got example %+v, link %+v", e, out.Matches[0].Before.Link)
		}
		in.Answers = []record.Answer{{Question: n.Question, Choice: "neither"}}
		if back := Find(in); pairs(back) != 0 || len(back.Scales) != 0 || hasScale(back.Questions) {
			t.Errorf("taken back: got %d pairs, notes %+v, questions %+v", pairs(back), back.Scales, back.Questions)
		}
	}
}

func hasScale(list []Question) bool {
	for _, q := range list {
		if q.Scale != "" {
			return true
		}
	}
	return false
}

// Own rule: with four to seven pairs the clock is asked about, once.
func TestFindAsksAboutAClock(t *testing.T) {
	in := season(spring, 6, hours1)
	out := Find(in)
	if pairs(out) != 0 || len(out.Scales) != 0 || !hasScale(out.Questions) {
		t.Fatalf("got %d pairs, notes %+v, questions %+v", pairs(out), out.Scales, out.Questions)
	}
	q := out.Questions[0]
	if q.Scale != "hall" || q.Slot != "" || len(q.Choices) != 3 || q.Choices[2].ID != "a" || !strings.Contains(q.Text, "+1 h") {
		t.Errorf("got %+v", q)
	}
	in.Answers = []record.Answer{{Question: q.ID, Choice: "a"}}
	if yes := Find(in); pairs(yes) != 6 || len(yes.Scales) != 1 || hasScale(yes.Questions) {
		t.Errorf("answered: got %d pairs, notes %+v, questions %+v", pairs(yes), yes.Scales, yes.Questions)
	}
	in.Answers[0].Choice = "neither"
	if no := Find(in); pairs(no) != 0 || len(no.Scales) != 0 || hasScale(no.Questions) {
		t.Errorf("answered neither: got %d pairs, notes %+v, questions %+v", pairs(no), no.Scales, no.Questions)
	}
}

func TestFindDoesNotAskOnThreePairs(t *testing.T) {
	if out := Find(season(spring, 3, hours1)); hasScale(out.Questions) || len(out.Scales) != 0 {
		t.Errorf("got notes %+v, questions %+v", out.Scales, out.Questions)
	}
}

// A clock that nobody puts forward is an hour late in summer time only.
// Europe/Berlin leaves summer time on 2026-10-25 at 01:00 UTC.
func TestFindCorrectsSummerTimeAlone(t *testing.T) {
	change := time.Date(2026, 10, 25, 1, 0, 0, 0, time.UTC)
	late := func(at time.Time) time.Duration {
		if at.Before(change) {
			return time.Hour
		}
		return 0
	}
	out := Find(season(time.Date(2026, 9, 20, 7, 0, 0, 0, time.UTC), 36, late))
	if pairs(out) != 36 || len(out.Scales) != 1 {
		t.Fatalf("got %d pairs, notes %+v", pairs(out), out.Scales)
	}
	if n := out.Scales[0]; n.Shift != time.Hour || n.To.Sub(change).Abs() > time.Hour {
		t.Errorf("got note %+v", n)
	}
}

// What a person typed in has the time of a person's own clock, and a shift
// that was told is not looked into again.
func TestFindShiftsOnlyTheScale(t *testing.T) {
	in := season(spring, 20, hours1)
	last := &in.WeighIns[len(in.WeighIns)-1]
	for last.Mass > 70 { // the housemate's
		in.WeighIns = in.WeighIns[:len(in.WeighIns)-1]
		last = &in.WeighIns[len(in.WeighIns)-1]
	}
	last.Wall, last.Athlete, last.Origin = last.Wall.Add(time.Hour), "ines", record.Origin{}
	if out := Find(in); pairs(out) != 20 || len(out.Scales) != 1 {
		t.Errorf("got %d pairs, notes %+v", pairs(out), out.Scales)
	}
	in.Scales[0].Shift = new(time.Hour)
	if out := Find(in); pairs(out) != 20 || len(out.Scales) != 0 || len(out.Questions) != 0 {
		t.Errorf("told: got %d pairs, notes %+v, questions %+v", pairs(out), out.Scales, out.Questions)
	}
}
