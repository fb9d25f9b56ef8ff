package site_test

import (
	"strings"
	"testing"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/site"
)

const goodPage = `<!doctype html><html lang="en"><head><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'">
<title>Acid</title><link rel="canonical" href="https://mixes.example.org/class/acid.html">
<link rel="alternate" hreflang="es" href="../es/class/acid.html"><link rel="stylesheet" href="../style.css"></head>
<body><p data-demonstration>Demonstration data</p><main><h1>Acid</h1><span data-verdict="never">Never together</span>
<p><span data-verdict="apart"></span>Keep apart: oil</p>
<table><tr><td data-verdict="steps"><svg aria-label="Mix with steps"></svg></td></tr></table>
<section data-verdict="unknown"><p class="says">Nobody knows this of acid</p></section>
<a href="#top" id="top">top</a> <a href="https://example.org/">a source</a> <a href="../es/class/acid.html?q=1#b%C3%A1sico">other</a>
<section data-caution="pressure">Vent the lid</section></main>
<section data-caution="general"><h2>Before you mix</h2></section></body></html>`

const goodTwin = `<!doctype html><html lang="es"><head><meta http-equiv="Content-Security-Policy" content="default-src 'none'">
<title>Ácido</title><link rel="alternate" hreflang="en" href="../../class/acid.html"></head>
<body><p data-demonstration>Demostración</p><h1 id="básico">Ácido</h1>
<p data-caution="pressure">Presión</p><p data-caution="general">Antes</p></body></html>`

var goodRules = site.Rules{
	Demonstration: true,
	Address:       "https://mixes.example.org/",
	Words: func(lang string, v mix.Verdict) string {
		return map[string]string{"en never": "Never together", "en apart": "Keep apart", "en steps": "Mix with steps", "en unknown": "No evidence"}[lang+" "+v.String()]
	},
	Hazards: func(path string) []mix.Hazard { return []mix.Hazard{mix.Pressure} },
}

// audit returns the problems of one page beside its twin and a style sheet, one a
// line.
func audit(page, twin string) string {
	a := site.NewAudit(goodRules)
	a.Add("style.css", []byte("body{mask:url(#hatch)}"))
	a.Add("class/acid.html", []byte(page))
	a.Add("es/class/acid.html", []byte(twin))
	return a.Problems().String()
}

func TestAuditTakesAGoodPage(t *testing.T) {
	if got := audit(goodPage, goodTwin); got != "" {
		t.Errorf("want no problem, got\n%s", got)
	}
}

// find fails unless a page, with one text for another, gives the problem.
func find(t *testing.T, page func(string) string, good, old, new, want string) {
	t.Helper()
	if !strings.Contains(good, old) {
		t.Fatalf("the good page has no %q", old)
	}
	if got := page(strings.Replace(good, old, new, 1)); !strings.Contains(got, want) {
		t.Errorf("%q for %q: want %q in\n%s", new, old, want, got)
	}
}

func TestAuditFinds(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{`data-caution="general"`, `class="c"`, "has no general caution block"},
		{`<h2>Before you mix</h2>`, ``, `has an empty caution block "general"`},
		{`<section data-caution="general"`, `<section hidden data-caution="general"`, `hides its caution block "general"`},
		{`<section data-caution="general"`, `<section aria-hidden="true" data-caution="general"`, `hides its caution block "general"`},
		{`<section data-caution="general"`, `<section popover data-caution="general"`, `hides its caution block "general"`},
		{`<section data-caution="general"`, `<details><summary>x</summary><section data-caution="general"`, `hides its caution block "general"`},
		{`<section data-caution="general"`, `<dialog><section data-caution="general"`, `hides its caution block "general"`},
		{`<section data-caution="general"`, `<template><section data-caution="general"`, `hides its caution block "general"`},
		{`<section data-caution="general"`, `<noscript><section data-caution="general"`, `has no general caution block`},
		{`<section data-caution="pressure"`, `<section`, "speaks of pressure and has no caution of it"},
		{`<p data-demonstration>`, `<p>`, "does not say that it shows demonstration data"},
		{`Demonstration data`, ``, "does not say that it shows demonstration data"},
		{`<p data-demonstration>`, `<p hidden data-demonstration>`, "does not say that it shows demonstration data"},
		{` lang="en"`, ``, "does not say its language"},
		{`<title>Acid</title>`, ``, "has 0 titles"},
		{`<title>Acid</title>`, `<title> </title>`, "has 0 titles"},
		{`<h1>Acid</h1>`, `<h1>Acid</h1><h1>B</h1>`, "has 2 main headings"},
		{`<h1>Acid</h1>`, `<h1> </h1>`, "has 0 main headings"},
		{`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'">`, ``, "has no content security policy"},
		{`<head>`, `<head><link rel="stylesheet" href="../style.css">`, "has no content security policy"},
		{`style-src 'self'`, `style-src 'self' 'unsafe-inline'`, "which lets others in"},
		{`style-src 'self'`, `script-src https://cdn.example`, "which lets others in"},
		{`default-src 'none'; `, ``, "which lets others in"},
		{`<p data-dem`, `<p id="top" data-dem`, `has the id "top" twice`},
		{`<p data-dem`, `<p style="color:red" data-dem`, `has an inline "style" attribute`},
		{`<p data-dem`, `<p onclick="x()" data-dem`, `has an inline "onclick" attribute`},
		{`<h1>`, `<script>x()</script><h1>`, "has an inline script"},
		{`<h1>`, `<iframe src="../style.css"></iframe><h1>`, `has an element "iframe"`},
		{`<h1>`, `<object data="../style.css"></object><h1>`, `has an element "object"`},
		{`<title>`, `<base href="../"><title>`, `has an element "base"`},
		{`<title>`, `<meta http-equiv="Refresh" content="0"><title>`, "leads on by itself"},
		{`<title>`, `<style>b{}</style><title>`, "has an inline style element"},
		{`data-verdict="never"`, `data-verdict="fine"`, `has a verdict mark "fine"`},
		{`>Never together<`, `>Mixed cleanly<`, `has a mark of "never" that does not say "Never together"`},
		{`Keep apart: oil`, `oil`, `has a mark of "apart" that does not say "Keep apart"`},
		{` aria-label="Mix with steps"`, ``, `has a mark of "steps" that does not say "Mix with steps"`},
		{`<p class="says">Nobody knows this of acid</p>`, `<p>maybe</p>`, `has a mark of "unknown" that does not say "No evidence"`},
		{`../style.css`, `../other.css`, `links to "other.css", which is not published`},
		{`../style.css`, `https://cdn.example/style.css`, `asks for "https://cdn.example/style.css"`},
		{`../style.css`, `//cdn.example/style.css`, `asks for "//cdn.example/style.css"`},
		{`https://mixes.example.org/class/acid.html`, `https://mixes.example.org/class/base.html`, `asks for "https://mixes.example.org/class/base.html"`},
		{`<a href="#top"`, `<a ping="https://count.example/" href="#top"`, `asks for "https://count.example/"`},
		{`<h1>`, `<button formaction="https://other.example/">x</button><h1>`, `asks for "https://other.example/"`},
		{`href="#top"`, `href="#tip"`, `links to "#tip" in "class/acid.html", which has no such place`},
		{`href="#top"`, `href="%zz"`, `links to "%zz", which is no address`},
		{`href="#top"`, `href="javascript:x()"`, `asks for "javascript:x()"`},
		{`href="#top"`, `href="../../x.html"`, `links to "../../x.html" outside the site`},
		{`href="#top"`, `href="/x.html"`, `links to "/x.html" outside the site`},
		{`href="#top"`, `href="data:text/html,x"`, `asks for "data:text/html,x"`},
		{`href="#top"`, `href="\\host\x"`, `asks for "\\\\host\\x"`},
		{`<link rel="alternate" hreflang="es" href="../es/class/acid.html">`, ``, `says that "class/acid.html" is itself in "en", which that page does not`},
		{`hreflang="es"`, `hreflang="pt"`, `says that "es/class/acid.html" is itself in "pt", which that page does not`},
	} {
		find(t, func(page string) string { return audit(page, goodTwin) }, goodPage, c.old, c.new, c.want)
	}
}

func TestAuditFindsInOtherFiles(t *testing.T) {
	const svg = `<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0"/></svg>`
	const css = `a{fill:url(#hatch)}`
	const feed = `<?xml version="1.0"?><feed xmlns="http://www.w3.org/2005/Atom"><id>tag:a</id><title>Changes</title>
<updated>2026-11-20T00:00:00Z</updated><author><name>Office</name></author><link href="index.html"/>
<entry><id>tag:b</id><title>Acid and oil</title><updated>2026-11-20T00:00:00Z</updated><link href="https://mixes.example.org/index.html"/></entry></feed>`
	for _, c := range []struct{ name, good, old, new, want string }{
		{"a.svg", svg, `<path`, `<script>x()</script><path`, `has an element "script"`},
		{"a.svg", svg, `<path`, `<foreignObject/><path`, `has an element "foreignObject"`},
		{"a.svg", svg, `<path`, `<path onload="x()"`, `has an attribute "onload"`},
		{"a.svg", svg, `<path`, `<use xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="http://evil.example/#a"/><path`, `has an attribute "href"`},
		{"a.svg", svg, `</svg>`, ``, `is no drawing`},
		{"a.css", css, `a{`, `@import "other.css";a{`, `asks for "other.css"`},
		{"a.css", css, `url(#hatch)`, `URL( "https://evil.example/a" )`, `asks for "https://evil.example/a"`},
		{"a.css", css, `url(#hatch)`, `url(data:image/png;base64,x)`, `asks for "data:image/png"`},
		{"feed.xml", feed, `tag:b`, `tag:a`, `has an entry without an id of its own`},
		{"feed.xml", feed, `<title>Acid and oil</title>`, ``, `has an entry without an id of its own, a title or a date: "tag:b"`},
		{"feed.xml", feed, `2026-11-20T00:00:00Z`, `2026-11-20`, `has a head without an id of its own, a title or a date: "tag:a"`},
		{"feed.xml", feed, `<author><name>Office</name></author>`, ``, `has no author`},
		{"feed.xml", feed, `index.html"/>`, `gone.html"/>`, `links to "gone.html", which is not published`},
		{"feed.xml", feed, `org/index.html`, `org/gone.html`, `links to "gone.html", which is not published`},
		{"es/feed.xml", strings.ReplaceAll(feed, `"index.html`, `"../index.html`), `org/index.html`, `org/gone.html`, `links to "gone.html", which is not published`},
		{"feed.xml", feed, `</feed>`, ``, `is no feed`},
		{"con.txt", "", "", "", `holds "con.txt", a file name that some systems or servers cannot hold`},
		{"a b.txt", "", "", "", `holds "a b.txt"`},
		{"data/INDEX.html", "", "", "", `is the same file as "data/index.html"`},
		{"SHA256SUMS", "", "", "", `is no path for a published file`},
	} {
		page := func(text string) string {
			a := site.NewAudit(site.Rules{Address: "https://mixes.example.org/"})
			a.Add("index.html", []byte(goodPage))
			a.Add("data/index.html", []byte(goodPage))
			a.Add(c.name, []byte(text))
			return a.Problems().String()
		}
		find(t, page, c.good, c.old, c.new, c.name+": "+c.want)
		if got := page(c.good); c.good != "" && strings.Contains(got, c.name+":") {
			t.Errorf("the good %s has problems:\n%s", c.name, got)
		}
	}
}
