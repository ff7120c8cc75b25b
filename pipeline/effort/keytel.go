package effort

import (
	"errors"
	"fmt"

	"saltpan/pipeline/quantity"
)

// EnergyRate is a metabolic rate in kJ/min, the unit Keytel's equations give.
type EnergyRate float64

// KcalPerMinute is the rate in kcal/min.
func (r EnergyRate) KcalPerMinute() float64 { return float64(r) / quantity.JoulesPerCalorie }

// Watts is the rate in watts.
func (r EnergyRate) Watts() quantity.Power { return quantity.Power(r * 1000 / 60) }

// Person is what the heart-rate equations ask about the athlete. Zero is unknown.
type Person struct {
	Sex      string        // "f" or "m"
	Mass     quantity.Mass // kg
	AgeYears float64
	// VO2maxMLPerKgMin chooses the model with maximal uptake when it is known.
	VO2maxMLPerKgMin float64
	MaxHRBpm         float64
}

// Guard of the heart-rate equations, derived from the tested range of 57 to
// 90 % of the maximum (keytel2005): outside it they are not asked.
const (
	lowestHRBpm  = 90.0
	highestHRmax = 0.90
)

// MaxHR is the maximal heart rate: as told, else 208 − 0.7 age (tanaka2001,
// from memory; ± 10 bpm between people), else 0.
func (p Person) MaxHR() float64 {
	switch {
	case p.MaxHRBpm > 0:
		return p.MaxHRBpm
	case p.AgeYears > 0:
		return 208 - 0.7*p.AgeYears
	}
	return 0
}

// Keytel is the gross metabolic rate that a heart rate in beats per minute
// speaks for. HR in bpm, W in kg, A in years, V in mL/(kg min), result in kJ/min:
//
//	men,   no V:   −55.0969 + 0.6309 HR + 0.1988 W + 0.2017 A
//	women, no V:   −20.4022 + 0.4472 HR − 0.1263 W + 0.0740 A
//	men,   with V: −95.7735 + 0.634 HR + 0.404 V + 0.394 W + 0.271 A
//	women, with V: −59.3954 + 0.450 HR + 0.380 V + 0.103 W + 0.274 A
//
// Source: keytel2005; 18 to 45 years, 47 to 120 kg, steady state. The minus of
// the women's 0.1263 W is no slip. It returns an error when something needed is
// unknown, and below 90 bpm or above 90 % of the maximum.
func Keytel(p Person, hrBpm float64) (EnergyRate, error) {
	if err := askable(p, hrBpm); err != nil {
		return 0, err
	}
	w, a, v := p.Mass.Kilograms(), p.AgeYears, p.VO2maxMLPerKgMin
	switch {
	case p.Sex == "m" && v > 0:
		return EnergyRate(-95.7735 + 0.634*hrBpm + 0.404*v + 0.394*w + 0.271*a), nil
	case p.Sex == "m":
		return EnergyRate(-55.0969 + 0.6309*hrBpm + 0.1988*w + 0.2017*a), nil
	case v > 0:
		return EnergyRate(-59.3954 + 0.450*hrBpm + 0.380*v + 0.103*w + 0.274*a), nil
	}
	return EnergyRate(-20.4022 + 0.4472*hrBpm - 0.1263*w + 0.0740*a), nil
}

// askable says why the equations cannot be asked, if they cannot.
func askable(p Person, hrBpm float64) error {
	switch {
	case p.Sex != "m" && p.Sex != "f":
		return errors.New("energy from heart rate needs the athlete's sex")
	case p.Mass <= 0:
		return errors.New("energy from heart rate needs the athlete's mass")
	case p.AgeYears <= 0:
		return errors.New("energy from heart rate needs the athlete's year of birth")
	case hrBpm < lowestHRBpm:
		return fmt.Errorf("a mean of %.0f bpm is below %.0f bpm, the least the heart-rate equations were tested at", hrBpm, lowestHRBpm)
	case hrBpm > highestHRmax*p.MaxHR():
		return fmt.Errorf("a mean of %.0f bpm is above 90 %% of the maximum of %.0f bpm, the most the heart-rate equations were tested at", hrBpm, p.MaxHR())
	}
	return nil
}

// beyond says which of the tested ranges a person lies outside of.
func (p Person) beyond() string {
	switch {
	case p.AgeYears < 18 || p.AgeYears > 45:
		return fmt.Sprintf("heart rate to energy was tested at 18 to 45 years, not at %.0f", p.AgeYears)
	case p.Mass < 47 || p.Mass > 120:
		return fmt.Sprintf("heart rate to energy was tested at 47 to 120 kg, not at %.0f", p.Mass.Kilograms())
	}
	return ""
}
