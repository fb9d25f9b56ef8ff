package sheet_test

import (
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
)

// view gives every record an address that can be told from its source.
var view = sheet.View{Back: "Back to the text", Href: func(t sheet.Target) string {
	if t.To == sheet.ToFile {
		return "../files/" + strings.TrimPrefix(t.File, "content/")
	}
	return "../" + t.To.String() + "/" + string(t.ID) + ".html"
}}

// body renders a sheet with each block as {{kind}}.
func body(t testing.TB, s *sheet.Sheet) string {
	t.Helper()
	pieces, err := s.Body(view)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, p := range pieces {
		switch p := p.(type) {
		case sheet.Prose:
			b.WriteString(string(p.HTML))
		case *sheet.MatrixBlock:
			b.WriteString("{{matrix}}")
		case *sheet.VerdictBlock:
			b.WriteString("{{verdict}}")
		case *sheet.RecipeBlock:
			b.WriteString("{{recipe}}")
		case *sheet.ObservationBlock:
			b.WriteString("{{observation}}")
		case *sheet.SourceBlock:
			b.WriteString("{{source}}")
		case *sheet.CautionBlock:
			b.WriteString("{{caution}}")
		default:
			t.Fatalf("piece %T", p)
		}
	}
	return b.String()
}

func TestBody(t *testing.T) {
	for _, c := range []struct{ why, in, want string }{
		{"prose is CommonMark", "Mix **slowly**, *never* hot.\n", "<p>Mix <strong>slowly</strong>, <em>never</em> hot.</p>\n"},
		{"quotes are typographic", `The "lid" isn't on.` + "\n", "<p>The &ldquo;lid&rdquo; isn&rsquo;t on.</p>\n"},
		{"a heading has a prefixed anchor", "## What to do\n", "<h2 id=\"sheet-what-to-do\">What to do</h2>\n"},
		{"a record's address comes from the page", "[KB](product:brindle-kb)\n", "<p><a href=\"../product/brindle-kb.html\">KB</a></p>\n"},
		{"a title is kept", "[KB](product:brindle-kb \"the & product\")\n",
			"<p><a href=\"../product/brindle-kb.html\" title=\"the &amp; product\">KB</a></p>\n"},
		{"a reference link is a link", "[KB][p]\n\n[p]: product:brindle-kb\n", "<p><a href=\"../product/brindle-kb.html\">KB</a></p>\n"},
		{"a heading of this sheet needs no page", "## Lids\n\n[up](#lids) [too](sheet:a#lids)\n",
			"<h2 id=\"sheet-lids\">Lids</h2>\n<p><a href=\"#sheet-lids\">up</a> <a href=\"#sheet-lids\">too</a></p>\n"},
		{"a link that leaves the site says so", "[x](https://example.org/a?b=1&c=2)\n",
			"<p><a href=\"https://example.org/a?b=1&amp;c=2\" rel=\"external noreferrer\">x</a></p>\n"},
		{"an address in brackets is a link", "<https://example.org/> <desk@example.org>\n",
			"<p><a href=\"https://example.org/\" rel=\"external noreferrer\">https://example.org/</a> " +
				"<a href=\"mailto:desk@example.org\" rel=\"external noreferrer\">desk@example.org</a></p>\n"},
		{"a table aligns by class and scrolls by itself", "| a | b |\n|---|--:|\n| 1 | 2 |\n",
			"<div class=\"table\" tabindex=\"0\">\n<table>\n<thead>\n<tr>\n<th scope=\"col\">a</th>\n<th class=\"to-right\" scope=\"col\">b</th>\n" +
				"</tr>\n</thead>\n<tbody>\n<tr>\n<td>1</td>\n<td class=\"to-right\">2</td>\n</tr>\n</tbody>\n</table>\n</div>\n"},
		{"a block stands between prose", "One.\n\n```caution\nhazard: pressure\n```\n\nTwo.\n", "<p>One.</p>\n{{caution}}<p>Two.</p>\n"},
		{"a block may stand in a list", "1. One\n\n   ```verdict\n   mix: [sulfur, oil]\n   ```\n2. Two\n",
			"<ol>\n<li>\n<p>One</p>\n{{verdict}}</li>\n<li>\n<p>Two</p>\n</li>\n</ol>\n"},
		{"a block may stand in a quotation", "> ~~~matrix\n> classes: [sulfur, oil]\n> ~~~\n", "<blockquote>\n{{matrix}}</blockquote>\n"},
		{"blocks follow one another", "```source\nid: uc-81\n```\n```recipe\nid: first-jar\n```\n```observation\nid: qv-2026-014\n```\n",
			"{{source}}{{recipe}}{{observation}}"},
		{"a listing is highlighted by class", "```yaml\nrate: 5 # lb\n```\n",
			"<pre class=\"hl\" tabindex=\"0\"><code class=\"language-yaml\"><span class=\"hl-key\">rate</span><span class=\"hl-punct\">:</span> " +
				"<span class=\"hl-num\">5</span> <span class=\"hl-com\"># lb</span>\n</code></pre>\n"},
		{"lists nest and keep their numbers", "3. a\n   - b\n4. c\n", "<ol start=\"3\">\n<li>a\n<ul>\n<li>b</li>\n</ul>\n</li>\n<li>c</li>\n</ol>\n"},
		{"rules, breaks and code are CommonMark", "a\\\nb `<c>` d\n\n***\n", "<p>a<br>\nb <code>&lt;c&gt;</code> d</p>\n<hr>\n"},
		{"escapes and entities are CommonMark", "\\*a\\* &amp; &copy; &#34; 1 < 2\n", "<p>*a* &amp; © &quot; 1 &lt; 2</p>\n"},
		{"a heading may be underlined", "Lids\n----\n", "<h2 id=\"sheet-lids\">Lids</h2>\n"},
		{"a heading may hold a link", "## On [KB](product:brindle-kb)\n", "<h2 id=\"sheet-on-kb\">On <a href=\"../product/brindle-kb.html\">KB</a></h2>\n"},
		{"a cell may hold a link and a bar", "| [KB](product:brindle-kb) | `a\\|b` |\n|:--|:-:|\n",
			"<div class=\"table\" tabindex=\"0\">\n<table>\n<thead>\n<tr>\n<th class=\"to-left\" scope=\"col\"><a href=\"../product/brindle-kb.html\">KB</a></th>\n" +
				"<th class=\"to-center\" scope=\"col\"><code>a|b</code></th>\n</tr>\n</thead>\n</table>\n</div>\n"},
		{"a listing without a word is plain", "```\na < b\n```\n", "<pre class=\"hl\" tabindex=\"0\"><code>a &lt; b\n</code></pre>\n"},
		{"so is an indented one", "    a < b\n", "<pre class=\"hl\" tabindex=\"0\"><code>a &lt; b\n</code></pre>\n"},
		{"line ends of Windows are line ends", "One\r\ntwo.\r\n\r\n```caution\r\nhazard: heat\r\n```\r\n", "<p>One\ntwo.</p>\n{{caution}}"},
	} {
		if diff := cmp.Diff(c.want, body(t, fine(t, c.in))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, diff)
		}
	}
}

func TestFootnotes(t *testing.T) {
	got := body(t, fine(t, "Gas[^g] comes[^g].\n\n[^g]: Carbon dioxide.\n"))
	for _, want := range []string{`<sup id="sheet-fnref:1"><a href="#sheet-fn:1"`, `<li id="sheet-fn:1">`, `href="#sheet-fnref:1"`,
		`href="#sheet-fnref1:1"`, `title="Back to the text"`, "Carbon dioxide."} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
}

func TestImage(t *testing.T) {
	fsys := fstest.MapFS{"content/hazards/a.md": {Data: []byte(head + "![A *full* jar, \"lid\" off](jars/full.PNG)\n\n[chart](../chart.pdf)\n")},
		"content/hazards/jars/full.PNG": {}, "content/chart.pdf": {}}
	sheets, problems := sheet.Load(fsys, book())
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	want := "<p><img src=\"../files/hazards/jars/full.PNG\" alt=\"A full jar, “lid” off\" loading=\"lazy\"></p>\n" +
		"<p><a href=\"../files/chart.pdf\">chart</a></p>\n"
	if diff := cmp.Diff(want, body(t, sheets[0])); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// TestViewsDiffer shows that one sheet can be drawn for several pages at once.
func TestViewsDiffer(t *testing.T) {
	s := fine(t, "[KB](product:brindle-kb)\n\n```caution\nhazard: pressure\n```\n")
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			pieces, err := s.Body(sheet.View{Href: func(sheet.Target) string { return fmt.Sprint("p", i) }})
			if err != nil || len(pieces) != 2 || !strings.Contains(string(pieces[0].(sheet.Prose).HTML), fmt.Sprintf(`href="p%d"`, i)) {
				t.Errorf("view %d: %v, %v", i, pieces, err)
			}
		})
	}
	wg.Wait()
}

func TestNoAddressMeansNoLink(t *testing.T) {
	s := fine(t, "[KB](product:brindle-kb)\n")
	pieces, err := s.Body(sheet.View{})
	if want := template.HTML("<p>KB</p>\n"); err != nil || pieces[0].(sheet.Prose).HTML != want {
		t.Errorf("got %v, %v; want %q", pieces, err, want)
	}
}

// hostile is markdown that tries to get script into a page.
var hostile = []string{
	"<script>alert(1)</script>\n",
	"<img src=x onerror=alert(1)>\n",
	"a <svg/onload=alert(1)> b\n",
	"[a](javascript:alert(1))\n",
	"[a](JAVASCRIPT&colon;alert(1))\n",
	"[a](<java\tscript:alert(1)>)\n",
	"[a](javascript&#58;alert(1))\n",
	"[a](data:text/html;base64,PHNjcmlwdD4=)\n",
	"[a][b]\n\n[b]: javascript:alert(1)\n",
	"<javascript:alert(1)>\n",
	"![a](javascript:alert(1))\n",
	"![x\" onerror=\"alert(1)](a.png)\n",
	"[a](https://example.org \"x\\\" onmouseover=\\\"alert(1)\")\n",
	"[a](https://example.org/\"onclick=alert(1))\n",
	"## <i onclick=alert(1)>x</i> {#id onclick=alert(1)}\n",
	"| <b onclick=x> | b |\n|:-:|---|\n| 1 | 2 |\n",
	"```yaml\n<script>alert(1)</script>: \"</code></pre><script>\"\n```\n",
	"```\"onclick=alert(1)\nx\n```\n",
	"    </code><script>alert(1)</script>\n",
	"x[^<script>]\n\n[^<script>]: <script>alert(1)</script>\n",
	"<!-- --><style>*{display:none}</style>\n",
	"<?php x ?>\n\n<![CDATA[<script>]]>\n\n<!X <script>>\n",
	"&lt;script&gt;alert(1)&lt;/script&gt; &#0; \\<script>\n",
	"<details open ontoggle=alert(1)>\n\ntext\n\n</details>\n",
}

// allowedTags and allowedAttributes are all that a body is made of.
var (
	allowedTags = words("p em strong h2 h3 h4 h5 h6 h1 ul ol li blockquote hr br code pre span a img sup div table thead tbody tr th td")
	allowedAttr = words("href rel title id class start scope src alt loading role tabindex")
)

func words(s string) map[string]bool {
	all := map[string]bool{}
	for _, w := range strings.Fields(s) {
		all[w] = true
	}
	return all
}

// safe reports elements, attributes and addresses that no body may hold.
func safe(t interface{ Errorf(string, ...any) }, in, out string) {
	z := html.NewTokenizer(strings.NewReader(out))
	for {
		tt := z.Next()
		if tt == html.ErrorToken {
			if z.Err() != io.EOF {
				t.Errorf("%q: %v", in, z.Err())
			}
			return
		}
		if tt == html.CommentToken || tt == html.DoctypeToken {
			t.Errorf("%q gave %s", in, z.Raw())
		}
		tok := z.Token()
		if tt != html.StartTagToken && tt != html.SelfClosingTagToken && tt != html.EndTagToken {
			continue
		}
		if !allowedTags[tok.Data] {
			t.Errorf("%q gave <%s>", in, tok.Data)
		}
		for _, a := range tok.Attr {
			if !allowedAttr[a.Key] {
				t.Errorf("%q gave the attribute %s", in, a.Key)
			}
			if (a.Key == "href" || a.Key == "src") && !strings.HasPrefix(a.Val, "../") && !strings.HasPrefix(a.Val, "#") &&
				!strings.HasPrefix(a.Val, "http://") && !strings.HasPrefix(a.Val, "https://") && !strings.HasPrefix(a.Val, "mailto:") {
				t.Errorf("%q gave the address %q", in, a.Val)
			}
		}
	}
}

func TestHostileTextStaysText(t *testing.T) {
	for _, in := range hostile {
		sheets, _ := load(map[string]string{"content/a.md": head + in, "content/a.png": ""})
		for _, s := range sheets {
			safe(t, in, body(t, s))
		}
		if len(sheets) != 1 {
			t.Errorf("%q: not read at all", in)
		}
	}
}

func TestHTMLIsShownAsWritten(t *testing.T) {
	sheets, problems := load(map[string]string{"content/a.md": head + "A <b>bold</b> word.\n\n<script>\nalert(\"1\")\n</script>\n"})
	want := "<p>A &lt;b&gt;bold&lt;/b&gt; word.</p>\n<pre class=\"hl\" tabindex=\"0\"><code>&lt;script&gt;\nalert(&#34;1&#34;)\n&lt;/script&gt;\n</code></pre>\n"
	if diff := cmp.Diff(want, body(t, sheets[0])); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	if len(problems) != 3 || problems.Stops() {
		t.Errorf("want three warnings, got\n%s", problems)
	}
}

func TestSheetInTwoLanguages(t *testing.T) {
	es := strings.Replace(head, "language: en", "language: es", 1)
	sheets, problems := load(map[string]string{
		"content/a.md":    head + "## Lids\n\n[b](sheet:b#foam)\n",
		"content/a.es.md": es + "## Tapas\n\n[b](sheet:b#foam), [a](sheet:a#tapas)\n",
		"content/b.md":    head + "## Foam\n\n[a](sheet:a#lids)\n",
	})
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	var got []string
	for _, s := range sheets {
		got = append(got, string(s.Slug)+"."+string(s.Lang))
	}
	if diff := cmp.Diff([]string{"a.en", "a.es", "b.en"}, got); diff != "" {
		t.Error(diff)
	}
	if got := sheets[1].Links[0]; got.ID != mix.ID("b") || got.Anchor != "sheet-foam" {
		t.Errorf("link of the translation goes to %+v", got)
	}
}
