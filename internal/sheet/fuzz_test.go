package sheet_test

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/txtar"

	"tankleaf.example/internal/sheet"
)

// FuzzSheet reads anything as a sheet: no panic, no problem outside of the file,
// no markup of the author's own in what is rendered, and no block on the page
// that was not read.
func FuzzSheet(f *testing.F) {
	for _, in := range hostile {
		f.Add(head + in)
	}
	names, err := filepath.Glob("testdata/problems/*.txtar")
	if err != nil || len(names) == 0 {
		f.Fatalf("no seeds: %v", err)
	}
	for _, name := range names {
		ar, err := txtar.ParseFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(ar.Files[0].Data))
	}
	f.Fuzz(sound)
}

// sound reads a text as a sheet and holds what [FuzzSheet] promises of any.
func sound(t *testing.T, in string) {
	sheets, problems := load(map[string]string{"content/a.md": in})
	lines := strings.Split(strings.ReplaceAll(strings.TrimPrefix(in, "\ufeff"), "\r\n", "\n"), "\n")
	for _, p := range problems {
		switch at := p.Pos; {
		case at.Line == 0 && at.Col == 0:
		case at.Line < 1 || at.Line > len(lines):
			t.Errorf("line %d of %d: %s", at.Line, len(lines), p.Msg)
		case at.Col < 1 || at.Col > utf8.RuneCountInString(lines[at.Line-1])+1:
			t.Errorf("line %d %q has no column %d: %s", at.Line, lines[at.Line-1], at.Col, p.Msg)
		}
	}
	for _, s := range sheets {
		out := body(t, s)
		safe(t, in, out)
		if got := strings.Count(out, "{{") - strings.Count(in, "{{"); got > len(s.Blocks) {
			t.Errorf("%d blocks drawn, %d read", got, len(s.Blocks))
		}
	}
	if len(sheets) > 0 && !problems.Stops() && sheets[0].Title == "" {
		t.Error("a sheet without a title was let through")
	}
}

// FuzzFront puts anything between the lines that hold the front matter.
func FuzzFront(f *testing.F) {
	f.Add(strings.TrimSuffix(strings.TrimPrefix(head, "---\n"), "---\n"))
	for _, in := range []string{"", "title: T\n", "title: [T]\n", "title: >-\n  two\n  lines\n", "classes: {a: b}\n", "reviewed: 2026-13-40\n",
		"language: \"en\"\ntopic: 'water'\n", "? a\n: b\n", "title: T # words\n", "\ttitle: T\n", "title: \"\\u202e\"\n", "a: &a [*a]\n", "...\n", "título: é\n"} {
		f.Add(in)
	}
	f.Fuzz(func(t *testing.T, in string) { sound(t, "---\n"+in+"\n---\nText.\n") })
}

// blockWords are the words of fenced blocks, and one that is none.
var blockWords = []string{"matrix", "verdict", "recipe", "observation", "source", "caution", "yaml", "recipes"}

// FuzzBlock puts anything into a fenced block of each word, in a list item and out of
// one: its places are others than those of the sheet.
func FuzzBlock(f *testing.F) {
	for i := range blockWords {
		for _, in := range []string{"", "id: a", "classes: [sulfur]", "products:\n  - {name: A, rate: 1 qt/ac}\njar: 1 qt", "hazard: heat\nnote: N",
			"a: [", "- x", "id: \"é\"\nid: b", "note: |\n  ```\n  x", "mix: [sulfur, oil]\nsituation: {water: office-well, temperature: 15 °C, vessel: closed, order: [sulfur, oil]}\nnote: N",
			"title: T\nproducts:\n  - {product: a, rate: 5 lb/ac}\n  - {product: b, rate: 0.25 % v/v}\njar: 1 qt\nspray_volume: 15 gal/ac\nwater_share: 25 %"} {
			f.Add(uint8(i), in)
		}
	}
	f.Fuzz(func(t *testing.T, n uint8, in string) {
		word := blockWords[int(n)%len(blockWords)]
		sound(t, head+"Text.\n\n```"+word+"\n"+in+"\n```\n")
		sound(t, head+"- Item.\n\n  ```"+word+"\n  "+strings.ReplaceAll(in, "\n", "\n  ")+"\n  ```\n")
	})
}

// TestLoadSeesLoneFiles keeps the fuzz target honest: a sound sheet does come
// back with its title.
func TestLoadSeesLoneFiles(t *testing.T) {
	if s := fine(t, "Text.\n"); s.Title != "A sheet" || s.Topic != sheet.Water || s.Lang != "en" {
		t.Errorf("read %+v", s)
	}
}
