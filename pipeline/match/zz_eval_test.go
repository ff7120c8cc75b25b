package match

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

type world struct {
	in    Input
	truth map[slotKey]string
}

func makeWorld(seed uint64, days int, mates int, near bool, p float64, shiftH int, usual bool) world {
	r := rand.New(rand.NewPCG(seed, 7))
	loc, _ := time.LoadLocation("Europe/Berlin")
	w := world{truth: map[slotKey]string{}}
	ath := record.Athlete{Key: "a", Zone: "Europe/Berlin"}
	m0 := 50 + 30*r.Float64()
	if usual {
		ath.UsualMass = kg(m0 + r.NormFloat64())
	}
	w.in.Athletes = []record.Athlete{ath}
	w.in.Scales = []record.Scale{{Key: "hall"}}
	n := 0
	add := func(at time.Time, mass float64) string {
		n++
		id := fmt.Sprintf("w%05d", n)
		l := at.Add(time.Duration(shiftH) * -time.Hour).In(loc)
		wall := time.Date(l.Year(), l.Month(), l.Day(), l.Hour(), l.Minute(), 0, 0, time.UTC)
		w.in.WeighIns = append(w.in.WeighIns, record.WeighIn{ID: id, Scale: "hall", Wall: wall, Resolution: time.Minute,
			Mass: quantity.Kilograms(math.Round(mass*10) / 10), MassStep: quantity.Grams(100), Origin: record.Origin{Path: "x.csv"}})
		return id
	}
	track := m0
	mateM := []float64{}
	for i := 0; i < mates; i++ {
		if near && i == 0 {
			mateM = append(mateM, m0+6*(r.Float64()-.5))
		} else {
			mateM = append(mateM, 50+50*r.Float64())
		}
	}
	for d := 0; d < days; d++ {
		track += 0.1 * r.NormFloat64()
		base := time.Date(2026, 3, 1+d, 0, 0, 0, 0, loc)
		for _, m := range mateM {
			if r.Float64() < 0.6 {
				h := 7 + 1*r.NormFloat64()
				if r.Float64() < .4 {
					h = 6 + 16*r.Float64()
				}
				add(base.Add(time.Duration(h*3600)*time.Second), m+.7*r.NormFloat64())
			}
		}
		if r.Float64() < 0.25 {
			add(base.Add(time.Duration((6.7+.5*r.NormFloat64())*3600)*time.Second), track+.5*r.NormFloat64())
		}
		ns := 0
		if r.Float64() < .6 {
			ns = 1
			if r.Float64() < .15 {
				ns = 2
			}
		}
		h := 7.5 + r.NormFloat64()*.7
		if ns == 1 && r.Float64() < .5 {
			h = 17.5 + r.NormFloat64()
		}
		for s := 0; s < ns; s++ {
			dur := 0.5 + r.ExpFloat64()*.5
			start := base.Add(time.Duration(h*3600) * time.Second)
			stop := start.Add(time.Duration(dur*3600) * time.Second)
			key := fmt.Sprintf("s%d-%d", d, s)
			w.in.Bouts = append(w.in.Bouts, Bout{Session: key, Athlete: "a", Start: start, Stop: stop})
			bm := track + .5*r.NormFloat64()
			if r.Float64() < .1 {
				h += 6 + 3*r.Float64()
				continue // away
			}
			if r.Float64() < p {
				w.truth[slotKey{key, Before}] = add(start.Add(-time.Duration(r.ExpFloat64()*15*60)*time.Second), bm)
			}
			if r.Float64() < p {
				w.truth[slotKey{key, After}] = add(stop.Add(time.Duration((2+r.ExpFloat64()*10)*60)*time.Second), bm-dur*(.75+.3*r.NormFloat64())+.15*r.NormFloat64())
			}
			h += 3 + 6*r.Float64()
		}
	}
	return w
}

func TestEvalScratch(t *testing.T) {
	for _, c := range []struct {
		name  string
		mates int
		near  bool
		p     float64
		shift int
		usual bool
	}{{"alone", 0, false, .85, 0, true}, {"mates", 2, false, .85, 0, true}, {"mates-nousual", 2, false, .85, 0, false}, {"near", 1, true, .85, 0, true}, {"sparse", 2, false, .5, 0, true}, {"shift1", 1, false, .85, 1, true}, {"shift-2-nousual", 2, false, .85, -2, false}, {"shift 7 sparse", 1, true, .5, 7, true}} {
		links, right, slots, asks, truth, wrongNone := 0, 0, 0, 0, 0, 0
		var dec [10][3]float64
		start := time.Now()
		shown := 0
		scaleQ, notes := 0, 0
		for seed := uint64(0); seed < 60; seed++ {
			w := makeWorld(seed, 120, c.mates, c.near, c.p, c.shift, c.usual)
			out := Find(w.in)
			notes += len(out.Scales)
			for _, q := range out.Questions {
				if q.Scale != "" {
					scaleQ++
				}
			}
			for _, m := range out.Matches {
				for _, f := range []Fill{m.Before, m.After} {
					slots++
					want := w.truth[slotKey{m.Session, f.Slot}]
					if want != "" {
						truth++
					}
					if f.Asked != "" {
						asks++
					}
					if f.Link != nil {
						links++
						ok := f.Link.WeighIn.ID == want
						if ok {
							right++
						} else if shown < 40 && c.name == "near" {
							shown++
							t.Logf("wrong %s %s gap %.0f min, p %.3f dur %s got %s want %q: %s", m.Session, f.Slot, gapOf(w, m.Session, f), f.Link.Posterior, durOf(w, m.Session), f.Link.WeighIn.ID, want, f.Why)
						}
						d := int(f.Link.Posterior * 10)
						if d > 9 {
							d = 9
						}
						dec[d][0]++
						dec[d][1] += f.Link.Posterior
						if ok {
							dec[d][2]++
						}
					} else if f.Asked == "" && want != "" {
						wrongNone++
					}
				}
			}
		}
		t.Logf("%-16s slots %d  P %.2f%%  R %.2f%%  asks/100 %.2f  missed %.2f%%  meanpost %.4f scaleQ %d notes %d  %v", c.name, slots, 100*float64(right)/float64(links), 100*float64(right)/float64(truth), 100*float64(asks)/float64(slots), 100*float64(wrongNone)/float64(truth), dec[9][1]/dec[9][0], scaleQ, notes, time.Since(start))
	}
}

func gapOf(w world, s string, f Fill) float64 {
	for _, b := range w.in.Bouts {
		if b.Session == s {
			if f.Slot == Before {
				return b.Start.Sub(f.Link.At).Minutes()
			}
			return f.Link.At.Sub(b.Stop).Minutes()
		}
	}
	return 0
}
func durOf(w world, s string) time.Duration {
	for _, b := range w.in.Bouts {
		if b.Session == s {
			return b.Stop.Sub(b.Start).Round(time.Minute)
		}
	}
	return 0
}
