package preview

import (
	"bytes"
	"fmt"
	"html"
	"strings"

	"tankleaf.example/internal/diag"
)

// shownProblems is how many problems stand above a page; the terminal has more.
const shownProblems = 50

// script reloads the page once something else is built.
const script = `(function () {
	"use strict";
	var built = document.currentScript.getAttribute("data-generation");
	setInterval(function () {
		fetch("/.preview/state", { cache: "no-store" }).then(function (r) { return r.json(); }).then(function (now) {
			if (String(now.generation) !== built) location.reload();
		}).catch(function () {});
	}, 1000);
})();
`

const style = `.preview-problems { margin: 0; padding: 0.75rem 1rem; border-bottom: 4px solid #1b1b1b; background: #fff; color: #1b1b1b; font: 0.9rem/1.45 ui-monospace, Menlo, Consolas, monospace; }
.preview-problems p { margin: 0 0 0.4rem; max-width: none; font-weight: 700; }
.preview-problems ol { margin: 0; padding-left: 2rem; }
.preview-problems li { margin: 0 0 0.3rem; overflow-wrap: anywhere; }
.preview-problems span { display: block; padding-left: 1.5rem; }
@media print { .preview-problems { display: none; } }
`

// withProblems puts what is wrong above a page, and the script into it. The rest
// of the page stays as it is published.
func withProblems(page []byte, now state) []byte {
	i := bytes.Index(page, []byte("<body"))
	if i < 0 {
		return page
	}
	end := bytes.IndexByte(page[i:], '>')
	if end < 0 {
		return page
	}
	i += end + 1
	return []byte(string(page[:i]) + above(now) + string(page[i:]))
}

// above returns the banner, which is empty but for its script when all is well.
func above(now state) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<script src="/.preview/preview.js" data-generation="%d"></script>`, now.Generation)
	if now.Failure == "" && len(now.Problems) == 0 {
		return b.String()
	}
	b.WriteString(`<link rel="stylesheet" href="/.preview/preview.css"><aside class="preview-problems" aria-label="Problems">`)
	fmt.Fprintf(&b, "<p>%s</p>", html.EscapeString(headline(now)))
	b.WriteString("<ol>")
	for _, p := range now.Problems[:min(len(now.Problems), shownProblems)] {
		lines := p.Lines()
		b.WriteString("<li>" + html.EscapeString(lines[0]))
		for _, l := range lines[1:] {
			b.WriteString("<span>" + html.EscapeString(strings.TrimPrefix(l, "\t")) + "</span>")
		}
		b.WriteString("</li>")
	}
	b.WriteString("</ol>")
	if more := len(now.Problems) - shownProblems; more > 0 {
		fmt.Fprintf(&b, "<p>and %d more</p>", more)
	}
	b.WriteString("</aside>")
	return b.String()
}

func headline(now state) string {
	stopping := 0
	for _, p := range now.Problems {
		if p.Severity == diag.Stop {
			stopping++
		}
	}
	switch {
	case now.Failure != "":
		return "The build failed: " + now.Failure + ". This is the last good one."
	case stopping == 0:
		return fmt.Sprintf("Warnings: %d. The site is published all the same.", len(now.Problems))
	case !now.Built:
		return fmt.Sprintf("Problems: %d. There is no good build yet.", stopping)
	}
	return fmt.Sprintf("Problems: %d. This is the last good build.", stopping)
}

// plainPage is a page of the preview's own, under a heading of ours.
func plainPage(heading string, now state) []byte {
	const page = `<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>%[1]s</title></head>
<body><main><h1>%[1]s</h1><p><a href="/">Start</a></p></main></body></html>
`
	return withProblems(fmt.Appendf(nil, page, heading), now)
}
