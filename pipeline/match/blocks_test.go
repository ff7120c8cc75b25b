package match

import (
	"fmt"
	"math"
	"testing"
	"time"

	"saltpan/pipeline/record"
)

// Belief propagation is exact without cycles (Yedidia, Freeman and Weiss
// 2003): here three bouts in a row compete for two readings between them.
func TestPropagateAgreesWithEnumeration(t *testing.T) {
	all := newHousehold(Input{
		Athletes: []record.Athlete{known},
		Bouts:    []Bout{run, bout("s2", "ines", 530, 580), bout("s3", "ines", 640, 700)},
		WeighIns: []record.WeighIn{at("w1", 410, 61.4), at("w2", 505, 60.5), at("w3", 610, 60.4), at("w4", 707, 59.8)},
	}).gather(shifts{})
	if n := len(blocks(all)); n != 1 {
		t.Fatalf("got %d blocks, want 1", n)
	}
	choices := make([][]option, len(all))
	for i, c := range all {
		choices[i] = scaled(c.options())
	}
	exact, close := enumerate(all, choices), propagate(all, choices)
	for i := range exact {
		for _, p := range [][2]float64{{exact[i].noBefore, close[i].noBefore}, {exact[i].noAfter, close[i].noAfter}} {
			if math.Abs(p[0]-p[1]) > 1e-6 {
				t.Errorf("bout %d: got %v, enumerated %v", i, p[1], p[0])
			}
		}
	}
}

// Forty people of one mass weigh in one by one on one scale before and after
// the same run: far too many to enumerate. It has to end, give no reading to
// two of them, and not tell apart what nothing tells apart.
func TestFindAWholeClub(t *testing.T) {
	in := Input{Scales: []record.Scale{{Key: "hall"}}}
	for i := range 40 {
		key := fmt.Sprintf("r%02d", i)
		in.Athletes = append(in.Athletes, record.Athlete{Key: key, UsualMass: kg(61)})
		in.Bouts = append(in.Bouts, bout("s"+key, key, 420, 490))
		in.WeighIns = append(in.WeighIns, at("b"+key, 390+float64(i)/2, 61), at("a"+key, 492+float64(i)/2, 60.2))
	}
	began := time.Now()
	out := Find(in)
	used := map[string]bool{}
	for _, m := range out.Matches {
		for _, f := range []Fill{m.Before, m.After} {
			if used[linked(f)] {
				t.Errorf("%q is given twice", linked(f))
			}
			used[linked(f)] = linked(f) != ""
		}
	}
	if len(out.Questions) != 80 {
		t.Errorf("got %d questions, want one for every slot", len(out.Questions))
	}
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("took %s", took)
	}
}

// Eight people of masses 6 kg apart share a scale around the same run: each
// gets their own readings.
func TestFindAClubOfDifferentMasses(t *testing.T) {
	in := Input{Scales: []record.Scale{{Key: "hall"}}}
	for i := range 8 {
		key, mass := fmt.Sprintf("r%02d", i), 50+6*float64(i)
		in.Athletes = append(in.Athletes, record.Athlete{Key: key, UsualMass: kg(mass)})
		in.Bouts = append(in.Bouts, bout("s"+key, key, 420, 490))
		in.WeighIns = append(in.WeighIns, at("b"+key, 405+float64(i), mass+0.3), at("a"+key, 492+float64(i), mass-0.5))
	}
	out := Find(in)
	for i, m := range out.Matches {
		key := in.Bouts[i].Athlete
		if before := linked(m.Before); before != "" && before != "b"+key {
			t.Errorf("%s: got before %q", key, before)
		}
		if after := linked(m.After); after != "" && after != "a"+key {
			t.Errorf("%s: got after %q", key, after)
		}
	}
	if n := pairs(out); n < 8 {
		t.Errorf("got %d of 8 pairs: %+v", n, out.Questions)
	}
}
