package page

import (
	"slices"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// OrderPage is the order of addition: the office's table with its sources, the orders
// that are published, each as its source gives it, and where they disagree.
type OrderPage struct {
	Frame
	First     string // share of the water before the first product
	Steps     []OrderStepView
	Questions []OrderQuestion
	Apart     []ApartView
	Orders    []SequenceView
}

// OrderStepView is one step of an order.
type OrderStepView struct {
	Name  Phrase
	Forms []string // codes that go in here, with their meaning
	Bags  bool
	Items []Link // classes that go in here whatever their code
	Do    Phrase
	Wait  string
	Who   []Line
}

// OrderQuestion is one on which sources disagree, with what each answers.
type OrderQuestion struct {
	Question Phrase
	Says     []PositionView
}

// PositionView is one answer and who gives it.
type PositionView struct {
	Line
	Who []Line
}

// SequenceView is one published order.
type SequenceView struct {
	Anchor  string
	Name    Phrase
	Start   string // share of the water before the first product; "" when not stated
	Steps   []OrderStepView
	Note    Phrase
	Partial bool // the source was read to its last step here and not beyond
	Who     []Line
}

// ApartView is two products, or kinds of product, that published orders put in
// different orders.
type ApartView struct {
	A, B                    Phrase
	First, Second, Together []Link // orders with A first, with B first, with both in one step
}

const orderPath = "order.html"

func sequenceAnchor(id mix.ID) string { return "order-" + string(id) }

func (e *edition) orderPage() ([]byte, error) {
	l := e.newLeaf(orderPath)
	b := e.book()
	p := &OrderPage{}
	if b.Site.FirstWater.Sign() > 0 {
		p.First = l.percent(b.Site.FirstWater)
	}
	p.Steps = l.orderSteps(b.Order)
	for i := range b.Disputes {
		p.Questions = append(p.Questions, l.orderQuestion(&b.Disputes[i]))
	}
	kinds, names := l.orderKinds()
	for _, a := range l.apart(kinds, names) {
		if len(a.First) > 0 && len(a.Second) > 0 {
			p.Apart = append(p.Apart, a)
		}
	}
	for i := range b.Sequences {
		p.Orders = append(p.Orders, l.sequence(&b.Sequences[i]))
	}
	return l.finish("order", p, head{l.t("order.title"), l.t("order.summary")})
}

func (l *leaf) orderSteps(steps []mix.OrderStep) []OrderStepView {
	var all []OrderStepView
	for i := range steps {
		s := &steps[i]
		v := OrderStepView{Name: l.phrase(s.Name), Bags: s.Bags, Do: l.phrase(s.Do), Who: l.saysWho(s.Sources)}
		for _, f := range s.Forms {
			v.Forms = append(v.Forms, l.formWords(f))
		}
		for _, c := range s.Classes {
			v.Items = append(v.Items, l.item(c.ID))
		}
		if !s.Wait.IsZero() {
			v.Wait = l.duration(s.Wait)
		}
		all = append(all, v)
	}
	return all
}

func (l *leaf) orderQuestion(d *mix.OrderDispute) OrderQuestion {
	q := OrderQuestion{Question: l.phrase(d.Question)}
	for i := range d.Positions {
		at := &d.Positions[i]
		q.Says = append(q.Says, PositionView{Line: Line{Phrase: l.phrase(at.Says)}, Who: l.saysWho(at.Sources)})
	}
	return q
}

func (l *leaf) sequence(s *mix.Sequence) SequenceView {
	v := SequenceView{Anchor: sequenceAnchor(s.ID), Name: l.phrase(s.Name), Steps: l.orderSteps(s.Steps), Note: l.phrase(s.Note),
		Partial: s.Partial, Who: l.saysWho(s.Sources)}
	switch low, high := s.Start[0], s.Start[1]; {
	case high.Sign() <= 0:
	case low.Cmp(high) == 0:
		v.Start = l.percent(low)
	default:
		v.Start = l.t("rate.range", "low", l.percent(low), "high", l.percent(high))
	}
	return v
}

// orderKinds makes up one product for each code and class that any published order
// names, in the order in which they come up.
func (l *leaf) orderKinds() ([]jar.Product, []Phrase) {
	var kinds []jar.Product
	var names []Phrase
	add := func(k jar.Product, name Phrase) {
		if !slices.ContainsFunc(kinds, func(has jar.Product) bool { return has.Name == k.Name }) {
			kinds, names = append(kinds, k), append(names, name)
		}
	}
	for i := range l.book().Sequences {
		for _, s := range l.book().Sequences[i].Steps {
			if s.Bags {
				add(jar.Product{Name: "bags", Bag: true}, Phrase{Text: l.t("order.bags")})
			}
			for _, f := range s.Forms {
				add(jar.Product{Name: "form " + string(f), Form: f}, Phrase{Text: l.formWords(f)})
			}
			for _, c := range s.Classes {
				add(jar.Product{Name: "class " + string(c.ID), Classes: l.Index.Ancestors(c.ID)}, l.name(c.ID))
			}
		}
	}
	return kinds, names
}

// apart lists the pairs of products on whose order the published ones disagree.
func (l *leaf) apart(products []jar.Product, names []Phrase) []ApartView {
	var all []ApartView
	for _, d := range jar.Disagreements(products, l.book().Sequences) {
		all = append(all, ApartView{A: names[d.A], B: names[d.B], First: l.orderLinks(d.First), Second: l.orderLinks(d.Second), Together: l.orderLinks(d.Together)})
	}
	return all
}

// apartIn lists those about which the orders disagree for the products of a recipe.
func (l *leaf) apartIn(portions []mix.Portion) []ApartView {
	var products []jar.Product
	var names []Phrase
	for i := range portions {
		if p := l.Index.Product(portions[i].ID); p != nil {
			products = append(products, jar.FromBook(l.Index, p, unit.Rate{}))
			names = append(names, l.name(p.ID))
		}
	}
	return l.apart(products, names)
}

// orderLinks leads to published orders by their names.
func (l *leaf) orderLinks(all []*mix.Sequence) []Link {
	var links []Link
	for _, s := range all {
		links = append(links, Link{l.link(orderPath + "#" + sequenceAnchor(s.ID)), l.phrase(s.Name)})
	}
	return links
}
