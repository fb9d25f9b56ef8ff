package search

import (
	"fmt"

	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/analysis/lang/en"
	"github.com/blevesearch/bleve/v2/analysis/lang/es"
	"github.com/blevesearch/bleve/v2/analysis/token/stop"
	tokenizer "github.com/blevesearch/bleve/v2/analysis/tokenizer/regexp"
)

// analyzer returns the analysis of a language as bleve runs it: our pattern,
// our forms, our stop list. Stems are no part of it: postings are kept by form
// and a stem is only a way to find the forms that go together.
func analyzer(lang string) analysis.Analyzer {
	words := analysis.NewTokenMap()
	for _, w := range stopWords(lang) {
		words.AddToken(w)
	}
	return &analysis.DefaultAnalyzer{
		Tokenizer:    tokenizer.NewRegexpTokenizer(tokenRegexp),
		TokenFilters: []analysis.TokenFilter{formFilter{}, stop.NewStopTokensFilter(words)},
	}
}

// formFilter replaces every token by its forms, all at the token's place.
type formFilter struct{}

// Filter implements analysis.TokenFilter.
func (formFilter) Filter(in analysis.TokenStream) analysis.TokenStream {
	out := make(analysis.TokenStream, 0, len(in))
	for _, t := range in {
		for _, form := range forms(string(t.Term)) {
			out = append(out, &analysis.Token{
				Term: []byte(form), Start: t.Start, End: t.End, Position: t.Position, Type: t.Type,
			})
		}
	}
	return out
}

// stemmers holds bleve's stemmer of each language.
var stemmers = map[string]analysis.TokenFilter{
	"en": en.NewEnglishStemmerFilter(),
	"es": es.NewSpanishLightStemmerFilter(),
}

// Languages lists the languages that have an analysis.
func Languages() []string { return []string{"en", "es"} }

// stem returns what a form has in common with its inflections. A form with
// anything but the letters a to z in it is a code or a number and is its own
// stem.
func stem(lang, form string) string {
	for i := range len(form) {
		if form[i] < 'a' || form[i] > 'z' {
			return form
		}
	}
	out := stemmers[lang].Filter(analysis.TokenStream{{Term: []byte(form)}})
	return string(out[0].Term)
}

// checkLanguage returns an error when there is no analysis for a language.
func checkLanguage(lang string) error {
	if stemmers[lang] == nil {
		return fmt.Errorf("no analysis for language %q; there is %v", lang, Languages())
	}
	return nil
}
