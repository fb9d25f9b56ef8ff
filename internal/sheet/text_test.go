package sheet

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"tankleaf.example/internal/diag"
)

func TestPosCountsCharacters(t *testing.T) {
	var problems diag.List
	text, ok := newText("content/a.md", []byte("\ufeffaé\r\n\r\n北b"), &problems)
	if !ok || len(problems) > 0 {
		t.Fatal(problems.String())
	}
	for _, c := range []struct {
		before string
		want   diag.Pos
		why    string
	}{
		{"", diag.Pos{File: "content/a.md", Line: 1, Col: 1}, "a byte order mark is no character"},
		{"aé", diag.Pos{File: "content/a.md", Line: 1, Col: 3}, "two characters of three bytes, and the line's end"},
		{"aé\n", diag.Pos{File: "content/a.md", Line: 2, Col: 1}, "an empty line"},
		{"aé\n\n北", diag.Pos{File: "content/a.md", Line: 3, Col: 2}, "after a wide character"},
	} {
		if got := text.pos(len(c.before)); got != c.want {
			t.Errorf("%s: got %v, want %v", c.why, got, c.want)
		}
	}
	if got, want := text.pos(1_000), text.pos(len(text.src)); got != want {
		t.Errorf("offset past the end is at %v, want the end %v", got, want)
	}
	if got := text.pos(-5); got.Line != 1 || got.Col != 1 {
		t.Errorf("offset before the start is at %v", got)
	}
}

// TestPosAgainstCounting compares the search with counting from the start.
func TestPosAgainstCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := rapid.StringMatching(`([a-c]|é|北|\n){0,40}`).Draw(t, "src")
		text, ok := newText("a", []byte(src), new(diag.List))
		if !ok {
			t.Fatal("refused")
		}
		for off := range len(src) + 1 {
			if off < len(src) && !utf8.RuneStart(src[off]) {
				continue
			}
			before := src[:off]
			line := strings.Count(before, "\n") + 1
			col := utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1
			if got := text.pos(off); got.Line != line || got.Col != col {
				t.Fatalf("offset %d of %q is at %d:%d, got %v", off, src, line, col, got)
			}
		}
	})
}

func TestRefusedCharacters(t *testing.T) {
	for _, c := range []struct {
		in   string
		want string // the problem's message; "" is none
		why  string
	}{
		{"tab\tand line\n", "", "the two control characters of plain text"},
		{"lone\rreturn", "control character U+000D", "old line ends hide lines from a reader's editor"},
		{"bell\a", "control character U+0007", "a control character"},
		{"c1\u0085", "control character U+0085", "the upper control range"},
		{"\u202eleft", "control character U+202E", "turns the text after it around"},
		{"\u2066iso", "control character U+2066", "an isolate does so too"},
		{"a\ufeffb", "control character U+FEFF", "a byte order mark inside the text"},
		{"caf\xe9", "byte 0xe9 is not UTF-8", "an older encoding"},
		{"niño, 北, 🜍, soft\u00adhyphen", "", "letters of all kinds"},
	} {
		var problems diag.List
		_, ok := newText("a", []byte(c.in), &problems)
		got := ""
		if len(problems) > 0 {
			got = problems[0].Msg
		}
		if got != c.want || ok != (c.want == "") {
			t.Errorf("%s: got %q, ok %v; want %q", c.why, got, ok, c.want)
		}
	}
}

func TestNamesOfEnumerations(t *testing.T) {
	seen := map[string]bool{}
	for _, topic := range Topics() {
		back, ok := ParseTopic(topic.String())
		text, err := topic.MarshalText()
		if !ok || back != topic || err != nil || string(text) != topic.String() || seen[topic.String()] {
			t.Errorf("topic %v does not come back from its name", topic)
		}
		seen[topic.String()] = true
	}
	if got := Topic(99).String(); got != "Topic(99)" {
		t.Errorf("a topic out of range is %q", got)
	}
	if _, ok := ParseTopic("none"); ok {
		t.Error("none is taken for a topic")
	}
	for r := ToClass; r < ToFile; r++ {
		if back, ok := ParseRecord(r.String()); !ok || back != r || r.plural() == "" {
			t.Errorf("record kind %v does not come back from its name", r)
		}
	}
	for _, no := range []string{"none", "file", "", "Class"} {
		if r, ok := ParseRecord(no); ok {
			t.Errorf("%q is taken for %v", no, r)
		}
	}
	if got := Record(99).String(); got != "Record(99)" {
		t.Errorf("a kind out of range is %q", got)
	}
}

func TestSlug(t *testing.T) {
	for _, c := range []struct{ in, want, why string }{
		{"What to do", "what-to-do", "blanks become hyphens"},
		{"  pH: 7.5 / 8 ", "ph-7-5-8", "and so does everything that is no letter or digit"},
		{"¿Qué pasó?", "que-paso", "marks of Spanish are left out"},
		{"Don’t", "dont", "an apostrophe does not part a word"},
		{"!!!", "", "nothing left"},
		{strings.Repeat("x", 80), strings.Repeat("x", 60), "long words are cut"},
	} {
		if got := slug(c.in); got != c.want {
			t.Errorf("%s: slug(%q) = %q, want %q", c.why, c.in, got, c.want)
		}
	}
}
