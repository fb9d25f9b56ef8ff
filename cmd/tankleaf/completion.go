package main

import (
	"fmt"
	"slices"
	"strings"
)

var completionCommand = &command{
	name: "completion",
	args: "bash|zsh|fish",
	does: "print a completion script for a shell",
	long: `
Prints a script that lets the shell complete commands, flags, and the names of
products and classes of the office in the current folder.

  source <(tankleaf completion bash)
  tankleaf completion zsh > "${fpath[1]}/_tankleaf"
  tankleaf completion fish > ~/.config/fish/completions/tankleaf.fish
`,
	run: func(c *call) error {
		if err := c.want(1, 1); err != nil {
			return err
		}
		script, ok := completions[c.args[0]]
		if !ok {
			return usagef("write bash, zsh or fish", "no completion for the shell %q", c.args[0])
		}
		_, err := fmt.Fprint(c.out, script)
		return err
	},
}

// The scripts ask the program itself what may follow, so that they never go out
// of date: `tankleaf __complete WORD…` prints one candidate a line.
var completions = map[string]string{
	"bash": `_tankleaf() {
	local cur=${COMP_WORDS[COMP_CWORD]}
	COMPREPLY=($(compgen -W "$(tankleaf __complete "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)" -- "$cur"))
}
complete -o default -F _tankleaf tankleaf
`,
	"zsh": `#compdef tankleaf
_tankleaf() {
	local -a found
	found=(${(f)"$(tankleaf __complete "${(@)words[2,CURRENT]}" 2>/dev/null)"})
	compadd -- $found || _files
}
compdef _tankleaf tankleaf
`,
	"fish": `complete -c tankleaf -a '(tankleaf __complete (commandline -opc)[2..] (commandline -ct) 2>/dev/null)'
`,
}

// completeCommand answers the scripts. The last word is the one being typed.
var completeCommand = &command{
	name: "__complete",
	run: func(c *call) error {
		for _, word := range c.candidates(c.args) {
			fmt.Fprintln(c.out, word)
		}
		return nil
	},
}

func (c *call) candidates(words []string) []string {
	if len(words) <= 1 {
		return matching(append(commandNames(), "-C", "--json"), last(words))
	}
	typed := last(words)
	switch {
	case words[0] == "help":
		return matching(commandNames(), typed)
	case words[0] == "completion":
		return matching([]string{"bash", "fish", "zsh"}, typed)
	case strings.HasPrefix(typed, "-"):
		return matching(flagsOf[words[0]], typed)
	case words[0] == "explain":
		return matching(c.itemNames(), typed)
	case words[0] == "isolate":
		return matching(c.inquiryNames(), typed)
	}
	return nil
}

// flagsOf lists the flags of each command; a test holds it against the flag sets.
var flagsOf = map[string][]string{
	"check":   {"-C", "--json"},
	"build":   {"-C", "--json", "--out", "--base-url", "--last", "--review"},
	"verify":  {"--json", "--sums"},
	"preview": {"-C", "--addr"},
	"explain": {"-C", "--json", "--place", "--water", "--crop", "--lang"},
	"isolate": {"-C", "--json", "--plan", "--lang"},
	"gaps":    {"-C", "--json", "--top", "--lang"},
	"recipe":  {"-C", "--json", "--jar", "--spray-volume", "--rate", "--water-share"},
	"load":    {"-C", "--json", "--tank", "--spray-volume", "--area", "--rate", "--heel", "--min"},
	"search":  {"-C", "--json", "--lang", "--top"},
	"new":     {"--json"},
}

func last(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return words[len(words)-1]
}

func matching(words []string, prefix string) []string {
	found := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return !strings.HasPrefix(w, prefix) })
	slices.Sort(found)
	return found
}
