package effort_test

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"saltpan/pipeline/effort"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

var nan = float32(math.NaN())

// track is a run at a steady speed with a sample a second, over ground whose
// height is a function of the way.
func track(seconds int, speed float64, height func(float64) float64) record.Activity {
	a := record.Activity{Sport: record.Running, Elapsed: time.Duration(seconds) * time.Second}
	for i := 0; i <= seconds; i++ {
		way := speed * float64(i)
		a.Samples = append(a.Samples, record.Sample{At: time.Duration(i) * time.Second, Distance: float32(way),
			Altitude: float32(height(way)), Speed: nan, Temp: nan, HRBpm: 150})
	}
	return a
}

func flat(float64) float64    { return 100 }
func missing(float64) float64 { return math.NaN() }
func slope(i float64) func(float64) float64 {
	return func(way float64) float64 { return 100 + i*way }
}

func runner() effort.Person {
	return effort.Person{Sex: "m", Mass: 70, AgeYears: 35, MaxHRBpm: 190}
}

// A level run costs what the ACSM equation says: 10 km/h, 36.833 mL/(kg min).
func TestLevelRun(t *testing.T) {
	d := effort.NewDigest(track(3600, 10./3.6, flat))
	near(t, "VO2", float64(d.LevelVO2), 36.833, 0.001)
	near(t, "grade cost", float64(d.GradeCost), 0, 1e-6)
	near(t, "moving", d.MovingS, 3600, 1e-9)
	near(t, "distance", float64(d.Distance), 10000, 0.1)
	near(t, "heart rate", d.MeanHRBpm, 150, 1e-9)
	if d.Level != "" {
		t.Errorf("counted as level: %s", d.Level)
	}
}

// On a steady slope the added cost is the polynomial's difference from level.
func TestSteadySlope(t *testing.T) {
	for _, i := range []float64{-0.20, -0.05, 0.03, 0.10} {
		d := effort.NewDigest(track(1800, 2.5, slope(i)))
		at, _ := effort.RunningCost(i)
		level, _ := effort.RunningCost(0)
		near(t, "added", float64(d.GradeCost), float64(at-level), 0.02)
	}
}

// Up 5 % and down 5 % again is not free: (C(0.05)+C(−0.05))/2 − C(0) = 46.3 i² −
// 30.4 i⁴ = 0.1156 J/(kg m); the turn, where slopes are averaged, takes a little.
func TestUpAndDown(t *testing.T) {
	hill := func(way float64) float64 { return 0.05 * (2500 - math.Abs(way-2500)) }
	d := effort.NewDigest(track(2000, 2.5, hill))
	near(t, "added", float64(d.GradeCost), 0.1156, 0.006)
}

// Noise of 1 m in altitude, 4 m from sample to sample, must not look like hills.
func TestAltitudeNoiseAddsNextToNothing(t *testing.T) {
	noisy := func(way float64) float64 { return 100 + 2*math.Sin(way*1.7) + math.Sin(way/40) }
	d := effort.NewDigest(track(3600, 3, noisy))
	if d.GradeCost > 0.05 {
		t.Errorf("noise adds %v J/(kg m)", d.GradeCost)
	}
}

func TestLevelIsSaid(t *testing.T) {
	tread := track(600, 3, slope(0.1))
	tread.SubSport = "treadmill"
	totals := record.Activity{Sport: record.Running, Elapsed: time.Hour, Distance: ptr(quantity.Distance(10000))}
	for want, a := range map[string]record.Activity{effort.LevelTreadmill: tread, effort.LevelNoAltitude: track(600, 3, missing)} {
		d := effort.NewDigest(a)
		r := effort.Derive(effort.Input{Digest: d, Person: runner()})
		if d.Level != want || d.GradeCost != 0 || !has(r.Warnings, "effort-level") {
			t.Errorf("%q: %+v %+v", want, d, r.Warnings)
		}
	}
	d := effort.NewDigest(totals)
	near(t, "VO2 from totals", float64(d.LevelVO2), 36.833, 0.001)
	if d.Level != effort.LevelNoAltitude {
		t.Errorf("level %q", d.Level)
	}
}

// A pause counts as rest: 10 min moving, 10 min still.
func TestPauseIsRest(t *testing.T) {
	a := track(600, 3, flat)
	last := a.Samples[len(a.Samples)-1]
	for i := 1; i <= 600; i++ {
		s := last
		s.At += time.Duration(i) * time.Second
		a.Samples = append(a.Samples, s)
	}
	a.Elapsed = 20 * time.Minute
	d := effort.NewDigest(a)
	near(t, "moving", d.MovingS, 600, 10)
	moving := effort.Derive(effort.Input{Digest: effort.NewDigest(track(600, 3, flat)), Person: runner()})
	paused := effort.Derive(effort.Input{Digest: d, Person: runner()})
	// 3.5 mL/(kg min) · 70 kg · 10 min · 5 kcal/L = 12.25 kcal.
	near(t, "pause", float64(paused.Energy.Value-moving.Energy.Value), 12.25, 0.5)
}

// A stop without samples, as a watch that pauses itself leaves it, is no slow
// walk: 5 min of running, 8 s into a step a gap of 30 s, 5 min again.
func TestGapIsAPause(t *testing.T) {
	a := track(600, 3, flat)
	for i := 308; i < len(a.Samples); i++ {
		a.Samples[i].At += 30 * time.Second
		a.Samples[i].Distance -= 3 // the second of the gap was not run
	}
	d := effort.NewDigest(a)
	near(t, "moving", d.MovingS, 599, 1e-6)
	near(t, "VO2", float64(d.LevelVO2), 3.5+0.2*180, 0.01)
}

// A distance in every third record only, or no distance but a speed, is pace enough.
func TestSparseDistance(t *testing.T) {
	sparse, speeds := track(600, 3, flat), track(600, 3, flat)
	for i := range sparse.Samples {
		if i%3 != 0 {
			sparse.Samples[i].Distance = nan
		}
		speeds.Samples[i].Distance, speeds.Samples[i].Speed = nan, 3
	}
	for _, a := range []record.Activity{sparse, speeds} {
		d := effort.NewDigest(a)
		near(t, "distance", float64(d.Distance), 1800, 0.1)
		near(t, "VO2", float64(d.LevelVO2), 39.5, 0.01)
	}
}

// Whatever a file holds, the digest is finite and within the file's own time.
func TestDigestIsFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := record.Activity{Sport: rapid.SampledFrom([]string{record.Running, record.Walking, "cycling", record.UnknownSport}).Draw(t, "sport")}
		number := func(name string, lo, hi float32) float32 {
			if rapid.IntRange(0, 3).Draw(t, name+" missing") == 0 {
				return nan
			}
			return rapid.Float32Range(lo, hi).Draw(t, name)
		}
		at := time.Duration(0)
		for range rapid.IntRange(0, 60).Draw(t, "samples") {
			at += time.Duration(rapid.IntRange(1, 90).Draw(t, "gap")) * time.Second
			a.Samples = append(a.Samples, record.Sample{At: at, Distance: number("distance", 0, 5000), Altitude: number("altitude", -100, 3000),
				Speed: number("speed", 0, 8), HRBpm: uint8(rapid.IntRange(0, 220).Draw(t, "bpm"))})
		}
		a.Elapsed = at
		d := effort.NewDigest(a)
		for _, v := range []float64{d.MovingS, float64(d.Distance), float64(d.LevelVO2), float64(d.GradeCost), d.MeanHRBpm, d.BeyondGrade, d.BeyondSpeed} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v", d)
			}
		}
		if d.MovingS > d.ElapsedS || d.BeyondGrade > 1+1e-9 || d.BeyondSpeed > 1+1e-9 {
			t.Fatalf("%+v", d)
		}
	})
}

// 70 kg at 10 km/h for an hour: 12.892 kcal/min (EN-06) is 773.5 kcal and 899 W.
func TestDeriveFromPace(t *testing.T) {
	in := effort.Input{Digest: effort.NewDigest(track(3600, 10./3.6, flat)), Person: runner(),
		MassU: measure.Part{Cause: "scale-offset/hall", U: 0.3}, From: "run.fit"}
	r := effort.Derive(in)
	near(t, "kcal", float64(r.Energy.Value), 773.5, 0.1)
	near(t, "W", float64(r.Rate.Value), 899, 0.5)
	near(t, "W/kg", r.WattsPerKg.Value, 12.843, 0.01)
	if r.Rate.From != effort.FromPace || r.Second == nil || r.Second.From != effort.FromHeartRate {
		t.Fatalf("%+v", r)
	}
	near(t, "second", float64(r.Second.Value), 60.514*1000/60, 0.1)
	if r.Disagree {
		t.Error("1009 W and 899 W agree within 12 and 20 %")
	}
	for _, p := range r.WattsPerKg.Budget {
		if p.Cause == "scale-offset/hall" && math.Abs(p.U) > 1e-12 {
			t.Errorf("mass stays in W/kg: %+v", p)
		}
	}
	if u := r.Rate.U() / float64(r.Rate.Value); u < 0.10 {
		t.Errorf("relative uncertainty %v is below the spread of the sources", u)
	}
}

func TestDisagreementIsSaid(t *testing.T) {
	a := track(3600, 10./3.6, flat)
	for i := range a.Samples {
		a.Samples[i].HRBpm = 95
	}
	p := runner()
	p.Mass = 110
	r := effort.Derive(effort.Input{Digest: effort.NewDigest(a), Person: p})
	if !r.Disagree || !has(r.Warnings, "effort-disagrees") {
		t.Errorf("1413 W from pace, %v W from heart rate: not said", r.Second.Value)
	}
}

func TestOtherSports(t *testing.T) {
	a := track(3600, 8, slope(0.02))
	a.Sport = "cycling"
	d := effort.NewDigest(a)
	if r := effort.Derive(effort.Input{Digest: d, Person: runner()}); r.Rate == nil || r.Rate.From != effort.FromHeartRate {
		t.Errorf("%+v", r)
	}
	if r := effort.Derive(effort.Input{Digest: d}); r.Rate != nil || r.Reason == "" {
		t.Errorf("%+v", r)
	}
}

// A hike on a 10 % slope: walking speeds take the walking equations.
func TestWalking(t *testing.T) {
	a := track(3600, 1.25, slope(0.1))
	a.Sport = record.Walking
	d := effort.NewDigest(a)
	near(t, "VO2", float64(d.LevelVO2), 3.5+0.1*75, 0.001)
	near(t, "added", float64(d.GradeCost), 4.8991-2.5, 0.01)
}

// 70 kg over 10 km at 1 ± 0.1 kcal/(kg km).
func TestPerKgKm(t *testing.T) {
	e := effort.PerKgKm(70, 10000)
	near(t, "kcal", float64(e.Value), 700, 1e-9)
	near(t, "u", e.U(), 70, 1e-9)
}

// The digest holds no mass: a runner twice as heavy uses twice the power.
func TestRateIsProportionalToMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		speed := rapid.Float64Range(1, 6).Draw(t, "speed")
		i := rapid.Float64Range(-0.3, 0.3).Draw(t, "grade")
		m := rapid.Float64Range(35, 80).Draw(t, "mass")
		d := effort.NewDigest(track(300, speed, slope(i)))
		one := effort.Derive(effort.Input{Digest: d, Person: effort.Person{Mass: quantity.Mass(m)}})
		two := effort.Derive(effort.Input{Digest: d, Person: effort.Person{Mass: quantity.Mass(2 * m)}})
		if math.Abs(float64(two.Rate.Value/one.Rate.Value)-2) > 1e-9 {
			t.Fatalf("%v and %v", one.Rate.Value, two.Rate.Value)
		}
		if one.Rate.Value <= 0 {
			t.Fatalf("%v W", one.Rate.Value)
		}
	})
}

func TestParamsHaveSources(t *testing.T) {
	for _, p := range effort.Params() {
		if p.Ref.Text == "" || p.Note == "" {
			t.Errorf("%+v", p)
		}
	}
}

func has(warnings []measure.Warning, code string) bool {
	for _, w := range warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

func ptr[T any](v T) *T { return &v }
