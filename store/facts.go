package store

import (
	"context"
	"database/sql"
	"slices"

	"saltpan/pipeline/record"
)

// Facts is everything that holds about the athletes named, or about all if none
// is: their activities (without samples), those that a correction moved to
// them, and the readings of every scale they use. All parts are ordered by time,
// then by the order they were told.
func (s *Store) Facts(ctx context.Context, keys ...string) (record.Facts, error) {
	tx, err := s.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return record.Facts{}, reason(err)
	}
	defer tx.Rollback()
	f, err := allFacts(ctx, tx)
	if err != nil || len(keys) == 0 {
		return f, err
	}
	return about(f, keys), nil
}

func allFacts(ctx context.Context, q querier) (f record.Facts, err error) {
	read(&err, &f.Athletes, athletes, ctx, q)
	read(&err, &f.Scales, scales, ctx, q)
	read(&err, &f.Activities, activities, ctx, q)
	read(&err, &f.WeighIns, weighIns, ctx, q)
	read(&err, &f.Backgrounds, backgrounds, ctx, q)
	read(&err, &f.Notes, notes, ctx, q)
	read(&err, &f.Screens, screens, ctx, q)
	read(&err, &f.SodiumTests, sodiumTests, ctx, q)
	read(&err, &f.Consents, consents, ctx, q)
	read(&err, &f.Weather, weather, ctx, q)
	read(&err, &f.Answers, answers, ctx, q)
	read(&err, &f.Corrections, corrections, ctx, q)
	read(&err, &f.Keys, sessionKeys, ctx, q)
	return f, err
}

// read fills one part unless an earlier one failed.
func read[T any](err *error, to *[]T, from func(context.Context, querier) ([]T, error), ctx context.Context, q querier) {
	if *err == nil {
		*to, *err = from(ctx, q)
	}
}

// about keeps of the facts what concerns the athletes.
func about(f record.Facts, keys []string) record.Facts {
	wanted := func(athlete string) bool { return slices.Contains(keys, athlete) }
	f.Athletes = keep(f.Athletes, func(a record.Athlete) bool { return wanted(a.Key) })
	f.Screens = keep(f.Screens, func(s record.Screen) bool { return wanted(s.Athlete) })
	f.SodiumTests = keep(f.SodiumTests, func(t record.SodiumTest) bool { return wanted(t.Athlete) })
	f.Consents = keep(f.Consents, func(c record.Consent) bool { return wanted(c.Athlete) })

	strange := map[string]bool{} // scales that none of them uses
	for _, s := range f.Scales {
		strange[s.Key] = len(s.Athletes) > 0 && !slices.ContainsFunc(s.Athletes, wanted)
	}
	f.Scales = keep(f.Scales, func(s record.Scale) bool { return !strange[s.Key] })
	f.Backgrounds = keep(f.Backgrounds, func(b record.Background) bool { return !strange[b.Scale] })
	f.WeighIns = keep(f.WeighIns, func(w record.WeighIn) bool { return !strange[w.Scale] || wanted(w.Athlete) })

	moved := map[string]bool{}
	for _, c := range f.Corrections {
		if c.Kind == record.MoveActivity && wanted(c.Athlete) {
			for _, id := range c.Activities {
				moved[id] = true
			}
		}
	}
	f.Activities = keep(f.Activities, func(a record.Activity) bool { return wanted(a.Athlete) || moved[a.ID] })
	return aboutSessions(f)
}

// aboutSessions keeps what is told about the sessions of the activities kept.
func aboutSessions(f record.Facts) record.Facts {
	activity := map[string]bool{}
	for _, a := range f.Activities {
		activity[a.ID] = true
	}
	f.Keys = keep(f.Keys, func(k record.SessionKey) bool { return activity[k.Activity] })
	session := map[string]bool{}
	for _, k := range f.Keys {
		session[k.Key] = true
	}
	f.Notes = keep(f.Notes, func(n record.Note) bool { return session[n.Session] })
	f.Answers = keep(f.Answers, func(a record.Answer) bool { return a.Session == "" || session[a.Session] })
	f.Corrections = keep(f.Corrections, func(c record.Correction) bool {
		return len(c.Activities) == 0 || slices.ContainsFunc(c.Activities, func(id string) bool { return activity[id] })
	})
	return f
}

func keep[T any](all []T, wanted func(T) bool) []T {
	return slices.DeleteFunc(all, func(v T) bool { return !wanted(v) })
}
