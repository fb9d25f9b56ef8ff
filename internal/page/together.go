package page

import (
	"slices"

	"tankleaf.example/internal/mix"
)

// TogetherPage is one pair of items: the answer, then the evidence.
type TogetherPage struct {
	Frame
	A, B     ItemCard
	Answer   AnswerView
	Changes  ChangesView // of two products, in an office that is not large
	Recipes  []Link
	Notices  []Link
	JarFirst bool // the advice to test in a jar belongs here: no hazard stands against it
}

// ItemCard is a class or product in short, as on a label.
type ItemCard struct {
	Link
	Kind    string
	Form    string
	Line    Phrase
	Classes []Link
}

func (e *edition) togetherPage(a, b mix.ID) ([]byte, error) {
	l := e.newLeaf(togetherPath(a, b))
	answer := e.Judge.Pair(a, b)
	p := &TogetherPage{A: l.card(a), B: l.card(b), Answer: l.answer(answer)}
	p.JarFirst = len(l.hazards) == 0 && answer.Verdict < mix.Never
	if !l.large() && len(l.onlyProducts(a, b)) == 2 {
		p.Changes = l.changes(answer, mix.Situation{})
	}
	l.handling(l.onlyProducts(a, b))
	p.Recipes = l.recipesOf(a, b)
	title := l.pairTitle(a, b)
	summary := l.t("together.summary", "verdict", l.words.Verdict(answer.Verdict), "why", l.why(answer).Text)
	return l.finish("together", p, head{title, summary})
}

func (e *edition) onlyProducts(ids ...mix.ID) []mix.ID {
	return slices.DeleteFunc(ids, func(id mix.ID) bool { return e.Index.Product(id) == nil })
}

// card puts an item in short.
func (l *leaf) card(id mix.ID) ItemCard {
	c := ItemCard{Link: l.item(id)}
	if p := l.Index.Product(id); p != nil {
		c.Kind, c.Form, c.Line = l.t("item.product"), l.formWords(p.Form), Phrase{Text: l.actives(p)}
		for _, r := range p.Classes {
			c.Classes = append(c.Classes, l.item(r.ID))
		}
		return c
	}
	if class := l.Index.Class(id); class != nil {
		c.Kind, c.Line = l.t("item.class"), l.phrase(class.About)
	}
	return c
}

// recipesOf lists the recipes that hold both products.
func (l *leaf) recipesOf(a, b mix.ID) []Link {
	var links []Link
	for _, r := range l.uses.recipes[a] {
		if slices.Contains(l.uses.recipes[b], r) {
			links = append(links, Link{l.link(recipePath(r.ID)), l.phrase(r.Title)})
		}
	}
	return links
}

// pairTitle names a pair.
func (e *edition) pairTitle(a, b mix.ID) string {
	if a == b {
		return e.t("together.same", "a", e.nameText(a))
	}
	return e.t("together.title", "a", e.nameText(a), "b", e.nameText(b))
}
