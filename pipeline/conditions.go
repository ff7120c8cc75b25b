package pipeline

import (
	"saltpan/pipeline/effort"
	"saltpan/pipeline/heat"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/session"
)

// surroundings is what is known about the conditions of all sessions of a household.
type surroundings struct {
	weather []record.Weather
	digests map[string]Digest
	bias    map[string]*measure.Estimate[float64] // of each athlete's watch
}

// survey learns the bias of each athlete's watch from the sessions that have
// both its reading and the weather.
func survey(f record.Facts, digests map[string]Digest, sessions []session.Session, notes map[string]*record.Note) surroundings {
	s := surroundings{weather: f.Weather, digests: digests, bias: map[string]*measure.Estimate[float64]{}}
	if len(f.Weather) == 0 {
		return s
	}
	watch, air := map[string][]quantity.Temperature{}, map[string][]quantity.Temperature{}
	for _, x := range sessions {
		w := s.where(x, notes[x.Key])
		if a, _ := heat.Conditions(w, f.Weather); a != nil && w.Watch != nil && a.Temp.From == heat.FromWeather {
			watch[x.Athlete] = append(watch[x.Athlete], *w.Watch)
			air[x.Athlete] = append(air[x.Athlete], a.Temp.Value)
		}
	}
	for athlete := range watch {
		s.bias[athlete] = heat.Bias(watch[athlete], air[athlete])
	}
	return s
}

func (s surroundings) where(x session.Session, note *record.Note) heat.Where {
	w := heat.Where{Start: x.Start, Stop: x.Stop(), Place: x.StartAt, Indoor: indoor(x, note), Note: note, Bias: s.bias[x.Athlete]}
	for _, p := range x.Parts {
		if d, ok := s.digests[p.Best.ID]; ok && d.WatchTemp != nil {
			w.Watch = d.WatchTemp // the last part's watch has settled longest
		}
	}
	return w
}

// indoor goes by the note, by the sport, and by a distance without a place.
func indoor(x session.Session, note *record.Note) bool {
	if note != nil && note.Indoor != nil {
		return *note.Indoor
	}
	switch x.SubSport {
	case "treadmill", "indoor", "indoor running", "indoor cycling":
		return true
	}
	return x.StartAt == nil && x.Distance != nil && *x.Distance > 0
}

// effortOf is the effort of a session from the digests of its parts; nil while
// these are not there.
func (s surroundings) effortOf(x Session, a record.Athlete) *effort.Result {
	var parts []effort.Digest
	for _, p := range x.Parts {
		d, ok := s.digests[p.Activity]
		if !ok {
			return nil
		}
		parts = append(parts, d.Effort)
	}
	person := effort.Person{Sex: a.Sex, MaxHRBpm: float64(a.MaxHRBpm)}
	if a.Born > 0 {
		person.AgeYears = float64(x.Start.Year() - a.Born)
	}
	in := effort.Input{Digest: effort.Merge(parts, x.Elapsed.Seconds()), Person: person, From: x.Key}
	in.Person.Mass, in.MassU = massOf(x, a)
	if in.Person.Mass <= 0 {
		return nil
	}
	r := effort.Derive(in)
	return &r
}

// massOf is the mass an athlete ran with: the weigh-in before, else the usual
// mass, which day by day is off by 1 to 2 % (common practice).
func massOf(x Session, a record.Athlete) (quantity.Mass, measure.Part) {
	switch {
	case x.Before != nil:
		return x.Before.Mass, measure.Part{Cause: "scale-offset/" + x.Before.Scale, U: 0.3}
	case a.UsualMass != nil:
		return *a.UsualMass, measure.Part{Cause: "usual-mass/" + a.Key, U: 0.015 * a.UsualMass.Kilograms()}
	}
	return 0, measure.Part{}
}

// heatOf is what the air of a session meant for the athlete's effort in it.
func heatOf(x Session, s session.Session, a record.Athlete) *heat.Result {
	if x.Air == nil {
		return nil
	}
	in := heat.Input{Air: *x.Air, At: x.Start.Add(x.Elapsed / 2), Place: s.StartAt, Indoor: x.Indoor, HeightM: a.HeightM}
	in.Fan = x.Note != nil && x.Note.Fan != nil && *x.Note.Fan
	in.Mass, _ = massOf(x, a)
	if x.Effort != nil && x.Effort.Rate != nil {
		in.Metabolic = &x.Effort.Rate.Estimate
	}
	if x.Distance != nil && x.Elapsed > 0 {
		in.Speed = quantity.Speed(float64(*x.Distance) / x.Elapsed.Seconds())
	}
	r := heat.Derive(in)
	return &r
}
