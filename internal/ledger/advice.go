package ledger

import (
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// Said is what a publication says of one mix. The zero Said is no evidence.
type Said struct {
	Verdict mix.Verdict
	Hazards []mix.Hazard // ascending
}

// String returns the verdict and its hazards as words: "never pressure heat".
func (s Said) String() string {
	words := []string{s.Verdict.String()}
	for _, h := range s.Hazards {
		words = append(words, h.String())
	}
	return strings.Join(words, " ")
}

// MarshalText writes the words of String.
func (s Said) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads the words of String.
func (s *Said) UnmarshalText(text []byte) error {
	words := strings.Fields(string(text))
	*s = Said{}
	for i, w := range words {
		v, isVerdict := mix.ParseVerdict(w)
		h, isHazard := mix.ParseHazard(w)
		switch {
		case i == 0 && isVerdict:
			s.Verdict = v
		case i > 0 && isHazard:
			s.Hazards = append(s.Hazards, h)
		default:
			return fmt.Errorf("%q is no verdict with its hazards", text)
		}
	}
	if len(words) == 0 {
		return fmt.Errorf("a verdict is missing")
	}
	slices.Sort(s.Hazards)
	return nil
}

func (s Said) equal(t Said) bool {
	return s.Verdict == t.Verdict && slices.Equal(s.Hazards, t.Hazards)
}

// caution orders verdicts by how much care they ask for.
var caution = map[mix.Verdict]int{mix.Clean: 0, mix.Unknown: 1, mix.Steps: 2, mix.Apart: 3, mix.Never: 4}

// SofterThan reports whether s asks for less care than t, or names fewer hazards.
func (s Said) SofterThan(t Said) bool {
	return caution[s.Verdict] < caution[t.Verdict] ||
		slices.ContainsFunc(t.Hazards, func(h mix.Hazard) bool { return !slices.Contains(s.Hazards, h) })
}

// Advice is what one publication says.
type Advice struct {
	Published mix.Date
	Mixes     map[string]Said // by their items, joined by key; no evidence is left out
	Rows      map[mix.ID]Row  // by class and product
}

// Row is what is said of one item beside each that it may meet.
type Row struct {
	Of   []mix.ID        `json:"of"` // the classes it belongs to, sorted
	With map[mix.ID]Said `json:"with"`
}

// key joins the sorted items of a mix. IDs hold no blank.
func key(items []mix.ID) string {
	words := make([]string, len(items))
	for i, id := range items {
		words[i] = string(id)
	}
	slices.Sort(words)
	return strings.Join(words, " ")
}

func itemsOf(key string) []mix.ID {
	var items []mix.ID
	for _, w := range strings.Fields(key) {
		items = append(items, mix.ID(w))
	}
	return items
}

// Of returns the advice that a judge's book gives.
func Of(j *compat.Judge) *Advice {
	book := j.Index().Book()
	a := &Advice{Published: book.Site.Published, Mixes: map[string]Said{}, Rows: map[mix.ID]Row{}}
	for pair, answer := range j.Pairs() {
		a.say(pair[:], answer)
	}
	for i := range book.Classes {
		a.item(j, book.Classes[i].ID)
	}
	for i := range book.Products {
		a.item(j, book.Products[i].ID)
	}
	for _, m := range larger(book) {
		answer := j.Mix(m, mix.Situation{})
		a.say(m, &answer)
	}
	return a
}

func (a *Advice) item(j *compat.Judge, id mix.ID) {
	a.say([]mix.ID{id}, j.Solo(id))
	row := Row{Of: []mix.ID{}, With: map[mix.ID]Said{}}
	for _, up := range j.Index().Ancestors(id) {
		if up != id {
			row.Of = append(row.Of, up)
		}
	}
	slices.Sort(row.Of)
	for _, p := range j.Partners(id) {
		if s := said(p.Answer); !s.equal(Said{}) {
			row.With[p.Item] = s
		}
	}
	a.Rows[id] = row
}

func (a *Advice) say(items []mix.ID, answer *compat.Answer) {
	if s := said(answer); !s.equal(Said{}) {
		a.Mixes[key(items)] = s
	}
}

func said(a *compat.Answer) Said {
	s := Said{Verdict: a.Verdict, Hazards: slices.Clone(a.Hazards)}
	slices.Sort(s.Hazards)
	return s
}

// larger lists the mixes of three or more that the book names.
func larger(book *mix.Book) [][]mix.ID {
	seen := map[string][]mix.ID{}
	add := func(items []mix.ID) {
		items = slices.Clone(items)
		slices.Sort(items)
		if items = slices.Compact(items); len(items) > 2 && len(items) <= compat.MaxItems {
			seen[key(items)] = items
		}
	}
	for i := range book.Interactions {
		add(ids(book.Interactions[i].Members))
	}
	for i := range book.Notices {
		add(ids(book.Notices[i].Members))
	}
	for i := range book.Observations {
		var items []mix.ID
		for _, p := range book.Observations[i].Products {
			items = append(items, p.ID)
		}
		add(items)
	}
	var all [][]mix.ID
	for _, k := range slices.Sorted(maps.Keys(seen)) {
		all = append(all, seen[k])
	}
	return all
}

func ids(refs []mix.Ref) []mix.ID {
	list := make([]mix.ID, len(refs))
	for i, r := range refs {
		list[i] = r.ID
	}
	return list
}

// schemaNumber is that of the files of this package; another is not read.
const schemaNumber = 1

// adviceFile is Advice as it is published. Items of which the same is said share a
// row.
type adviceFile struct {
	Schema    int             `json:"schema"`
	Published string          `json:"published"`
	Mixes     map[string]Said `json:"mixes"`
	Rows      []adviceRow     `json:"rows"`
}

type adviceRow struct {
	IDs []mix.ID `json:"ids"`
	Row
}

// Write returns the advice as a file that [ReadAdvice] reads.
func (a *Advice) Write() ([]byte, error) {
	f := adviceFile{schemaNumber, a.Published.String(), a.Mixes, []adviceRow{}}
	at := map[string]int{}
	for _, id := range slices.Sorted(maps.Keys(a.Rows)) {
		row, err := json.Marshal(a.Rows[id])
		if err != nil {
			return nil, err
		}
		n, known := at[string(row)]
		if !known {
			n = len(f.Rows)
			at[string(row)] = n
			f.Rows = append(f.Rows, adviceRow{Row: a.Rows[id]})
		}
		f.Rows[n].IDs = append(f.Rows[n].IDs, id)
	}
	text, err := json.MarshalIndent(f, "", " ")
	return append(text, '\n'), err
}

// ReadAdvice reads the advice of a publication. A damaged file is an error: to
// read less than was said would hide what changed.
func ReadAdvice(text []byte) (*Advice, error) {
	var f adviceFile
	if err := json.Unmarshal(text, &f); err != nil {
		return nil, err
	}
	day, ok := mix.ParseDate(f.Published)
	if f.Schema != schemaNumber || !ok {
		return nil, fmt.Errorf("advice of schema %d, published %q, cannot be read", f.Schema, f.Published)
	}
	a := &Advice{Published: day, Mixes: map[string]Said{}, Rows: map[mix.ID]Row{}}
	for k, s := range f.Mixes {
		if items := itemsOf(k); len(items) == 0 || !validIDs(items) {
			return nil, fmt.Errorf("%q is no mix", k)
		}
		a.Mixes[key(itemsOf(k))] = s
	}
	for _, row := range f.Rows {
		if !validIDs(row.IDs) || !validIDs(row.Of) || !validIDs(slices.Collect(maps.Keys(row.With))) {
			return nil, fmt.Errorf("%q are no items", row.IDs)
		}
		for _, id := range row.IDs {
			a.Rows[id] = row.Row
		}
	}
	return a, nil
}

func validIDs(all []mix.ID) bool {
	return !slices.ContainsFunc(all, func(id mix.ID) bool { return !mix.ValidID(string(id)) })
}

func compareIDs(a, b []mix.ID) int { return slices.CompareFunc(a, b, cmp.Compare) }
