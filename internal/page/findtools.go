package page

import (
	"strings"

	"tankleaf.example/internal/search"
)

// findPages are the pages about no single record that can be found, by file and by
// the beginning of their messages.
var findPages = []string{"planner", "calculators", "matrix", "order", "standing", "packets", "record", "unknown", "safety", "verdicts",
	"products", "classes", "sheets", "recipes", "interactions", "notices", "sources", "data"}

// calculatorAbout begins the messages that name the calculators.
const calculatorAbout = "calculators.about."

// toolDocuments lists the pages that a reader works with: tools and lists, every
// calculator, and the packets.
func (e *edition) toolDocuments() []search.Document {
	var all []search.Document
	for _, name := range findPages {
		d := search.Document{Path: name + ".html", Kind: findTool, Title: e.t(name + ".title"), Summary: e.t(name + ".summary")}
		d.Names = answersTo(d.Title)
		if also := "find.also." + name; e.words.Has(also) {
			d.Names = append(d.Names, strings.Split(e.t(also), ", ")...)
		}
		all = append(all, d)
	}
	for _, key := range e.words.Keys() {
		if id, ok := strings.CutPrefix(key, calculatorAbout); ok {
			all = append(all, search.Document{Path: "calculators.html#" + id, Kind: findCalculator, Title: e.t(key),
				Names: []string{e.t("calculators.title")}, Summary: e.t("calculators.formula." + id)})
		}
	}
	b := e.book()
	for i := range b.Trials {
		t := &b.Trials[i]
		all = append(all, search.Document{Path: packetPath(t.ID), Kind: findPacket, Title: e.plain(t.Title),
			Names: []string{e.t("packets.title")}, Summary: e.plain(t.Why)})
	}
	return all
}
