package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"strings"
	"sync"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/mix"
	"tankleaf.example/templates"
)

// The one script of every page. What it adds, a page can do without.

// siteScript bundles the script once for all publications.
var siteScript = sync.OnceValues(func() ([]byte, error) { return client.Bundle(templates.Client(), "site.ts") })

// wordsPath is the script with the words of the site's script in one language.
func wordsPath(lang mix.Lang) string { return "words-" + string(lang) + ".js" }

// siteWords are the messages that the site's script shows: whole keys, or
// beginnings of keys.
var siteWords = []string{"site.", "find.kind.", "verdict.", "number.group"}

// wordsFile hands the messages to the script by key.
func (p *press) wordsFile(lang mix.Lang) ([]byte, error) {
	words := p.Messages[lang]
	texts := map[string]string{}
	for _, key := range words.Keys() {
		for _, begin := range siteWords {
			if strings.HasPrefix(key, begin) {
				texts[key] = words.Text(key)
			}
		}
	}
	var out bytes.Buffer
	out.WriteString("tankleafWords(")
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(texts); err != nil {
		return nil, fmt.Errorf("words of the script: %w", err)
	}
	return append(bytes.TrimSuffix(out.Bytes(), []byte("\n")), ");\n"...), nil
}

// assetJobs lists what every page loads.
func (p *press) assetJobs() []job {
	all := []job{
		{"style.css", p.styleFile},
		{"emblem.svg", p.emblemFile},
		{"site.js", siteScript},
	}
	for _, lang := range p.book().Site.Languages {
		all = append(all,
			job{printStylePath(lang), func() ([]byte, error) { return p.printStyle(lang), nil }},
			job{wordsPath(lang), func() ([]byte, error) { return p.wordsFile(lang) }})
	}
	return all
}

// makePins works out the pin of every asset.
func (p *press) makePins() map[string]string {
	pins := map[string]string{}
	for _, j := range p.assetJobs() {
		if body, err := j.make(); err == nil { // the job itself reports the error
			pins[j.path] = fmt.Sprintf("?sha256=%.4x", sha256.Sum256(body))
		}
	}
	return pins
}

// pinned adds to the way to an asset which one is meant: a page never gets
// that of another publication from a memory on the way.
func (f *Frame) pinned(path string) string { return f.leaf.asset(path) + f.leaf.pins()[path] }
