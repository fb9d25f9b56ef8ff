package site_test

import (
	"strings"
	"testing"

	"tankleaf.example/internal/site"
)

const goodPage = `<!doctype html><html lang="en"><head><meta http-equiv="Content-Security-Policy" content="default-src 'none'">
<title>Acid</title><link rel="stylesheet" href="../style.css"></head>
<body><p data-demonstration>Demonstration data</p><h1>Acid</h1><span data-verdict="never">Never together</span>
<a href="#top" id="top">top</a> <a href="https://example.org/">a source</a>
<section data-caution="general"><h2>Before you mix</h2></section></body></html>`

// audit returns the problems of one page beside a style sheet, one a line.
func audit(page string) string {
	a := site.NewAudit(true)
	a.Add("style.css", []byte("body{}"))
	a.Add("class/acid.html", []byte(page))
	return a.Problems().String()
}

func TestAuditTakesAGoodPage(t *testing.T) {
	if got := audit(goodPage); got != "" {
		t.Errorf("want no problem, got\n%s", got)
	}
}

func TestAuditFinds(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{`data-caution="general"`, `class="c"`, "has no general caution block"},
		{`<h2>Before you mix</h2>`, ``, `has an empty caution block "general"`},
		{`<section data`, `<section hidden data`, `hides its caution block "general"`},
		{`<section data`, `<details><summary>x</summary><section data`, `hides its caution block "general"`},
		{`<p data-demonstration>`, `<p>`, "does not say that it shows demonstration data"},
		{` lang="en"`, ``, "does not say its language"},
		{`<title>Acid</title>`, ``, "has 0 titles"},
		{`<h1>Acid</h1>`, `<h1>Acid</h1><h1>B</h1>`, "has 2 main headings"},
		{`<meta http-equiv="Content-Security-Policy" content="default-src 'none'">`, ``, "has no content security policy"},
		{`<p data-dem`, `<p id="top" data-dem`, `has the id "top" twice`},
		{`<p data-dem`, `<p style="color:red" data-dem`, `has an inline "style" attribute`},
		{`<p data-dem`, `<p onclick="x()" data-dem`, `has an inline "onclick" attribute`},
		{`<h1>`, `<script>x()</script><h1>`, "has an inline script"},
		{`<title>`, `<style>b{}</style><title>`, "has an inline style element"},
		{`data-verdict="never"`, `data-verdict="fine"`, `has a verdict mark "fine"`},
		{`../style.css`, `../other.css`, `links to "other.css", which is not published`},
		{`../style.css`, `https://cdn.example/style.css`, `asks for "https://cdn.example/style.css"`},
		{`../style.css`, `//cdn.example/style.css`, `asks for "//cdn.example/style.css"`},
		{`href="#top"`, `href="#tip"`, `links to "#tip" in "class/acid.html", which has no such place`},
		{`href="#top"`, `href="javascript:x()"`, `asks for "javascript:x()"`},
		{`href="#top"`, `href="../../x.html"`, `links to "../../x.html" outside the site`},
		{`href="#top"`, `href="data:text/html,x"`, `asks for "data:text/html,x"`},
	} {
		if !strings.Contains(goodPage, c.old) {
			t.Fatalf("the good page has no %q", c.old)
		}
		got := audit(strings.Replace(goodPage, c.old, c.new, 1))
		if !strings.Contains(got, c.want) {
			t.Errorf("%q for %q: want %q in\n%s", c.new, c.old, c.want, got)
		}
	}
}
