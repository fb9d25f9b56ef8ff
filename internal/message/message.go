// Package message holds the words that Tankleaf itself says, one catalogue a
// language: headings, labels, the names of verdicts, grades and doubts. What
// authors write (names, statements, sheets) is data and never stands here.
//
// A catalogue is a flat list of keys with dots and their text:
//
//	verdict.unknown: No evidence
//	count.jars.one: "{n} jar"
//	count.jars.other: "{n} jars"
//
// Words in braces are places for arguments. A key that ends in .one or .other
// is a plural form: ask for it without the ending and give the argument n.
//
// Invariants, which [Load] reports as problems of the file:
//   - every language has every key of the first one, and no other;
//   - a text has the same places in every language.
package message

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"tankleaf.example/internal/mix"
)

// Catalogue holds the texts of one language. The zero Catalogue has none.
type Catalogue struct {
	lang  mix.Lang
	texts map[string]string
}

// New returns the catalogue of a language with the given texts by key.
func New(lang mix.Lang, texts map[string]string) *Catalogue {
	return &Catalogue{lang: lang, texts: maps.Clone(texts)}
}

// Lang returns the language of the catalogue.
func (c *Catalogue) Lang() mix.Lang { return c.lang }

// Keys returns all keys in alphabetical order.
func (c *Catalogue) Keys() []string { return slices.Sorted(maps.Keys(c.texts)) }

// Has reports whether there is a text for the key, as it stands or as plural
// forms.
func (c *Catalogue) Has(key string) bool {
	_, plain := c.texts[key]
	_, other := c.texts[key+".other"]
	return plain || other
}

// T returns the text for a key with its places filled. Arguments come in pairs
// of name and value. A key that is missing comes back in angle brackets, so that
// it is seen and a test finds it; so does a place without an argument.
func (c *Catalogue) T(key string, args ...any) string {
	text, ok := c.texts[key]
	if !ok {
		text, ok = c.texts[key+c.plural(args)]
	}
	if !ok {
		return "⟨" + key + "⟩"
	}
	return c.fill(text, args)
}

// plural returns the ending of the plural form for the argument n. English and
// Spanish agree: one for exactly 1, other for all else, 0 included (CLDR plural
// rules, whole numbers below a million).
func (c *Catalogue) plural(args []any) string {
	for i := 0; i+1 < len(args); i += 2 {
		if args[i] == "n" && fmt.Sprint(args[i+1]) == "1" {
			return ".one"
		}
	}
	return ".other"
}

// fill puts arguments into their places.
func (c *Catalogue) fill(text string, args []any) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var b strings.Builder
	for text != "" {
		before, rest, found := strings.Cut(text, "{")
		b.WriteString(before)
		if !found {
			break
		}
		name, after, closed := strings.Cut(rest, "}")
		if !closed {
			b.WriteString("{" + rest)
			break
		}
		b.WriteString(c.argument(name, args))
		text = after
	}
	return b.String()
}

// argument returns the value of the named argument as it is printed.
func (c *Catalogue) argument(name string, args []any) string {
	for i := 0; i+1 < len(args); i += 2 {
		if args[i] != name {
			continue
		}
		switch v := args[i+1].(type) {
		case string:
			return v
		case int:
			return c.Count(v)
		case fmt.Stringer:
			return v.String()
		default:
			panic(fmt.Sprintf("message: argument %s is a %T", name, v))
		}
	}
	return "⟨" + name + "⟩"
}

// Count writes a whole number with its thousands set apart: "10,000".
func (c *Catalogue) Count(n int) string {
	if n < 0 {
		return "−" + c.Count(-n)
	}
	digits := strconv.Itoa(n)
	if len(digits) < 5 {
		return digits
	}
	var b strings.Builder
	for i, d := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteString(c.texts["number.group"])
		}
		b.WriteRune(d)
	}
	return b.String()
}

// Percent writes a share from 0 to 1 as a whole percentage: "63 %". A share that
// is neither nothing nor all never prints as 0 or 100.
func (c *Catalogue) Percent(share float64) string {
	n := int(share*100 + 0.5)
	switch {
	case n == 0 && share > 0:
		return c.T("number.percent-below", "n", 1)
	case n == 100 && share < 1:
		return c.T("number.percent-above", "n", 99)
	}
	return c.T("number.percent", "n", n)
}

// Date writes a day in words: "November 20, 2026"; "" for no date.
func (c *Catalogue) Date(d mix.Date) string {
	if d.IsZero() {
		return ""
	}
	month := c.T("month." + strconv.Itoa(int(d.Month)))
	return c.T("date.long", "day", strconv.Itoa(d.Day), "month", month, "year", strconv.Itoa(d.Year))
}

// List joins terms as a sentence does: "a, b and c".
func (c *Catalogue) List(terms []string) string {
	switch len(terms) {
	case 0:
		return ""
	case 1:
		return terms[0]
	}
	last := len(terms) - 1
	key := "list.last"
	if soundsLikeI(terms[last]) {
		key = "list.last-before-i"
	}
	return c.T(key, "before", strings.Join(terms[:last], c.T("list.comma")), "last", terms[last])
}

// soundsLikeI reports whether a Spanish word begins with the sound of i, before
// which "y" turns into "e"; hie- and hia- begin with another sound (Real Academia
// Española, Ortografía, 2010, on the conjunction y). Other languages say the same
// in both messages.
func soundsLikeI(word string) bool {
	w := strings.ToLower(word)
	if strings.HasPrefix(w, "i") || strings.HasPrefix(w, "í") {
		return true
	}
	return strings.HasPrefix(w, "hi") && !strings.HasPrefix(w, "hie") && !strings.HasPrefix(w, "hia")
}

// Places returns the names of the places in a text, sorted, without repeats.
func Places(text string) []string {
	var names []string
	for {
		_, rest, found := strings.Cut(text, "{")
		name, after, closed := strings.Cut(rest, "}")
		if !found || !closed {
			slices.Sort(names)
			return slices.Compact(names)
		}
		names = append(names, name)
		text = after
	}
}

// Text returns the text of a key as it is written, places and all; "" when there
// is none.
func (c *Catalogue) Text(key string) string { return c.texts[key] }
