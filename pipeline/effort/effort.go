package effort

import (
	"fmt"
	"math"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

const method = "effort.Derive/1"

// Where a rate comes from.
const (
	FromPace      = "pace"
	FromHeartRate = "heart rate"
)

// Input is one activity's digest and the person it belongs to.
type Input struct {
	Digest Digest
	Person Person
	// MassU is the standard uncertainty of the mass, in kg, by its cause.
	MassU measure.Part
	From  string // origin of the digest, for the estimates' inputs
}

// Rate is a metabolic rate in W and what it comes from.
type Rate struct {
	measure.Estimate[quantity.Power]
	From string `json:"from"`
}

// Result is a session's effort. Pointers are nil when there is none.
type Result struct {
	// Rate is the mean metabolic rate over moving time, gross.
	Rate *Rate `json:"metabolic_rate_w,omitempty"`
	// WattsPerKg is the same per kilogram of body mass.
	WattsPerKg *measure.Estimate[float64] `json:"metabolic_rate_w_per_kg,omitempty"`
	// Energy is the energy used from start to stop, pauses at rest, gross.
	Energy *measure.Estimate[quantity.Energy] `json:"energy_kcal,omitempty"`
	// Second is the other opinion on the rate, when there is one.
	Second *Rate `json:"second_opinion_w,omitempty"`
	// Disagree holds when the two rates differ by more than their uncertainties allow.
	Disagree bool `json:"disagree,omitempty"`
	// NoSecond says why heart rate was not asked, Reason why there is no rate.
	NoSecond string            `json:"no_second,omitempty"`
	Reason   string            `json:"reason,omitempty"`
	Warnings []measure.Warning `json:"warnings,omitempty"`
}

// Derive is the effort of a session: pace first, heart rate as the second
// opinion, or alone where the sport has no pace equation.
func Derive(in Input) Result {
	var r Result
	pace, why := fromPace(in)
	heart, err := fromHeart(in)
	switch {
	case pace != nil:
		r.Rate, r.Second = pace, heart
		r.Warnings = paceWarnings(in.Digest)
	case heart != nil:
		r.Rate = heart
	default:
		r.Reason = why + "; " + err.Error()
		return r
	}
	if err != nil {
		r.NoSecond = err.Error()
	}
	r.Warnings = append(r.Warnings, heartWarnings(in, heart)...)
	r.WattsPerKg, r.Energy = perKg(in, *r.Rate), energy(in, *r.Rate)
	return r.compared()
}

// fromPace is the level cost of the speed with what the grades add, in W:
//
//	rate = m (VO2 · 5 kcal/L + ΔC(i) · v)
func fromPace(in Input) (*Rate, string) {
	d, m := in.Digest, in.Person.Mass.Kilograms()
	switch {
	case !Paced(d.Sport):
		return nil, fmt.Sprintf("%q has no pace equation", d.Sport)
	case d.LevelVO2 == 0 || d.MovingS == 0:
		return nil, "the file has no pace"
	case m <= 0:
		return nil, "the athlete's mass is not known"
	}
	p := parameters()
	level := m * d.LevelVO2.WattsPerKg(p.kcalPerLitre.Value)
	grade := m * float64(d.GradeCost) * float64(d.Distance) / d.MovingS
	rate := measure.Combine(method, quantity.Power(level+grade),
		p.level.Estimate().Times(level), p.kcalPerLitre.Estimate().Times(level/p.kcalPerLitre.Value),
		p.grade.Estimate().Times(grade), mass(in).Times((level+grade)/m))
	rate.Inputs = append(rate.Inputs, in.From)
	return &Rate{rate, FromPace}, ""
}

// fromHeart is Keytel's rate at the mean heart rate: the equations are linear
// in it, so the mean is enough.
func fromHeart(in Input) (*Rate, error) {
	d := in.Digest
	if d.MeanHRBpm == 0 {
		return nil, fmt.Errorf("the file has no heart rate")
	}
	kj, err := Keytel(in.Person, d.MeanHRBpm)
	if err != nil {
		return nil, err
	}
	rate := measure.Combine(method, kj.Watts(), parameters().heartRate.Estimate().Times(float64(kj.Watts())))
	rate.Inputs = append(rate.Inputs, in.From)
	return &Rate{rate, FromHeartRate}, nil
}

// mass is the athlete's mass with its own cause of uncertainty.
func mass(in Input) measure.Estimate[quantity.Mass] {
	return measure.Read("effort.mass/1", in.Person.Mass, nil, in.MassU)
}

// perKg is the rate per kilogram. The mass drops out of a rate from pace.
func perKg(in Input, rate Rate) *measure.Estimate[float64] {
	m := in.Person.Mass.Kilograms()
	e := measure.Combine(method, float64(rate.Value)/m, rate.Times(1/m), mass(in).Times(-float64(rate.Value)/(m*m)))
	return &e
}

// energy is the rate over moving time and rest over the pauses, in kcal.
func energy(in Input, rate Rate) *measure.Estimate[quantity.Energy] {
	p, m := parameters(), in.Person.Mass.Kilograms()
	kcalPerW := in.Digest.MovingS / (1000 * quantity.JoulesPerCalorie)
	pauses := max(in.Digest.ElapsedS-in.Digest.MovingS, 0)
	if rate.From == FromHeartRate {
		kcalPerW, pauses = in.Digest.ElapsedS/(1000*quantity.JoulesPerCalorie), 0
	}
	restKcal := func(vo2 float64) float64 { return vo2 / 1000 * p.kcalPerLitre.Value * m * pauses / 60 }
	e := measure.Combine(method, quantity.Energy(float64(rate.Value)*kcalPerW+restKcal(p.rest.Value)),
		rate.Times(kcalPerW), p.rest.Estimate().Times(restKcal(1)))
	return &e
}

// compared sets whether both opinions differ by more than 95 of 100 such pairs would.
func (r Result) compared() Result {
	if r.Second == nil {
		return r
	}
	apart := float64(r.Rate.Value - r.Second.Value)
	r.Disagree = math.Abs(apart) > measure.K95*math.Hypot(r.Rate.U(), r.Second.U())
	if r.Disagree {
		r.Warnings = append(r.Warnings, measure.Warning{Code: "effort-disagrees",
			Text: fmt.Sprintf("%s says %.0f W, %s %.0f W", r.Rate.From, r.Rate.Value, r.Second.From, r.Second.Value)})
	}
	return r
}

// shareWorthSaying is the share of moving time outside a range that is told.
const shareWorthSaying = 0.1

func paceWarnings(d Digest) []measure.Warning {
	var out []measure.Warning
	if d.Level != "" {
		out = append(out, measure.Warning{Code: "effort-level", Text: "ground counted as level: " + d.Level})
	}
	if d.BeyondSpeed > shareWorthSaying {
		out = append(out, measure.Warning{Code: "effort-speed", Text: fmt.Sprintf("%.0f %% of the time at speeds the equations were not made for", 100*d.BeyondSpeed)})
	}
	if d.BeyondGrade > shareWorthSaying {
		out = append(out, measure.Warning{Code: "effort-grade", Text: fmt.Sprintf("%.0f %% of the time steeper than ± 45 %%, counted as 45 %%", 100*d.BeyondGrade)})
	}
	return out
}

func heartWarnings(in Input, heart *Rate) []measure.Warning {
	if beyond := in.Person.beyond(); heart != nil && beyond != "" {
		return []measure.Warning{{Code: "effort-heart-rate-range", Text: beyond}}
	}
	return nil
}

// PerKgKm is the energy of a distance on foot at 1 kcal/(kg km) net, for when
// nothing but the distance is known.
//
// Source: margaria1963 (from memory); sources span 0.81 to 1.1.
func PerKgKm(m quantity.Mass, d quantity.Distance) measure.Estimate[quantity.Energy] {
	kgKm := m.Kilograms() * float64(d) / 1000
	p := parameters().perKgKm
	return measure.Combine("effort.PerKgKm/1", quantity.Energy(p.Value*kgKm), p.Estimate().Times(kgKm))
}

// Paced reports whether a sport has a pace equation here.
func Paced(sport string) bool { return sport == record.Running || sport == record.Walking }
