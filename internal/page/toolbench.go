package page

import (
	"slices"
	"strings"

	"tankleaf.example/internal/gas"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/planner"
)

// bench is what the calculators know beyond arithmetic, in this edition's words.
func (e *edition) bench() planner.Bench {
	b := planner.Bench{Actives: []planner.Lasting{}, Carbonates: []planner.Carbonate{}}
	l := e.newLeaf("calculators.html")
	for _, name := range e.lastingActives() {
		one := planner.Lasting{Active: name}
		for _, h := range e.book().HalfLivesOf(name) {
			if len(h.Points) > 0 {
				one.Records = append(one.Records, l.halfRecord(h))
			}
		}
		if len(one.Records) > 0 {
			b.Actives = append(b.Actives, one)
		}
	}
	for _, c := range gas.Carbonates() {
		id := strings.ReplaceAll(c.Names[0], " ", "-")
		b.Carbonates = append(b.Carbonates, planner.Carbonate{ID: id, Name: e.t("carbonate." + id), PerGram: c.PerGram()})
	}
	return b
}

// lastingActives names the actives with a record, by name.
func (e *edition) lastingActives() []string {
	var names []string
	for i := range e.book().HalfLives {
		if a := e.book().HalfLives[i].Active; a != "" {
			names = append(names, a)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func (l *leaf) halfRecord(h *mix.HalfLife) planner.Record {
	r := planner.Record{Who: l.whoSays(h.Sources)}
	if h.Temperature.Known {
		r.Where = l.t("lasting.at", "temperature", l.temperature(h.Temperature))
	}
	for _, p := range h.Points {
		point := planner.HalfPoint{PH: [2]float64{p.PH[0].Float(), p.PH[1].Float()}, Stable: p.Stable, About: p.About}
		if p.Low.Set {
			point.Low = p.Low.Value.Float()
		}
		if p.High.Set {
			point.High = p.High.Value.Float()
		}
		r.Points = append(r.Points, point)
	}
	return r
}
