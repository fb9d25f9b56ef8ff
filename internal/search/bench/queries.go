package main

import (
	"math/rand/v2"
	"slices"
	"sort"
	"strings"

	"tankleaf.example/internal/search"
)

// A knownItem is a query with the one document that it was made from.
type knownItem struct {
	Kind  string `json:"kind"`
	Query string `json:"query"`
	ID    string `json:"id"`
}

// perKind is how many queries of each kind are made; the first half may be
// looked at while the engine is made, the second half only at the end.
const perKind = 600

var queryKinds = []string{"title", "typo", "prefix", "inflected", "body"}

// A maker makes queries by rule from a corpus.
type maker struct {
	docs   []search.Document
	titles []map[string]bool
	bodies []map[string]bool
	inText map[string][]int // documents by word, title and body
	inHead map[string][]int // documents by title word, singular and plural alike
	rand   *rand.Rand
}

func newMaker(docs []search.Document) *maker {
	m := &maker{docs: docs, inText: map[string][]int{}, inHead: map[string][]int{}, rand: rand.New(rand.NewPCG(7, 11))}
	for i, d := range docs {
		title := wordSet(d.Title)
		body := wordSet(d.Body)
		m.titles, m.bodies = append(m.titles, title), append(m.bodies, body)
		heads := make(map[string]bool)
		for w := range title {
			heads[singular(w)] = true
		}
		for w := range heads {
			m.inHead[w] = append(m.inHead[w], i)
		}
		for w := range title {
			body[w] = true
		}
		for w := range body {
			m.inText[w] = append(m.inText[w], i)
		}
		for w := range title {
			delete(body, w)
		}
	}
	return m
}

var common = strings.Fields(`about above after also because been before being between could does doing down each
	from further have having here hers into itself just more most only other ours over same should some such than
	that their them then there these they this those through under until very were what when where which while
	whom will with would your yours without against`)

// wordSet returns the words of four letters or more, in lower case.
func wordSet(s string) map[string]bool {
	out := make(map[string]bool)
	other := func(r rune) bool { return !('a' <= r && r <= 'z' || r > 127 || '0' <= r && r <= '9') }
	for _, field := range strings.FieldsFunc(strings.ToLower(s), other) {
		if len(field) >= 4 && strings.Trim(field, "abcdefghijklmnopqrstuvwxyz") == "" && !slices.Contains(common, field) {
			out[field] = true
		}
	}
	return out
}

// singular takes off a plural ending, roughly.
func singular(w string) string {
	if turned := turn(w); len(turned) < len(w) {
		return turned
	}
	return w
}

// turn makes a plural of a singular and the reverse, by the simple rules.
func turn(w string) string {
	switch {
	case strings.HasSuffix(w, "ss") || strings.HasSuffix(w, "us") || strings.HasSuffix(w, "is"):
		return w + "es"
	case strings.HasSuffix(w, "ies") && len(w) > 4:
		return w[:len(w)-3] + "y"
	case strings.HasSuffix(w, "sses") || strings.HasSuffix(w, "xes") || strings.HasSuffix(w, "ches") || strings.HasSuffix(w, "shes"):
		return w[:len(w)-2]
	case strings.HasSuffix(w, "s"):
		return w[:len(w)-1]
	case strings.HasSuffix(w, "y") && !strings.ContainsRune("aeiou", rune(w[len(w)-2])):
		return w[:len(w)-1] + "ies"
	case strings.HasSuffix(w, "x") || strings.HasSuffix(w, "ch") || strings.HasSuffix(w, "sh"):
		return w + "es"
	}
	return w + "s"
}

// make returns perKind queries of every kind.
func (m *maker) make() []knownItem {
	var out []knownItem
	for _, kind := range queryKinds {
		n := 0
		for _, i := range m.rand.Perm(len(m.docs)) {
			if q := m.query(kind, i); q != "" && n < perKind {
				out = append(out, knownItem{kind, q, m.docs[i].ID})
				n++
			}
		}
	}
	return out
}

// query makes one query of a kind from a document, or "" if it has none.
func (m *maker) query(kind string, i int) string {
	if kind == "body" {
		return m.bodyQuery(i)
	}
	words := sorted(m.titles[i])
	m.rand.Shuffle(len(words), func(a, b int) { words[a], words[b] = words[b], words[a] })
	for a := range words {
		for b := a + 1; b < len(words); b++ {
			x, y := words[a], words[b]
			if singular(x) == singular(y) || together(m.inHead[singular(x)], m.inHead[singular(y)]) > 1 {
				continue
			}
			switch kind {
			case "typo":
				return m.typo(x, y)
			case "prefix":
				return x + " " + y[:(len(y)+1)/2]
			case "inflected":
				return x + " " + turn(y)
			}
			return x + " " + y
		}
	}
	return ""
}

// typo puts one random edit into one of two words, at random.
func (m *maker) typo(x, y string) string {
	if m.rand.IntN(2) == 0 {
		return m.edit(x) + " " + y
	}
	return x + " " + m.edit(y)
}

func (m *maker) edit(w string) string {
	for {
		i := m.rand.IntN(len(w))
		letter := string(rune('a' + m.rand.IntN(26)))
		out := ""
		switch m.rand.IntN(4) {
		case 0:
			out = w[:i] + letter + w[i+1:]
		case 1:
			out = w[:i] + w[i+1:]
		case 2:
			out = w[:i] + letter + w[i:]
		case 3:
			if i+1 == len(w) {
				continue
			}
			out = w[:i] + w[i+1:i+2] + w[i:i+1] + w[i+2:]
		}
		if out != w {
			return out
		}
	}
}

// bodyQuery takes three words of a body that stand together in no other
// document.
func (m *maker) bodyQuery(i int) string {
	words := sorted(m.bodies[i])
	for range 40 {
		if len(words) < 3 {
			return ""
		}
		m.rand.Shuffle(len(words), func(a, b int) { words[a], words[b] = words[b], words[a] })
		if together(m.inText[words[0]], m.inText[words[1]], m.inText[words[2]]) == 1 {
			return strings.Join(words[:3], " ")
		}
	}
	return ""
}

func sorted(set map[string]bool) []string {
	var out []string
	for w := range set {
		out = append(out, w)
	}
	sort.Strings(out)
	return out
}

// together counts the documents that are in all of the lists.
func together(lists ...[]int) int {
	n := 0
	for _, d := range lists[0] {
		in := true
		for _, l := range lists[1:] {
			_, found := slices.BinarySearch(l, d)
			in = in && found
		}
		if in {
			n++
		}
	}
	return n
}
