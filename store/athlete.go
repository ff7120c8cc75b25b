package store

import (
	"context"

	"saltpan/pipeline/record"
)

const (
	insertAthlete = `INSERT INTO athlete (change_id, key, name, sex, born_year, height_m, usual_mass_kg, zone,
		weighing, units, max_hr_bpm, rest_hr_bpm, inbox, medical_json)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
	insertTrip    = `INSERT INTO trip (change_id, athlete, zone, from_date, to_date) VALUES (?, ?, ?, ?, ?)`
	selectAthlete = `SELECT key, name, sex, born_year, height_m, usual_mass_kg, zone,
		weighing, units, max_hr_bpm, rest_hr_bpm, inbox, medical_json
		FROM athlete WHERE change_id IN active_change
		ORDER BY key, id`
	selectTrip = `SELECT athlete, zone, from_date, to_date
		FROM trip WHERE change_id IN active_change
		ORDER BY id`
)

// PutAthlete adds what is now known about an athlete. Fields with the zero
// value are left as they were; trips are added to those already told.
func (t *Tx) PutAthlete(a record.Athlete) error {
	var medical *string
	if a.Medical != nil {
		var err error
		if medical, err = asJSON(append([]string{}, *a.Medical...)); err != nil {
			return err
		}
	}
	_, err := t.fact(insertAthlete, a.Key, filled(a.Name), filled(a.Sex), filled(a.Born), filled(a.HeightM),
		a.UsualMass, filled(a.Zone), filled(a.Weighing), filled(a.Units), filled(a.MaxHRBpm),
		filled(a.RestHRBpm), filled(a.Inbox), medical)
	for _, trip := range a.Trips {
		if err == nil {
			_, err = t.fact(insertTrip, a.Key, trip.Zone, trip.From, trip.To)
		}
	}
	return err
}

// Athletes is every athlete, by key.
func (s *Store) Athletes(ctx context.Context) ([]record.Athlete, error) {
	return athletes(ctx, s.db)
}

// Athlete is the athlete with a key; the bool says whether there is one.
func (s *Store) Athlete(ctx context.Context, key string) (record.Athlete, bool, error) {
	all, err := s.Athletes(ctx)
	for _, a := range all {
		if a.Key == key {
			return a, true, err
		}
	}
	return record.Athlete{}, false, err
}

func athletes(ctx context.Context, q querier) ([]record.Athlete, error) {
	var out []record.Athlete
	_, err := collect(ctx, q, func(scan scanner) (struct{}, error) {
		row, err := scanAthlete(scan)
		if err != nil {
			return struct{}{}, err
		}
		if len(out) == 0 || out[len(out)-1].Key != row.key {
			out = append(out, record.Athlete{Key: row.key})
		}
		return struct{}{}, row.over(&out[len(out)-1])
	}, selectAthlete)
	if err != nil {
		return nil, err
	}
	return out, addTrips(ctx, q, out)
}

func addTrips(ctx context.Context, q querier, to []record.Athlete) error {
	_, err := collect(ctx, q, func(scan scanner) (struct{}, error) {
		var key string
		var trip record.Trip
		err := scan(&key, &trip.Zone, &trip.From, &trip.To)
		for i := range to {
			if to[i].Key == key {
				to[i].Trips = append(to[i].Trips, trip)
			}
		}
		return struct{}{}, err
	}, selectTrip)
	return err
}

// athleteRow is one telling; nil is what it left as it was.
type athleteRow struct {
	key                    string
	name, sex, zone, inbox *string
	weighing               *record.Weighing
	units                  *record.Units
	born, maxHR, restHR    *int
	height                 *float64
	usual                  record.Athlete // only UsualMass
	medical                *string
}

func scanAthlete(scan scanner) (r athleteRow, err error) {
	return r, scan(&r.key, &r.name, &r.sex, &r.born, &r.height, &r.usual.UsualMass, &r.zone,
		&r.weighing, &r.units, &r.maxHR, &r.restHR, &r.inbox, &r.medical)
}

// over puts what this telling says in place of what earlier ones said.
func (r athleteRow) over(a *record.Athlete) error {
	fill(&a.Name, r.name)
	fill(&a.Sex, r.sex)
	fill(&a.Born, r.born)
	fill(&a.HeightM, r.height)
	if r.usual.UsualMass != nil {
		a.UsualMass = r.usual.UsualMass
	}
	fill(&a.Zone, r.zone)
	fill(&a.Weighing, r.weighing)
	fill(&a.Units, r.units)
	fill(&a.MaxHRBpm, r.maxHR)
	fill(&a.RestHRBpm, r.restHR)
	fill(&a.Inbox, r.inbox)
	if r.medical == nil {
		return nil
	}
	a.Medical = new([]string)
	return unlist(r.medical, a.Medical)
}
