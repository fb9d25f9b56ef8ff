package page

import (
	"strconv"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/planner"
)

// packed returns a phrase as the client's data write it.
func packed(p Phrase) planner.Phrase { return planner.Phrase{Text: p.Text, Lang: string(p.Lang)} }

func (e *edition) packedText(t mix.Text) planner.Phrase { return packed(e.phrase(t)) }

func (e *edition) packedTexts(all []mix.Text) []planner.Phrase {
	var out []planner.Phrase
	for _, t := range all {
		out = append(out, e.packedText(t))
	}
	return out
}

func (e *edition) named(id mix.ID, name mix.Text) planner.Named {
	return planner.Named{ID: string(id), Name: e.packedText(name)}
}

// plannerWords are the names that the planner shows in this edition.
func (e *edition) plannerWords(p *planner.Pack) planner.Words {
	w := planner.Words{Also: map[string][]string{}, Forms: map[string]string{}, Example: e.exampleMix()}
	for n, id := range p.Core.Keys {
		w.Keys = append(w.Keys, packed(e.name(mix.ID(id))))
		if c := e.Index.Class(mix.ID(id)); c != nil && len(c.Also) > 0 {
			w.Also[strconv.Itoa(n)] = c.Also
		}
	}
	for _, g := range p.GateList {
		w.Gates = append(w.Gates, e.words.Gate(g, e.nameText))
	}
	e.listWords(&w)
	for _, s := range e.book().Order {
		w.Steps = append(w.Steps, planner.StepWords{Name: e.packedText(s.Name), Do: e.packedText(s.Do)})
	}
	for _, f := range mix.Forms() {
		if f.ForTank() {
			w.Forms[string(f)] = e.words.Form(f)
		}
	}
	l := e.newLeaf("planner.html")
	for _, h := range mix.Hazards() {
		c := l.caution(h)
		one := planner.Caution{Hazard: c.Hazard, Title: packed(c.Title)}
		for _, line := range c.Lines {
			one.Lines = append(one.Lines, packed(line))
		}
		w.Cautions = append(w.Cautions, one)
	}
	return w
}

// listWords fills in what a reader chooses from.
func (e *edition) listWords(w *planner.Words) {
	b := e.book()
	w.Crops, w.Places, w.Carriers = []planner.Named{}, []planner.Named{}, []planner.Named{}
	w.Purposes, w.Waters = []planner.Named{}, []planner.Water{}
	for _, c := range b.Crops {
		w.Crops = append(w.Crops, e.named(c.ID, c.Name))
	}
	for _, p := range b.Places {
		w.Places = append(w.Places, e.named(p.ID, p.Name))
	}
	for _, p := range b.Purposes {
		w.Purposes = append(w.Purposes, e.named(p.ID, p.Name))
	}
	for i := range b.Classes {
		if c := &b.Classes[i]; c.Carrier && len(c.When) == 0 {
			w.Carriers = append(w.Carriers, e.named(c.ID, c.Name))
		}
	}
	for _, s := range b.Waters {
		w.Waters = append(w.Waters, planner.Water{Named: e.named(s.ID, s.Name), Hardness: shortValue(s.Hardness), PH: shortValue(s.PH),
			Bicarbonate: shortValue(s.Bicarbonate), Measured: e.words.Date(s.Measured)})
	}
}

// shortValue writes a number that may be unknown.
func shortValue(v mix.Value) string {
	if !v.Known {
		return ""
	}
	return v.N.Short(4)
}

// exampleMix is the address of the first recipe's mix, to begin with.
func (e *edition) exampleMix() string {
	if len(e.book().Recipes) == 0 {
		return ""
	}
	r := &e.book().Recipes[0]
	address := ""
	for _, p := range r.Products {
		address += "&p=" + string(p.ID)
		if !p.Rate.IsZero() {
			address += ":" + p.Rate.String()
		}
	}
	if !r.SprayVolume.IsZero() {
		address += "&spray=" + r.SprayVolume.String()
	}
	return "#v=1" + address
}

// says is what some of the rules say in this edition.
func (e *edition) says(p *planner.Pack, file int) planner.Says {
	first := file * p.Core.PerSays
	out := planner.Says{First: first, Rules: []planner.Saying{}}
	for n := first; n < min(first+p.Core.PerSays, len(p.Rules)); n++ {
		switch ev := p.Rules[n].Evidence.(type) {
		case compat.Statement:
			out.Rules = append(out.Rules, e.statementSays(ev.Interaction))
		case compat.Ruling:
			out.Rules = append(out.Rules, planner.Saying{What: e.packedText(ev.Title), Why: e.packedText(ev.Says),
				Steps: e.packedTexts(ev.Steps), Who: e.whoSays(ev.Sources)})
		}
	}
	return out
}

func (e *edition) statementSays(in *mix.Interaction) planner.Saying {
	s := planner.Saying{What: e.packedText(in.What), Why: e.packedText(in.Mechanism), Steps: e.packedTexts(in.Steps),
		Instead: e.packedText(in.Instead.Text), Who: e.whoSays(in.Sources)}
	for _, m := range in.Mends {
		s.Mends = append(s.Mends, e.packedText(m.How))
	}
	for _, u := range in.Instead.Use {
		s.Use = append(s.Use, string(u.ID))
	}
	return s
}

// whoSays names sources in a few words.
func (e *edition) whoSays(cites []mix.Cite) []string {
	who := []string{}
	l := e.newLeaf("planner.html")
	for _, c := range cites {
		if s := e.Index.Source(c.ID); s != nil {
			who = append(who, l.who(s))
		}
	}
	return who
}
