package effort

// CostPerMetre is an energy cost of moving in J/(kg m).
type CostPerMetre float64

// SteepestGrade is the largest gradient, up or down, that Minetti 2002 measured.
const SteepestGrade = 0.45

// RunningCost is the energy cost of running at gradient i (rise over run):
//
//	Cr(i) = 155.4 i⁵ − 30.4 i⁴ − 43.3 i³ + 46.3 i² + 19.5 i + 3.6   J/(kg m)
//
// Source: minetti2002, |i| ≤ 0.45; ten runners on a treadmill. The linear term
// is + 19.5: copies with a minus sign make climbing cheap. Beyond the range it
// gives the cost at the end of the range and false.
func RunningCost(i float64) (cost CostPerMetre, within bool) {
	c := clampGrade(i)
	return CostPerMetre(((((155.4*c-30.4)*c-43.3)*c+46.3)*c+19.5)*c + 3.6), c == i
}

// WalkingCost is the energy cost of walking at gradient i (rise over run):
//
//	Cw(i) = 280.5 i⁵ − 58.7 i⁴ − 76.8 i³ + 51.9 i² + 19.6 i + 2.5   J/(kg m)
//
// Source: minetti2002, |i| ≤ 0.45, at the speed that costs least. Beyond the
// range it gives the cost at the end of the range and false.
func WalkingCost(i float64) (cost CostPerMetre, within bool) {
	c := clampGrade(i)
	return CostPerMetre(((((280.5*c-58.7)*c-76.8)*c+51.9)*c+19.6)*c + 2.5), c == i
}

func clampGrade(i float64) float64 { return min(max(i, -SteepestGrade), SteepestGrade) }

// gradeCost is what a gradient adds to the level cost, and whether it lies in range.
func gradeCost(i float64, run bool) (CostPerMetre, bool) {
	cost := WalkingCost
	if run {
		cost = RunningCost
	}
	level, _ := cost(0)
	at, within := cost(i)
	return at - level, within
}
