package sheet

import (
	"fmt"
	"html"
	"html/template"
	"slices"
	"strings"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
)

// languages are the words that may follow a fence of a listing, each with the
// lexer that reads it; "" is plain text.
var languages = map[string]string{"": "", "text": "", "csv": "", "yaml": "yaml", "json": "json", "sh": "bash",
	"console": "bash", "markdown": "markdown"}

// tone is a class of the style sheet: what a piece of a listing is.
type tone struct {
	class       string
	light, dark string // ink on paper, ink on night paper
	extra       string // further declarations: form before color
}

// tones are few on purpose: a record is read, not decorated. Each is at least
// 4.5:1 on paperLight or paperDark (WCAG 2.2, success criterion 1.4.3), which a
// test computes.
var tones = []tone{
	{"hl-key", "#1b2a41", "#d8dfeb", "font-weight:600"},
	{"hl-str", "#2f4468", "#b9c8e2", ""},
	{"hl-num", "#3a4a63", "#c9d3e4", "font-variant-numeric:tabular-nums"},
	{"hl-word", "#33415c", "#c3cfe3", "font-style:italic"},
	{"hl-com", "#5b6370", "#a3abb8", "font-style:italic"},
	{"hl-punct", "#596170", "#a5adba", ""},
}

const (
	inkLight, paperLight = "#1b2333", "#f6f1e7"
	inkDark, paperDark   = "#e6e1d6", "#211f1b"
)

// KnownLanguage reports whether a listing in that language can be highlighted.
func KnownLanguage(lang string) bool { _, ok := languages[lang]; return ok }

// Highlight returns a listing as <pre><code>, its pieces in spans with classes
// that [CSS] styles; it writes no inline style. The language is one of those in
// [KnownLanguage]; any other is an error.
func Highlight(lang, listing string) (template.HTML, error) {
	lexer, ok := languages[lang]
	if !ok {
		return "", fmt.Errorf("highlight: unknown language %q", lang)
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<pre class="hl" tabindex="0"><code%s>`, languageClass(lang))
	if err := spans(&b, lexer, listing); err != nil {
		return "", fmt.Errorf("highlight %s: %w", lang, err)
	}
	b.WriteString("</code></pre>\n")
	return template.HTML(b.String()), nil
}

func languageClass(lang string) string {
	if lang == "" {
		return ""
	}
	return ` class="language-` + lang + `"`
}

func spans(b *strings.Builder, lexer, listing string) error {
	if lexer == "" {
		b.WriteString(html.EscapeString(listing))
		return nil
	}
	tokens, err := chroma.Coalesce(lexers.Get(lexer)).Tokenise(nil, listing)
	if err != nil {
		return err
	}
	for _, t := range tokens.Tokens() {
		if class := classOf(t.Type); class != "" && strings.TrimSpace(t.Value) != "" {
			fmt.Fprintf(b, `<span class="%s">%s</span>`, class, html.EscapeString(t.Value))
			continue
		}
		b.WriteString(html.EscapeString(t.Value))
	}
	return nil
}

// classOf maps the many kinds of token to our few tones.
func classOf(t chroma.TokenType) string {
	switch {
	case t.InCategory(chroma.Comment):
		return "hl-com"
	case t == chroma.NameTag, t == chroma.NameAttribute, t == chroma.NameBuiltin, t == chroma.GenericHeading,
		t == chroma.GenericSubheading:
		return "hl-key"
	case t.InSubCategory(chroma.LiteralString):
		return "hl-str"
	case t.InSubCategory(chroma.LiteralNumber), t == chroma.LiteralDate:
		return "hl-num"
	case t.InCategory(chroma.Keyword):
		return "hl-word"
	case t.InCategory(chroma.Punctuation), t.InCategory(chroma.Operator):
		return "hl-punct"
	}
	return ""
}

// cells is how a column of a sheet's table is aligned. Figures keep their unit on
// the same line.
const cells = ".to-left { text-align: left; }\n.to-center { text-align: center; }\n" +
	".to-right { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }\n"

// CSS returns the style sheet of what [Sheet.Body] and [Highlight] write: columns
// of tables, and listings on paper, at night and in print. Its custom properties
// start with --hl- and may be set by the site's own sheet.
func CSS() string {
	var b strings.Builder
	b.WriteString(cells)
	b.WriteString(properties(":root", "", inkLight, paperLight, func(t tone) string { return t.light }))
	b.WriteString("@media (prefers-color-scheme: dark) {\n")
	b.WriteString(properties(":root", "  ", inkDark, paperDark, func(t tone) string { return t.dark }))
	b.WriteString("}\n")
	b.WriteString(".hl { color: var(--hl-ink); background: var(--hl-paper); overflow-x: auto; tab-size: 4; }\n")
	for _, t := range tones {
		extra := ""
		if t.extra != "" {
			extra = " " + t.extra + ";"
		}
		fmt.Fprintf(&b, ".%s { color: var(--%[1]s);%s }\n", t.class, extra)
	}
	b.WriteString("@media print { .hl, .hl span { color: #000; background: none; } .hl { white-space: pre-wrap; } }\n")
	return b.String()
}

func properties(selector, indent, ink, paper string, of func(tone) string) string {
	lines := []string{"--hl-ink: " + ink, "--hl-paper: " + paper}
	for _, t := range tones {
		lines = append(lines, "--"+t.class+": "+of(t))
	}
	slices.Sort(lines)
	return indent + selector + " { " + strings.Join(lines, "; ") + " }\n"
}
