package effort

import (
	"math"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// Digest is what an activity says about effort, free of the athlete's mass.
// Times are in seconds so that a stored digest reads the same everywhere.
type Digest struct {
	Sport    string            `json:"sport"`
	ElapsedS float64           `json:"elapsed_s"`
	MovingS  float64           `json:"moving_s"`
	Distance quantity.Distance `json:"distance_m"`
	// LevelVO2 is the mean gross uptake over moving time as if all were level,
	// mL/(kg min); 0 when the file has no pace or the sport no equation.
	LevelVO2 VO2 `json:"level_vo2_ml_per_kg_min"`
	// GradeCost is what the grades added, or saved if negative, a metre.
	GradeCost CostPerMetre `json:"grade_cost_j_per_kg_m"`
	// Level says why no grade was counted; empty when altitude was used.
	Level string `json:"level,omitempty"`
	// BeyondSpeed and BeyondGrade are the shares of moving time outside the
	// equations' ranges.
	BeyondSpeed float64 `json:"beyond_speed,omitempty"`
	BeyondGrade float64 `json:"beyond_grade,omitempty"`
	// MeanHRBpm is 0 when the file has no heart rate.
	MeanHRBpm float64 `json:"mean_hr_bpm,omitempty"`
}

// Reasons for counting the ground as level.
const (
	LevelTreadmill  = "treadmill: the file does not hold its incline"
	LevelNoAltitude = "no altitude in the file"
)

// Choices of the digest (common practice; none moves a mean by more than 1 %).
const (
	// stepS merges samples so that jitter in the distance does not look like
	// walking in the middle of a run.
	stepS = 10.0
	// stillMPerS is a pause: half of the slowest walk with an equation.
	stillMPerS = 0.4
	// gradeWindowM smooths altitude: at 100 m an error of 1 m is a grade of 1 %,
	// which adds 46.3 × 0.01² = 0.005 J/(kg m).
	gradeWindowM = 100.0
	// leastAltitude is the share of steps that need an altitude.
	leastAltitude = 0.8
)

// NewDigest takes the digest of an activity from its samples, or from its
// totals where it has none.
func NewDigest(a record.Activity) Digest {
	d := Digest{Sport: a.Sport, ElapsedS: a.Elapsed.Seconds(), MeanHRBpm: meanHR(a)}
	steps := stepsOf(a.Samples)
	if len(steps) == 0 {
		return fromTotals(d, a)
	}
	d.Level = grade(steps, a)
	if !Paced(a.Sport) {
		d.Level = ""
	}
	var vo2, cost, beyondSpeed, beyondGrade float64
	for _, s := range steps {
		if s.speed() < stillMPerS {
			continue
		}
		level, inSpeed := LevelVO2(s.speed(), a.Sport == record.Running)
		added, inGrade := gradeCost(s.grade, runs(s.speed(), a.Sport == record.Running))
		d.MovingS += s.seconds
		d.Distance += quantity.Distance(s.metres)
		vo2 += float64(level) * s.seconds
		cost += float64(added) * s.metres
		beyondSpeed += seconds(!inSpeed, s)
		beyondGrade += seconds(!inGrade, s)
	}
	if d.MovingS == 0 || !Paced(a.Sport) {
		return d
	}
	d.LevelVO2, d.GradeCost = VO2(vo2/d.MovingS), CostPerMetre(cost/float64(d.Distance))
	d.BeyondSpeed, d.BeyondGrade = beyondSpeed/d.MovingS, beyondGrade/d.MovingS
	return d
}

func seconds(counts bool, s step) float64 {
	if counts {
		return s.seconds
	}
	return 0
}

// fromTotals takes pace from the totals and the ground as level.
func fromTotals(d Digest, a record.Activity) Digest {
	moving := a.Elapsed
	if a.Moving != nil && *a.Moving > 0 {
		moving = *a.Moving
	}
	d.MovingS = moving.Seconds()
	if a.Distance == nil || *a.Distance <= 0 || moving <= 0 {
		return d
	}
	d.Distance = *a.Distance
	if !Paced(a.Sport) {
		return d
	}
	level, within := LevelVO2(quantity.Speed(float64(d.Distance)/d.MovingS), a.Sport == record.Running)
	d.LevelVO2, d.Level = level, levelReason(a)
	if !within {
		d.BeyondSpeed = 1
	}
	return d
}

func levelReason(a record.Activity) string {
	if treadmill(a) {
		return LevelTreadmill
	}
	return LevelNoAltitude
}

// treadmill reports whether the ground moved and not the athlete.
func treadmill(a record.Activity) bool { return a.SubSport == "treadmill" || a.SubSport == "indoor" }

// meanHR is the mean over time of the heart rate, or the file's own mean.
func meanHR(a record.Activity) float64 {
	var sum, s float64
	for i := 1; i < len(a.Samples); i++ {
		dt := (a.Samples[i].At - a.Samples[i-1].At).Seconds()
		if hr := a.Samples[i].HRBpm; hr > 0 && dt <= longestGap.Seconds() {
			sum, s = sum+float64(hr)*dt, s+dt
		}
	}
	switch {
	case s > 0:
		return math.Round(sum/s*10) / 10
	case a.MeanHRBpm != nil:
		return *a.MeanHRBpm
	}
	return 0
}

// longestGap between samples that one heart rate may stand for.
const longestGap = time.Minute
