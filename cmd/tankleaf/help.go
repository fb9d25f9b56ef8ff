package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
)

const helpHead = `Tankleaf turns an extension office's fact sheets and test records into a site
that says what may share a spray tank, why, and how to prove it in a jar first.

usage: tankleaf COMMAND [-C DIR] [--json] ...

`

const helpTail = `
  -C DIR   the office folder (content/, data/), default the current one
  --json   print one JSON object

Exit codes: 0 fine, 1 problems in the content, 2 wrong usage, 3 failure.
tankleaf help COMMAND tells more, with examples.
`

// commands lists every command in the order of help. It is filled by init, since
// help and completion look at it themselves.
var commands []*command

func init() {
	commands = []*command{checkCommand, buildCommand, previewCommand, explainCommand, isolateCommand, gapsCommand, recipeCommand, loadCommand, trialCommand, importCommand, searchCommand,
		verifyCommand, newCommand, completionCommand}
}

func commandNames() []string {
	var names []string
	for _, k := range commands {
		names = append(names, k.name)
	}
	return append(names, "help")
}

func (c *call) printHelp(w io.Writer) {
	fmt.Fprint(w, helpHead)
	for _, k := range commands {
		fmt.Fprintf(w, "  %-11s %s\n", k.name, k.does)
	}
	fmt.Fprint(w, helpTail)
}

func (c *call) printCommand(w io.Writer) {
	k := c.command
	fmt.Fprintf(w, "usage: %s\n\n%s\n", strings.TrimSpace("tankleaf "+k.name+" "+k.args), strings.TrimSpace(k.long))
}

// help answers `tankleaf help` and `tankleaf help COMMAND`.
func (c *call) help(args []string) error {
	if len(args) == 0 {
		c.printHelp(c.out)
		return nil
	}
	i := slices.IndexFunc(commands, func(k *command) bool { return k.name == args[0] })
	if i < 0 {
		hint := "run: tankleaf help"
		if near := diag.Nearest(args[0], commandNames()); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		return usagef(hint, "unknown command %q", args[0])
	}
	c.command = commands[i]
	c.printCommand(c.out)
	return nil
}
