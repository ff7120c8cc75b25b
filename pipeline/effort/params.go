package effort

import (
	"saltpan/pipeline/cite"
	"saltpan/pipeline/measure"
)

// params is every number from outside, with an uncertainty, that a rate uses.
type params struct {
	kcalPerLitre, level, grade     cite.Param
	perKgKm, heartRate, heartGuard cite.Param
	rest, window                   cite.Param
}

// Params is every parameter of effort with its source.
func Params() []cite.Param {
	p := parameters()
	return []cite.Param{p.kcalPerLitre, p.level, p.grade, p.perKgKm, p.heartRate, p.heartGuard, p.rest, p.window}
}

func parameters() params {
	return params{
		kcalPerLitre: cite.New(cite.Param{Name: "effort.kcal-per-litre-oxygen", Value: 5, U: measure.Uniform((5.189 - 4.851) / 2), Unit: "kcal/L",
			Lo: fatQuotient, Hi: carbohydrateQuotient, RangeUnit: "respiratory quotient", Ref: cite.Get("peronnet1991"),
			Note: "5 is the round number that acsm2021 uses; the uncertainty is the whole span from fat alone, 4.851, to carbohydrate alone, 5.189"}),
		level: cite.New(cite.Param{Name: "effort.level-cost", Value: 1, U: 0.10, Unit: "of the ACSM rate", Lo: slowestWalk, RangeUnit: "m/min", Hi: 400,
			Ref: cite.Get("acsm2021"), Where: "table 6.3",
			Note: "running: sources span 0.81 to 1.1 kcal/(kg km) net (minetti2002 measured 3.40 ± 0.24 J/(kg m) on the level, the equation gives 4.18); the fastest speed is from memory"}),
		grade: cite.New(cite.Param{Name: "effort.grade-cost", Value: 1, U: 0.25, Unit: "of the cost that the grades add", Lo: -SteepestGrade, Hi: SteepestGrade,
			RangeUnit: "rise over run", Ref: cite.Get("minetti2002"), Where: "abstract; polynomial as later works state it",
			Note: "between runners 9 to 21 % at ± 0.45 and − 0.20; more for smoothed altitude, wind and surface (memory)"}),
		perKgKm: cite.New(cite.Param{Name: "effort.energy-per-kg-km", Value: 1, U: 0.10, Unit: "kcal/(kg km)", Ref: cite.Get("margaria1963"),
			Note: "net cost of running; sources span 0.81 to 1.1; only where a file has a distance and no time of moving"}),
		heartRate: cite.New(cite.Param{Name: "effort.heart-rate-cost", Value: 1, U: 0.20, Unit: "of the Keytel rate", Lo: lowestHRBpm, Hi: 200, RangeUnit: "bpm",
			Ref: cite.Get("keytel2005"), Where: "abstract; coefficients as later works state them",
			Note: "explains 73 % of the variance without and 83 % with maximal uptake; the 20 % is from memory. Too high in heat, where heart rate drifts"}),
		heartGuard: cite.New(cite.Param{Name: "effort.heart-rate-ceiling", Value: highestHRmax, Unit: "of maximal heart rate", Ref: cite.Get("keytel2005"),
			Where: "abstract", Note: "tested at 57, 77 and 90 % of the maximum"}),
		rest: cite.New(cite.Param{Name: "effort.resting-uptake", Value: float64(RestingVO2), U: 0.5, Unit: "mL/(kg min)", Ref: cite.Get("acsm2021"),
			Where: "table 6.3", Note: "one metabolic equivalent, taken for pauses; the uncertainty is from memory"}),
		window: cite.New(cite.Param{Name: "effort.grade-window", Value: gradeWindowM, Unit: "m", Ref: cite.Get("practice"),
			Note: "way over which altitude is averaged before its slope is taken"}),
	}
}
