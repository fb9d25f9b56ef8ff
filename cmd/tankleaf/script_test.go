package main

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write the outputs in the scripts again")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"tankleaf": func() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs the specification of the command line: one script a case,
// named command_case.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "appears": appears},
	})
}

// exits runs a program and checks its exit code: exits CODE PROGRAM ARGS.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGS")
	}
	code := map[string]int{"0": exitFine, "1": exitProblems, "2": exitUsage, "3": exitFailure}
	want, known := code[args[0]]
	if !known {
		ts.Fatalf("unknown exit code %q", args[0])
	}
	err := ts.Exec(args[1], args[2:]...)
	got := 0
	if coder, ok := err.(interface{ ExitCode() int }); ok {
		got = coder.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// appears waits until a file of some pattern is there: appears PATTERN. Negated,
// it looks once that there is none.
func appears(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 1 {
		ts.Fatalf("usage: appears PATTERN")
	}
	for range 1200 {
		found, err := filepath.Glob(ts.MkAbs(args[0]))
		ts.Check(err)
		switch {
		case neg && len(found) > 0:
			ts.Fatalf("%v are there", found)
		case neg || len(found) > 0:
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	ts.Fatalf("nothing like %s appears", args[0])
}
