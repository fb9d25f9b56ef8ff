package office

import (
	"fmt"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

var (
	someSymptoms = []mix.Symptom{mix.Gas, mix.Foam, mix.Flakes, mix.Gel, mix.Control, mix.Injury, mix.Heat}
	someVerdicts = []mix.Verdict{mix.Clean, mix.Steps, mix.Steps, mix.Apart, mix.Apart, mix.Never}
	someKinds    = []mix.Kind{mix.Physical, mix.Chemical, mix.Biological, mix.Legal}
)

// interaction makes a statement on classes, now and then on a product or a water.
func (m *maker) interaction(i int) mix.Interaction {
	n := mix.Interaction{
		ID: mix.ID(fmt.Sprintf("rule-%d", i)), Kind: pick(m, someKinds), Verdict: pick(m, someVerdicts),
		Members: []mix.Ref{m.member(), m.member()}, Sources: []mix.Cite{{Ref: ref("%s", pick(m, []string{"paper", "paper", "common-practice"}))}},
		What: text(fmt.Sprintf("What happens when the two of rule %d meet.", i), fmt.Sprintf("Lo que pasa cuando se juntan los dos de la regla %d.", i)),
	}
	if m.oneIn(8) {
		n.Members = append(n.Members, m.member())
	}
	for range m.IntN(3) {
		n.Symptoms = append(n.Symptoms, pick(m, someSymptoms))
	}
	if n.Verdict > mix.Clean && m.oneIn(6) {
		n.Hazards = []mix.Hazard{pick(m, mix.Hazards())}
	}
	if n.Verdict == mix.Steps {
		n.Steps = []mix.Text{text("Do this first.", "Haga esto primero."), text("Then that.", "Luego lo otro.")}
	}
	for m.oneIn(3) {
		n.When = append(n.When, m.gate(n.Members))
	}
	if m.oneIn(3) {
		n.Mends = []mix.Mend{{Class: m.member(), To: pick(m, []mix.Verdict{mix.Clean, mix.Steps}), How: text("With a mend.", "Con un remedio.")}}
	}
	if m.oneIn(9) {
		n.Disputes = []mix.Dispute{{Says: text("Others differ.", "Otros difieren."), Sources: n.Sources}}
	}
	return n
}

// member is mostly a class; in a small office often enough a product.
func (m *maker) member() mix.Ref {
	switch {
	case m.oneIn(6):
		return m.product()
	case m.oneIn(8):
		return ref("%s", pick(m, []string{"hard-water", "alkaline-water", "solution-28", "water"}))
	}
	return m.class()
}

// gate is a condition on any factor.
func (m *maker) gate(members []mix.Ref) mix.Gate {
	bound := func(f mix.Factor, base unit.Number, written string) mix.Gate {
		if m.oneIn(3) {
			return mix.Gate{Factor: f, High: mix.Bound{Set: true, Open: m.oneIn(2), Value: base}, Written: "< " + written}
		}
		return mix.Gate{Factor: f, Low: mix.Bound{Set: true, Open: m.oneIn(2), Value: base}, Written: "> " + written}
	}
	switch m.IntN(11) {
	case 0:
		return bound(mix.Hardness, unit.Int(150), "150 ppm")
	case 1:
		return bound(mix.PH, unit.Int(7), "7")
	case 2:
		return bound(mix.Bicarbonate, unit.Int(200), "200 ppm")
	case 3:
		return bound(mix.WaterTemp, unit.Int(15), "15 °C")
	case 4:
		return bound(mix.CarrierRate, must(unit.ParseSprayVolume("10 gal/ac")).Base(), "10 gal/ac")
	case 5:
		return bound(mix.Standing, unit.Int(60), "1 h")
	case 6:
		return bound(mix.WaterShare, unit.Frac(1, 2), "50 %")
	case 7:
		return mix.Gate{Factor: mix.OrderFactor, First: members[0], Then: members[1]}
	case 8:
		return mix.Gate{Factor: mix.VesselFactor, Ref: ref("closed")}
	case 9:
		return mix.Gate{Factor: mix.CropFactor, Ref: ref("%s", pick(m, crops))}
	}
	return mix.Gate{Factor: mix.CarrierClass, Ref: ref("%s", pick(m, []string{"hard-water", "solution-28", "water"}))}
}

func (m *maker) notice(i int) mix.Notice {
	n := mix.Notice{
		ID: mix.ID(fmt.Sprintf("notice-%d", i)), Law: m.oneIn(2), Members: []mix.Ref{m.member()},
		Effect: pick(m, []mix.Effect{mix.Forbids, mix.Requires, mix.Requires, mix.Allows, mix.Informs}),
		Title:  text(fmt.Sprintf("Notice %d", i), fmt.Sprintf("Aviso %d", i)), Says: text("It says so.", "Así lo dice."),
		Sources: []mix.Cite{{Ref: ref("law")}},
	}
	if !m.oneIn(3) {
		n.Members = append(n.Members, m.member())
	}
	if m.oneIn(2) {
		n.Place = ref("%s", pick(m, []string{"valley", "upper", "lower"}))
	}
	if m.oneIn(6) {
		n.Until = date("2025-01-01")
	}
	if m.oneIn(4) {
		n.When = []mix.Gate{m.gate([]mix.Ref{m.class(), m.class()})}
	}
	return n
}

// observation makes a record. Half are of a few much-tested products, so that sets
// of jars grow and now and then relax a statement.
func (m *maker) observation(i int) mix.Observation {
	some := func() mix.Ref {
		if m.oneIn(2) {
			return mix.Ref{ID: m.book.Products[m.IntN(min(m.size.Products, 10+m.size.Products/50))].ID}
		}
		return m.product()
	}
	o := mix.Observation{
		ID: mix.ID(fmt.Sprintf("jar-%d", i)), Field: m.oneIn(8), OrderKnown: m.oneIn(2),
		Date:   date(fmt.Sprintf("20%02d-%02d-%02d", 16+m.IntN(10), 1+m.IntN(12), 1+m.IntN(28))),
		Title:  text(fmt.Sprintf("Jar %d", i), fmt.Sprintf("Frasco %d", i)),
		Vessel: mix.Vessel{Type: "jar", Liquid: must(unit.ParseVolume("700 mL")), Recorded: m.oneIn(2), Closed: m.oneIn(2)},
	}
	if !m.oneIn(4) {
		o.Water = ref("%s", pick(m, []string{"well", "well", "rain"}))
	}
	if m.oneIn(2) {
		o.Temperature = known(5 + m.IntN(25))
	}
	if m.oneIn(2) {
		o.SprayVolume = must(unit.ParseSprayVolume("15 gal/ac"))
	}
	for range pick(m, []int{1, 2, 2, 2, 2, 3, 3, 4}) {
		p := mix.Portion{Ref: some(), Batch: pick(m, []string{"", "B1", "B2"})}
		if !m.oneIn(5) {
			p.Rate = must(unit.ParseRate("40 pt/ac"))
		}
		o.Products = append(o.Products, p)
	}
	o.Readings = []mix.Reading{m.reading()}
	m.repeat(i, &o)
	return o
}

// repeat makes four of every twelve jars quiet ones of the same two products on
// different days: enough to relax a statement.
func (m *maker) repeat(i int, o *mix.Observation) {
	if i%12 >= 4 {
		return
	}
	if i%12 == 0 {
		rate := must(unit.ParseRate("40 pt/ac"))
		m.pair = []mix.Portion{{Ref: m.product(), Rate: rate}, {Ref: m.product(), Rate: rate}}
	}
	o.Products, o.Field, o.OrderKnown = m.pair, false, true
	o.Date.Day, o.Water = 1+i%12, ref("well")
	o.Temperature = known(20)
	o.Readings = []mix.Reading{{After: must(unit.ParseDuration("1 d")), Gas: mix.NoGas, Foam: mix.Head{Recorded: true},
		Flakes: mix.None, Gel: mix.None}}
}

// reading is mostly quiet.
func (m *maker) reading() mix.Reading {
	r := mix.Reading{After: must(unit.ParseDuration(pick(m, []string{"5 min", "2 h", "1 d"}))),
		Gas: mix.NoGas, Foam: mix.Head{Recorded: true}, Flakes: mix.None, Gel: mix.None}
	if !m.oneIn(3) {
		return r
	}
	switch m.IntN(5) {
	case 0:
		r.Gas = pick(m, []mix.GasSign{mix.Bubbles, mix.Vented, mix.GasNotRecorded})
	case 1:
		r.Foam.Volume = must(unit.ParseVolume("300 mL"))
	case 2:
		r.Flakes, r.Redisperse = mix.Heavy, pick(m, []mix.Redispersed{mix.Fully, mix.NotAtAll})
	case 3:
		r.Gel = mix.Some
	case 4:
		r.Foam = mix.Head{}
	}
	return r
}
