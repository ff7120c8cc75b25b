package main

import (
	"bufio"
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
	"saltpan/pipeline/sodium"
	"saltpan/store"
)

func screenCommand(e *env) *cobra.Command {
	var answers string
	var safety []string
	c := &cobra.Command{
		Use:   "screen [KEY]",
		Short: "Salt screen: five questions for a first idea of how salty the sweat is",
		Long: "The salt screen gives a first idea of the sodium in an athlete's sweat. It is common\n" +
			"practice with low confidence: a measured concentration (`saltpan sodium`) goes before it.\n\n" +
			numbered(sodium.Items()) + "\nAsked apart, under safety, and never counted:\n\n" + numbered(sodium.SafetyItems()),
		Example: "  saltpan screen ines --answers yes,no,yes,no,yes",
		Args:    cobra.MaximumNArgs(1), ValidArgsFunction: e.completeAthlete,
		RunE: func(c *cobra.Command, args []string) error {
			return runScreen(c.Context(), e, firstArg(args), answers, safety)
		},
	}
	c.Flags().StringVar(&answers, "answers", "", "five answers, yes or no, in the printed order")
	c.Flags().StringSliceVar(&safety, "safety", nil, "what was felt, such as faint,ill,swollen; never counted")
	return c
}

func numbered(items []string) string {
	var b strings.Builder
	for i, item := range items {
		fmt.Fprintf(&b, "  %d  %s\n", i+1, item)
	}
	return b.String()
}

func runScreen(ctx context.Context, e *env, key, answers string, safety []string) error {
	return e.whom(ctx, key, func(st *store.Store, a record.Athlete) error {
		var err error
		if answers == "" {
			if answers, safety, err = e.askScreen(); err != nil {
				return err
			}
		}
		s := record.Screen{Athlete: a.Key, At: e.now().UTC()}
		if s.Yes, err = fiveAnswers(answers); err != nil {
			return err
		}
		s.Safety = safety
		return e.putScreen(ctx, st, s)
	})
}

// askScreen asks the five items, then those under safety as far as there are answers.
func (e *env) askScreen() (answers string, safety []string, err error) {
	in := bufio.NewScanner(e.in)
	ask := func(item string) (string, bool) {
		fmt.Fprintf(e.voice.w, "%s (yes or no) ", item)
		ok := in.Scan()
		return strings.TrimSpace(in.Text()), ok
	}
	var said []string
	for _, item := range sodium.Items() {
		answer, ok := ask(item)
		if !ok {
			return "", nil, withHint(errNothing, "`saltpan screen --answers yes,no,yes,no,yes`")
		}
		said = append(said, answer)
	}
	for _, item := range sodium.SafetyItems() {
		if answer, _ := ask(item); strings.HasPrefix(strings.ToLower(answer), "y") {
			safety = append(safety, item)
		}
	}
	return strings.Join(said, ","), safety, in.Err()
}

func fiveAnswers(text string) (yes [5]bool, err error) {
	words := strings.Split(text, ",")
	if len(words) != len(yes) {
		return yes, usagef("--answers %q: want 5 answers, have %d", text, len(words))
	}
	for i, w := range words {
		w = strings.ToLower(strings.TrimSpace(w))
		yes[i] = w == "yes" || w == "y"
		if !yes[i] && w != "no" && w != "n" {
			return yes, usagef("--answers: answer %d is %q, want yes or no", i+1, w)
		}
	}
	return yes, nil
}

func (e *env) putScreen(ctx context.Context, st *store.Store, s record.Screen) error {
	err := st.Change(ctx, e.now(), "screen", s.Athlete, func(tx *store.Tx) error { return tx.PutScreen(s) })
	if err != nil {
		return err
	}
	if _, err := e.derive(ctx, st, s.Athlete); err != nil {
		return err
	}
	if len(s.Safety) > 0 {
		e.voice.say("faintness, feeling ill or swelling after runs are no sign of salty sweat; talk to a clinician before changing how you drink")
	}
	return e.saySodium(ctx, st, s.Athlete)
}

// saySodium says what an athlete's sodium concentration is now taken to be.
func (e *env) saySodium(ctx context.Context, st *store.Store, key string) error {
	facts, err := st.Facts(ctx, key)
	if err != nil {
		return err
	}
	in := sodium.Input{Tests: facts.SodiumTests}
	if n := len(facts.Screens); n > 0 {
		in.Screen = &facts.Screens[n-1]
	}
	r := sodium.Derive(in)
	c := r.Concentration
	mg := func(v quantity.Concentration) float64 { return v.MilligramsPerLitre() }
	if e.json {
		v, lo, hi := mg(c.Value), mg(c.Lo), mg(c.Hi)
		return writeJSON(e.out, struct {
			Athlete string       `json:"athlete"`
			Sodium  intervalJSON `json:"sodium_mg_per_l"`
		}{key, intervalJSON{&v, &lo, &hi, r.From}})
	}
	for _, p := range r.Problems {
		e.voice.say("%s", p)
	}
	fmt.Fprintf(e.out, "%s: %s mg/L sodium, from %s (%s)\n", key, quantity.FormatInterval(mg(c.Value), mg(c.Lo), mg(c.Hi), 0), r.From, r.Text)
	return nil
}
