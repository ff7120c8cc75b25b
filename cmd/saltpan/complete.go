package main

import (
	"context"
	"time"

	"github.com/spf13/cobra"
)

// completeAthlete completes athlete keys for the shell.
func (e *env) completeAthlete(c *cobra.Command, _ []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	st, err := e.open(ctx)
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	defer st.Close()
	var out []cobra.Completion
	all, _ := st.Athletes(ctx)
	for _, a := range all {
		out = append(out, cobra.CompletionWithDesc(a.Key, a.Name))
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeSession completes session keys, newest first, for the shell.
func (e *env) completeSession(c *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	none := cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
	if len(args) > 0 {
		return nil, none
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	st, err := e.open(ctx)
	if err != nil {
		return nil, none
	}
	defer st.Close()
	d, err := e.readDerived(ctx, st, selection{})
	if err != nil {
		return nil, none
	}
	var out []cobra.Completion
	for i := len(d.sessions) - 1; i >= 0; i-- {
		out = append(out, cobra.CompletionWithDesc(d.sessions[i].Key, needOf(d.sessions[i])))
	}
	return out, none
}
