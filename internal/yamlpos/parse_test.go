package yamlpos_test

import (
	"strings"
	"testing"
	"time"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/yamlpos"
)

// parse reads a whole file named f and returns the problems as printed.
func parse(text string) (yamlpos.Node, bool, string) {
	var problems diag.List
	n, ok := yamlpos.Parse(yamlpos.Source{File: "f", Text: []byte(text)}, &problems)
	return n, ok, problems.String()
}

// first returns the first line of printed problems.
func first(problems string) string {
	line, _, _ := strings.Cut(problems, "\n")
	return line
}

func TestSyntax(t *testing.T) {
	for _, c := range []struct{ text, want, why string }{
		{"a: b: c\n", `f:1:5: ":" where no key may stand`, "an unquoted colon, the commonest fault"},
		{"x: 1\ny: note: é: w\n", `f:2:8: ":" where no key may stand`, "the second colon of the line"},
		{"a:\n  b: 1\n c: 2\n", "f:3:2: a key was expected here", "indentation of no level"},
		{"a:\n  - x\n  - y\n  z: 1\n", "f:4:3: a list entry was expected here", "not where the list begins"},
		{"l:\n  - id: a\n    n: b\n   k: c\n", "f:4:4: a list entry was expected here", "one space short"},
		{"q: é\na: [1, 2\nb: 3\n", `f:2:4: the list opened with "[" has no "]", or a comma is missing`, "open list"},
		{"a: [1, 2\nb: 3\n", `f:1:4: the list opened with "[" has no "]", or a comma is missing`, "open list on line 1"},
		{"q: 1\na: {x: 1\nb: 3\n", `f:2:4: the mapping opened with "{" has no "}", or a comma is missing`, "open mapping"},
		{"a: \"x\nb: 2\n", "f:1:4: the quotes opened here are not closed", "open quotes on line 1"},
		{"é: 1\nb: 'x\nc: 2\n", "f:2:4: the quotes opened here are not closed", "open quotes"},
		{"q: 1\nr: [é, @x]\n", "f:2:8: a value cannot start with this character", "columns count characters"},
		{"a:\n\tb: 1\n", "f:2:1: a value cannot start with this character", "a tab before a key"},
		{"a: 1\n\tb: 2\n", "f:2:2: a tab is used to indent", "a tab in a continued value"},
		{"q: 1\nword\nb: 1\n", "f:2:1: this line is neither a key with a value nor part of the text above", "a word alone"},
		{"q: 1\na: \"\\q\"\n", "f:2:5: a backslash in double quotes starts an escape that is not known", "unknown escape"},
		{"a: [x, , y]\n", "f:1:8: a value is missing here", "two commas"},
		{"q: 1\na: - b\n", `f:2:1: "- " where no list entry may stand`, "a list on the line of its key"},
		{"q: 1\na: *x\n", `f:2:4: alias "*x": aliases are not read`, "an alias of no anchor"},
		{"a: &x 1\n", `f:1:4: anchor "&x": anchors are not read`, "an anchor"},
		{"b: 1\na: !!str 1\n", "f:2:4: a tag: tags are not read", "a tag"},
		{"a: ! 1\n", "f:1:4: a tag: tags are not read", "a tag without a name"},
		{"---\na: 1\n---\nb: 2\n", "f:3:1: a second YAML document starts here", "two documents"},
		{"a: 1\n...\nb\n", "f:3:1: text after the end of the document", "text after its end"},
		{"%YAML 1.2\n---\na: 1\n", "f:1:1: a line of instructions to YAML, which is not read", "a version"},
		{"%FOO\n---\na: 1\n", "f:1:1: a line of instructions to YAML, which is not read", "another directive"},
		{strings.Repeat("[", 20_000), "f:1:1: nested too deep", "refused by the library"},
		{"a: " + strings.Repeat("[", 30) + strings.Repeat("]", 30), "f:1:28: nested more than 24 deep", "refused by us"},
		{"", "f:1:1: nothing is written here", "empty"},
		{"# only a remark\n", "f:1:1: nothing is written here", "nothing but a remark"},
		{"a: \"\\0\"\n", "f:1:5: control character U+0000", "escaped NUL"},
		{"b: 1\na: \"x\\u202ey\"\n", "f:2:6: invisible character U+202E changes the direction of text", "escaped control"},
		{"a: " + strings.Repeat("é", yamlpos.MaxScalar+1), "f:1:4: text of 20001 characters: more than 20000", "a long value"},
	} {
		_, ok, problems := parse(c.text)
		if got := first(problems); got != c.want || ok {
			t.Errorf("%s: %.40q\ngot  %q, %v\nwant %q, false", c.why, c.text, got, ok, c.want)
		}
	}
}

func TestCharacters(t *testing.T) {
	for _, c := range []struct{ text, want, why string }{
		{"a: x\x00y\n", "f:1:5: control character U+0000", "NUL"},
		{"é: x\n# \x1b[31m\n", "f:2:3: control character U+001B", "a terminal's escape, in a remark"},
		{"a: \xff\n", "f:1:4: byte 0xff is not UTF-8 text", "no UTF-8"},
		{"a: é\xc3\n", "f:1:5: byte 0xc3 is not UTF-8 text", "half a character"},
		{"\xff\xfea\x00:\x00", "f:1:1: byte 0xff is not UTF-8 text", "UTF-16"},
		{"a: b\u202ec\n", "f:1:5: invisible character U+202E changes the direction of text", "override"},
		{"a: b\u2066c\n", "f:1:5: invisible character U+2066 changes the direction of text", "isolate"},
		{"a: b\u200bc\n", "f:1:5: invisible character U+200B", "zero width"},
		{"a: b\u2028c\n", "f:1:5: line separator U+2028", "a line end that editors do not count"},
		{"a: b\u0085c\n", "f:1:5: control character U+0085", "another"},
		{"a: b\rc: d\n", "f:1:5: control character U+000D", "a line end of old machines"},
		{"a: \uffff\n", "f:1:4: U+FFFF is no character", "not a character"},
		{"a: \ue000\n", "f:1:4: U+E000 is no character", "private use"},
		{"a: b\ufeffc\n", "f:1:5: invisible character U+FEFF", "a byte order mark inside"},
	} {
		_, ok, problems := parse(c.text)
		if got := first(problems); got != c.want || ok {
			t.Errorf("%s: got %q, %v; want %q, false", c.why, got, ok, c.want)
		}
	}
	for _, text := range []string{"\ufeffa: b\n", "a: b\r\nc: d\r\n", "a: Ácido 100 µg ½ 漢字 😀 \ufffd\n", "a: x\ty\n"} {
		if _, ok, problems := parse(text); !ok || problems != "" {
			t.Errorf("%q: got %v, %s; want it read", text, ok, problems)
		}
	}
}

// TestLimits shows that what is made to exhaust the reader is refused soon. The
// bound is generous: each takes well under a second here, but a wrong power of
// the size takes minutes.
func TestLimits(t *testing.T) {
	for name, text := range map[string]string{
		"one long line":   "a: [" + strings.Repeat("x,", 200_000) + "]",
		"one long value":  "a: " + strings.Repeat("x", 5<<20),
		"nested":          strings.Repeat("- ", 100_000),
		"aliases":         "a: &a x\n" + strings.Repeat("b: *a\n", 100_000),
		"documents":       strings.Repeat("---\n", 100_000),
		"remarks":         strings.Repeat("# c\n", 500_000),
		"broken at last":  strings.Repeat("abc: 1\n", 100_000) + " x: 1\n",
		"bad bytes":       strings.Repeat("\xff", 1<<20),
		"larger than may": strings.Repeat("a", yamlpos.MaxBytes+1),
	} {
		start := time.Now()
		_, _, problems := parse(text)
		if took := time.Since(start); took > 20*time.Second {
			t.Errorf("%s took %v", name, took)
		}
		if n := strings.Count(problems, "\nf:"); n > yamlpos.MaxProblems {
			t.Errorf("%s: %d problems, want %d at most and a last word", name, n, yamlpos.MaxProblems)
		}
	}
	_, _, problems := parse(strings.Repeat("a", yamlpos.MaxBytes+1))
	if got, want := first(problems), "f: larger than 16 MiB"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	_, _, problems = parse(strings.Repeat("\xff", 1000))
	if want := "too many problems: the rest of this file is not shown"; !strings.Contains(problems, want) {
		t.Errorf("1000 problems are not summed up: %s", problems)
	}
}

func TestStarts(t *testing.T) {
	// A block in a list item of a markdown file: line 1 of the text is line 10 of
	// the file, four characters in; the second is less indented.
	src := yamlpos.Source{File: "s.md", Text: []byte("a: 1\nb: é: 2\n"), Starts: []diag.Pos{{Line: 10, Col: 5}, {Line: 11, Col: 3}}}
	var problems diag.List
	yamlpos.Parse(src, &problems)
	if got, want := first(problems.String()), `s.md:11:7: ":" where no key may stand`; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	src.Text, src.Starts = []byte("a: 1\nb: 2\n"), yamlpos.Shifted(2, 7, 3)
	n, ok := yamlpos.Parse(src, &problems)
	entries, _ := n.Entries("a thing")
	if !ok || len(entries) != 2 {
		t.Fatalf("not read: %s", problems)
	}
	if got, want := entries[1].Value.Pos().String(), "s.md:8:6"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestPosAt(t *testing.T) {
	for _, c := range []struct {
		text   string
		offset int
		want   string
		why    string
	}{
		{"a: 12 gal\n", 3, "f:1:7", "plain"},
		{"a: é2 gal\n", 9, "f:1:10", "behind the last character"},
		{"a: 'it''s 5'\n", 5, "f:1:11", "a doubled quote"},
		{"a: \"x\\u00e9y\\nz 5\"\n", 6, "f:1:17", "escapes"},
		{"a: one\n   two\n", 4, "f:2:4", "a folded plain line"},
		{"a: one\n\n   two\n", 4, "f:3:4", "an empty line in a plain value"},
		{"a: 'one\n  two'\n", 5, "f:2:4", "folded quotes"},
		{"a: |\n  one\n  two\n", 5, "f:3:4", "literal block"},
		{"a: |\n  one\n    two\n", 6, "f:3:5", "literal block, further indented"},
		{"a: >\n  one\n  two\n", 4, "f:3:3", "folded block"},
		{"a: >\n  one\n\n  two\n", 4, "f:4:3", "folded block with a paragraph"},
		{"a: \"one\\\n   two\"\n", 3, "f:1:8", "the escape that joins two lines"},
	} {
		n, ok, problems := parse(c.text)
		v, found := n.Child("a")
		if !ok || !found {
			t.Fatalf("%s: not read: %s", c.why, problems)
		}
		if got := v.PosAt(c.offset).String(); got != c.want {
			t.Errorf("%s: %q at %d: got %s, want %s", c.why, v.Value(), c.offset, got, c.want)
		}
	}
}

// FuzzParse holds that nothing makes the reader panic and that every place it
// reports, and that of every character of every value, lies inside the text.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"a: [x, 'y''z', \"\\u00e9\"]\n", "a: |\n  x\n\n  y\nb: >-\n z\n", "a: &x !t *x\n<<: 1\n", "- {a: 1\n",
		"a: 'x\n\n  y'\n", "? a\n: b\n", "\ufeff# é\r\na: \"x\\\n y\"\r\n", "---\n...\n---\n", "a: \"\\"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var problems diag.List
		n, ok := yamlpos.Parse(yamlpos.Source{File: "f", Text: []byte(text)}, &problems)
		for _, p := range problems {
			inside(t, text, p.Pos)
		}
		if !ok && len(problems) == 0 {
			t.Error("refused without a word")
		}
		if ok {
			walk(t, text, n)
		}
	})
}

func walk(t *testing.T, text string, n yamlpos.Node) {
	inside(t, text, n.Pos())
	for i := range len([]rune(n.Value())) + 1 {
		inside(t, text, n.PosAt(i))
	}
	for _, c := range n.Children() {
		walk(t, text, c)
	}
	if entries, _ := n.Entries("mapping"); n.IsMapping() {
		for _, e := range entries {
			walk(t, text, e.Key)
			walk(t, text, e.Value)
		}
	}
}

func inside(t *testing.T, text string, p diag.Pos) {
	t.Helper()
	lines := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")
	if p.Line < 1 || p.Line > len(lines) || p.Col < 1 || p.Col > len([]rune(lines[p.Line-1]))+1 {
		t.Errorf("%v lies outside the text %q", p, text)
	}
}
