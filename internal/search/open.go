package search

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// An Index answers queries from exported files, with the same steps as the
// client. It is not safe for concurrent use.
type Index struct {
	root    root
	parts   map[string][]string // by name, as registered
	stop    map[string]bool
	bounds  map[string][]string // least keys of parts but the first, by letter
	lengths []int               // by number
	kindAt  []int               // number after the last document of each kind
	formed  map[int]*formPart
	worded  map[string][]typoWord
	same    []phrase
	read    map[string]bool // parts read for the current Read
	used    map[string]bool // and of these, those of words, for the current query
	written int             // how many of those are of what is written
	scratch scratch
}

// A formPart is a part of forms, decoded.
type formPart struct {
	keys  []string
	lists [][]occurrence
}

// A phrase has others of the same meaning, or is a misspelling of one.
type phrase struct {
	forms  []string
	others []meaning
}

type meaning struct {
	forms  []string
	weight float64
}

// Open reads the files of one exported index.
func Open(files []File) (*Index, error) {
	ix := &Index{parts: make(map[string][]string), used: make(map[string]bool), formed: make(map[int]*formPart), worded: make(map[string][]typoWord)}
	for _, f := range files {
		for line := range strings.Lines(string(f.Body)) {
			if err := ix.register(line); err != nil {
				return nil, fmt.Errorf("%s: %w", f.Path, err)
			}
		}
	}
	if ix.root.Lang == "" {
		return nil, fmt.Errorf("no root among the %d files of a search index", len(files))
	}
	ix.prepare()
	return ix, nil
}

// register takes in one call of a shard.
func (ix *Index) register(line string) error {
	args, ok := strings.CutPrefix(strings.TrimSuffix(line, ");\n"), registerName+"(")
	if !ok {
		return fmt.Errorf("not a call of %s", registerName)
	}
	var list []json.RawMessage
	if err := json.Unmarshal([]byte("["+args+"]"), &list); err != nil || len(list) < 2 {
		return fmt.Errorf("unreadable shard: %w", err)
	}
	var name string
	if err := json.Unmarshal(list[1], &name); err != nil {
		return fmt.Errorf("name of shard: %w", err)
	}
	if name == "root" && len(list) == 3 {
		return json.Unmarshal(list[2], &ix.root)
	}
	texts := make([]string, len(list)-2)
	for i, raw := range list[2:] {
		if err := json.Unmarshal(raw, &texts[i]); err != nil {
			return fmt.Errorf("shard %s: %w", name, err)
		}
	}
	ix.parts[name] = texts
	return nil
}

// prepare decodes the root.
func (ix *Index) prepare() {
	r := &ix.root
	ix.stop = make(map[string]bool)
	for _, w := range strings.Fields(r.Stop) {
		ix.stop[w] = true
	}
	ix.bounds = make(map[string][]string)
	for name, s := range map[string]string{"p": r.Forms, "a": r.First, "b": r.Last} {
		readKeys(s, isSpace, func(key string, _ byte) { ix.bounds[name] = append(ix.bounds[name], key) })
	}
	steps := numbers{s: r.Lengths}
	end := 0
	for _, k := range r.Kinds {
		end += k.N
		ix.kindAt = append(ix.kindAt, end)
		for length := 0; len(ix.lengths) < end && steps.more(); {
			length += steps.next()
			for n := steps.next(); n >= 0; n-- {
				ix.lengths = append(ix.lengths, length)
			}
		}
	}
	ix.preparePhrases()
	ix.scratch = newScratch(r, ix.lengths)
}

// preparePhrases cuts synonyms and misspellings into forms, the longest phrases
// first.
func (ix *Index) preparePhrases() {
	for _, group := range ix.root.Same {
		for i, text := range group {
			for j, other := range group {
				if i != j {
					ix.addPhrase(text, other, weightSame)
				}
			}
		}
	}
	for _, wrong := range slices.Sorted(maps.Keys(ix.root.Wrong)) {
		ix.addPhrase(wrong, ix.root.Wrong[wrong], 1)
	}
	slices.SortStableFunc(ix.same, func(a, b phrase) int { return len(b.forms) - len(a.forms) })
}

// addPhrase notes that one text may also be said as the other.
func (ix *Index) addPhrase(text, other string, weight float64) {
	forms, m := ix.wholes(text), meaning{ix.wholes(other), weight}
	if len(forms) == 0 || len(m.forms) == 0 {
		return
	}
	for i, p := range ix.same {
		if slices.Equal(p.forms, forms) {
			ix.same[i].others = append(p.others, m)
			return
		}
	}
	ix.same = append(ix.same, phrase{forms, []meaning{m}})
}

// wholes returns the whole form of every token of text but stop words.
func (ix *Index) wholes(text string) []string {
	var out []string
	for _, t := range tokenRegexp.FindAllString(text, -1) {
		if f := forms(t); len(f) > 0 && !ix.stop[f[0]] {
			out = append(out, f[0])
		}
	}
	return out
}

// partOf returns the number of the part in which a key would stand.
func (ix *Index) partOf(name, key string) int {
	b := ix.bounds[name]
	return sort.Search(len(b), func(i int) bool { return b[i] > key })
}

// partsOf returns the numbers of the first and last part that may hold a key
// with the prefix.
func (ix *Index) partsOf(name, prefix string) (first, last int) {
	return ix.partOf(name, prefix), ix.partOf(name, prefix+"\uffff")
}

// formPart decodes part n of the forms.
func (ix *Index) formPart(n int) *formPart {
	ix.use("p", n)
	if p := ix.formed[n]; p != nil {
		return p
	}
	p := new(formPart)
	if texts := ix.parts["p"+strconv.Itoa(n)]; len(texts) == 1 {
		r := bitReader{s: texts[0]}
		var key []rune
		for range r.count() - 1 {
			key = r.key(key)
			p.keys = append(p.keys, string(key))
		}
		for _, key := range p.keys {
			p.lists = append(p.lists, readOccurrences(&r, key, ix.root.Docs))
		}
	}
	ix.formed[n] = p
	return p
}

// readOccurrences reads what entry.write wrote, out of all documents.
func readOccurrences(r *bitReader, key string, all int) []occurrence {
	list := make([]occurrence, min(r.count(), all))
	r.places(list, 0, all-1)
	for i := range list {
		list[i].weight = headWeight
		if !isWide(key) {
			list[i].weight = r.weight()
		}
	}
	return list
}

// words decodes part n of the lists a or b.
func (ix *Index) words(name string, n int) []typoWord {
	ix.use(name, n)
	id := name + strconv.Itoa(n)
	if w, ok := ix.worded[id]; ok {
		return w
	}
	var out []typoWord
	if texts := ix.parts[id]; len(texts) == 1 {
		readKeys(texts[0], isUpper, func(key string, end byte) { out = append(out, typoWord{key, end}) })
	}
	ix.worded[id] = out
	return out
}

// Read calls do and returns the names of the files that the client would load
// for the queries in it, were it not for the ones already loaded.
func (ix *Index) Read(do func()) []string {
	ix.read = make(map[string]bool)
	do()
	names := slices.Sorted(maps.Keys(ix.read))
	ix.read = nil
	return names
}

// use remembers that a part of words was needed.
func (ix *Index) use(name string, n int) {
	ix.note(name, n)
	ix.used[name+strconv.Itoa(n)] = true
}

// note remembers that a part was needed.
func (ix *Index) note(name string, n int) {
	if ix.read != nil {
		ix.read[name+strconv.Itoa(n)] = true
	}
}
