package page

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/search"
	"tankleaf.example/internal/sheet"
)

// The kinds of page that can be found, in the order in which equal results are
// listed. Their names are messages, find.kind.KIND.
const (
	findClass         = "class"
	findProduct       = "product"
	findTogether      = "together"
	findSheet         = "sheet"
	findInvestigation = "investigation"
	findRecipe        = "recipe"
	findNotice        = "notice"
	findObservation   = "observation"
	findTool          = "tool"
	findCalculator    = "calculator"
	findPacket        = "packet"
)

var findKinds = []string{findProduct, findClass, findTogether, findSheet, findInvestigation, findRecipe, findNotice,
	findObservation, findTool, findCalculator, findPacket}

// findPath is the folder of an edition's index, which all pages of the edition
// load parts of.
func (e *edition) findPath(name string) string { return "find/" + string(e.lang) + "/" + name }

// Documents returns what can be found in one language of the site, with paths
// inside that language's edition.
func Documents(in Inputs, lang mix.Lang) []search.Document {
	langs := in.Index.Book().Site.Languages
	e := &edition{press: newPress(in, nil), lang: lang, home: langs[0], words: in.Messages[lang]}
	e.sheets = e.pickSheets()
	return e.documents()
}

// FindOptions are how documents of a language are indexed. What a class is also
// called, or mistaken for, finds what is written about it under its name: sheets
// and statements speak of classes. Other names of products are on their pages
// alone; with thousands of products they would be too much to load for a query.
func FindOptions(in Inputs, lang mix.Lang) search.Options {
	opt := search.Options{Lang: string(lang), Kinds: findKinds}
	b := in.Index.Book()
	for i := range b.Classes {
		c := &b.Classes[i]
		name, ok := c.Name[lang]
		for _, also := range c.Also {
			if ok && !strings.EqualFold(also, name) {
				opt.Same = append(opt.Same, []string{name, also})
			}
		}
	}
	return opt
}

// findJobs exports the edition's index. It is made at once, since only then it
// is known of how many files it is.
func (e *edition) findJobs() []job {
	files, err := search.Export(e.documents(), FindOptions(e.Inputs, e.lang))
	if err != nil {
		return []job{{e.findPath("root.js"), func() ([]byte, error) { return nil, err }}}
	}
	all := make([]job, len(files))
	for i, f := range files {
		all[i] = job{e.findPath(f.Path), func() ([]byte, error) { return f.Body, nil }}
	}
	return all
}

// FindPage is the search on a page of its own; without a script, the lists that
// lead to every page.
type FindPage struct {
	Frame
	AtoZ  []Link
	Lists []NavLink
}

// findLists are the pages that between them list everything that can be found.
var findLists = []string{"products", "classes", "matrix", "sheets", "recipes", "observations", "interactions", "notices"}

func (e *edition) findPage() ([]byte, error) {
	l := e.newLeaf("find.html")
	p := &FindPage{Lists: l.nav(findLists)}
	for _, letter := range l.letters() {
		p.AtoZ = append(p.AtoZ, Link{l.link(e.letterPath(letter.Letter)), Phrase{Text: letter.Letter}})
	}
	return l.finish("find", p, head{l.t("find.title"), l.t("find.summary")})
}

// documents lists every page about one record, the notices, and the tools.
func (e *edition) documents() []search.Document {
	var all []search.Document
	b := e.book()
	for i := range b.Classes {
		all = append(all, e.classDocument(&b.Classes[i]))
	}
	for i := range b.Products {
		all = append(all, e.productDocument(&b.Products[i]))
	}
	for _, pair := range e.pairs {
		all = append(all, e.pairDocument(pair[0], pair[1]))
	}
	for slug, s := range e.sheets {
		all = append(all, search.Document{Path: sheetPath(slug), Kind: findSheet, Title: s.Title,
			Names: append(answersTo(s.Title), s.Also...), Summary: s.Summary, Body: sheetText(s)})
	}
	for i := range b.Recipes {
		r := &b.Recipes[i]
		all = append(all, search.Document{Path: recipePath(r.ID), Kind: findRecipe, Title: e.plain(r.Title),
			Summary: e.plain(r.Why), Body: e.portionNames(r.Products)})
	}
	for i := range b.Notices {
		n := &b.Notices[i]
		all = append(all, search.Document{Path: noticePath(n.ID), Kind: findNotice, Title: e.plain(n.Title),
			Summary: e.plain(n.Says), Body: e.names(refIDs(n.Members))})
	}
	all = append(all, e.recordDocuments()...)
	all = append(all, e.toolDocuments()...)
	for i := range all {
		all[i].ID, all[i].Lang = all[i].Path, string(e.lang)
	}
	return all
}

// recordDocuments lists investigations and observations.
func (e *edition) recordDocuments() []search.Document {
	var all []search.Document
	b := e.book()
	for i := range b.Investigations {
		n := &b.Investigations[i]
		all = append(all, search.Document{Path: investigationPath(n.ID), Kind: findInvestigation,
			Title: e.plain(n.Title), Summary: e.plain(n.Question), Body: e.join(n.About, n.Conclude, n.Open)})
	}
	for i := range b.Observations {
		o := &b.Observations[i]
		all = append(all, search.Document{Path: observationPath(o.ID), Kind: findObservation, Title: e.plain(o.Title),
			Names: []string{string(o.ID)}, Summary: e.portionNames(o.Products), Body: e.plain(o.Note)})
	}
	return all
}

func (e *edition) classDocument(c *mix.Class) search.Document {
	var members []string
	for _, id := range e.Index.Members(c.ID) {
		members = append(members, e.nameText(id))
	}
	return search.Document{Path: classPath(c.ID), Kind: findClass, Title: e.plain(c.Name),
		Names: slices.Concat(answersTo(e.plain(c.Name)), e.otherNames(c.Name), c.Also), Summary: e.plain(c.About), Body: strings.Join(members, ". ")}
}

func (e *edition) productDocument(p *mix.Product) search.Document {
	names := append(answersTo(p.Name), string(p.Form))
	names = append(names, p.Also...)
	for _, a := range p.Actives {
		names = append(names, a.Name)
	}
	var body []string
	for _, id := range e.Index.Classes(p.ID) {
		body = append(body, e.nameText(id))
	}
	for _, u := range p.Uses {
		body = append(body, e.nameText(u.Crop.ID)+" "+e.nameText(u.Purpose.ID))
	}
	if !p.Rate.IsZero() {
		body = append(body, fmt.Sprintf("%s %s", p.Rate.Low, p.Rate.High))
	}
	return search.Document{Path: productPath(p.ID), Kind: findProduct, Title: p.Name, Names: names,
		Summary: e.plain(p.About), Body: strings.Join(body, ". ")}
}

// answersTo has a name count three times on the page of what bears it: the titles of
// pairs and notices hold the name too, and often in fewer words.
func answersTo(name string) []string { return []string{name, name} }

// pairDocument says the verdict first: a result that shows only names could be
// taken for leave to mix.
func (e *edition) pairDocument(a, b mix.ID) search.Document {
	answer := e.Judge.Pair(a, b)
	l := e.newLeaf(togetherPath(a, b))
	summary := e.words.Verdict(answer.Verdict) + ". " + l.why(answer).Text
	var body []string
	for i := range answer.Findings {
		body = append(body, l.what(&answer.Findings[i]).Text)
		if s, ok := answer.Findings[i].Evidence.(compat.Statement); ok {
			body = append(body, e.plain(s.Mechanism))
		}
	}
	return search.Document{Path: togetherPath(a, b), Kind: findTogether, Title: e.pairTitle(a, b), Summary: summary,
		Body: strings.Join(body, " ")}
}

// plain returns a text without its language.
func (e *edition) plain(t mix.Text) string { return e.phrase(t).Text }

func (e *edition) join(texts ...mix.Text) string {
	var all []string
	for _, t := range texts {
		all = append(all, e.plain(t))
	}
	return strings.Join(all, " ")
}

// otherNames returns a name in the languages other than the edition's: a reader
// may know a thing by either.
func (e *edition) otherNames(t mix.Text) []string {
	var all []string
	for _, lang := range e.book().Site.Languages {
		if name, ok := t[lang]; ok && name != e.plain(t) {
			all = append(all, name)
		}
	}
	return all
}

func (e *edition) portionNames(portions []mix.Portion) string {
	ids := make([]mix.ID, len(portions))
	for i, p := range portions {
		ids[i] = p.ID
	}
	return e.names(ids)
}

func sheetText(s *sheet.Sheet) string {
	var all []string
	for _, p := range s.Passages {
		all = append(all, p.Text)
	}
	return strings.Join(all, " ")
}
