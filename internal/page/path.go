package page

import (
	"strings"

	"tankleaf.example/internal/mix"
)

// Paths of pages inside an edition. Every page has its own .html path, so that a
// folder opened by double click works without a server.

func classPath(id mix.ID) string         { return "class/" + string(id) + ".html" }
func productPath(id mix.ID) string       { return "product/" + string(id) + ".html" }
func sheetPath(slug mix.ID) string       { return "sheet/" + string(slug) + ".html" }
func recipePath(id mix.ID) string        { return "recipe/" + string(id) + ".html" }
func observationPath(id mix.ID) string   { return "observation/" + string(id) + ".html" }
func investigationPath(id mix.ID) string { return "investigation/" + string(id) + ".html" }
func interactionPath(id mix.ID) string   { return "interactions.html#" + string(id) }
func noticePath(id mix.ID) string        { return "notices.html#" + string(id) }
func sourcePath(id mix.ID) string        { return "sources.html#" + string(id) }

// togetherPath is the page of two items, whichever order they are named in.
func togetherPath(a, b mix.ID) string {
	if b < a {
		a, b = b, a
	}
	return "together/" + string(a) + "--" + string(b) + ".html"
}

// itemPath is the page of a class or product; "" for neither.
func (e *edition) itemPath(id mix.ID) string {
	switch {
	case e.Index.Product(id) != nil:
		return productPath(id)
	case e.Index.Class(id) != nil:
		return classPath(id)
	}
	return ""
}

// relative returns the link from one page to another, both from the top of the
// site. It climbs no further than the folder they share.
func relative(from, to string) string {
	if to == "" {
		return ""
	}
	if path, anchor, _ := strings.Cut(to, "#"); path == from && anchor != "" {
		return "#" + anchor
	}
	for {
		folder, rest, ok := strings.Cut(from, "/")
		inside, same := strings.CutPrefix(to, folder+"/")
		if !ok || !same {
			break
		}
		from, to = rest, inside
	}
	return strings.Repeat("../", strings.Count(from, "/")) + to
}
