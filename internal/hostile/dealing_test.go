package hostile_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// batch is how many copies of each record an office of a soak has. A text that an
// office has once holds as many payloads.
const batch = 40

// dealing says which payloads stand in the texts of an office and its sheets.
type dealing struct {
	copies int                              // of each record
	text   func(k int, field string) string // in a field of copy k
	once   func(field string) []string      // in a text that there is once, one after another
	sheets func(places int) [][]string      // in each sheet of a form, from one place to the next and round again
}

// dealings returns the offices whose pages are read by a parser. A soak has every
// payload in every field, in offices of one batch each. The ordinary run has one
// office, in whose fields the payloads take turns until each of them and each field
// has been seen.
func dealings(t testing.TB) []dealing {
	if !soak {
		return []dealing{mosaic(t, allTexts())}
	}
	var list []dealing
	for all := range slices.Chunk(allTexts(), batch) {
		list = append(list, dealing{
			copies: len(all),
			text:   func(k int, _ string) string { return all[k] },
			once:   func(string) []string { return all },
			sheets: func(int) [][]string { return slices.Collect(slices.Chunk(all, 1)) },
		})
	}
	return list
}

// forBrowser returns the office whose pages are loaded in a browser, which costs a
// hundred times as much as to parse them. A soak has every payload in every kind of
// record and every kind of payload in every field.
func forBrowser(t testing.TB) dealing {
	if soak {
		return pairs(t, batch)
	}
	return mosaic(t, allTexts())
}

func allTexts() []string { return textsOf(payloads()) }

func textsOf(all []payload) []string {
	var texts []string
	for _, p := range all {
		texts = append(texts, p.text)
	}
	return texts
}

// fields lists the fields that a page shows: those of records that are copied, and
// those that an office has once.
func fields(t testing.TB) (copied, single []string) {
	t.Helper()
	makeOffice(t, 1, func(k int, field string) string {
		switch {
		case k < 0:
			single = append(single, field)
		case unseen[field] == "":
			copied = append(copied, field)
		}
		return "x"
	})
	return slices.Compact(slices.Sorted(slices.Values(copied))), slices.Compact(slices.Sorted(slices.Values(single)))
}

// mosaic deals one payload after another to the fields that a page shows, over as
// many copies of the records as it takes.
func mosaic(t testing.TB, all []string) dealing {
	t.Helper()
	seen, single := fields(t)
	turn := func(fields []string, field string) int { n, _ := slices.BinarySearch(fields, field); return n }
	parts := slices.Collect(slices.Chunk(all, batch))
	return dealing{
		copies: (len(all) + len(seen) - 1) / len(seen),
		text:   func(k int, field string) string { return all[(k*len(seen)+turn(seen, field))%len(all)] },
		once:   func(field string) []string { return parts[turn(single, field)%len(parts)] },
		sheets: func(places int) [][]string {
			var alone [][]string
			together := slices.DeleteFunc(slices.Clone(all), func(text string) bool {
				if isLink(text) {
					alone = append(alone, []string{text})
				}
				return isLink(text)
			})
			return slices.AppendSeq(alone, slices.Chunk(together, places))
		},
	}
}

// kind is the kind of record that a field belongs to, and so of page.
func kind(field string) string { k, _, _ := strings.Cut(field, "."); return k }

// pairs deals to an office of n copies: among the fields of each kind of record
// stands every payload, and in every field one of each place that a payload is made
// for. Where the copies are too few for that, a text holds several.
func pairs(t testing.TB, n int) dealing {
	t.Helper()
	copied, single := fields(t)
	share := map[string][]string{} // by field
	for field := range unseen {
		share[field] = allTexts()
	}
	for _, field := range slices.Concat(copied, single) {
		var same []string
		for _, other := range slices.Concat(copied, single) {
			if kind(other) == kind(field) {
				same = append(same, other)
			}
		}
		share[field] = textsOf(part(payloads(), slices.Index(same, field), len(same)))
	}
	return dealing{
		copies: n,
		text:   func(k int, field string) string { return strings.Join(everyNth(share[field], k, n), " ") },
		once:   func(field string) []string { return share[field] },
		sheets: func(places int) [][]string {
			list := make([][]string, n)
			for at := range places {
				mine := textsOf(part(payloads(), at, places))
				for i := range list {
					list[i] = append(list[i], mine[i%len(mine)])
				}
			}
			return list
		},
	}
}

// part returns what the i-th of n fields gets when payloads are dealt round in the
// order of the places that they are made for, and one for each place left out.
func part(all []payload, i, n int) []payload {
	all = slices.SortedStableFunc(slices.Values(all), func(a, b payload) int { return cmp.Compare(a.in, b.in) })
	var mine []payload
	for at := i; at < len(all); at += n {
		mine = append(mine, all[at])
	}
	for _, p := range all {
		if !slices.ContainsFunc(mine, func(have payload) bool { return have.in == p.in }) {
			mine = append(mine, p)
		}
	}
	return mine
}

// everyNth returns the items k, k+n, k+2n and so on, and one when there are fewer
// than k.
func everyNth(items []string, k, n int) []string {
	some := []string{items[k%len(items)]}
	for at := k + n; at < len(items); at += n {
		some = append(some, items[at])
	}
	return some
}

// TestPairsAreDealt holds what a soak loads to what it promises.
func TestPairsAreDealt(t *testing.T) {
	d := pairs(t, batch)
	copied, single := fields(t)
	held := map[string]string{} // all texts of a field, or of a kind of record
	for _, field := range copied {
		for k := range d.copies {
			held[field] += d.text(k, field) + "\n"
		}
		held[kind(field)] += held[field]
	}
	for _, field := range single {
		held[field] = strings.Join(d.once(field), "\n") + "\n"
		held[kind(field)] += held[field]
	}
	for i, form := range []string{fenced, prose} {
		for _, texts := range d.sheets(placesOf(form)) {
			for at, text := range texts {
				held[fmt.Sprintf("sheet %d.%d", i, at)] += text + "\n"
				held[fmt.Sprintf("sheet %d", i)] += text + "\n"
			}
		}
	}
	for what, texts := range held {
		lacks, places := 0, map[place]bool{}
		for _, p := range payloads() {
			if strings.Contains(texts, p.text) {
				places[p.in] = true
			} else {
				lacks++
			}
		}
		if isField := strings.Contains(what, "."); len(places) < 16 || !isField && lacks > 0 {
			t.Errorf("%s has payloads for %d places, and %d of all it lacks", what, len(places), lacks)
		}
	}
	if len(held) < 130 {
		t.Errorf("only %d fields and kinds", len(held))
	}
}

// hostile makes every text of an office a payload; each says in which field it
// stands, so that its way to the page can be followed.
func (d dealing) hostile() texts { return d.marked(func(s string) string { return s }) }

// harmless makes an office of the same shape: the same texts with letters for
// whatever means something to a browser.
func (d dealing) harmless() texts {
	return d.marked(func(s string) string {
		return strings.Map(func(r rune) rune {
			if unicode.IsLetter(r) || unicode.IsDigit(r) || r == ' ' {
				return r
			}
			return 'x'
		}, s)
	})
}

func (d dealing) marked(change func(string) string) texts {
	return func(k int, field string) string {
		if k < 0 {
			var joined []string
			for k, text := range d.once(field) {
				joined = append(joined, mark(k, field, change(text)))
			}
			return strings.Join(joined, " ")
		}
		return mark(k, field, change(d.text(k, field)))
	}
}

// mark puts a number before the text, so that hostile and harmless texts sort
// alike, and the field behind.
func mark(k int, field, text string) string { return fmt.Sprintf("%03d %s ~%s", k, text, field) }
