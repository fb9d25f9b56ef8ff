package hostile_test

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"golang.org/x/net/html"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/sheet"
)

// The forms of sheets hold TEXT for a text, QUOTED for one as a quoted scalar, and
// KK for the number of the records that they tell of.
const frontMatter = `---
title: QUOTED
summary: QUOTED
topic: hazards
classes: [a-KK, c-KK]
author: office specialist
reviewed: 2026-01-10
review_by: 2027-06-01
language: en
---

` + "```caution\nhazard: pressure\nnote: QUOTED\n```\n\n"

// fenced holds a text in every block and listing, where nothing of markdown is
// read.
const fenced = frontMatter + "```verdict\nmix: [a-KK, c-KK]\nnote: QUOTED\n```\n\n" +
	"```matrix\nclasses: [a-KK, c-KK]\ncaption: QUOTED\n```\n\n" +
	"```recipe\nid: r-KK\nnote: QUOTED\n```\n\n" +
	"```recipe\ntitle: QUOTED\nproducts: [{product: y-KK, rate: 5 lb/ac}]\njar: 1 qt\nspray_volume: 100 gal/ac\n```\n\n" +
	"```observation\nid: o-KK\nrecord: true\nnote: QUOTED\n```\n\n" +
	"```source\nid: s-KK\nplace: QUOTED\nnote: QUOTED\n```\n\n" +
	"```text\nTEXT\n```\n\n```yaml\nkey: TEXT\n```\n\n```json\n{\"a\": TEXT}\n```\n\n```sh\necho TEXT\n```\n\n" +
	"```console\n$ TEXT\n```\n\n```csv\na,TEXT\n```\n\n```markdown\nTEXT\n```\n"

// prose holds a text wherever markdown is read. An element of a script may take what
// follows it up to a line that ends it, so the note is not last.
const prose = frontMatter + `Words TEXT and more.

## Heading TEXT

- item TEXT

1. item TEXT

> said TEXT

| head TEXT | head |
|---|---|
| cell TEXT | cell |

[link TEXT](https://example.org/) and *leaning TEXT* and **strong TEXT**[^1]

[^1]: Note TEXT

TEXT

    indented TEXT
`

// links are attempts that only markdown makes possible. %d is their number.
var links = []string{
	"[x](javascript:hit(%d))", "[x](JaVaScRiPt:hit(%d))", "[x](<javascript:hit(%d)>)", "[x](&#106;avascript:hit(%d))",
	"[x](javascript&colon;hit(%d))", "[x](java\\script:hit(%d))", "[x]( javascript:hit(%d))", "[x](%%6aavascript:hit(%d))",
	"[x](data:text/html;base64,PHNjcmlwdD5oaXQoMTAwMCk8L3NjcmlwdD4%d)", "[x](vbscript:hit(%d))", "[x](file:///etc/passwd%d)",
	"[x](//evil.test/%d)", "[x](/\\evil.test/%d)", "[x](\\\\evil.test\\%d)", "[x](https:evil.test/%d)", "[x](https://a@evil.test/%d)",
	"<javascript:hit(%d)>", "<javascript://x/%%0ahit(%d)>", "<data:text/html,%d>", "[x][r]\n\n[r]: javascript:hit(%d)",
	"[r]: javascript:hit(%d) \"t\"\n\n[r]", "![x](javascript:hit(%d))", "![x](//evil.test/%d)", "![x](http://evil.test/%d)",
	"![x](data:image/svg+xml,<svg onload=hit(%d)>)", "![x\" onerror=\"hit(%d)](x.png)", "[x](x.pdf \"t\\\" onclick=\\\"hit(%d)\")",
	"[x](#\"onclick=hit(%d))", "[x](class:a\"onclick=hit(%d))", "[x](sheet:../../%d)", "[x](source:s-0#%d)",
	"[x](../../../etc/passwd%d)", "[x](mailto:a@b?body=<script>hit(%d)</script>)", "[<img src=x: onerror=hit(%d)>](https://example.org/)",
	"[x](https://example.org/\"onmouseover=hit(%d))", "[x](https://example.org/ 'onmouseover=hit(%d)')", "[x](javascript:hit(%d)\u2028)",
	"<a href=\"javascript:hit(%d)\">x</a>", "<div\nonclick=hit(%d)>\nx</div>", "<!--><img src=x: onerror=hit(%d)>-->",
	"<?php <img src=x: onerror=hit(%d)> ?>", "<![CDATA[<img src=x: onerror=hit(%d)>]]>", "<!X <img src=x: onerror=hit(%d)>>",
	"`` ` ``<img src=x: onerror=hit(%d)>", "~~<img src=x: onerror=hit(%d)>~~", "[^<img src=x: onerror=hit(%d)>]: x",
}

// fill puts texts into the places of a form, one after another as next gives them.
func fill(form string, k int, next func() string) []byte {
	form = strings.ReplaceAll(form, "KK", strconv.Itoa(k))
	places := regexp.MustCompile("QUOTED|TEXT")
	return []byte(places.ReplaceAllStringFunc(form, func(which string) string {
		if which == "QUOTED" {
			return strconv.QuoteToGraphic(next())
		}
		return next()
	}))
}

// sheetTexts is which texts each sheet of a form holds.
type sheetTexts map[string][]string

// withSheets adds sheets that hold the payloads to an office, and to the first
// office one for each of the links. It returns what each sheet holds, and how many a
// build would refuse, which are left out: none but those with a link may be.
func withSheets(t testing.TB, n int, office fstest.MapFS, d dealing) (holds sheetTexts, refused int) {
	t.Helper()
	sheets, holds := fstest.MapFS{}, sheetTexts{}
	for kind, form := range map[string]string{"fenced": fenced, "prose": prose} {
		for i, texts := range d.sheets(placesOf(form)) {
			name, at := fmt.Sprintf("%s-%d", kind, i), -1
			next := func() string { at++; return texts[at%len(texts)] }
			sheets["content/"+name+".md"] = &fstest.MapFile{Data: fill(form, i%d.copies, next)}
			holds[name] = texts
		}
	}
	for i, form := range links {
		if n > 0 {
			break
		}
		text := fmt.Sprintf(form, linkNumber+i)
		body := fill(frontMatter+"TEXT\n", 0, func() string { return text })
		sheets[fmt.Sprintf("content/link-%d.md", i)] = &fstest.MapFile{Data: body}
	}
	stopped := stopped(t, office, sheets)
	for name, f := range sheets {
		if stopped[name] {
			id := strings.TrimSuffix(strings.TrimPrefix(name, "content/"), ".md")
			if strings.HasPrefix(id, "fenced-") || !strings.HasPrefix(id, "link-") && !slices.ContainsFunc(holds[id], isLink) {
				t.Errorf("%s is refused", name)
			}
			delete(holds, id)
			continue
		}
		office[name] = f
	}
	return holds, len(stopped)
}

// placesOf is how many places a form of sheets has for texts.
func placesOf(form string) int { return strings.Count(form, "QUOTED") + strings.Count(form, "TEXT") }

// isLink reports whether markdown reads a link in a payload. A build refuses one
// that leads nowhere, and with it the sheet.
func isLink(text string) bool { return strings.Contains(text, "](") }

// linkNumber is the number of the first of the links, above those of payloads.
const linkNumber = 1900

// stopped names the sheets with problems that stop publication.
func stopped(t testing.TB, office, sheets fstest.MapFS) map[string]bool {
	t.Helper()
	book, problems := dataset.Load(office)
	if problems.Stops() {
		t.Fatalf("the office has problems:\n%s", problems)
	}
	_, problems = sheet.Load(sheets, book)
	names := map[string]bool{}
	for _, p := range problems {
		if p.Severity == 0 {
			names[p.Pos.File] = true
		}
	}
	return names
}

// allowedInProse are the elements and attributes that markdown and blocks make.
// The frame of the page has others.
var allowedInProse = strings.Fields("a b br code col colgroup dd del details dl dt em figcaption figure h2 h3 h4 hr img li main ol p path pre section small span strong sub summary sup svg table tbody td th thead tr ul use div caption g rect text line circle input defs pattern title h1 header footer nav polyline polygon ellipse tspan symbol blockquote aside bdi cite q time data i u s dfn abbr var mark ins label button form select option fieldset legend output article")

// TestSheetsStayTexts reads and builds sheets full of payloads: what is published
// holds no element and no attribute of theirs, and the words are there.
func TestSheetsStayTexts(t *testing.T) {
	refused, published := 0, 0
	shown := map[string]int{}
	for n, d := range dealings(t) {
		office := makeOffice(t, d.copies, func(int, string) string { return "x" })
		holds, stopped := withSheets(t, n, office, d)
		refused += stopped
		files := build(t, office)
		for name, body := range files {
			if strings.HasPrefix(name, "sheet/") {
				published++
				inspectSheet(t, name, body)
			}
		}
		for name, texts := range holds {
			body := files["sheet/"+name+".html"]
			words := letters(allWords(t, body))
			for _, text := range texts {
				// Markdown reads entities, listings do not.
				if !strings.Contains(words, letters(text)) && !strings.Contains(words, letters(html.UnescapeString(text))) {
					t.Errorf("%s does not show %q", name, text)
				}
				shown[text]++
			}
		}
	}
	t.Logf("%d sheets refused, %d published", refused, published)
	if refused < len(links)/2 || refused > 2*len(links) {
		t.Errorf("%d refused: the test shows little", refused)
	}
	for _, text := range allTexts() {
		if shown[text] < 2 && !isLink(text) || shown[text] == 0 {
			t.Errorf("%d sheets hold %q, want one of each form", shown[text], text)
		}
	}
}

// allWords returns all words of a page, those of listings too.
func allWords(t *testing.T, body []byte) string {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for n := range doc.Descendants() {
		if n.Type == html.TextNode {
			all.WriteString(n.Data)
		}
	}
	return all.String()
}

// letters leaves only letters and digits: markdown makes quotes and dashes of its
// own.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

func inspectSheet(t *testing.T, name string, body []byte) {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	allowed := map[string]bool{}
	for _, e := range allowedInProse {
		allowed[e] = true
	}
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode || !inMain(n) {
			continue
		}
		if !allowed[n.Data] {
			t.Errorf("%s holds <%s %v>", name, n.Data, n.Attr)
		}
		for _, a := range n.Attr {
			harm := strings.HasPrefix(a.Key, "on") || a.Key == "style" || a.Key == "srcdoc" || a.Key == "srcset"
			if where := strings.ToLower(a.Val); a.Key == "href" || a.Key == "src" {
				scheme, _, has := strings.Cut(where, ":")
				harm = strings.HasPrefix(where, "//") || strings.HasPrefix(where, `\`) || strings.Contains(where, "/etc/") ||
					has && !strings.ContainsAny(scheme, "/?#") && scheme != "https" && scheme != "mailto"
			}
			if harm {
				t.Errorf("%s holds <%s %s=%q>", name, n.Data, a.Key, a.Val)
			}
		}
	}
}

func inMain(n *html.Node) bool {
	for up := n.Parent; up != nil; up = up.Parent {
		if up.Data == "main" {
			return true
		}
	}
	return false
}
