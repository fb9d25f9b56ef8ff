package search

import (
	"cmp"
	"math/bits"
	"slices"
	"strconv"
	"strings"
)

// Typos. A word with one letter wrong, missing, too many, or two neighbors
// swapped, still has its first two letters or its last two right, if it has
// five letters or more. So all candidates are among the words that begin with
// the same two and have about the same length, and the reversed words that do.
// Both lists are sorted by just that:
//
//	first two letters, length, the rest
//
// Of shorter words some are missed; the one that is commonest, four letters with
// the middle two swapped, is looked up as it is.
//
// Candidates are words of letters alone: a code or a rate that is wrong by one
// digit is another code or rate, and is never taken for it.
const (
	minTypo = 3  // letters of the shortest word that is corrected
	maxTypo = 16 // and of the longest

	minMeant = 6
)

// isWord reports whether a form may be corrected, or be what is meant.
func isWord(form string) bool {
	if len(form) < minTypo || len(form) > maxTypo {
		return false
	}
	for i := range len(form) {
		if form[i] < 'a' || form[i] > 'z' {
			return false
		}
	}
	return true
}

// firstKey is the key of a word in the list by first letters. The length is
// one character, from '3' on.
func firstKey(word string) string {
	return word[:2] + string(rune('0'+len(word))) + word[2:]
}

// lastKey is the key of a word in the list of reversed words.
func lastKey(word string) string { return firstKey(reverse(word)) }

// wordOfKey returns the word of a firstKey.
func wordOfKey(key string) string { return key[:2] + key[3:] }

func reverse(s string) string {
	b := []byte(s)
	slices.Reverse(b)
	return string(b)
}

// A typoWord is a word that may be meant, with how likely it is: a letter from
// A on, two for each doubling of the number of documents, one more for a word
// that stands in a title or name.
type typoWord struct {
	key  string
	rank byte
}

// typoWords returns the words that may be meant, in order of key: those in a
// title or name, and those in minMeant documents or more.
func typoWords(forms []entry, key func(string) string) []typoWord {
	var out []typoWord
	for _, f := range forms {
		if !isWord(f.key) {
			continue
		}
		if !f.titled && len(f.list) < minMeant {
			continue
		}
		rank := 2 * min(bits.Len(uint(len(f.list)))/3, 4)
		if f.titled {
			rank++
		}
		out = append(out, typoWord{key(f.key), byte('A' + rank)})
	}
	slices.SortFunc(out, func(a, b typoWord) int { return cmp.Compare(a.key, b.key) })
	return out
}

// wordParts cuts the words into parts of about size bytes and returns the least
// key of each but the first.
func wordParts(name string, words []typoWord, size int, parts *[]part) string {
	keys := make([]string, len(words))
	for i, w := range words {
		keys[i] = w.key
	}
	starts := cuts(keys, func(i int) int {
		_, shared := sharedPrefix(keys[max(i, 1)-1], keys[i])
		return len(keys[i]) - shared + 2
	}, size)
	spans(len(words), starts, func(n, start, end int) {
		var w keyWriter
		for _, word := range words[start:end] {
			w.add(word.key, word.rank)
		}
		*parts = append(*parts, part{name + strconv.Itoa(n), []string{w.b.String()}})
	})
	return bounds(keys, starts)
}

// oneEdit reports whether b is a with one letter replaced, left out or added,
// or two neighbors swapped.
func oneEdit(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch len(b) - len(a) {
	case 1:
		return a[i:] == b[i+1:]
	case 0:
		if i == len(a) {
			return false // the same word
		}
		if a[i+1:] == b[i+1:] {
			return true
		}
		return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
	}
	return false
}

// swappedMiddle returns a word of four letters with its middle two swapped.
func swappedMiddle(w string) string {
	return strings.Join([]string{w[:1], w[2:3], w[1:2], w[3:]}, "")
}
