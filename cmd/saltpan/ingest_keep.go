package main

import (
	"context"
	"strings"

	"saltpan/importers/importer"
	"saltpan/store"
)

// take stores one piece, or says why not, and tells how it ended.
func (g *ingest) take(ctx context.Context, p piece) error {
	out := outcome{Input: p.src.Path, Athlete: g.whose(p.in)}
	if p.imp != nil {
		out.Kind = p.imp.Name()
		p.known = p.known || g.seen(p) // an equal file may have been stored since
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
	if err := g.note(ctx, p, &out, nil); err != nil {
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
	if err := g.note(ctx, p, &out, facts); err != nil {
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
	case len(r.Weather) > 0:
		return g.siftWeather(p, out)
	}
	return g.siftNotes(p, out)
}

// note keeps how an input ended, together with its facts.
func (g *ingest) note(ctx context.Context, p piece, out *outcome, facts func(*store.Tx) error) error {
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
	src.Athlete = g.whoseKind(p.in, src.Kind)
	err := g.st.Change(ctx, g.at, "ingest", p.src.Path, func(tx *store.Tx) error {
		if facts != nil {
			if twin, err := g.storedSince(tx, src); err != nil || twin {
				out.Result, out.Reason = known, "stored by another process just now"
				return err
			}
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

// storedSince reports whether another process stored the same content after
// this one looked.
func (g *ingest) storedSince(tx *store.Tx, src store.Source) (bool, error) {
	if _, ours := g.byHash[src.SHA256+" "+src.Athlete]; ours {
		return false, nil
	}
	_, there, err := tx.SourceByHash(src.SHA256, src.Athlete)
	return there, err
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
