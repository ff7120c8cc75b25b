package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"saltpan/importers/importer"
	"saltpan/pipeline/record"
	"saltpan/store"
)

type consentOptions struct {
	document string
	scopes   []string
	withdraw bool
	how      string
}

func consentCommand(e *env) *cobra.Command {
	var o consentOptions
	c := &cobra.Command{Use: "consent [KEY]", Short: "Keep or show what an athlete agreed to about giving data away",
		Long: `consent keeps which document an athlete agreed to, for which scopes, and when it was
taken back. Without options it shows what is on record. Copies of data that were
given away before cannot be called back.`,
		Example: "  saltpan athlete consent ines --document consent-v2.pdf --scope public,contact --how \"on paper\"\n  saltpan athlete consent ines --scope public --withdraw",
		Args:    cobra.MaximumNArgs(1), ValidArgsFunction: e.completeAthlete,
		RunE: func(c *cobra.Command, args []string) error { return runConsent(c.Context(), o, e, firstArg(args)) }}
	f := c.Flags()
	f.StringVar(&o.document, "document", "", "the file that was agreed to; its name and checksum are kept")
	f.StringSliceVar(&o.scopes, "scope", nil, "public, restricted or contact")
	f.BoolVar(&o.withdraw, "withdraw", false, "the consent is taken back")
	f.StringVar(&o.how, "how", "", "how it was given, such as \"on paper\" or \"by a guardian\"")
	return c
}

func runConsent(ctx context.Context, o consentOptions, e *env, key string) error {
	return e.whom(ctx, key, func(st *store.Store, a record.Athlete) error {
		if len(o.scopes) == 0 && o.document == "" && !o.withdraw {
			return e.showConsent(ctx, st, a)
		}
		c, err := o.consent(a, e)
		if err != nil {
			return err
		}
		err = st.Change(ctx, e.now(), "athlete consent", a.Key, func(tx *store.Tx) error { return tx.PutConsent(c) })
		if err != nil {
			return err
		}
		return e.showConsent(ctx, st, a)
	})
}

func (o consentOptions) consent(a record.Athlete, e *env) (record.Consent, error) {
	c := record.Consent{Athlete: a.Key, At: e.now().UTC(), Scopes: o.scopes, Withdrawn: o.withdraw, How: o.how}
	if len(o.scopes) == 0 {
		return c, usagef("--scope: want public, restricted or contact")
	}
	for _, s := range o.scopes {
		if err := oneOf("--scope", s, record.ScopePublic, record.ScopeRestricted, record.ScopeContact); err != nil {
			return c, err
		}
	}
	if o.document == "" {
		if !o.withdraw {
			return c, usagef("--document: want the file that was agreed to")
		}
		return c, nil
	}
	data, err := os.ReadFile(o.document)
	if err != nil {
		return c, fmt.Errorf("--document %s: %s", o.document, reason(err))
	}
	c.Document, c.DocumentSHA256 = filepath.Base(o.document), importer.Hash(data)
	return c, nil
}

// showConsent shows what holds now, scope by scope, and the whole record.
func (e *env) showConsent(ctx context.Context, st *store.Store, a record.Athlete) error {
	facts, err := st.Facts(ctx, a.Key)
	if err != nil {
		return err
	}
	rows := [][]string{{"when", "scope", "", "document", "how"}}
	for _, c := range facts.Consents {
		if e.json {
			writeJSON(e.out, c)
			continue
		}
		word := "given"
		if c.Withdrawn {
			word = "withdrawn"
		}
		rows = append(rows, []string{c.At.Format("2006-01-02"), strings.Join(c.Scopes, ", "), word, c.Document, c.How})
	}
	if e.json {
		return nil
	}
	if len(rows) == 1 {
		fmt.Fprintf(e.out, "%s: no consent on record\n", a.Key)
		return nil
	}
	if err := table(e.out, rows); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "\nholds now: %s\n", orNone(holding(facts.Consents)))
	return nil
}

// holding is the scopes that the last word of each leaves standing.
func holding(list []record.Consent) []string {
	var out []string
	for _, scope := range []string{record.ScopePublic, record.ScopeRestricted, record.ScopeContact} {
		given := false
		for _, c := range list {
			if slices.Contains(c.Scopes, scope) {
				given = !c.Withdrawn
			}
		}
		if given {
			out = append(out, scope)
		}
	}
	return out
}

func eraseCommand(e *env) *cobra.Command {
	var yes bool
	c := &cobra.Command{Use: "erase KEY", Short: "Remove an athlete and all that is known of them, with no way back",
		Long: `erase removes an athlete's settings, sessions, weigh-ins and notes from the store's
file. No undo brings them back. Backups made before, and the files that were
read, are yours to delete.`,
		Example: "  saltpan athlete erase ines --yes", Args: cobra.ExactArgs(1), ValidArgsFunction: e.completeAthlete,
		RunE: func(c *cobra.Command, args []string) error { return runErase(c.Context(), e, args[0], yes) }}
	c.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return c
}

var errKept = errors.New("nothing was erased")

func runErase(ctx context.Context, e *env, key string, yes bool) error {
	return e.whom(ctx, key, func(st *store.Store, a record.Athlete) error {
		if !yes && !e.confirm("erase "+a.Key+" for good? type the key to confirm: ", a.Key) {
			return withHint(errKept, "`saltpan athlete erase %s --yes` does not ask", a.Key)
		}
		if err := st.Erase(ctx, a.Key); err != nil {
			return err
		}
		if _, err := e.derive(ctx, st); err != nil {
			return err
		}
		if e.json {
			return writeJSON(e.out, map[string]string{"erased": a.Key})
		}
		fmt.Fprintf(e.out, "%s is erased from %s; backups and the files that were read are yours to delete\n", a.Key, st.Path())
		return nil
	})
}

// confirm asks a person to type a word.
func (e *env) confirm(question, word string) bool {
	fmt.Fprint(e.voice.w, question)
	in := bufio.NewScanner(e.in)
	return in.Scan() && strings.TrimSpace(in.Text()) == word
}
