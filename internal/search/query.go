package search

import "strings"

// A word is one token of a query.
type word struct {
	form   string   // its whole form
	parts  []string // the parts of a compound
	typing bool     // the last word, perhaps not finished
	exact  bool     // inside quotes: as written or not at all
	extra  bool     // may become another word; a document need not have it
}

// A slot is one thing a document should have: the words of the query it stands
// for, or all words of one of its alternatives.
type slot struct {
	words  []word
	others []alternative
}

type alternative struct {
	words  []word
	weight float64
}

// A query is a text cut into slots.
type query struct {
	slots   []slot
	phrases [][]string // each a run of whole forms, stop words included
}

// parse cuts a query. A word in quotes is meant as written; a last word with
// nothing after it is still being typed. Stop words are left out, unless there
// is nothing else. A stop word or a letter that is being typed may become another
// word, and raises documents that have such a word.
func (ix *Index) parse(text string) query {
	words, phrases := ix.queryWords(text)
	q := query{phrases: phrases}
	for i := 0; i < len(words); {
		s := slot{words: words[i : i+1]}
		if p := ix.phraseAt(words[i:]); p != nil {
			s.words = words[i : i+len(p.forms)]
			for _, o := range p.others {
				s.others = append(s.others, alternative{plainWords(o.forms), o.weight})
			}
		}
		if parts := words[i].parts; len(s.words) == 1 && len(parts) > 0 && !words[i].exact {
			s.others = append(s.others, alternative{plainWords(parts), weightSame})
		}
		q.slots = append(q.slots, s)
		i += len(s.words)
	}
	return q
}

// queryWords returns the words of a query in order, and the runs of words in
// quotes that are longer than one.
func (ix *Index) queryWords(text string) (words []word, phrases [][]string) {
	pieces := strings.Split(plainQuotes.Replace(text), `"`)
	for i, piece := range pieces {
		quoted := i%2 == 1
		var run []string
		for _, at := range tokenRegexp.FindAllStringIndex(piece, -1) {
			f := forms(piece[at[0]:at[1]])
			if len(f) == 0 {
				continue
			}
			run = append(run, f[0])
			typing := !quoted && i == len(pieces)-1 && at[1] == len(piece)
			words = append(words, word{form: f[0], parts: f[1:], typing: typing, exact: quoted})
		}
		if quoted && len(run) > 1 {
			phrases = append(phrases, run)
		}
	}
	var telling []word
	for _, w := range words {
		if w.extra = ix.stop[w.form] || w.typing && isLetter(w.form); !w.extra || w.typing {
			telling = append(telling, w)
		}
	}
	if len(telling) == 0 || telling[0].extra {
		return words, phrases
	}
	return telling, phrases
}

// isLetter reports whether a form is one letter.
func isLetter(form string) bool {
	return len(form) == 1 && 'a' <= form[0] && form[0] <= 'z'
}

// plainQuotes writes all double quotation marks alike.
var plainQuotes = strings.NewReplacer("“", `"`, "”", `"`, "«", `"`, "»", `"`, "„", `"`)

// phraseAt returns the longest phrase with others that the words begin with.
func (ix *Index) phraseAt(words []word) *phrase {
	for i := range ix.same {
		p := &ix.same[i]
		if len(p.forms) <= len(words) && p.begins(words) {
			return p
		}
	}
	return nil
}

func (p *phrase) begins(words []word) bool {
	for i, form := range p.forms {
		if words[i].form != form || words[i].exact || words[i].extra {
			return false
		}
	}
	return true
}

// plainWords returns words that are complete, for an alternative.
func plainWords(forms []string) []word {
	out := make([]word, len(forms))
	for i, f := range forms {
		out[i].form = f
	}
	return out
}
