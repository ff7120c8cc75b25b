package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"saltpan/importers"
	"saltpan/importers/importer"
)

type ingestOptions struct {
	athlete  string
	byFolder bool
	mapFile  string
	zone     string
	unit     string
	dates    string
	scale    string
	place    string
	follow   bool
	double   bool
	rehash   bool
	keepAll  bool
	why      string
	redact   bool
}

func ingestCommand(e *env) *cobra.Command {
	var o ingestOptions
	c := &cobra.Command{
		Use:   "ingest [PATH…]",
		Short: "Read activity files, scale CSV, weather and note sheets: files, folders, zip and gzip",
		Long: `ingest reads files and folders, also inside zip and gzip, of any kind and mixture.
Without a path it reads the athletes' inbox folders. What is known already is
passed over, so that a whole folder can be read again after every run.`,
		Example: `  saltpan ingest ~/watch ~/scale.csv
  saltpan ingest --by-folder season/
  saltpan ingest --dates dmy --zone Europe/Lisbon scale.csv`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error { return runIngest(c.Context(), o, e, args) },
	}
	f := c.Flags()
	f.StringVar(&o.athlete, "athlete", "", "whose files these are")
	f.BoolVar(&o.byFolder, "by-folder", false, "the first folder below PATH names the athlete; a scale file above them is shared")
	f.StringVar(&o.mapFile, "map", "", "CSV of pattern,athlete: which file is whose")
	f.StringVar(&o.zone, "zone", "", "zone of rows and files that name none, such as Europe/Lisbon")
	f.StringVar(&o.unit, "unit", "", "kg, lb or st for masses without a unit")
	f.StringVar(&o.dates, "dates", "", "dmy, mdy or ymd for dates that could be several")
	f.StringVar(&o.scale, "scale", "", "name of the scale a CSV comes from")
	f.StringVar(&o.place, "place", "", "where a weather file was observed: LAT,LON or LAT,LON,ALT, such as 38.7,-9.1,20")
	f.BoolVar(&o.follow, "follow", false, "stay and read each new file once it has rested a second")
	f.BoolVar(&o.double, "double-read", false, "read every activity with a second, independent reader and compare")
	f.BoolVar(&o.rehash, "rehash", false, "look into files that seem unchanged, too")
	f.BoolVar(&o.keepAll, "keep-household", false, "keep all readings of a scale (only with everybody's consent)")
	f.StringVar(&o.why, "why", "", "say what is recognised in this file and why; store nothing")
	f.BoolVar(&o.redact, "redact", false, "with --why: print a harmless sample for a bug report")
	c.MarkFlagsMutuallyExclusive("athlete", "by-folder", "map")
	c.RegisterFlagCompletionFunc("athlete", e.completeAthlete)
	return c
}

func runIngest(ctx context.Context, o ingestOptions, e *env, args []string) error {
	if err := o.check(); err != nil {
		return err
	}
	if o.why != "" {
		return e.why(o)
	}
	st, err := e.create(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	g, err := newIngest(ctx, o, e, st)
	if err != nil {
		return err
	}
	if args, err = g.where(args); err != nil {
		return err
	}
	g.warnZone()
	if err := g.once(ctx, args); err != nil || !o.follow {
		return err
	}
	return g.follow(ctx, args)
}

func (o ingestOptions) check() error {
	if o.unit != "" && !slices.Contains([]string{"kg", "lb", "st"}, o.unit) {
		return usagef("--unit %q: want kg, lb or st", o.unit)
	}
	if o.dates != "" && !slices.Contains([]string{"dmy", "mdy", "ymd"}, o.dates) {
		return usagef("--dates %q: want dmy, mdy or ymd", o.dates)
	}
	if o.redact && o.why == "" {
		return usagef("--redact goes with --why FILE")
	}
	if _, _, err := o.where(); err != nil {
		return err
	}
	return checkZone("--zone", o.zone)
}

// once reads everything below the arguments, derives what was touched and says it.
func (g *ingest) once(ctx context.Context, args []string) error {
	files, bad := inputs(args)
	for _, p := range bad {
		g.tell(outcome{Input: p.Path, Result: refused, Reason: string(p.Code), problems: []importer.Problem{p}})
	}
	if len(files) == 0 && len(bad) == 0 {
		g.e.voice.say("no files below %s", strings.Join(args, ", "))
	}
	diff, stopped, err := g.through(ctx, files)
	if err != nil {
		return err
	}
	someRefused := g.count[refused] > 0 // the report begins the count anew
	if err := g.report(diff); err != nil {
		return err
	}
	if stopped != nil {
		return stopped
	}
	if someRefused {
		return errSomeRefused
	}
	return nil
}

// through reads and derives files. Sheets of notes come last: they name
// sessions, and these have keys only once their activities are derived.
func (g *ingest) through(ctx context.Context, files []input) (diff difference, stopped, err error) {
	stopped = g.readAll(ctx, files)
	if diff, err = g.finish(context.WithoutCancel(ctx)); err != nil || stopped != nil || len(g.sheets) == 0 {
		return diff, stopped, err
	}
	if err := g.learnKeys(ctx); err != nil {
		return diff, nil, err
	}
	sheets := g.sheets
	g.sheets = nil
	for _, p := range sheets {
		if err := g.take(ctx, p); err != nil {
			return diff, nil, err
		}
	}
	noted, err := g.finish(context.WithoutCancel(ctx))
	return diff.then(noted), nil, err
}

// learnKeys reads the session keys anew: this call, or another process beside
// it, has given some since.
func (g *ingest) learnKeys(ctx context.Context) error {
	if err := g.e.catchUp(ctx, g.st); err != nil {
		return err
	}
	facts, err := g.st.Facts(ctx)
	if err != nil {
		return err
	}
	for _, k := range facts.Keys {
		g.keys[k.Key] = true
	}
	for _, a := range facts.Athletes {
		if g.athletes[a.Key].Key == "" {
			g.mu.Lock()
			g.athletes[a.Key] = a
			g.mu.Unlock()
		}
	}
	return nil
}

// readAll decodes files side by side and stores them one by one, in order.
func (g *ingest) readAll(ctx context.Context, files []input) error {
	turns := make(chan chan []piece, g.ahead())
	go func() {
		defer close(turns)
		for _, in := range files {
			turn := make(chan []piece, 1)
			select {
			case turns <- turn:
				go func() { turn <- g.read(in) }()
			case <-ctx.Done():
				return
			}
		}
	}()
	n := 0
	for turn := range turns {
		n++
		g.progress(n, len(files))
		for _, p := range <-turn {
			if !p.known && p.imp != nil && p.imp.Name() == "notes" {
				g.sheets = append(g.sheets, p)
				continue
			}
			if err := g.take(ctx, p); err != nil {
				return fmt.Errorf("%s: %w", p.src.Path, err)
			}
		}
	}
	if g.e.ttyErr && !g.e.quiet {
		g.e.voice.done()
	}
	return ctx.Err()
}

// finish derives the households of everybody whose facts changed.
func (g *ingest) finish(ctx context.Context) (difference, error) {
	if len(g.touched) == 0 {
		return difference{}, nil
	}
	var keys []string
	for k := range g.touched {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	clear(g.touched)
	return g.e.derive(ctx, g.st, keys...)
}

// why says what is recognised in a file, without a store.
func (e *env) why(o ingestOptions) error {
	files, bad := inputs([]string{o.why})
	if len(bad) > 0 {
		return withHint(fmt.Errorf("%s: %s", bad[0].Path, bad[0].Text), "%s", bad[0].Hint)
	}
	all := importers.All()
	for _, in := range files {
		in.read(e, func(src importer.Source, p *importer.Problem) bool {
			if p == nil {
				src.SHA256, src.Hints = importer.Hash(src.Data), importer.Hints{Athlete: "you", Zone: o.zone, Unit: o.unit, Dates: o.dates, Second: o.double}
				e.explainSource(all, src, o.redact)
			} else {
				e.voice.problem(*p)
			}
			return true
		})
	}
	return nil
}
