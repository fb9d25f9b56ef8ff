package trial

import (
	"errors"
	"fmt"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/jar"
)

// Check plans every trial that the office offers and counts its kit. What cannot be
// planned is a problem at the trial, with the nearest that can: a packet that nobody
// can pour is not published.
func (p *Planner) Check() diag.List {
	var list diag.List
	for i := range p.book.Trials {
		b := &p.book.Trials[i]
		t, err := p.Trial(p.FromBook(b))
		if err == nil {
			_, err = p.Kit(t, PeopleOf(b))
		}
		var ps jar.Problems
		if !errors.As(err, &ps) {
			continue
		}
		for _, one := range ps {
			if one.Code == jar.TwoOfAName {
				continue // the office calls two products alike: its page says that cards cannot tell them apart
			}
			list.Add(b.At, fmt.Sprintf("trial %q cannot be poured: %s", b.ID, one.Msg), one.Hint)
		}
	}
	return list.Sorted()
}
