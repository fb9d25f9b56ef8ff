package hostile_test

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"golang.org/x/net/html"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/sheet"
)

const frontMatter = `---
title: %[2]s
summary: %[2]s
topic: hazards
classes: [a-%[1]d, c-%[1]d]
author: office specialist
reviewed: 2026-01-10
review_by: 2027-06-01
language: en
---

` + "```caution\nhazard: pressure\nnote: %[2]s\n```\n\n"

// fenced holds a text in every block and listing, where nothing of markdown is
// read. The text comes as a quoted scalar and as it is.
const fenced = frontMatter + "```verdict\nmix: [a-%[1]d, c-%[1]d]\nnote: %[2]s\n```\n\n" +
	"```matrix\nclasses: [a-%[1]d, c-%[1]d]\ncaption: %[2]s\n```\n\n" +
	"```recipe\nid: r-%[1]d\nnote: %[2]s\n```\n\n" +
	"```recipe\ntitle: %[2]s\nproducts: [{product: y-%[1]d, rate: 5 lb/ac}]\njar: 1 qt\nspray_volume: 100 gal/ac\n```\n\n" +
	"```observation\nid: o-%[1]d\nrecord: true\nnote: %[2]s\n```\n\n" +
	"```source\nid: s-%[1]d\nplace: %[2]s\nnote: %[2]s\n```\n\n" +
	"```text\n%[3]s\n```\n\n```yaml\nkey: %[3]s\n```\n\n```json\n{\"a\": %[3]s}\n```\n\n```sh\necho %[3]s\n```\n\n" +
	"```console\n$ %[3]s\n```\n\n```csv\na,%[3]s\n```\n\n```markdown\n%[3]s\n```\n"

// prose holds a text wherever markdown is read.
const prose = frontMatter + `Words %[3]s and more.

## Heading %[3]s

- item %[3]s

1. item %[3]s

> said %[3]s

| head %[3]s | head |
|---|---|
| cell %[3]s | cell |

[link %[3]s](https://example.org/) and *leaning %[3]s* and **strong %[3]s**[^1]

%[3]s

    indented %[3]s

[^1]: Note %[3]s
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

// withSheets adds to the n-th office two sheets for each payload, and to the first
// one for each of the links. It returns how many of them a build would refuse;
// those are left out.
func withSheets(t testing.TB, n int, office fstest.MapFS, all []payload) (refused int) {
	t.Helper()
	sheets := fstest.MapFS{}
	put := func(name, form string, k int, text string) {
		sheets["content/"+name+".md"] = &fstest.MapFile{Data: fmt.Appendf(nil, form, k, strconv.QuoteToGraphic(text), text)}
	}
	for k, p := range all {
		put(fmt.Sprintf("fenced-%d", k), fenced, k, p.text)
		put(fmt.Sprintf("prose-%d", k), prose, k, p.text)
	}
	for i, form := range links {
		if n > 0 {
			break
		}
		put(fmt.Sprintf("link-%d", i), frontMatter+"%[3]s\n", 0, fmt.Sprintf(form, linkNumber+i))
	}
	stopped := stopped(t, office, sheets)
	for name, f := range sheets {
		if stopped[name] {
			if strings.HasPrefix(name, "content/fenced-") {
				t.Errorf("%s is refused", name)
			}
			continue
		}
		office[name] = f
	}
	return len(stopped)
}

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
	for n, all := range batches() {
		office := makeOffice(t, len(all), func(int, string) string { return "x" })
		refused += withSheets(t, n, office, all)
		files := build(t, office)
		for name, body := range files {
			if strings.HasPrefix(name, "sheet/") {
				published++
				inspectSheet(t, name, body)
			}
		}
		for k, p := range all {
			for _, kind := range []string{"fenced", "prose"} {
				name := fmt.Sprintf("sheet/%s-%d.html", kind, k)
				if body, ok := files[name]; ok && !strings.Contains(letters(shownWords(t, map[string][]byte{name: body})), letters(p.text)) {
					t.Errorf("%s does not show %q", name, p.text)
				}
			}
		}
	}
	t.Logf("%d sheets refused, %d published", refused, published)
	if published < 2*atLeast || refused < len(links)/2 || refused > 2*len(links) {
		t.Errorf("%d published, %d refused: the test shows little", published, refused)
	}
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
