package main

import (
	"flag"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected output inside the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"saltpan": func() { os.Exit(run(os.Args[1:])) }})
}

// TestScripts runs the scripts, each in an empty folder with a store and a
// home of its own.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../../testdata/script", UpdateScripts: *update, RequireExplicitExec: true, RequireUniqueNames: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("SALTPAN_STORE", e.WorkDir+"/store/saltpan.db")
			e.Setenv("HOME", e.WorkDir)
			e.Setenv("TZ", "UTC")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"code": code, "grab": grab, "make": maker(t)},
	})
}
