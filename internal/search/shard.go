package search

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// The files of an index. Every one is a script of calls
//
//	shard("1f0c2a9e","p12",…)
//
// with the publication, the name of the part, and its content as strings.
//
//	root  what is needed for every query, as one object
//	pN    forms in order and their occurrences
//	aN    words by first two letters, length and the rest
//	bN    the same of reversed words: between them, all candidates for a typo
//	cN    cards: title, path and summary of a few documents
//	tN    bodies of a few documents, for excerpts and phrases
//
// A small index is one file: root.js makes the calls for p, a, b and c too.
const registerName = "shard"

// A part is one shard before it is written.
type part struct {
	name  string
	texts []string
}

// root is the content of the part that is read first. Its names are short
// because every first query pays for them.
type root struct {
	Lang    string            `json:"lang"`
	Docs    int               `json:"n"`
	Total   int               `json:"total"`   // sum of the lengths of all documents
	Kinds   []kindCount       `json:"kinds"`   // in the order of numbers
	Lengths string            `json:"lengths"` // steps of the lengths, by kind
	Forms   string            `json:"p"`       // least key of each part but the first
	First   string            `json:"a"`
	Last    string            `json:"b"`
	Cards   int               `json:"cards"`  // documents in a card file
	Bodies  int               `json:"bodies"` // and in a file of bodies
	Stop    string            `json:"stop"`
	Same    [][]string        `json:"same"`
	Wrong   map[string]string `json:"wrong"`
}

type kindCount struct {
	Kind string `json:"kind"`
	N    int    `json:"n"`
}

// files writes the index.
func (e *exporter) files() []File {
	forms := slices.Concat(e.forms, e.widest)
	slices.SortFunc(forms, func(a, b entry) int { return cmp.Compare(a.key, b.key) })
	var parts []part
	r := root{
		Lang: e.opt.Lang, Docs: len(e.docs), Kinds: e.kinds(), Lengths: e.steps(), Cards: e.cardsPerFile(), Bodies: bodiesPerFile,
		Stop: strings.Join(stopWords(e.opt.Lang), " "), Same: e.opt.Same, Wrong: e.opt.Misspelled,
	}
	for _, n := range e.lengths {
		r.Total += n
	}
	r.Forms = formParts(forms, len(e.docs), e.opt.Shard, &parts)
	lists := e.opt.Shard * 2 / 3 // a typo reads two of them or more
	r.First = wordParts("a", typoWords(e.forms, firstKey), lists, &parts)
	r.Last = wordParts("b", typoWords(e.forms, lastKey), lists, &parts)
	parts = append(parts, e.cards()...)
	return e.write(r, parts, e.bodies())
}

// write puts the parts into files, all into root.js when there is little text.
func (e *exporter) write(r root, parts, bodies []part) []File {
	version := publication(r, slices.Concat(parts, bodies))
	rootCall := call(version, "root", r)
	var files []File
	if e.single {
		for _, p := range parts {
			rootCall += p.call(version)
		}
		parts = nil
	}
	files = append(files, File{"root.js", []byte(rootCall)})
	for _, p := range slices.Concat(parts, bodies) {
		files = append(files, File{p.name + ".js", []byte(p.call(version))})
	}
	return files
}

// publication names the content of an index, so that a page never mixes the
// parts of two.
func publication(r root, parts []part) string {
	h := sha256.New()
	fmt.Fprint(h, call("", "root", r))
	for _, p := range parts {
		fmt.Fprint(h, p.call(""))
	}
	return hex.EncodeToString(h.Sum(nil)[:4])
}

func (p part) call(version string) string {
	args := make([]any, len(p.texts))
	for i, t := range p.texts {
		args[i] = t
	}
	return call(version, p.name, args...)
}

// call returns one line of script in ASCII.
func call(version, name string, args ...any) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s(%q,%q", registerName, version, name)
	for _, a := range args {
		b.WriteByte(',')
		b.WriteString(literal(a))
	}
	b.WriteString(");\n")
	return b.String()
}

// literal returns a value as a JavaScript literal in ASCII, which is also JSON.
func literal(v any) string {
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		panic(err) // strings, numbers, lists and maps of them always encode
	}
	var out strings.Builder
	for _, r := range strings.TrimSuffix(b.String(), "\n") {
		switch {
		case r < utf8.RuneSelf:
			out.WriteRune(r)
		case r > 0xFFFF:
			r -= 0x10000
			fmt.Fprintf(&out, `\u%04x\u%04x`, 0xD800+r>>10, 0xDC00+r&0x3FF)
		default:
			fmt.Fprintf(&out, `\u%04x`, r)
		}
	}
	return out.String()
}

func (e *exporter) textSize() int {
	n := 0
	for _, d := range e.docs {
		for _, t := range d.texts() {
			n += len(t)
		}
	}
	return n
}

// kinds counts the documents of each kind, in the order of numbers.
func (e *exporter) kinds() []kindCount {
	var out []kindCount
	for _, d := range e.docs {
		if len(out) == 0 || out[len(out)-1].Kind != d.Kind {
			out = append(out, kindCount{Kind: d.Kind})
		}
		out[len(out)-1].N++
	}
	return out
}

// steps writes the lengths of all documents: by kind, for each length how much
// more than the one before, less one after the first, and how many have it.
func (e *exporter) steps() string {
	var b strings.Builder
	for i := 0; i < len(e.docs); {
		last := 0
		if i > 0 && e.docs[i].Kind == e.docs[i-1].Kind {
			last = e.lengths[i-1]
		}
		j := i
		for j < len(e.docs) && e.docs[j].Kind == e.docs[i].Kind && e.lengths[j] == e.lengths[i] {
			j++
		}
		writeNumber(&b, e.lengths[i]-last)
		writeNumber(&b, j-i-1)
		i = j
	}
	return b.String()
}

// formParts cuts the entries into parts of about size bytes and returns the
// least key of each but the first. A part is how many entries it has, plus 1,
// their keys, and their occurrences.
func formParts(forms []entry, all, size int, parts *[]part) string {
	keys := make([]string, len(forms))
	for i, f := range forms {
		keys[i] = f.key
	}
	starts := cuts(keys, func(i int) int { return forms[i].size(keys[max(i, 1)-1], all) }, size)
	spans(len(forms), starts, func(n, start, end int) {
		*parts = append(*parts, part{"p" + strconv.Itoa(n), []string{writeForms(forms[start:end], all)}})
	})
	return bounds(keys, starts)
}

func writeForms(forms []entry, all int) string {
	var w bitWriter
	w.count(len(forms) + 1)
	last := ""
	for _, f := range forms {
		w.key(last, f.key)
		last = f.key
	}
	for _, f := range forms {
		f.write(&w, all)
	}
	return w.text()
}

// cards writes what a list of results shows of each document.
func (e *exporter) cards() []part {
	return e.groups("c", e.cardsPerFile(), func(d Document) string {
		return strings.Join([]string{oneLine(d.Title), d.Path, cut(oneLine(cmp.Or(d.Summary, d.Body)))}, "\n")
	})
}

// bodies writes the text of each document.
func (e *exporter) bodies() []part {
	return e.groups("t", bodiesPerFile, func(d Document) string { return oneLine(d.Body) })
}

// cardsPerFile returns how many documents share a file of cards.
func (e *exporter) cardsPerFile() int {
	if e.single {
		return cardsAtOnce
	}
	return cardsPerFile
}

// groups writes one text for every document, size of them to a part.
func (e *exporter) groups(name string, size int, text func(Document) string) []part {
	var out []part
	for group := range slices.Chunk(e.docs, size) {
		p := part{name: name + strconv.Itoa(len(out))}
		for _, d := range group {
			p.texts = append(p.texts, text(d))
		}
		out = append(out, p)
	}
	return out
}

// oneLine joins the words of a text by single spaces.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// cut shortens a text to summaryLength characters, at a word.
func cut(s string) string {
	if utf8.RuneCountInString(s) <= summaryLength {
		return s
	}
	s = firstChars(s, summaryLength-1)
	if i := strings.LastIndexByte(s, ' '); i > 0 {
		s = s[:i]
	}
	return s + "…"
}
