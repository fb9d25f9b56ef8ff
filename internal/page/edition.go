package page

import (
	"html/template"
	"sync"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
)

// edition is the whole site in one language.
type edition struct {
	*press
	lang      mix.Lang
	home      mix.Lang // the office's own language, which texts fall back to
	folder    string   // "" for the office's own language, else "es/"
	words     *message.Catalogue
	templates map[string]*template.Template
	sheets    map[mix.ID]*sheet.Sheet // by slug, in this language or the best other
}

// press is what all editions share.
type press struct {
	Inputs
	shelf *shelf
	uses  *uses
	pairs [][2]mix.ID        // that have a page, each sorted, in order
	paged map[[2]mix.ID]bool // the same as a set

	tools  func() (*tools, error) // what the reader's tools are made of
	rank   sync.Once
	ranked []compat.Gap

	packets sync.Map // by ID: func() worked

	pins func() map[string]string // of the files that every page loads, by path
}

func newPress(in Inputs, s *shelf) *press {
	p := &press{Inputs: in, shelf: s, uses: findUses(&in), paged: map[[2]mix.ID]bool{}}
	p.tools = sync.OnceValues(p.makeTools)
	for pair := range in.Judge.Pairs() {
		p.pairs = append(p.pairs, pair)
		p.paged[pair] = true
	}
	p.pins = sync.OnceValue(p.makePins)
	return p
}

// mostProducts is how many products an office may have for its pages to set each
// against each. A larger one's pages speak of classes where products would be
// too many to read, and its lists are split.
const mostProducts = 1000

func (p *press) large() bool { return len(p.book().Products) > mostProducts }

// hasPage reports whether there is a page for a pair. A class with itself stands
// for two products of it.
func (p *press) hasPage(a, b mix.ID) bool { return p.paged[[2]mix.ID{min(a, b), max(a, b)}] }

// book returns what the office states.
func (p *press) book() *mix.Book { return p.Index.Book() }

// newEdition returns the edition in the n-th language of the site.
func (p *press) newEdition(n int) *edition {
	langs := p.book().Site.Languages
	e := &edition{press: p, lang: langs[n], home: langs[0], words: p.Messages[langs[n]]}
	if n > 0 {
		e.folder = string(e.lang) + "/"
	}
	e.templates = p.shelf.templatesFor(e.words)
	e.sheets = e.pickSheets()
	return e
}

// t returns a message of the edition's language.
func (e *edition) t(key string, args ...any) string { return e.words.T(key, args...) }

// phrase returns a text in the edition's language, or marked as being in another.
func (e *edition) phrase(t mix.Text) Phrase {
	text, lang := t.In(e.lang, e.home)
	if lang == e.lang {
		return Phrase{Text: text}
	}
	return Phrase{text, lang}
}

// name returns the name of a class or product, which a mix may hold; of a
// place, crop, purpose or water; or the id itself.
func (e *edition) name(id mix.ID) Phrase {
	x := e.Index
	if p := x.Product(id); p != nil {
		return Phrase{Text: p.Name}
	}
	if c := x.Class(id); c != nil {
		return e.phrase(c.Name)
	}
	if p := x.Place(id); p != nil {
		return e.phrase(p.Name)
	}
	if c := x.Crop(id); c != nil {
		return e.phrase(c.Name)
	}
	if p := x.Purpose(id); p != nil {
		return e.phrase(p.Name)
	}
	if w := x.Water(id); w != nil {
		return e.phrase(w.Name)
	}
	return Phrase{Text: string(id)}
}

// nameText returns the name as it stands in a sentence of the edition.
func (e *edition) nameText(id mix.ID) string { return e.name(id).Text }

// names returns the names of items as a list in a sentence.
func (e *edition) names(ids []mix.ID) string {
	all := make([]string, len(ids))
	for i, id := range ids {
		all[i] = e.nameText(id)
	}
	return e.words.List(all)
}

// Phrase is a piece of text. Lang is empty when it is in the page's language.
type Phrase struct {
	Text string
	Lang mix.Lang
}

// pickSheets returns one sheet a slug: in the edition's language, else in the
// office's, else the first that there is.
func (e *edition) pickSheets() map[mix.ID]*sheet.Sheet {
	rank := func(s *sheet.Sheet) int {
		switch s.Lang {
		case e.lang:
			return 2
		case e.home:
			return 1
		}
		return 0
	}
	picked := map[mix.ID]*sheet.Sheet{}
	for _, s := range e.Sheets {
		if old := picked[s.Slug]; old == nil || rank(s) > rank(old) {
			picked[s.Slug] = s
		}
	}
	return picked
}
