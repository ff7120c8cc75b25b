package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/session"
	"saltpan/store"
)

// take stores one piece, or says why not, and tells how it ended.
func (g *ingest) take(ctx context.Context, p piece) error {
	out := outcome{Input: p.src.Path, Athlete: g.whose(p.in)}
	if p.imp != nil {
		out.Kind = p.imp.Name()
	}
	switch {
	case p.known:
		out.Result, out.Reason = known, "read before"
	case p.problem != nil:
		out.refuse(*p.problem)
	case p.result.Refused != nil:
		out.refuse(*p.result.Refused)
	case p.result.Skipped != "":
		out.Result, out.Reason = skipped, p.result.Skipped
	default:
		return g.keep(ctx, p, out)
	}
	out.problems = append(out.problems, p.result.Problems...)
	if err := g.note(ctx, p, out, nil); err != nil {
		return err
	}
	g.tell(out)
	return nil
}

// keep stores the facts of a piece in one change.
func (g *ingest) keep(ctx context.Context, p piece, out outcome) error {
	out.Result, out.problems = stored, p.result.Problems
	if err := g.by(ctx, p); err != nil {
		return err
	}
	facts, bad := g.sift(p, &out)
	if bad != nil {
		out.refuse(*bad)
		facts = nil
	}
	if err := g.note(ctx, p, out, facts); err != nil {
		return err
	}
	g.tell(out)
	return nil
}

// sift decides what of a piece is kept and gives what writes it.
func (g *ingest) sift(p piece, out *outcome) (func(*store.Tx) error, *importer.Problem) {
	r := p.result
	switch {
	case len(r.Activities) > 0:
		return g.siftActivities(p, out)
	case len(r.WeighIns) > 0:
		return g.siftWeighIns(p, out)
	}
	return g.siftNotes(p, out)
}

func (g *ingest) siftActivities(p piece, out *outcome) (func(*store.Tx) error, *importer.Problem) {
	who := g.whose(p.in)
	if who == "" {
		return nil, &importer.Problem{Code: importer.NoAthlete, Path: p.src.Path, Text: "nobody says whose session this is",
			Hint: "name the athlete with --athlete KEY, or sort the files into folders and use --by-folder"}
	}
	fresh := 0
	var of []string
	for _, a := range p.result.Activities {
		if old, ok := g.bouts.same(a); !ok || old.Salvaged != "" && a.Salvaged == "" {
			fresh++
		} else {
			of = append(of, old.Origin.Path)
		}
		if a.Salvaged != "" {
			out.Reason = "salvaged: " + a.Salvaged
		}
	}
	if again := g.byHash[p.src.SHA256+" "+who]; again.SHA256 != "" {
		out.Result, out.Reason = known, "read again"
	} else if fresh == 0 {
		out.Result, out.Reason = known, "the same session as "+strings.Join(slices.Compact(of), ", ")
	}
	return func(tx *store.Tx) error {
		for _, a := range p.result.Activities {
			if err := tx.PutActivity(a); err != nil {
				return err
			}
			g.bouts.add(a)
		}
		g.touched[who] = true
		return nil
	}, nil
}

// boutsByAthlete are the activities known so far, by athlete and day.
type boutsByAthlete map[string][]record.Activity

func bucket(athlete string, t time.Time) string { return athlete + t.UTC().Format(" 2006-01-02") }

func (b boutsByAthlete) add(a record.Activity) {
	a.Samples = nil
	key := bucket(a.Athlete, a.Start)
	b[key] = append(b[key], a)
	if end := bucket(a.Athlete, a.Stop()); end != key {
		b[end] = append(b[end], a)
	}
}

func (b boutsByAthlete) same(a record.Activity) (record.Activity, bool) {
	for _, at := range []time.Time{a.Start, a.Stop()} {
		for _, old := range b[bucket(a.Athlete, at)] {
			if old.ID != a.ID && session.Same(old, a) {
				return old, true
			}
		}
	}
	return record.Activity{}, false
}

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

func (g *ingest) putReadings(tx *store.Tx, scale record.Scale, kept []record.WeighIn, others map[[2]int]int) error {
	if old, ok := g.scales[scale.Key]; !ok || len(old.Athletes) != len(scale.Athletes) {
		if err := tx.PutScale(scale); err != nil {
			return err
		}
		g.scales[scale.Key] = scale
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

func (g *ingest) siftNotes(p piece, out *outcome) (func(*store.Tx) error, *importer.Problem) {
	var good []record.Note
	for _, n := range p.result.Notes {
		if !g.keys[n.Session] {
			out.problems = append(out.problems, importer.Problem{Code: importer.NoSession, Path: p.src.Path, Line: n.Origin.Line,
				Text: fmt.Sprintf("no session %q", n.Session), Hint: "`saltpan sessions` lists the keys; ingest the activity files first"})
			continue
		}
		n.At = g.e.now().UTC()
		good = append(good, n)
	}
	if len(good) == 0 {
		bad := out.problems[0]
		out.problems = out.problems[1:]
		return nil, &bad
	}
	return func(tx *store.Tx) error {
		for _, n := range good {
			if err := tx.PutNote(n); err != nil {
				return err
			}
			g.touchSession(n.Session)
		}
		return nil
	}, nil
}

// touchSession marks the athlete of a session key; keys begin with the athlete's.
func (g *ingest) touchSession(key string) {
	for a := range g.athletes {
		if strings.HasPrefix(key, a+"-") {
			g.touched[a] = true
		}
	}
}

// note keeps how an input ended, together with its facts.
func (g *ingest) note(ctx context.Context, p piece, out outcome, facts func(*store.Tx) error) error {
	src := store.Source{Path: sourcePath(p), SizeBytes: p.in.size, MtimeNS: p.in.mtime.UnixNano(), Inode: uint64(p.in.inode),
		SHA256: p.src.SHA256, Kind: out.Kind, Athlete: out.Athlete, Result: store.Result(out.Result), Reason: out.Reason}
	if p.known && p.src.SHA256 == "" || p.in.file == stdin && facts == nil {
		return nil // nothing new is known of it
	}
	if p.imp != nil {
		src.Reader = readerOf(p.imp)
	}
	if facts != nil {
		src.Result = store.Stored
	}
	if src.Kind == "notes" {
		src.Athlete = ""
	}
	err := g.st.Change(ctx, g.e.now(), "ingest", p.src.Path, func(tx *store.Tx) error {
		if facts != nil {
			if err := g.put(tx, src, facts); err != nil {
				return err
			}
		}
		return tx.PutSource(src)
	})
	if err == nil {
		g.remember(src)
	}
	return err
}

// put writes facts; what an earlier reading of the same content brought is
// superseded by them.
func (g *ingest) put(tx *store.Tx, src store.Source, facts func(*store.Tx) error) error {
	if old, ok := g.byHash[src.SHA256+" "+src.Athlete]; ok && old.Result == store.Stored && old.Change != 0 {
		if err := tx.Supersede(old.Change); err != nil {
			return err
		}
	}
	return facts(tx)
}

// by makes the athlete a folder or a map names, if new.
func (g *ingest) by(ctx context.Context, p piece) error {
	who := g.whose(p.in)
	if who == "" || g.athletes[who].Key != "" || len(p.result.Activities)+len(p.result.WeighIns) == 0 {
		return nil
	}
	return g.newAthlete(ctx, who)
}

// sourcePath is where a source lies on this machine, members after "!".
func sourcePath(p piece) string {
	if p.in.file == stdin {
		return stdin
	}
	if _, member, ok := strings.Cut(p.src.Path, "!"); ok {
		return absolute(p.in) + "!" + member
	}
	return absolute(p.in)
}
