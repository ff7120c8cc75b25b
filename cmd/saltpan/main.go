// Command saltpan works out how much fluid and sodium a runner loses, from the
// files a watch and a bathroom scale already write.
package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"strings"
	"time"
	_ "time/tzdata" // zones are the same on every system

	"github.com/spf13/cobra"
	"golang.org/x/term"
)

func main() {
	os.Exit(run(os.Args[1:]))
}

// run is the whole program: arguments in, exit code out.
func run(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	go func() { <-ctx.Done(); stop() }() // a second interrupt ends at once
	return execute(ctx, &env{in: os.Stdin, out: os.Stdout, voice: voice{os.Stderr}, now: time.Now,
		tty: term.IsTerminal(int(os.Stdin.Fd())), ttyErr: term.IsTerminal(int(os.Stderr.Fd()))}, args)
}

// execute runs one command in a world.
func execute(ctx context.Context, e *env, args []string) int {
	root := newRoot(e)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if ctx.Err() != nil {
		err = errInterrupted
	}
	if err != nil && !errors.Is(err, errSomeRefused) {
		e.voice.fail(err)
	}
	return exitCode(err)
}

// env is what a command may use of the world.
type env struct {
	in     io.Reader
	out    io.Writer
	voice  voice
	now    func() time.Time
	tty    bool // a person is at the keyboard
	ttyErr bool // progress can be drawn

	storePath string
	json      bool
	units     string
	quiet     bool
}

func newRoot(e *env) *cobra.Command {
	root := &cobra.Command{
		Use:   "saltpan",
		Short: "How much fluid and sodium you lose on a run, from the files you already have",
		Long: `saltpan reads what a watch (FIT, GPX, TCX) and a bathroom scale (CSV) already
write, finds which weigh-in belongs to which session and works out the loss, the
loss rate and the sodium lost, each with its interval, and what is still missing.

It computes and explains; it treats nobody. Never drink more than is lost; more
is not safer.`,
		SilenceUsage: true, SilenceErrors: true,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	f := root.PersistentFlags()
	f.StringVar(&e.storePath, "store", "", "the store's file (else $SALTPAN_STORE, else the data folder)")
	f.BoolVar(&e.json, "json", false, "one JSON object per line, metric, unrounded")
	f.StringVar(&e.units, "units", "", "metric or us, whatever the athlete's setting says")
	f.BoolVar(&e.quiet, "quiet", false, "no progress and no remarks on stderr")
	root.PersistentPreRunE = func(c *cobra.Command, _ []string) error {
		return usage(errors.Join(e.checkGlobals(), c.ValidateRequiredFlags(), c.ValidateFlagGroups()))
	}
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usage(err) })
	root.SetOut(e.out)
	root.Args = func(_ *cobra.Command, args []string) error {
		if len(args) == 0 {
			return nil
		}
		return withHint(usagef("no command %q", args[0]), "%s", suggestion(root, args[0]))
	}
	for _, c := range list(e) {
		usageArgs(c)
		root.AddCommand(c)
	}
	return root
}

// suggestion is the command that was probably meant.
func suggestion(root *cobra.Command, word string) string {
	root.SuggestionsMinimumDistance = 2
	if near := root.SuggestionsFor(word); len(near) > 0 {
		return "did you mean " + strings.Join(near, " or ") + "?"
	}
	return "`saltpan --help` lists the commands"
}

// list is THE list of commands, in the order of a first week of use.
func list(e *env) []*cobra.Command {
	return []*cobra.Command{
		demoCommand(e), athleteCommand(e), ingestCommand(e), sessionsCommand(e), missingCommand(e),
		noteCommand(e), weighCommand(e), answerCommand(e), screenCommand(e), sodiumCommand(e),
		explainCommand(e), methodsCommand(e), sessionCommand(e), scaleCommand(e), logCommand(e),
		undoCommand(e), checkCommand(e), backupCommand(e), restoreCommand(e),
	}
}

func (e *env) checkGlobals() error {
	if e.units != "" && e.units != "metric" && e.units != "us" {
		return usagef("--units %q: want metric or us", e.units)
	}
	return nil
}

// group is a command that only holds others; a mistyped one is wrong usage.
func group(use, short, example string, subs ...*cobra.Command) *cobra.Command {
	c := &cobra.Command{Use: use, Short: short, Example: example, Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			var names []string
			for _, s := range c.Commands() {
				names = append(names, s.Name())
			}
			if len(args) > 0 {
				return usagef("no command %q in %s; want one of: %s", args[0], c.CommandPath(), strings.Join(names, ", "))
			}
			return usagef("%s needs one of: %s", c.CommandPath(), strings.Join(names, ", "))
		}}
	c.AddCommand(subs...)
	return c
}

// usageArgs makes wrong arguments wrong usage (exit 2) in a command and below it.
func usageArgs(c *cobra.Command) {
	if check := c.Args; check != nil {
		c.Args = func(c *cobra.Command, args []string) error {
			if err := check(c, args); err != nil {
				return withHint(usage(err), "%s", c.UseLine())
			}
			return nil
		}
	}
	for _, s := range c.Commands() {
		usageArgs(s)
	}
}
