package page

import (
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// KitView is what has to stand on the tables, in four lists.
type KitView struct {
	For   string // how many people, groups and jars
	Spare string
	Lists []KitList
}

// KitList is one of them.
type KitList struct {
	Name  string
	Lines []KitLine
}

// KitLine is one thing to bring.
type KitLine struct {
	Name  Phrase
	Need  string // what the cards ask for
	Bring string // with the spare
	More  string
}

func (l *leaf) kit(p *trial.Packet) KitView {
	k := &p.Kit
	v := KitView{For: l.t("packet.kit-for", "people", l.t("packet.people", "n", k.Persons), "groups", l.t("packet.groups", "n", k.Groups),
		"jars", l.t("packet.jars", "n", k.Jars))}
	if k.Spare.Sign() > 0 {
		v.Spare = l.t("packet.kit-spare", "share", l.percent(k.Spare))
	}
	v.Lists = []KitList{{l.t("packet.kit-products"), l.kitProducts(p)}, {l.t("packet.kit-vessels"), l.kitVessels(k)},
		{l.t("packet.kit-wear"), l.kitItems(k.Wear)}, {l.t("packet.kit-other"), l.kitItems(k.Other)}}
	return v
}

// kitProducts lists products and waters with their totals.
func (l *leaf) kitProducts(p *trial.Packet) []KitLine {
	var lines []KitLine
	for _, t := range p.Kit.Products {
		lines = append(lines, KitLine{Name: l.productName(&p.Trial.Products[t.Product]), Need: l.total(t.Cards), Bring: l.total(t.Bring)})
	}
	for _, w := range p.Kit.Waters {
		line := KitLine{Name: Phrase{Text: l.t("packet.any-water")}, Need: l.total(unit.Amount{Volume: w.Cards}), Bring: l.total(unit.Amount{Volume: w.Bring})}
		if w.Water != "" {
			line.Name = l.name(w.Water)
		}
		for i, s := range w.Salts {
			if i > 0 {
				line.More += "; "
			}
			line.More += l.t("packet.salt", "amount", l.salt(&s.Pour), "salt", s.Name)
		}
		if line.More != "" {
			line.More = l.t("packet.made-from", "salts", line.More)
		}
		lines = append(lines, line)
	}
	return lines
}

// salt is what is weighed of a reagent, exact when no scale measures it.
func (l *leaf) salt(p *jar.Pour) string {
	if v := l.pour(p); v.Amount != "" {
		return v.Amount
	}
	return fine(p.Exact.Base(), 3, p.Exact.BaseUnit())
}

func (l *leaf) kitVessels(k *trial.Kit) []KitLine {
	lines := []KitLine{l.counted(Phrase{Text: l.t("packet.vessels", "size", l.volume(k.VesselSize))}, k.Vessels)}
	for _, t := range k.Tools {
		lines = append(lines, l.counted(l.phrase(t.Tool.Name), t.Count))
	}
	return lines
}

func (l *leaf) kitItems(items []trial.ItemCount) []KitLine {
	var lines []KitLine
	for _, it := range items {
		lines = append(lines, l.counted(l.phrase(it.Item.Name), it.Count))
	}
	return lines
}

func (l *leaf) counted(name Phrase, c trial.Count) KitLine {
	return KitLine{Name: name, Need: l.words.Count(c.Needed), Bring: l.words.Count(c.Total())}
}

// total writes an amount as the bench measures it, in metric units; above a liter or
// a kilogram in US units too, for what is carried.
func (l *leaf) total(a unit.Amount) string {
	n := a.Base()
	switch {
	case n.Cmp(unit.Int(1000)) < 0:
		return n.Short(1) + " " + a.BaseUnit()
	case a.Dry:
		return l.both(a.Mass.In(unit.Kilogram).Short(2)+" kg", a.Mass.In(unit.Pound).Short(1)+" lb")
	}
	return l.both(a.Volume.In(unit.Liter).Short(1)+" L", a.Volume.In(unit.Gallon).Short(1)+" gal")
}

func (l *leaf) productName(p *jar.Product) Phrase {
	if p.ID == "" {
		return Phrase{Text: p.Name}
	}
	return l.name(p.ID)
}

// KeyLine tells the leader what is in a jar.
type KeyLine struct {
	Run     int
	Code    string
	What    string
	Water   Phrase
	Open    bool // stays open
	Opening string
	Hazards string
}

// key is the list of all jars for the leader alone: the cards do not say which jar is
// which.
func (l *leaf) key(t *trial.Trial) []KeyLine {
	var lines []KeyLine
	for i := range t.Jars {
		j := &t.Jars[i]
		line := KeyLine{Run: j.Run, Code: j.Code, What: l.roleWords(t, j), Open: !j.Opening.Closed(), Opening: l.t("opening." + j.Opening.String())}
		if j.Water != "" {
			line.Water = l.name(j.Water)
		}
		var hazards []string
		for _, h := range j.Hazards {
			hazards = append(hazards, l.words.Hazard(h))
		}
		line.Hazards = l.words.List(hazards)
		lines = append(lines, line)
	}
	return lines
}

// roleWords says what a jar holds and what it is there for.
func (l *leaf) roleWords(t *trial.Trial, j *trial.Jar) string {
	about := ""
	if j.About >= 0 {
		about = l.productName(&t.Products[j.About]).Text
	}
	replaced := ""
	if t.Replaced >= 0 {
		replaced = l.productName(&t.Products[t.Replaced]).Text
	}
	return l.t("role."+j.Role.String(), "products", l.words.List(t.Names(j.Products)), "order", l.inTurn(t, j), "product", about,
		"replaced", replaced, "water", l.nameText(j.Water), "share", l.percent(j.Card.Recipe.WaterShare), "whose", l.whose(j.Order))
}

// missing tells of a jar for which there was no room, with what its role does not say.
func (l *leaf) missing(t *trial.Trial, j *trial.Jar) string {
	text := l.roleWords(t, j)
	if share := j.Card.Recipe.WaterShare; j.Role == trial.WithAid && share.Cmp(unit.Int(1)) < 0 {
		text = l.t("packet.left-share", "what", text, "share", l.percent(share))
	}
	if j.Water != "" && t.Question == trial.Water {
		text = l.t("packet.left-water", "what", text, "water", l.nameText(j.Water))
	}
	return text
}

// inTurn lists the products of a jar in the order in which they go in.
func (l *leaf) inTurn(t *trial.Trial, j *trial.Jar) string {
	text := ""
	for i, name := range t.Names(j.Products) {
		if i > 0 {
			text += l.t("path.arrow")
		}
		text += name
	}
	return text
}

// whose names the source of an order; other orders are told by their products alone.
func (l *leaf) whose(order string) string {
	for i := range l.book().Sequences {
		s := &l.book().Sequences[i]
		if name, _ := s.Name.In(l.home, "en"); name == order && order != "" {
			return l.phrase(s.Name).Text
		}
	}
	if order == "reversed" {
		return l.t("order.reversed")
	}
	return l.t("order.another")
}

// planWords tells where the results of a search for the cause lead.
func (l *leaf) planWords(t *trial.Trial) []string {
	p := t.Plan
	if p == nil {
		return nil
	}
	lines := []string{l.t("plan.open", "n", p.Possible)}
	if p.Assumed {
		lines = append(lines, l.t("plan.assumed"))
	}
	if len(p.Steps) == 0 {
		return append(lines, l.t("plan.together", "share", l.words.Percent(p.Alone)))
	}
	for _, s := range p.Steps {
		lines = append(lines, l.t("plan.step", "jar", t.Jars[s.Jar].Code, "reacts", l.planEnd(t, s.Reacts), "clear", l.planEnd(t, s.Clear)))
	}
	if p.Cut {
		lines = append(lines, l.t("plan.cut"))
	}
	return lines
}

func (l *leaf) planEnd(t *trial.Trial, e trial.End) string {
	switch {
	case e.Step >= 0:
		return l.t("plan.go-on", "jar", t.Jars[t.Plan.Steps[e.Step].Jar].Code)
	case e.Causes != nil && len(e.Causes) == 0:
		return l.t("plan.nothing")
	case e.Causes != nil:
		var causes []string
		for _, c := range e.Causes {
			causes = append(causes, l.words.List(t.Names(c)))
		}
		return l.t("plan.cause", "cause", l.words.List(causes))
	case e.Possible == 0:
		return l.t("plan.again")
	}
	return l.t("plan.left", "n", e.Possible)
}
