package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	"saltpan/importers"
	"saltpan/importers/importer"
	"saltpan/pipeline/record"
	"saltpan/store"
)

// ingest is one call of the command: what it was asked, what it knows and
// what it has done so far.
type ingest struct {
	o   ingestOptions
	e   *env
	st  *store.Store
	at  time.Time // one moment for all of one call: it is taken back as one
	all []importer.Importer

	// mu guards what files being decoded look at while others are stored:
	// athletes, scales, byStat and byHash.
	mu       sync.RWMutex
	athletes map[string]record.Athlete
	scales   map[string]record.Scale
	rules    [][2]string       // pattern, athlete
	owner    map[string]string // argument → athlete, for inbox folders
	byStat   map[string]store.Source
	byHash   map[string]store.Source
	bouts    boutsByAthlete
	keys     map[string]bool

	touched map[string]bool
	count   map[string]int
	hinted  map[string]bool // hints given already
	sheets  []piece         // notes that wait for their sessions
}

// How an input ends.
const (
	stored  = "stored"
	known   = "known"
	skipped = "skipped"
	refused = "refused"
)

// restTime is how long a file must have been left alone to be believed unchanged.
const restTime = 2 * time.Second

func newIngest(ctx context.Context, o ingestOptions, e *env, st *store.Store) (*ingest, error) {
	g := &ingest{o: o, e: e, st: st, at: e.now(), all: importers.All(), touched: map[string]bool{}, count: map[string]int{}, hinted: map[string]bool{}}
	if err := e.catchUp(ctx, st); err != nil {
		return nil, err
	}
	if err := g.load(ctx); err != nil {
		return nil, err
	}
	if o.athlete != "" && g.athletes[o.athlete].Key == "" {
		if len(g.athletes) > 0 {
			_, err := pick(ctx, st, o.athlete)
			return nil, err
		}
		if err := g.newAthlete(ctx, o.athlete); err != nil {
			return nil, err
		}
	}
	return g, g.readMap()
}

// load reads what the store knows, once.
func (g *ingest) load(ctx context.Context) error {
	facts, err := g.st.Facts(ctx)
	if err != nil {
		return err
	}
	sources, err := g.st.Sources(ctx)
	if err != nil {
		return err
	}
	g.athletes, g.scales, g.keys = map[string]record.Athlete{}, map[string]record.Scale{}, map[string]bool{}
	for _, a := range facts.Athletes {
		g.athletes[a.Key] = a
	}
	for _, s := range facts.Scales {
		g.scales[s.Key] = s
	}
	for _, k := range facts.Keys {
		g.keys[k.Key] = true
	}
	g.bouts = boutsByAthlete{}
	for _, a := range facts.Activities {
		g.bouts.add(a)
	}
	g.byStat, g.byHash = map[string]store.Source{}, map[string]store.Source{}
	for _, s := range sources {
		g.remember(s)
	}
	return nil
}

func (g *ingest) remember(s store.Source) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.byStat[s.Path] = s
	if s.Result != store.Refused {
		g.byHash[s.SHA256+" "+s.Athlete] = s
	}
}

func (g *ingest) readMap() error {
	if g.o.mapFile == "" {
		return nil
	}
	f, err := os.Open(g.o.mapFile)
	if err != nil {
		return withHint(fmt.Errorf("--map %s: %s", g.o.mapFile, reason(err)), "want a CSV with lines such as ines/*.fit,ines")
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord, r.TrimLeadingSpace = 2, true
	rows, err := r.ReadAll()
	if err != nil {
		return withHint(usagef("--map %s: %v", g.o.mapFile, err), "want two fields a line: pattern,athlete")
	}
	for i, row := range rows {
		if _, err := path.Match(row[0], ""); err != nil {
			return usagef("--map %s:%d: pattern %q: %v", g.o.mapFile, i+1, row[0], err)
		}
		g.rules = append(g.rules, [2]string{row[0], strings.TrimSpace(row[1])})
	}
	return nil
}

// piece is one source after reading: an input, or a member of an archive.
type piece struct {
	in      input
	src     importer.Source
	imp     importer.Importer
	result  importer.Result
	problem *importer.Problem
	known   bool // unchanged since it was last read
}

// read unpacks and decodes one input. It runs side by side with others and
// writes nothing.
func (g *ingest) read(in input) []piece {
	if g.unchanged(in) {
		return []piece{{in: in, src: importer.Source{Path: in.label}, known: true}}
	}
	var out []piece
	in.read(g.e, func(src importer.Source, p *importer.Problem) bool {
		if p != nil {
			out = append(out, piece{in: in, src: importer.Source{Path: p.Path}, problem: p})
			return true
		}
		out = append(out, g.decode(in, src))
		return true
	})
	return out
}

// unchanged reports whether the file has the same path, size, time and inode
// as when it was read, by the same version of the reader, for the same athlete.
func (g *ingest) unchanged(in input) bool {
	g.mu.RLock()
	defer g.mu.RUnlock()
	s, ok := g.byStat[absolute(in)]
	if !ok || g.o.rehash || g.o.double || s.Result == store.Refused || s.Athlete != g.whoseKind(in, s.Kind) {
		return false
	}
	rested := g.e.now().Sub(in.mtime) > restTime
	return rested && s.SizeBytes == in.size && s.MtimeNS == in.mtime.UnixNano() && s.Inode == uint64(in.inode) && g.current(s.Reader)
}

// current reports whether a reader named in the store is still the newest.
func (g *ingest) current(reader string) bool {
	for _, imp := range g.all {
		if readerOf(imp) == reader {
			return true
		}
	}
	return false
}

func readerOf(imp importer.Importer) string { return fmt.Sprintf("%s/%d", imp.Name(), imp.Version()) }

func absolute(in input) string {
	abs, err := filepath.Abs(in.file)
	if err != nil {
		return in.file
	}
	return abs
}

func (g *ingest) decode(in input, src importer.Source) piece {
	p := piece{in: in, src: src}
	p.src.SHA256 = importer.Hash(src.Data)
	if p.imp, p.problem = importers.Find(g.all, p.src); p.problem != nil {
		p.src.Data = nil
		return p
	}
	if p.known = g.seen(p); p.known {
		p.src.Data = nil
		return p
	}
	p.src.Hints = g.hints(in, p.imp.Name())
	p.result = p.imp.Read(p.src)
	p.src.Data = nil
	return p
}

// seen reports whether the same content was read before, by the same version of
// the reader, for the same athlete.
func (g *ingest) seen(p piece) bool {
	g.mu.RLock()
	defer g.mu.RUnlock()
	s, ok := g.byHash[p.src.SHA256+" "+g.whoseKind(p.in, p.imp.Name())]
	return ok && s.Reader == readerOf(p.imp) && !g.o.double
}

// hints settle what the file leaves open. A scale's rows keep no zone but one
// that was declared: athletes' zones may be corrected later.
func (g *ingest) hints(in input, kind string) importer.Hints {
	g.mu.RLock()
	defer g.mu.RUnlock()
	who := g.whose(in)
	h := importer.Hints{Athlete: who, Scale: g.scaleName(who), Zone: g.o.zone, Unit: g.o.unit, Dates: g.o.dates, Second: g.o.double}
	h.Place, h.AltitudeM, _ = g.o.where() // checked before anything was read
	if s, ok := g.scales[h.Scale]; ok && h.Unit == "" {
		h.Unit = s.Unit
	}
	if h.Zone == "" && kind != "scale" && kind != "weather" {
		h.Zone = g.athletes[who].Zone
	}
	return h
}

func (g *ingest) scaleName(who string) string {
	switch {
	case g.o.scale != "":
		return g.o.scale
	case who != "":
		return who
	}
	return "shared"
}

// ahead is how many files are decoded before their turn to be stored.
func (g *ingest) ahead() int { return 2 * runtime.GOMAXPROCS(0) }
