package effort

import "saltpan/pipeline/quantity"

// VO2 is an oxygen uptake per body mass in mL/(kg min).
type VO2 float64

// RestingVO2 is one metabolic equivalent, 3.5 mL/(kg min), gross at rest (acsm2021).
const RestingVO2 VO2 = 3.5

// METs is the uptake in metabolic equivalents of 3.5 mL/(kg min).
func (v VO2) METs() float64 { return float64(v / RestingVO2) }

// WattsPerKg is the metabolic rate per body mass at the given energy
// equivalent of oxygen in kcal/L.
func (v VO2) WattsPerKg(kcalPerLitre float64) float64 {
	return float64(v) / 1000 * kcalPerLitre * quantity.JoulesPerCalorie * 1000 / 60
}

// MetresPerMinute is a speed in the unit the ACSM equations are written in.
func MetresPerMinute(v quantity.Speed) float64 { return float64(v) * 60 }

// WalkingVO2 is the gross uptake of walking at a speed and a grade (rise over run):
//
//	VO2 = 3.5 + 0.1 S + 1.8 S G,  S in m/min
//
// Source: acsm2021, table 6.3; steady state, 50 to 100 m/min, faster if truly
// walking. The grade term is not for outdoor ground that goes up and down.
func WalkingVO2(v quantity.Speed, grade float64) VO2 {
	s := MetresPerMinute(v)
	return RestingVO2 + VO2(0.1*s+1.8*s*grade)
}

// RunningVO2 is the gross uptake of running at a speed and a grade (rise over run):
//
//	VO2 = 3.5 + 0.2 S + 0.9 S G,  S in m/min
//
// Source: acsm2021, table 6.3; steady state, above 134 m/min, from 80 m/min if
// truly jogging. The grade term is not for outdoor ground that goes up and down.
func RunningVO2(v quantity.Speed, grade float64) VO2 {
	s := MetresPerMinute(v)
	return RestingVO2 + VO2(0.2*s+0.9*s*grade)
}

// Ranges of the ACSM equations in m/min (acsm2021, table 6.3).
const (
	slowestWalk = 50.0
	fastestWalk = 100.0
	slowestJog  = 80.0
	surelyRun   = 134.0
)

// LevelVO2 is the gross uptake on the level and whether the speed lies in the
// range of the equation used. Whoever runs slower than 80 m/min is taken to
// walk, whoever walks faster than 134 m/min to run.
func LevelVO2(v quantity.Speed, running bool) (vo2 VO2, within bool) {
	s := MetresPerMinute(v)
	if runs(v, running) {
		return RunningVO2(v, 0), true
	}
	return WalkingVO2(v, 0), slowestWalk <= s && (s <= fastestWalk || !running)
}

// runs reports whether a runner or a walker runs at a speed.
func runs(v quantity.Speed, running bool) bool {
	s := MetresPerMinute(v)
	return running && s >= slowestJog || s > surelyRun
}
