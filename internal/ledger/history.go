package ledger

import (
	"encoding/json"
	"fmt"
	"slices"

	"tankleaf.example/internal/mix"
)

// Entry is what one publication changed.
type Entry struct {
	Published mix.Date
	Since     mix.Date // of the publication that it is compared with
	Withdrawn []mix.ID // items that are no longer listed
	Shifts    []Shift
}

// History is what publications changed, the newest first. One that changed
// nothing has no entry.
type History []Entry

// mostShifts is how many shifts a history keeps, newest first: at a hundred a
// publication and one a month, forty years.
const mostShifts = 50_000

// Next returns the history that a publication of the given day continues: with
// what it changed since the last one. Publications of one day are one entry.
func (h History) Next(day, since mix.Date, shifts []Shift, withdrawn []mix.ID) History {
	e := Entry{Published: day, Since: since, Shifts: shifts, Withdrawn: withdrawn}
	if len(h) > 0 && h[0].Published == day {
		e = h[0].join(e)
		h = h[1:]
	}
	if len(e.Shifts)+len(e.Withdrawn) == 0 {
		return h
	}
	return append(History{e}, h...).cut()
}

// join returns the way from before e to after f, which is of the same day.
func (e Entry) join(f Entry) Entry {
	at := map[string]int{}
	var shifts []Shift
	for _, s := range e.Shifts {
		at[key(s.Items)] = len(shifts)
		shifts = append(shifts, s)
	}
	for _, s := range f.Shifts {
		if n, again := at[key(s.Items)]; again {
			s.From = shifts[n].From
			s.Softer = s.To.SofterThan(s.From)
			shifts[n] = s
			continue
		}
		shifts = append(shifts, s)
	}
	out := Entry{Published: e.Published, Since: e.Since, Withdrawn: slices.Concat(e.Withdrawn, f.Withdrawn)}
	slices.Sort(out.Withdrawn)
	out.Withdrawn = slices.Compact(out.Withdrawn)
	out.Shifts = slices.DeleteFunc(shifts, func(s Shift) bool { return s.From.equal(s.To) })
	sortShifts(out.Shifts)
	return out
}

// cut drops the oldest entries beyond what is kept. The newest stays whole.
func (h History) cut() History {
	n := 0
	for i, e := range h {
		if n += len(e.Shifts); n > mostShifts && i > 0 {
			return h[:i]
		}
	}
	return h
}

// Explain names, in the newest entry, the review that answers for each softer
// shift, when that entry is of the day given. It returns the shifts for which none
// does. A review answers for what softened on its day or after, up to the day of
// publication, and not for what had been published before it.
func (h History) Explain(day mix.Date, reviews []mix.Review, is func(item, class mix.ID) bool) (open []Shift) {
	if len(h) == 0 || h[0].Published != day {
		return nil
	}
	for i := range h[0].Shifts {
		s := &h[0].Shifts[i]
		s.Review = ""
		if !s.Softer {
			continue
		}
		n := slices.IndexFunc(reviews, func(r mix.Review) bool {
			return r.Date.Compare(h[0].Since) >= 0 && r.Date.Compare(day) <= 0 && answers(r, s.Items, is)
		})
		if n < 0 {
			open = append(open, *s)
			continue
		}
		s.Review = reviews[n].ID
	}
	return open
}

// answers reports whether a review names the items of a mix, or some of them, by
// themselves or by their classes.
func answers(r mix.Review, items []mix.ID, is func(item, class mix.ID) bool) bool {
	return slices.ContainsFunc(r.Softens, func(named []mix.Ref) bool { return reaches(named, items, is) })
}

// reaches reports whether each of the names can be given to an item of its own.
func reaches(named []mix.Ref, items []mix.ID, is func(item, class mix.ID) bool) bool {
	if len(named) == 0 {
		return true
	}
	for i, item := range items {
		if item != named[0].ID && !is(item, named[0].ID) {
			continue
		}
		rest := append(slices.Clone(items[:i]), items[i+1:]...)
		if reaches(named[1:], rest, is) {
			return true
		}
	}
	return false
}

// historyFile is a History as it is published.
type historyFile struct {
	Schema       int         `json:"schema"`
	Publications []entryFile `json:"publications"`
}

type entryFile struct {
	Published string   `json:"published"`
	Since     string   `json:"since"`
	Withdrawn []mix.ID `json:"withdrawn"`
	Shifts    []Shift  `json:"shifts"`
}

// Write returns the history as a file that [ReadHistory] reads.
func (h History) Write() ([]byte, error) {
	f := historyFile{schemaNumber, []entryFile{}}
	for _, e := range h {
		f.Publications = append(f.Publications, entryFile{e.Published.String(), e.Since.String(),
			append([]mix.ID{}, e.Withdrawn...), append([]Shift{}, e.Shifts...)})
	}
	text, err := json.MarshalIndent(f, "", " ")
	return append(text, '\n'), err
}

// ReadHistory reads what a publication says that it and those before it changed.
func ReadHistory(text []byte) (History, error) {
	var f historyFile
	if err := json.Unmarshal(text, &f); err != nil {
		return nil, err
	}
	if f.Schema != schemaNumber {
		return nil, fmt.Errorf("changes of schema %d cannot be read", f.Schema)
	}
	var h History
	for _, e := range f.Publications {
		day, ok := mix.ParseDate(e.Published)
		since, ok2 := mix.ParseDate(e.Since)
		if !ok || !ok2 || !validIDs(e.Withdrawn) {
			return nil, fmt.Errorf("publication %q since %q is damaged", e.Published, e.Since)
		}
		for _, s := range e.Shifts {
			if len(s.Items) == 0 || !validIDs(s.Items) {
				return nil, fmt.Errorf("a shift of publication %s has no items", e.Published)
			}
		}
		h = append(h, Entry{day, since, e.Withdrawn, e.Shifts})
	}
	return h, nil
}
