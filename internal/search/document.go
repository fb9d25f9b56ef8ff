package search

import (
	"cmp"
	"slices"
)

// A Document is what can be found: one page of the site.
type Document struct {
	ID      string   // unique
	Path    string   // where the page is, from the root of the site
	Kind    string   // what sort of page; results can be narrowed to one
	Lang    string   // "en" or "es"; empty belongs to every language
	Title   string   // shown first, counts most
	Names   []string // what else it is called; searched, not shown
	Summary string   // a line or two, shown below the title
	Body    string   // the rest of the text
}

// The fields of a document that are searched, in the order of weights.
const (
	fieldTitle = iota
	fieldNames
	fieldSummary
	fieldBody
	numFields
)

var fieldNamesOf = [numFields]string{"title", "names", "summary", "body"}

// order returns the documents in the order in which they are numbered, with
// their lengths: by kind, as kinds lists them and then by name, within a kind
// by length, then by path. So a kind is a range of numbers, and the length of
// every document is told by a few steps.
func order(docs []Document, lengths map[string]int, kinds []string) []Document {
	rank := make(map[string]int)
	for i, k := range kinds {
		rank[k] = i - len(kinds)
	}
	docs = slices.Clone(docs)
	slices.SortFunc(docs, func(a, b Document) int {
		return cmp.Or(
			cmp.Compare(rank[a.Kind], rank[b.Kind]),
			cmp.Compare(a.Kind, b.Kind),
			cmp.Compare(lengths[a.ID], lengths[b.ID]),
			cmp.Compare(a.Path, b.Path),
			cmp.Compare(a.ID, b.ID),
		)
	})
	return docs
}
