package search

import (
	"cmp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A reading is a set of forms that a word may stand for, scored as one.
type reading []weighted

// rangeParts is how many parts are read for the forms of one stem or prefix;
// later ones are left out.
const rangeParts = 3

// How many parts a query reads at most, counted before one more is read for what is
// told by each name, and for typos beyond those of what is written, which is always
// looked up. Measured on 10,000 documents: less costs results, more costs a reader
// 12 kB and, with a typo, 22.
const (
	inflectedParts = 3
	completedParts = 5
	correctedParts = 7
)

// For a typo the titles of so many documents are read, and so many words one letter
// away are tried, each of which may cost a part.
const (
	typoTitles   = 8
	typoReadings = 6
)

type readings []reading

// known reports whether the word itself is in the index.
func (r readings) known() bool { return len(r) > 0 && r[0][0].weight == 1 }

// occurrences returns how many there are of all its forms.
func (r readings) occurrences() int {
	n := 0
	for _, reading := range r {
		for _, f := range reading {
			n += len(f.list)
		}
	}
	return n
}

// readings returns how a word may be read: as itself with its inflections, and
// as the beginning of a longer word.
func (ix *Index) readings(w word) readings {
	var out readings
	own := ix.inflections(w)
	if len(own) > 0 {
		out = append(out, own)
	}
	if w.typing {
		if longer := ix.completions(w.form); len(longer) > 0 {
			out = append(out, longer)
		}
	}
	return out
}

// inflections returns the form itself, if it is known, and unless it is meant
// as written the other forms of its stem.
func (ix *Index) inflections(w word) reading {
	var out reading
	if list := ix.lookUp(w.form); list != nil {
		out = append(out, weighted{w.form, 1, list})
	}
	if w.exact {
		return out
	}
	lang := ix.root.Lang
	s := stem(lang, w.form)
	if s == w.form && !isWord(s) {
		return out
	}
	for _, f := range ix.formsWith(stemBase(s), inflectedParts) {
		if f.form != w.form && stem(lang, f.form) == s {
			f.weight = weightVariant
			if samePlural(f.form, w.form) {
				f.weight = weightPlural
			}
			out = append(out, f)
		}
	}
	return out
}

// stemBase returns the beginning that all forms of a stem share. The stemmers
// write happy and happier as happi, hope and hoping as hope, luz and luces as
// luz.
func stemBase(stem string) string {
	if n := len(stem) - 1; n >= 2 && strings.IndexByte("iez", stem[n]) >= 0 {
		return stem[:n]
	}
	return stem
}

// samePlural reports whether one of two forms is the regular plural of the
// other, in English or Spanish.
func samePlural(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	n := len(a) - 1
	switch b[min(len(b), n):] {
	case a[n:] + "s", a[n:] + "es":
		return b[:n] == a[:n]
	case "ies":
		return a[n] == 'y' && b[:n] == a[:n]
	case "ces":
		return a[n] == 'z' && b[:n] == a[:n]
	}
	return false
}

// completions returns the words that begin with a prefix: all of them, or for a
// wide prefix the titles and names that hold one.
func (ix *Index) completions(prefix string) reading {
	first, last := ix.partsOf("p", prefix)
	if last-first < 2 {
		ix.formPart(last) // asked for with the first, which is faster than after it
	}
	if list := ix.lookUp(prefix + wideMark); list != nil {
		return reading{{prefix + wideMark, weightCompletion, list}}
	}
	if utf8.RuneCountInString(prefix) < shortPrefix && last-first > 1 {
		return nil
	}
	out := ix.formsWith(prefix, completedParts)
	for i := range out {
		out[i].weight = weightCompletion
	}
	return out
}

// affords reports whether the query may read a part: one it has read, or when it
// has read less than limit.
func (ix *Index) affords(name string, n, limit int) bool {
	return len(ix.used) < limit || ix.used[name+strconv.Itoa(n)]
}

// lookUp returns the occurrences of a form, nil when there are none.
func (ix *Index) lookUp(form string) []occurrence {
	p := ix.formPart(ix.partOf("p", form))
	if i, ok := slices.BinarySearch(p.keys, form); ok {
		return p.lists[i]
	}
	return nil
}

// formsWith returns the forms with a prefix, in order, as far as a query that reads
// so many parts comes.
func (ix *Index) formsWith(prefix string, limit int) reading {
	var out reading
	first, last := ix.partsOf("p", prefix)
	for n := first; n <= min(last, first+rangeParts-1); n++ {
		if !ix.affords("p", n, limit) {
			continue
		}
		p := ix.formPart(n)
		start := sort.SearchStrings(p.keys, prefix)
		for i := start; i < len(p.keys) && strings.HasPrefix(p.keys[i], prefix); i++ {
			if !strings.HasSuffix(p.keys[i], wideMark) {
				out = append(out, weighted{form: p.keys[i], list: p.lists[i]})
			}
		}
	}
	return out
}

// corrections returns a reading for each of the words that has none yet.
func (ix *Index) corrections(words []string, had []reading) []reading {
	var out []reading
	for _, c := range words {
		have := func(r reading) bool { return r[0].form == c }
		if slices.ContainsFunc(had, have) || slices.ContainsFunc(out, have) {
			continue
		}
		if !ix.affords("p", ix.partOf("p", c), ix.written+correctedParts) {
			continue
		}
		if list := ix.lookUp(c); list != nil {
			out = append(out, reading{{c, weightTypo, list}})
		}
	}
	return out
}

// oneAway returns those of the words that are one letter away from a form.
func oneAway(words []string, form string) []string {
	var out []string
	for _, w := range words {
		if isWord(form) && isWord(w) && oneEdit(w, form) {
			out = append(out, w)
		}
	}
	return out
}

// candidates returns the likeliest words one letter away: those with the same
// first letter before others, then the commoner.
func (ix *Index) candidates(form string) []string {
	if !isWord(form) {
		return nil
	}
	near := ix.nearWords("a", form)
	for _, w := range ix.nearWords("b", reverse(form)) {
		w.key = reverse(w.key)
		near = append(near, w)
	}
	slices.SortFunc(near, func(a, b typoWord) int {
		return cmp.Or(
			cmp.Compare(differs(a.key, form), differs(b.key, form)),
			cmp.Compare(b.rank, a.rank),
			cmp.Compare(a.key, b.key))
	})
	var out []string
	for _, w := range near {
		if !slices.Contains(out, w.key) {
			out = append(out, w.key)
		}
	}
	out = out[:min(len(out), typoReadings)]
	if len(form) == 4 {
		out = append(out, swappedMiddle(form))
	}
	return out
}

// differs returns 1 when two words begin differently.
func differs(a, b string) int {
	if a[0] == b[0] || len(b) < 6 {
		return 0
	}
	return 1
}

// nearWords returns the words of list a or b that begin with the same two
// letters as form and are one letter away from it.
func (ix *Index) nearWords(name, form string) []typoWord {
	low := form[:2] + string(rune('0'+len(form)-1))
	high := form[:2] + string(rune('0'+len(form)+1)) + "\uffff"
	var out []typoWord
	for n := ix.partOf(name, low); n <= ix.partOf(name, high); n++ {
		if !ix.affords(name, n, ix.written+correctedParts) {
			continue
		}
		for _, w := range ix.words(name, n) {
			if w.key >= low && w.key < high && oneEdit(wordOfKey(w.key), form) {
				out = append(out, typoWord{wordOfKey(w.key), w.rank})
			}
		}
	}
	return out
}
