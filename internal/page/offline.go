package page

import (
	"path"
	"slices"
	"strings"
	"sync"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/mix"
	"tankleaf.example/templates"
)

// OfflinePath is where the script lies that keeps a copy of the site in a
// browser. It can only keep what lies beside or below it.
const OfflinePath = "offline.js"

// OfflineScript returns that script, less what it has to know of a publication.
// The script of every page starts it.
var OfflineScript = sync.OnceValues(func() ([]byte, error) { return client.Bundle(templates.Client(), "offline.ts") })

// Edition returns the language whose readers need a file of the site, "" when
// all do, and the folder of that language's edition.
func Edition(name string, langs []mix.Lang) (lang mix.Lang, folder string) {
	for i, l := range langs {
		inside := string(l) + "/"
		switch {
		case strings.HasPrefix(name, "find/"+inside), name == wordsPath(l), name == printStylePath(l):
			return l, ""
		case i > 0 && strings.HasPrefix(name, inside):
			return l, inside
		}
	}
	if path.Ext(name) == ".html" {
		return langs[0], ""
	}
	return "", ""
}

// corePages are needed with no signal whatever else is not there.
var corePages = []string{"index.html", "find.html", "matrix.html", "safety.html", "planner.html", "calculators.html", "record.html",
	"verdicts.html", "offline.html"}

// Core reports whether a file is needed with no signal whatever else is not
// there: what answers a question about any mix, and what finds a page.
func Core(name string, langs []mix.Lang) bool {
	_, folder := Edition(name, langs)
	inside := strings.TrimPrefix(name, folder)
	switch dir := path.Dir(inside); {
	case dir == ".":
		return slices.Contains(corePages, inside) || path.Ext(inside) != ".html" && path.Ext(inside) != ".xml"
	case strings.HasPrefix(dir, "find/"):
		return !strings.HasPrefix(path.Base(inside), "t") // bodies of documents, for excerpts
	default:
		return dir+"/" == toolFolder
	}
}

// OfflinePage is what is shown, with no signal, for a page that is not kept.
type OfflinePage struct {
	Frame
	Kept []NavLink
}

func (e *edition) offlinePage() ([]byte, error) {
	l := e.newLeaf("offline.html")
	p := &OfflinePage{Kept: l.nav([]string{"index", "planner", "matrix", "find", "safety"})}
	return l.finish("offline", p, head{l.t("offline.title"), ""})
}
