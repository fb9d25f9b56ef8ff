package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// outcome is what became of a fault.
type outcome uint8

const (
	survived outcome = iota // the zero value: nobody noticed
	caught
	noFault // it does not compile
)

// trier runs the tests of one folder against faulty copies of its files.
type trier struct {
	folder  string
	scratch string        // for the faulty file
	timeout time.Duration // of the tests; a fault that makes them hang is caught
	rapid   bool          // the tests draw examples, and would keep those that fail
}

// try seeds a fault and runs the tests. An error is of the machine alone.
func (r trier) try(ctx context.Context, f fault) (outcome, error) {
	body, err := os.ReadFile(f.file)
	if err != nil {
		return survived, err
	}
	overlay, err := r.overlay(f, body)
	if err != nil {
		return survived, err
	}
	// -json tells a failed build from a failed test.
	args := []string{"test", "-overlay", overlay, "-short", "-failfast", "-vet=off", "-json",
		"-timeout", r.timeout.String(), "./" + filepath.ToSlash(r.folder)}
	if r.rapid {
		args = append(args, "-rapid.nofailfile") // a fault's examples are no use to anybody
	}
	cmd := exec.CommandContext(ctx, "go", args...)
	out, err := cmd.Output()
	var failed *exec.ExitError
	switch {
	case err == nil:
		return survived, nil
	case !errors.As(err, &failed) || ctx.Err() != nil:
		return survived, errors.Join(err, ctx.Err())
	case builds(string(out)):
		return caught, nil
	}
	return noFault, nil
}

// builds reports whether a run of tests got past the compiler.
func builds(out string) bool { return !strings.Contains(out, `"Action":"build-fail"`) }

// drawsExamples reports whether the tests of a folder use rapid.
func drawsExamples(folder string) bool {
	names, _ := filepath.Glob(filepath.Join(folder, "*_test.go"))
	return slices.ContainsFunc(names, func(name string) bool {
		body, err := os.ReadFile(name)
		return err == nil && strings.Contains(string(body), `"pgregory.net/rapid"`)
	})
}

// overlay writes the faulty file and the list that puts it in the place of the
// true one.
func (r trier) overlay(f fault, body []byte) (string, error) {
	real, err := filepath.Abs(f.file)
	if err != nil {
		return "", err
	}
	faulty := filepath.Join(r.scratch, "faulty.go")
	if err := os.WriteFile(faulty, f.apply(body), 0o600); err != nil {
		return "", err
	}
	list, err := json.Marshal(map[string]map[string]string{"Replace": {real: faulty}})
	if err != nil {
		return "", err
	}
	name := filepath.Join(r.scratch, "overlay.json")
	return name, os.WriteFile(name, list, 0o600)
}

// score counts the faults of one folder.
type score struct {
	made, caught, explained int
	survivors               []fault // that nothing explains
}

// run tries n faults of a folder that compile, and says what it finds as it goes.
func (r trier) run(ctx context.Context, all []fault, n int, why map[string]string, out io.Writer) (s score, err error) {
	for _, f := range all {
		if s.made == n {
			break
		}
		got, err := r.try(ctx, f)
		if err != nil {
			return s, fmt.Errorf("%s: %w", f.name(), err)
		}
		if got == noFault {
			continue
		}
		s.made++
		reason, known := why[filepath.ToSlash(filepath.Dir(f.file))+"/"+f.name()]
		switch {
		case got == caught && known:
			fmt.Fprintf(out, "caught, though explained as no fault: %s\n", f.name())
			s.caught++
		case got == caught:
			s.caught++
		case known:
			s.explained++
			fmt.Fprintf(out, "equivalent: %s: %s\n", f.name(), reason)
		default:
			s.survivors = append(s.survivors, f)
			fmt.Fprintf(out, "survives: %s:%d: %s\n", f.file, f.line, f.name())
		}
	}
	return s, nil
}
