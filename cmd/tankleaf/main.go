// Command tankleaf turns an agricultural extension office's fact sheets and test
// records into a static site about what may share a spray tank.
//
// Run `tankleaf help` for the commands. Exit codes: 0 fine, 1 problems in the
// content, 2 wrong usage, 3 failure of the machine.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// The exit codes, decided here and nowhere else.
const (
	exitFine     = 0
	exitProblems = 1
	exitUsage    = 2
	exitFailure  = 3
)

// command is one word of the command line. Its text is printed by help.
type command struct {
	name string
	args string // after the name, as in the usage line
	does string // one line
	long string // paragraphs and examples for `tankleaf help NAME`
	// run does the work. It returns errProblems after it has printed problems,
	// a usageError for a wrong call, and any other error for a failure.
	run func(*call) error
}

// call is one run of a command.
type call struct {
	in       io.Reader
	out, err io.Writer
	dir      string // the office folder
	json     bool
	args     []string // what is neither a flag nor its value
	flags    *flag.FlagSet
	command  *command
}

// errProblems says that the problems have been printed and the exit code is 1.
var errProblems = errors.New("problems in the content")

// usageError is a wrong call: what is wrong, and what to write instead.
type usageError struct{ msg, hint string }

func (e usageError) Error() string { return e.msg }

func usagef(hint, format string, args ...any) error {
	return usageError{fmt.Sprintf(format, args...), hint}
}

// run is the whole program but for the process: it never calls os.Exit.
func run(args []string, in io.Reader, out, errw io.Writer) int {
	c := &call{in: in, out: out, err: errw, dir: "."}
	err := c.dispatch(args)
	var usage usageError
	switch {
	case err == nil, errors.Is(err, errHelped):
		return exitFine
	case errors.Is(err, errProblems):
		return exitProblems
	case errors.As(err, &usage):
		c.complain(usage.msg, usage.hint)
		return exitUsage
	}
	c.complain(err.Error(), "")
	return exitFailure
}

// dispatch finds the command, which may stand behind -C DIR and --json.
func (c *call) dispatch(args []string) error {
	for len(args) > 0 {
		switch word := args[0]; {
		case word == "-C" && len(args) > 1:
			c.dir, args = args[1], args[2:]
		case word == "--json" || word == "-json":
			c.json, args = true, args[1:]
		case word == "-h" || word == "--help" || word == "-help":
			return c.help(nil)
		case strings.HasPrefix(word, "-"):
			return usagef("run: tankleaf help", "unknown flag %q", word)
		default:
			return c.start(word, args[1:])
		}
	}
	c.printHelp(c.err)
	return usagef("", "no command given")
}

func (c *call) start(name string, args []string) error {
	if name == "help" {
		return c.help(args)
	}
	all := append(slices.Clone(commands), completeCommand)
	i := slices.IndexFunc(all, func(k *command) bool { return k.name == name })
	if i < 0 {
		hint := "run: tankleaf help"
		if near := diag.Nearest(name, commandNames()); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		return usagef(hint, "unknown command %q", name)
	}
	c.command = all[i]
	c.flags = flag.NewFlagSet(name, flag.ContinueOnError)
	c.flags.SetOutput(io.Discard)
	c.flags.StringVar(&c.dir, "C", c.dir, "the office `folder`")
	c.flags.BoolVar(&c.json, "json", c.json, "print one JSON object")
	c.args = args
	return c.command.run(c)
}

// parse reads the flags of the command, which may stand anywhere among the other
// words; after -- everything is a word.
func (c *call) parse() error {
	rest, words := c.args, []string(nil)
	for {
		err := c.flags.Parse(rest)
		if errors.Is(err, flag.ErrHelp) {
			c.printCommand(c.out)
			return errHelped
		}
		if err != nil {
			return usagef("run: tankleaf help "+c.command.name, "%s: %v", c.command.name, err)
		}
		left := c.flags.Args()
		if len(left) == 0 || len(left) < len(rest) && rest[len(rest)-len(left)-1] == "--" {
			c.args = append(words, left...)
			return nil
		}
		words, rest = append(words, left[0]), left[1:]
	}
}

// errHelped ends a command whose help was asked for with -h.
var errHelped = errors.New("help printed")

// want parses the flags and takes between low and high words (high < 0: any).
func (c *call) want(low, high int) error {
	if err := c.parse(); err != nil {
		return err
	}
	usage := "usage: tankleaf " + c.command.name + " " + c.command.args
	if len(c.args) < low {
		return usagef(usage, "%s: something is missing", c.command.name)
	}
	if high >= 0 && len(c.args) > high {
		return usagef(usage, "%s: %q is too much", c.command.name, c.args[high])
	}
	return nil
}
