package page

import (
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
)

// Explanation is an answer in words for one who has no page to follow, with the
// sources it names in the order of their numbers.
type Explanation struct {
	Title string
	AnswerView
	Changes      ChangesView
	ChangesHead  string
	Hazard       string // "Hazard: Pressure and Heat"; empty when there is none
	InsteadHead  string
	UntestedHead string
	UntestedSum  string // "3 pairs in it are untested"; empty when none is
	SourcesHead  string
	Sources      []SourceView
	Words        *message.Catalogue
}

// Explain puts an answer into words in one language of the catalogues. It is what
// a page says, without the page.
func Explain(in Inputs, lang mix.Lang, a *compat.Answer) Explanation {
	return explain(looseLeaf(in, lang), a)
}

// ExplainChanges is Explain, with what a change of one item would do in the
// situation in which the mix was judged.
func ExplainChanges(in Inputs, lang mix.Lang, a *compat.Answer, s mix.Situation) Explanation {
	l := looseLeaf(in, lang)
	x := explain(l, a)
	x.Changes, x.ChangesHead = l.changes(a, s), l.t("whatif.title")
	return x
}

func explain(l *leaf, a *compat.Answer) Explanation {
	e := l.edition
	x := Explanation{Title: l.names(a.Items), AnswerView: l.answer(a), Words: e.words,
		InsteadHead: e.t("explain.instead"), UntestedHead: e.t("explain.untested"), SourcesHead: e.t("explain.sources")}
	if len(a.Hazards) > 0 {
		var names []string
		for _, h := range a.Hazards {
			names = append(names, e.words.Hazard(h))
		}
		x.Hazard = e.t("explain.hazard", "hazards", e.words.List(names))
	}
	if n := len(a.Untested); n > 0 {
		x.UntestedSum = e.t("explain.untested-pairs", "n", n)
	}
	for _, s := range l.sources {
		x.Sources = append(x.Sources, s.SourceView)
	}
	return x
}

// looseLeaf is a page of no site: it has words and numbers sources, and its links
// lead nowhere.
func looseLeaf(in Inputs, lang mix.Lang) *leaf {
	e := &edition{press: &press{Inputs: in}, lang: lang, home: lang, words: in.Messages[lang]}
	if langs := in.Index.Book().Site.Languages; len(langs) > 0 {
		e.home = langs[0]
	}
	return e.newLeaf("index.html")
}
