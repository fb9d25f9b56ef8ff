package diag_test

import (
	"slices"
	"testing"

	"tankleaf.example/internal/diag"
)

func TestPosString(t *testing.T) {
	for _, c := range []struct {
		pos       diag.Pos
		want, why string
	}{
		{diag.Pos{File: "data/a.yaml", Line: 3, Col: 7}, "data/a.yaml:3:7", "all known"},
		{diag.Pos{File: "data/a.yaml", Line: 3}, "data/a.yaml:3", "no column"},
		{diag.Pos{File: "data/a.yaml"}, "data/a.yaml", "a whole file"},
	} {
		if got := c.pos.String(); got != c.want {
			t.Errorf("%s: got %q, want %q", c.why, got, c.want)
		}
	}
}

func TestListPrintsInOrderOnce(t *testing.T) {
	var l diag.List
	at := func(file string, line, col int) diag.Pos { return diag.Pos{File: file, Line: line, Col: col} }
	l.Add(at("b.yaml", 1, 1), "unknown key", "remove it")
	l.Warn(at("a.yaml", 9, 2), "past its review date", "")
	l.Add(at("a.yaml", 2, 5), `duplicate id "a1"`, "", "first used at a.yaml:1:5")
	l.Add(at("b.yaml", 1, 1), "unknown key", "remove it")
	want := "a.yaml:2:5: duplicate id \"a1\"\n\tfirst used at a.yaml:1:5\n" +
		"a.yaml:9:2: warning: past its review date\n" +
		"b.yaml:1:1: unknown key\n\tremove it\n"
	if got := l.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	slices.Reverse(l)
	if got := l.String(); got != want {
		t.Errorf("reversed: got\n%s\nwant\n%s", got, want)
	}
	if !l.Stops() || l.Sorted()[1:2].Stops() {
		t.Error("Stops: want true for the list and false for its warning alone")
	}
}

func TestNearest(t *testing.T) {
	names := []string{"glyphosate", "glufosinate", "captan", "sulfur", "copper-a", "copper-b", "ec", "sc"}
	for _, c := range []struct{ got, want, why string }{
		{"glyfosate", "glyphosate", "two edits and no rival"},
		{"glyphosat", "glyphosate", "one dropped letter"},
		{"cpatan", "captan", "two neighbours swapped"},
		{"copper-c", "", "two names as near: name nobody"},
		{"ac", "", "a tie between short codes"},
		{"sulphur", "sulfur", "two edits, one candidate"},
		{"mancozeb", "", "nothing near"},
	} {
		if got := diag.Nearest(c.got, names); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q: %s", c.got, got, c.want, c.why)
		}
	}
}
