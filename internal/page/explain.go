package page

import (
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// Explanation is an answer in words for one who has no page to follow, with the
// sources it names in the order of their numbers.
type Explanation struct {
	Title string
	AnswerView
	Hazards []string
	Sources []SourceView
	Words   func(key string, args ...any) string // the catalogue the words came from
}

// Explain puts an answer into words in one language of the catalogues. It is what
// a page says, without the page.
func Explain(in Inputs, lang mix.Lang, a *compat.Answer) Explanation {
	langs := in.Index.Book().Site.Languages
	e := &edition{press: &press{Inputs: in}, lang: lang, home: lang, words: in.Messages[lang]}
	if len(langs) > 0 {
		e.home = langs[0]
	}
	l := e.newLeaf("index.html")
	x := Explanation{Title: l.names(a.Items), AnswerView: l.answer(a), Words: e.t}
	for _, h := range a.Hazards {
		x.Hazards = append(x.Hazards, l.words.Hazard(h))
	}
	for _, s := range l.sources {
		x.Sources = append(x.Sources, s.SourceView)
	}
	return x
}
