package match

import (
	"reflect"
	"sort"
	"testing"
	"time"

	"pgregory.net/rapid"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// drawn is a household: two athletes, a few days of sessions and readings near and
// far from them.
func drawn(t *rapid.T) Input {
	in := Input{
		Athletes: []record.Athlete{{Key: "ines", Zone: "Europe/Berlin", UsualMass: kg(61)}, {Key: "tomas", Zone: "Europe/Berlin"}},
		Scales:   []record.Scale{{Key: "hall"}, {Key: "gym"}},
	}
	for i := range rapid.IntRange(1, 8).Draw(t, "sessions") {
		start := float64(rapid.IntRange(0, 4*24*60).Draw(t, "start"))
		length := float64(rapid.IntRange(20, 150).Draw(t, "length"))
		athlete := rapid.SampledFrom([]string{"ines", "tomas"}).Draw(t, "athlete")
		in.Bouts = append(in.Bouts, bout("s"+letter(i), athlete, start, start+length))
		for _, edge := range []float64{start - 120, start + length + 120} {
			near := float64(rapid.IntRange(-30, 100).Draw(t, "gap"))
			if edge > start {
				near = -near
			}
			in.WeighIns = append(in.WeighIns, drawnWeighIn(t, len(in.WeighIns), edge+near+120))
		}
	}
	for range rapid.IntRange(0, 6).Draw(t, "others") {
		in.WeighIns = append(in.WeighIns, drawnWeighIn(t, len(in.WeighIns), float64(rapid.IntRange(0, 4*24*60).Draw(t, "at"))))
	}
	if rapid.Bool().Draw(t, "answered") {
		in.Answers = append(in.Answers, record.Answer{Session: in.Bouts[0].Session, Slot: "before", WeighIn: in.WeighIns[0].ID, Choice: "a"})
	}
	return in
}

func drawnWeighIn(t *rapid.T, n int, minute float64) record.WeighIn {
	w := at("w"+letter(n), minute, 0)
	w.Zone = ""
	w.Scale = rapid.SampledFrom([]string{"hall", "hall", "gym"}).Draw(t, "scale")
	w.Mass = quantity.Kilograms(float64(rapid.IntRange(590, 640).Draw(t, "mass")) / 10)
	if rapid.Bool().Draw(t, "heavy") {
		w.Mass += 15
	}
	return w
}

// The order of files and what was read twice change nothing.
func TestFindWhateverTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn(t)
		want := Find(in)
		mixed := in
		mixed.Bouts = rapid.Permutation(in.Bouts).Draw(t, "bouts")
		mixed.WeighIns = rapid.Permutation(append(in.WeighIns[:len(in.WeighIns):len(in.WeighIns)], in.WeighIns...)).Draw(t, "weigh-ins")
		mixed.Athletes = rapid.Permutation(in.Athletes).Draw(t, "athletes")
		mixed.Scales = rapid.Permutation(in.Scales).Draw(t, "scales")
		got := Find(mixed)
		bySession(got.Matches)
		bySession(want.Matches)
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("got %+v\nwant %+v", got, want)
		}
	})
}

func bySession(m []Match) {
	sort.Slice(m, func(i, j int) bool { return m[i].Session < m[j].Session })
}

// A reading fills one slot, lies in its window and before what comes after;
// probabilities are probabilities; what is asked is not linked.
func TestFindInvariants(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn(t)
		in.Answers = nil
		out := Find(in)
		used := map[string]bool{}
		for i, m := range out.Matches {
			if m.Session != in.Bouts[i].Session {
				t.Fatalf("match %d is of %q, want %q", i, m.Session, in.Bouts[i].Session)
			}
			checkFill(t, m.Before, in.Bouts[i].Start.Add(-maxBefore), in.Bouts[i].Start.Add(clockSlack), used)
			checkFill(t, m.After, in.Bouts[i].Stop.Add(-clockSlack), in.Bouts[i].Stop.Add(maxAfter), used)
		}
		asked := 0
		for _, m := range out.Matches {
			for _, f := range []Fill{m.Before, m.After} {
				if f.Asked != "" {
					asked++
				}
			}
		}
		for _, q := range out.Questions {
			if q.Scale != "" {
				asked++
			}
		}
		if asked != len(out.Questions) {
			t.Fatalf("%d slots are asked about in %d questions", asked, len(out.Questions))
		}
	})
}

func checkFill(t *rapid.T, f Fill, from, to time.Time, used map[string]bool) {
	if f.None < 0 || f.None > 1+1e-9 || f.Why == "" || f.Link != nil && f.Asked != "" {
		t.Fatalf("got %+v", f)
	}
	if f.Link == nil {
		return
	}
	if used[f.Link.WeighIn.ID] {
		t.Fatalf("%q fills two slots", f.Link.WeighIn.ID)
	}
	used[f.Link.WeighIn.ID] = true
	if f.Link.At.Before(from) || f.Link.At.After(to) || f.Link.Posterior < 0 || f.Link.Posterior > 1+1e-9 {
		t.Fatalf("got %+v, want it from %s to %s", f.Link, from, to)
	}
}

// The marginals of a slot, none included, sum to one.
func TestEnumerateSumsToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := newHousehold(drawn(t)).gather(shifts{})
		judge(all)
		for _, c := range all {
			for _, list := range [][]float64{append(c.post.before, c.post.noBefore), append(c.post.after, c.post.noAfter)} {
				sum := 0.0
				for _, p := range list {
					sum += p
				}
				if sum < 1-1e-9 || sum > 1+1e-9 {
					t.Fatalf("%s: %v sums to %v", c.bout.Session, list, sum)
				}
			}
		}
	})
}
