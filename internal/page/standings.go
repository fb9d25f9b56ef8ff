package page

import (
	"cmp"
	"slices"
	"strings"

	"tankleaf.example/internal/mix"
)

// StandingPage lists every active that anybody published a half-life of.
type StandingPage struct {
	Frame
	AtoZ    []Link
	Actives []Lasting
	Classes []ClassNote
}

// ClassNote is what sources say of a class by itself.
type ClassNote struct {
	Class Link
	Lines []Line
}

func (e *edition) standingPage() ([]byte, error) {
	l := e.newLeaf(standingPath)
	p := &StandingPage{}
	held := e.holders()
	for _, name := range e.lastingActives() {
		a := l.lasting(name, e.book().HalfLivesOf(name))
		a.Held = l.items(held[name])
		p.Actives = append(p.Actives, a)
		p.AtoZ = append(p.AtoZ, a.Name)
	}
	for i := range e.book().Classes {
		if lines := l.classNotes([]mix.ID{e.book().Classes[i].ID}); len(lines) > 0 {
			p.Classes = append(p.Classes, ClassNote{l.item(e.book().Classes[i].ID), lines})
		}
	}
	return l.finish("standing", p, head{l.t("standing.title"), l.t("standing.summary")})
}

// lastingActives lists the actives with a record, by name.
func (p *press) lastingActives() []string {
	var names []string
	for i := range p.book().HalfLives {
		if a := p.book().HalfLives[i].Active; a != "" {
			names = append(names, a)
		}
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(strings.ToLower(a), strings.ToLower(b)), cmp.Compare(a, b))
	})
	return slices.Compact(names)
}

// mostHeld is how many products are named as holding an active.
const mostHeld = 40

// holders tells which products hold each active that has a record.
func (p *press) holders() map[string][]mix.ID {
	held := map[string][]mix.ID{}
	for _, name := range p.lastingActives() {
		held[name] = nil
	}
	for i := range p.book().Products {
		product := &p.book().Products[i]
		for _, a := range product.Actives {
			if list, lasts := held[a.Name]; lasts && len(list) < mostHeld {
				held[a.Name] = append(list, product.ID)
			}
		}
	}
	return held
}

// halfLivesCSV has one row a published figure, and one for a source that gives
// none. Times are in minutes; an empty cell is an open end.
func (p *press) halfLivesCSV() ([]byte, error) {
	rows := [][]string{{"id", "active", "class", "temperature_c", "ph_low", "ph_high", "low_min", "high_min", "stable", "note", "sources"}}
	number := func(b mix.Bound) string {
		if !b.Set {
			return ""
		}
		return b.Value.Short(6)
	}
	for i := range p.book().HalfLives {
		h := &p.book().HalfLives[i]
		temperature := ""
		if h.Temperature.Known {
			temperature = h.Temperature.N.Short(1)
		}
		var sources []string
		for _, c := range h.Sources {
			sources = append(sources, string(c.ID))
		}
		row := func(ph [2]string, low, high, stable string) {
			rows = append(rows, []string{string(h.ID), h.Active, string(h.Class.ID), temperature, ph[0], ph[1], low, high, stable, p.own(h.Note), joined(sources)})
		}
		for _, at := range h.Points {
			stable := ""
			if at.Stable {
				stable = "true"
			}
			row([2]string{at.PH[0].Short(2), at.PH[1].Short(2)}, number(at.Low), number(at.High), stable)
		}
		if len(h.Points) == 0 {
			row([2]string{}, "", "", "")
		}
	}
	return table(rows)
}
