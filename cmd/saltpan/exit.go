package main

import (
	"errors"
	"fmt"
	"strings"

	"saltpan/store"
)

// Exit codes. Scripts rely on them.
const (
	exitDone        = 0
	exitFailed      = 1
	exitUsage       = 2
	exitSomeRefused = 3 // done, some input refused
	exitNoStore     = 10
	exitBusy        = 11
	exitForeign     = 12 // the store is newer than this program, or not ours
	exitInterrupted = 130
)

var (
	errSomeRefused = errors.New("some input was refused")
	errInterrupted = errors.New("interrupted; what was stored is safe, run it again to go on")
)

// usageError is wrong usage, found before anything was done.
type usageError struct{ err error }

func (u usageError) Error() string { return u.err.Error() }
func (u usageError) Unwrap() error { return u.err }

func usage(err error) error {
	if err == nil {
		return nil
	}
	return usageError{err}
}

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// isUsage knows the complaints of the command line's own parser, which have no type.
func isUsage(text string) bool {
	for _, p := range []string{"unknown command", "required flag", "if any flags in the group"} {
		if strings.HasPrefix(text, p) {
			return true
		}
	}
	return false
}

func exitCode(err error) int {
	var u usageError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errInterrupted):
		return exitInterrupted
	case errors.Is(err, errSomeRefused):
		return exitSomeRefused
	case errors.As(err, &u), isUsage(err.Error()):
		return exitUsage
	case errors.Is(err, store.ErrNone):
		return exitNoStore
	case errors.Is(err, store.ErrBusy):
		return exitBusy
	case errors.Is(err, store.ErrNewer), errors.Is(err, store.ErrForeign):
		return exitForeign
	}
	return exitFailed
}
