package measure

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Draw is one trial of Simulate: the deviate of every cause, drawn once, so
// that estimates that share a cause move together.
type Draw struct {
	rng      *rand.Rand
	index    map[string]int // of a cause among deviates, the same in all trials
	deviates []float64      // NaN until asked for
}

// Cause is the deviate of a cause in this trial, in standard uncertainties
// (standard normal; degrees of freedom are not regarded).
func (d *Draw) Cause(name string) float64 {
	i, known := d.index[name]
	if !known {
		i = len(d.index)
		d.index[name] = i
	}
	for len(d.deviates) <= i {
		d.deviates = append(d.deviates, math.NaN())
	}
	if math.IsNaN(d.deviates[i]) {
		d.deviates[i] = d.rng.NormFloat64()
	}
	return d.deviates[i]
}

// Of is a value that an estimate may have in this trial.
func Of[Q ~float64](d *Draw, e Estimate[Q]) Q {
	for _, p := range e.Budget {
		e.Value += Q(p.U * d.Cause(p.Cause))
	}
	return e.Value
}

// beyondFirstOrder is the cause of what no single cause explains linearly.
const beyondFirstOrder = "beyond-first-order"

// Simulate propagates distributions instead of uncertainties (JCGM 101:2008,
// clause 7): the value is the mean of the trials, and the interval leaves out
// 2.5 % of them on either side, so it need not be symmetric. For where first
// order is poor: products of wide factors, powers, bounds. The budget has each
// cause with its linear part; U is the standard deviation of the trials. The
// seed fixes the result, which needs at least 1,000 trials.
func Simulate[Q ~float64](method string, seed uint64, trials int, model func(*Draw) Q, inputs ...string) Estimate[Q] {
	trials = max(trials, 1000)
	rng, index := rand.New(rand.NewPCG(seed, 0)), map[string]int{}
	out, seen := make([]float64, trials), make([][]float64, trials)
	for i := range out {
		d := &Draw{rng: rng, index: index, deviates: make([]float64, 0, len(index))}
		out[i] = float64(model(d))
		seen[i] = d.deviates
	}
	mean := sum(out) / float64(trials)
	e := Estimate[Q]{Value: Q(mean), Coverage: 0.95, Method: method, Inputs: inputs, Budget: linear(out, mean, index, seen)}
	slices.Sort(out)
	e.Lo, e.Hi = Q(quantile(out, 0.025)), Q(quantile(out, 0.975))
	return e
}

// linear is the covariance of the trials with each cause, whose variance is 1,
// and what is left of their variance. By chance the covariances can add to more
// than there is; then they are scaled to it.
func linear(out []float64, mean float64, index map[string]int, seen [][]float64) []Part {
	all, cov := 0.0, make([]float64, len(index))
	for i, y := range out {
		all += (y - mean) * (y - mean) / float64(len(out)-1)
		for k, z := range seen[i] {
			if !math.IsNaN(z) {
				cov[k] += (y - mean) * z / float64(len(out)-1)
			}
		}
	}
	explained := 0.0
	for _, u := range cov {
		explained += u * u
	}
	if explained == 0 {
		return nil
	}
	scale := math.Min(1, math.Sqrt(all/explained))
	var parts []Part
	for cause, k := range index {
		parts = append(parts, Part{Cause: cause, U: cov[k] * scale})
	}
	if rest := all - explained; rest > 0 {
		parts = append(parts, Part{Cause: beyondFirstOrder, U: math.Sqrt(rest)})
	}
	return merge(parts)
}

// quantile is of sorted values, by the interpolation of JCGM 101 7.5.1.
func quantile(sorted []float64, p float64) float64 {
	at := p*float64(len(sorted)) - 0.5
	i := min(max(int(math.Floor(at)), 0), len(sorted)-2)
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

func sum(values []float64) float64 {
	s := 0.0
	for _, v := range values {
		s += v
	}
	return s
}
