package main

import (
	"flag"
	"os"
	"testing"

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
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
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
