package sheet_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"tankleaf.example/internal/sheet"
)

// luminance is the relative luminance of an sRGB color (WCAG 2.2, definition of
// relative luminance).
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("color %q: %v", hex, err)
	}
	channel := func(shift int) float64 {
		c := float64(v>>shift&0xff) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(16) + 0.7152*channel(8) + 0.0722*channel(0)
}

func TestContrast(t *testing.T) {
	rules := regexp.MustCompile(`:root \{ ([^}]*) \}`).FindAllStringSubmatch(sheet.CSS(), -1)
	if len(rules) != 2 {
		t.Fatalf("%d sets of colors, want one for day and one for night", len(rules))
	}
	for _, rule := range rules {
		colors := map[string]string{}
		for _, d := range strings.Split(rule[1], "; ") {
			name, value, _ := strings.Cut(d, ": ")
			colors[name] = value
		}
		paper := luminance(t, colors["--hl-paper"])
		if len(colors) < 8 {
			t.Errorf("only %d colors", len(colors))
		}
		for name, c := range colors {
			ink := luminance(t, c)
			ratio := (max(ink, paper) + 0.05) / (min(ink, paper) + 0.05)
			if name != "--hl-paper" && ratio < 4.5 {
				t.Errorf("%s %s on %s: contrast %.2f, want 4.5", name, c, colors["--hl-paper"], ratio)
			}
		}
	}
}

// TestEveryClassIsStyled compares the classes written with the style sheet.
func TestEveryClassIsStyled(t *testing.T) {
	css := sheet.CSS()
	used := map[string]bool{}
	for _, l := range []struct{ lang, text string }{
		{"yaml", "# note\na: \"b\"\nc: [1, 2.5, true]\nd: 2026-05-12\ne: |\n  text\n"}, {"json", `{"a": [1, null, "b"]}`},
		{"sh", "# note\nif true; then echo \"a\" $b 1; fi\n"}, {"markdown", "# A\n\n- *b*\n"},
	} {
		out, err := sheet.Highlight(l.lang, l.text)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`class="(hl[a-z-]*)"`).FindAllStringSubmatch(string(out), -1) {
			used[m[1]] = true
		}
	}
	table := body(t, fine(t, "| a | b | c |\n|:--|:-:|--:|\n| 1 | 2 | 3 |\n"))
	for _, m := range regexp.MustCompile(`class="(to-[a-z]*)"`).FindAllStringSubmatch(table, -1) {
		used[m[1]] = true
	}
	if len(used) < 9 {
		t.Errorf("only the classes %v are used", used)
	}
	for class := range used {
		if !strings.Contains(css, "."+class+" ") {
			t.Errorf("class %s has no rule", class)
		}
	}
	if strings.Contains(css, "style=") {
		t.Error("inline style")
	}
}

func TestUnknownLanguageIsAnError(t *testing.T) {
	if out, err := sheet.Highlight("cobol", "x"); err == nil || out != "" || sheet.KnownLanguage("cobol") {
		t.Errorf("got %q, %v", out, err)
	}
}

// TestHighlightKeepsTheText shows that nothing of a listing is lost or added.
func TestHighlightKeepsTheText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lang := rapid.SampledFrom([]string{"", "text", "csv", "yaml", "json", "sh", "console", "markdown"}).Draw(t, "lang")
		in := rapid.StringMatching(`([a-z"':#<>&{}\[\]$\\ \n-]|é|- |: |<script>)*`).Draw(t, "in")
		out, err := sheet.Highlight(lang, in)
		if err != nil {
			t.Fatal(err)
		}
		safe(t, in, string(out))
		if got := textOf(string(out)); got != in+"\n" {
			t.Fatalf("%q came back as %q", in, got)
		}
	})
}

func textOf(out string) string {
	z := html.NewTokenizer(strings.NewReader(out))
	var b strings.Builder
	for z.Next() != html.ErrorToken {
		if tok := z.Token(); tok.Type == html.TextToken {
			b.WriteString(tok.Data)
		}
	}
	return b.String()
}
