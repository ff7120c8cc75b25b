package simulate

import (
	"math"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"saltpan/pipeline/record"
)

func TestSameSeedSameSeason(t *testing.T) {
	if !reflect.DeepEqual(Run(7, Options{}), Run(7, Options{})) {
		t.Error("two runs from one seed differ")
	}
	if reflect.DeepEqual(Run(7, Options{}).Sessions, Run(8, Options{}).Sessions) {
		t.Error("two seeds give one season")
	}
}

// An athlete's own season must not change when others join the club.
func TestAthletesAreIndependent(t *testing.T) {
	one, all := Run(7, Options{Athletes: 1}).Sessions, Run(7, Options{}).Sessions
	if !reflect.DeepEqual(one, all[:len(one)]) {
		t.Error("the first athlete's sessions depend on the others")
	}
}

// Conservation of mass: what came in less what went out is what the body
// gained; kit on the scale changes by what was taken out of it or soaked in.
func TestMassBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Run(rapid.Uint64().Draw(t, "seed"), Options{Athletes: rapid.IntRange(1, 6).Draw(t, "athletes"), Weeks: 3})
		for _, x := range s.Sessions {
			b := x.Truth
			in := b.Drunk.WaterMass() + b.Eaten
			out := b.Urine.WaterMass() + b.Sweat.WaterMass() + b.NonSweat
			if d := float64(b.After - b.Before - in + out); math.Abs(d) > 1e-9 {
				t.Fatalf("%s is out of balance by %v kg", x.Key, d)
			}
			if b.KitBefore > 0 && math.Abs(float64(b.KitAfter-b.KitBefore+in+b.ClothesOff-b.ClothesWet)) > 1e-9 {
				t.Fatalf("%s: the kit is out of balance", x.Key)
			}
		}
	})
}

// Loss rates of adults run from 0.3 to 2.4 L/h on the usual day and to 4 L/h
// at the very top (Thomas, Erdman and Burke 2016, Med Sci Sports Exerc 48:543;
// McDermott et al. 2017, J Athl Train 52:877).
func TestRatesAreHuman(t *testing.T) {
	sum, n := map[string]float64{}, map[string]float64{}
	for _, x := range Run(1, Options{}).Sessions {
		r := float64(x.Truth.Rate)
		if r < 0.15 || r > 3 {
			t.Errorf("%s loses %.2f L/h", x.Key, r)
		}
		sum[x.Athlete] += r
		n[x.Athlete]++
	}
	for a := range sum {
		if mean := sum[a] / n[a]; mean < 0.3 || mean > 2.4 {
			t.Errorf("%s loses %.2f L/h on average", a, mean)
		}
	}
	if sum["teo"]/n["teo"] < 1.5*sum["ines"]/n["ines"] {
		t.Error("the athletes lose alike")
	}
}

func TestLawRisesWithHeatAndPace(t *testing.T) {
	for _, a := range Run(1, Options{Athletes: 8, Weeks: 1}).Athletes {
		if !(a.Law.Rate(30, 3) > a.Law.Rate(12, 3)) || !(a.Law.Rate(20, 3.4) > a.Law.Rate(20, 2.6)) {
			t.Errorf("%s: %+v", a.Key, a.Law)
		}
	}
}

// What the demo promises to show is there, whatever the seed.
func TestSeasonHasItsOddities(t *testing.T) {
	for seed := range uint64(20) {
		s := Run(seed, Options{})
		if n := len(s.Sessions); n < 140 || n > 185 {
			t.Errorf("seed %d: %d sessions", seed, n)
		}
		for what, n := range oddities(s) {
			if n == 0 {
				t.Errorf("seed %d: no %s", seed, what)
			}
		}
	}
}

func oddities(s Season) map[string]int {
	found := map[string]int{"race": 0, "treadmill": 0, "long pause": 0, "restart": 0, "two devices": 0,
		"gain": 0, "second session of a day": 0, "missing note": 0, "missing weigh-in": 0, "household reading": 0}
	days := map[string]int{}
	count := func(what string, yes bool) {
		if yes {
			found[what]++
		}
	}
	for _, x := range s.Sessions {
		day := x.Athlete + Local(x.Start()).Format(time.DateOnly)
		days[day]++
		count("race", x.Race)
		count("treadmill", x.Indoor())
		count("long pause", x.Parts[0].Pause >= 20*time.Minute)
		count("restart", len(x.Parts) == 2)
		count("two devices", x.Twice)
		count("gain", x.Truth.After > x.Truth.Before)
		count("second session of a day", days[day] == 2)
		count("missing note", x.Note == nil)
	}
	slots := map[string]bool{}
	for _, w := range s.WeighIns {
		count("household reading", w.Athlete == "")
		slots[w.Session+w.Slot] = w.Session != ""
	}
	count("missing weigh-in", len(slots)-1 < 2*len(s.Sessions))
	return found
}

func TestKeysAreUnique(t *testing.T) {
	seen := map[string]bool{}
	for _, x := range Run(3, Options{Athletes: 12, Weeks: 20}).Sessions {
		if seen[x.Key] {
			t.Errorf("%s twice", x.Key)
		}
		seen[x.Key] = true
	}
}

// The readings are the truth but for bias, step and a scatter of 30 g; five
// standard deviations and half a step bound them.
func TestScalesShowTheTruth(t *testing.T) {
	s := Run(2, Options{})
	scale := map[string]Scale{}
	for _, sc := range s.Scales {
		scale[sc.Key] = sc
	}
	for _, w := range s.WeighIns {
		sc := scale[w.Scale]
		if d := math.Abs(float64(w.Shown - w.True - sc.Bias)); d > 5*0.03+float64(sc.Step)/2 {
			t.Errorf("%+v is off by %.3f kg", w, d)
		}
	}
}

// The first athlete's scale stayed on winter time, the others did not.
func TestOneClockIsAnHourOff(t *testing.T) {
	s := Run(2, Options{})
	off := map[string]int{}
	for _, w := range s.WeighIns {
		if right := w.At.Add(Offset(w.At)); !w.Wall.Equal(right) {
			off[w.Scale]++
			if right.Sub(w.Wall) != time.Hour || Offset(w.At) != time.Hour {
				t.Errorf("%s shows %s at %s", w.Scale, w.Wall, right)
			}
		}
	}
	if len(off) != 1 || off[s.Athletes[0].Scale] < 30 {
		t.Errorf("scales that are off: %v", off)
	}
}

// The zone files are an independent source for the offsets written out here.
func TestOffsetAgreesWithZoneFiles(t *testing.T) {
	loc, err := time.LoadLocation(zone)
	if err != nil {
		t.Skip("this computer has no zone files")
	}
	for at := time.Date(2000, 1, 1, 0, 30, 0, 0, time.UTC); at.Year() < 2030; at = at.Add(time.Hour) {
		if _, want := at.In(loc).Zone(); Offset(at) != time.Duration(want)*time.Second {
			t.Fatalf("at %s offset is %v, want %d s", at, Offset(at), want)
		}
	}
}

// The track adds up to what the session says.
func TestTrackAddsUp(t *testing.T) {
	for _, x := range Run(4, Options{}).Sessions {
		for _, p := range x.Parts {
			track := x.Track(p, 5*time.Second)
			last := track[len(track)-1]
			if last.At != p.Elapsed || math.Abs(float64(last.Distance-p.Distance)) > 1e-6 {
				t.Fatalf("%s ends at %v after %v m", x.Key, last.At, last.Distance)
			}
			checkTrack(t, x, p, track)
		}
	}
}

func checkTrack(t *testing.T, x Session, p Part, track []Point) {
	t.Helper()
	var hr, climb float64
	for i, pt := range track {
		hr += float64(pt.HRBpm)
		if i == 0 {
			continue
		}
		if pt.At <= track[i-1].At || pt.Distance <= track[i-1].Distance {
			t.Fatalf("%s goes back at %v", x.Key, pt.At)
		}
		if p.Pause > 0 && pt.At > p.PauseAt && pt.At <= p.PauseAt+p.Pause {
			t.Fatalf("%s has a point within its pause at %v", x.Key, pt.At)
		}
		climb += max(0, float64(pt.Altitude-track[i-1].Altitude))
	}
	if mean := hr / float64(len(track)); math.Abs(mean-x.MeanHRBpm) > 1 {
		t.Errorf("%s: heart rate %v, want %v", x.Key, mean, x.MeanHRBpm)
	}
	// Points straddle the top and foot of each loop, which hides a little of the climb.
	if d := float64(x.Ascent(p)) - climb; d < -1e-6 || d > 0.01*climb+1 {
		t.Errorf("%s: ascent %v, the track climbs %v", x.Key, x.Ascent(p), climb)
	}
}

func TestNotesAreRoundedTruth(t *testing.T) {
	for _, x := range Run(5, Options{}).Sessions {
		if x.Note == nil {
			continue
		}
		if d := math.Abs(float64(*x.Note.Drunk - x.Truth.Drunk)); d > 0.025+1e-9 {
			t.Errorf("%s: noted drink is off by %.3f L", x.Key, d)
		}
		if (x.Truth.Urine > 0) != (x.Note.Toilet == "yes") {
			t.Errorf("%s: toilet %q with %v L", x.Key, x.Note.Toilet, x.Truth.Urine)
		}
	}
}

func TestHabits(t *testing.T) {
	s := Run(6, Options{Athletes: 6})
	if s.Athletes[2].Weighing != record.Carrying || s.Athletes[3].Units != record.US || len(s.Athletes) != 6 {
		t.Errorf("%+v", s.Athletes)
	}
	for _, sc := range s.Scales {
		if sc.Key == hutScale && len(sc.Athletes) != 2 {
			t.Errorf("the hut's scale is used by %v", sc.Athletes)
		}
	}
}
