package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// atLeast is the share of faults, in percent, that the tests must notice or that
// must be explained.
const atLeast = 95

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run returns the exit code: 0 when enough was caught, 1 when not, 2 for wrong
// usage, 3 for a failure.
func run(args []string, out, complaints io.Writer) int {
	flags := flag.NewFlagSet("mutate", flag.ContinueOnError)
	flags.SetOutput(complaints)
	n := flags.Int("n", 40, "faults in each folder")
	seed := flags.Int("seed", 1, "draws another sample")
	timeout := flags.Duration("timeout", time.Minute, "of the tests of one fault; longer when without one they take a fifth of it")
	only := flags.String("only", "", "of the sample, faults whose name holds this")
	explained := flags.String("explained", "internal/mutate/explained.txt", "faults that change nothing")
	if err := flags.Parse(args); err != nil || flags.NArg() == 0 {
		fmt.Fprintln(complaints, "usage: mutate [flags] FOLDER…")
		return 2
	}
	why, err := readExplained(*explained)
	if err != nil {
		fmt.Fprintln(complaints, err)
		return 3
	}
	var all score
	for _, folder := range flags.Args() {
		s, err := one(filepath.Clean(folder), sample{*n, *seed, *only}, *timeout, why, out)
		if err != nil {
			fmt.Fprintln(complaints, err)
			return 3
		}
		fmt.Fprintf(out, "%s: %s\n", folder, s)
		all.made, all.caught, all.explained = all.made+s.made, all.caught+s.caught, all.explained+s.explained
	}
	fmt.Fprintf(out, "all: %s\n", all)
	if 100*(all.caught+all.explained) < atLeast*all.made || all.made == 0 {
		return 1
	}
	return 0
}

func (s score) String() string {
	return fmt.Sprintf("caught %d of %d faults, %d more change nothing", s.caught, s.made, s.explained)
}

// sample says which faults of a folder are tried.
type sample struct {
	n, seed int
	only    string
}

func one(folder string, of sample, timeout time.Duration, why map[string]string, out io.Writer) (score, error) {
	faults, err := faultsOf(folder, of.seed)
	if err != nil {
		return score{}, err
	}
	faults = slices.DeleteFunc(faults, func(f fault) bool { return !strings.Contains(f.name(), of.only) })
	if len(faults) == 0 {
		return score{}, fmt.Errorf("%s offers no fault with %q in its name", folder, of.only)
	}
	scratch, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return score{}, err
	}
	defer os.RemoveAll(scratch)
	r := trier{folder, scratch, 10 * time.Minute, drawsExamples(folder)}
	start := time.Now()
	if got, err := r.try(context.Background(), fault{file: faults[0].file}); err != nil || got != survived {
		return score{}, fmt.Errorf("%s: its tests fail without a fault (%v)", folder, err)
	}
	r.timeout = max(timeout, 5*time.Since(start)) // a busy machine catches nothing
	return r.run(context.Background(), faults, of.n, why, out)
}

// readExplained reads faults that change nothing, each on one line as
// FOLDER/NAME ⇒ REASON. Lines that start with # are comments.
func readExplained(name string) (map[string]string, error) {
	body, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	why := map[string]string{}
	for line := range strings.Lines(string(body)) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		name, reason, ok := strings.Cut(line, " ⇒ ")
		if !ok || reason == "" {
			return nil, fmt.Errorf("%q has no reason", line)
		}
		why[name] = reason
	}
	return why, nil
}
