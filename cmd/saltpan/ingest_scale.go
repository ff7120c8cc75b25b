package main

import (
	"fmt"
	"slices"
	"strings"

	"saltpan/importers/importer"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/store"
)

// siftWeighIns keeps the readings that may be an athlete's.
func (g *ingest) siftWeighIns(p piece, out *outcome) (func(*store.Tx) error, *importer.Problem) {
	who := g.whose(p.in)
	scale := g.scaleOf(p, who)
	users := g.users(scale)
	if len(users) == 0 {
		return nil, &importer.Problem{Code: importer.NoAthlete, Path: p.src.Path, Text: "there is no athlete yet whose weigh-ins these could be",
			Hint: "`saltpan athlete add KEY --mass 62kg --zone Europe/Lisbon`, then read it again"}
	}
	if bad := zoneless(p, scale, users); bad != nil {
		return nil, bad
	}
	kept, others := g.household(p.result.WeighIns, users)
	for i := range kept {
		kept[i].Scale = scale.Key
	}
	out.Reason = fmt.Sprintf("%d of %d readings kept", len(kept), len(p.result.WeighIns))
	return func(tx *store.Tx) error {
		for _, u := range users {
			g.touched[u.Key] = true
		}
		return g.putReadings(tx, scale, kept, others)
	}, nil
}

// putReadings writes the readings kept, their scale if it is new or has a new
// user, and the count of the others.
func (g *ingest) putReadings(tx *store.Tx, scale record.Scale, kept []record.WeighIn, others map[[2]int]int) error {
	if old, ok := g.scales[scale.Key]; !ok || len(old.Athletes) != len(scale.Athletes) {
		if err := tx.PutScale(scale); err != nil {
			return err
		}
		g.mu.Lock()
		g.scales[scale.Key] = scale
		g.mu.Unlock()
	}
	if err := tx.PutWeighIns(kept); err != nil {
		return err
	}
	if len(others) == 0 {
		return nil
	}
	return tx.AddBackground(scale.Key, others)
}

// scaleOf is the scale a file comes from, with its users. A file that was read
// for another athlete already is that athlete's scale too.
func (g *ingest) scaleOf(p piece, who string) record.Scale {
	key := p.src.Hints.Scale
	for _, s := range g.byHash {
		if s.SHA256 == p.src.SHA256 && s.Kind == "scale" && g.o.scale == "" && g.scales[s.Athlete].Key != "" {
			key = s.Athlete
		}
	}
	scale, ok := g.scales[key]
	scale.Key = key
	shared := who == "" || ok && len(scale.Athletes) == 0
	if !shared && !slices.Contains(scale.Athletes, who) {
		scale.Athletes = append(slices.Clone(scale.Athletes), who)
	}
	return scale
}

// zoneless refuses rows whose local time nothing can place.
func zoneless(p piece, scale record.Scale, users []record.Athlete) *importer.Problem {
	if scale.Zone != "" || slices.ContainsFunc(users, func(a record.Athlete) bool { return a.Zone != "" }) {
		return nil
	}
	for _, w := range p.result.WeighIns {
		if w.UTCOffset == nil && w.Zone == "" {
			return &importer.Problem{Code: importer.NoZone, Path: p.src.Path, Line: w.Origin.Line,
				Text: fmt.Sprintf("local time %q, and nothing says of which zone", w.Wall.Format("2006-01-02 15:04")),
				Hint: "`saltpan athlete set KEY --zone Europe/Lisbon`, or read it with --zone Europe/Lisbon"}
		}
	}
	return nil
}

// Readings within this share of a usual mass, and up to this much more for an
// athlete who weighs while carrying, may be the athlete's.
const (
	keepShare    = 0.12
	keepCarrying = quantity.Mass(8)
)

// household parts the readings that may be an athlete's from those of others,
// which are only counted. It goes by the row alone, never by a match.
func (g *ingest) household(all []record.WeighIn, users []record.Athlete) ([]record.WeighIn, map[[2]int]int) {
	var kept []record.WeighIn
	others := map[[2]int]int{}
	for _, w := range all {
		if g.o.keepAll || mayBeOne(w, users) {
			kept = append(kept, w)
		} else {
			others[[2]int{int(w.Mass.Kilograms()), w.Wall.Hour()}]++
		}
	}
	return kept, others
}

func mayBeOne(w record.WeighIn, users []record.Athlete) bool {
	for _, a := range users {
		if named(w.Person, a) || a.UsualMass == nil {
			return true
		}
		high := *a.UsualMass * (1 + keepShare)
		if a.Weighing == record.Carrying {
			high += keepCarrying
		}
		if w.Mass >= *a.UsualMass*(1-keepShare) && w.Mass <= high {
			return true
		}
	}
	return false
}

func named(person string, a record.Athlete) bool {
	return person != "" && (strings.EqualFold(person, a.Key) || strings.EqualFold(person, a.Name))
}
