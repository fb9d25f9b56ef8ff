package trial

import (
	"fmt"
	"slices"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Packet is everything that is printed for a trial, as values: the pages, their words
// and drawings are made of it elsewhere.
//
//	cover      purpose, cautions, the jars by role, time
//	kit list   Kit
//	stocks     Trial.Stocks, one card each
//	cards      Trial.Jars, one card each, by code
//	labels     Labels on a sheet of a known size
//	records    Records, one sheet a jar, a column for each reading
//	legend     Looks, what to look for with drawn examples
//	wash       clean-up and disposal
//	address    back to the page, in letters and as a code
type Packet struct {
	Trial    *Trial
	Kit      Kit
	Cautions []mix.Hazard // NoHazard is the general block, first; then those of its hazards
	Records  []RecordSheet
	Looks    []Look
	Wash     []mix.Text
	Address  string // of the page, "" when it is not known where it will be served
}

// Look is one thing to look for, with a reading that shows it. Heat and what stays on
// a screen cannot be seen through glass; Drawn says which can.
type Look struct {
	Symptom mix.Symptom
	Drawn   bool
	Vessel  mix.Vessel
	Reading mix.Reading
	Danger  bool // step back: nothing is added, shaken or opened any more
}

// Packet gathers a trial for people. address is where the page will be served.
func (p *Planner) Packet(t *Trial, who People, address string) (*Packet, error) {
	k, err := p.Kit(t, who)
	if err != nil {
		return nil, err
	}
	return &Packet{Trial: t, Kit: k, Cautions: t.cautions(), Records: t.RecordSheets(), Looks: p.looks(t), Wash: t.Routine.Wash, Address: address}, nil
}

// cautions lists the blocks that a packet carries. Whoever pours a jar handles
// concentrates, so that block is always there.
func (t *Trial) cautions() []mix.Hazard {
	all := append([]mix.Hazard{mix.NoHazard, mix.Concentrate}, t.Hazards...)
	for i := range t.Jars {
		if t.Jars[i].Opening == Vented {
			all = append(all, mix.Pressure)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// looks lists every symptom that a jar shows, in the order of the record sheet: what
// endangers people first.
func (p *Planner) looks(t *Trial) []Look {
	vessel := mix.Vessel{Type: "jar", Size: t.Vessel.Size, Liquid: t.Vessel.Fill, Closed: true, Recorded: true}
	var list []Look
	for _, s := range mix.Symptoms() {
		if !s.ShowsInJar() {
			continue
		}
		l := Look{Symptom: s, Drawn: true, Vessel: vessel, Reading: mix.Reading{After: unit.Minute.Of(unit.Int(15))}, Danger: p.dangerous(s)}
		l.show()
		list = append(list, l)
	}
	return list
}

// dangerous reports whether any criterion of the office sees a hazard in a symptom;
// gas and heat are hazards whatever it says.
func (p *Planner) dangerous(s mix.Symptom) bool {
	return s == mix.Gas || s == mix.Heat || slices.ContainsFunc(p.book.Criteria, func(c mix.Criterion) bool {
		return c.Symptom == s && endangers(c.Hazard)
	})
}

// show fills in a reading in which the symptom is plain to see.
func (l *Look) show() {
	r := &l.Reading
	switch l.Symptom {
	case mix.Gas:
		r.Gas = mix.Vented
	case mix.Heat:
		r.Rise, l.Drawn = mix.Known(unit.Int(5)), false
	case mix.Foam:
		r.Foam = mix.Head{Recorded: true, Volume: l.Vessel.Liquid.Over(unit.Int(4))}
	case mix.Flakes:
		r.Flakes = mix.Heavy
	case mix.Gel:
		r.Gel = mix.Heavy
	case mix.Precipitate:
		r.Precipitate = mix.Heavy
	case mix.Layers:
		r.Layers = mix.Heavy
	case mix.OilFilm:
		r.OilFilm = mix.Heavy
	case mix.Residue:
		r.Screen, l.Drawn = mix.Stays, false
	case mix.NoSymptom, mix.Fire, mix.Loss, mix.Vapour, mix.Control, mix.Injury:
		l.Drawn = false
	}
}

// Label is one label at its place on a sheet.
type Label struct {
	Code    string // of the jar; "" for a stock
	Group   int    // from 1
	Run     int    // of the jar; 0 for a stock
	Opening Opening
	Stock   string      // the product that the stock is of
	Parts   int         // the stock is 1 in so many
	Shake   bool        // of a stock
	X, Y    unit.Length // of its upper left corner from that of the sheet
}

// LabelSheet is one sheet of labels.
type LabelSheet struct {
	Stock  *mix.LabelStock
	Labels []Label
}

// LabelSheets lays the labels of all jars and stocks on sheets of a stock of labels,
// group by group. A stock that the office does not list gives [jar.Problems].
func (p *Planner) LabelSheets(t *Trial, k *Kit, stock mix.ID) ([]LabelSheet, error) {
	i := slices.IndexFunc(t.Routine.Labels, func(s mix.LabelStock) bool { return s.ID == stock })
	if i < 0 {
		var known []string
		for _, s := range t.Routine.Labels {
			known = append(known, string(s.ID))
		}
		return nil, jar.Problems{{Code: BadCount, Msg: fmt.Sprintf("no sheet of labels %q", stock), Hint: fmt.Sprintf("known are %v", known)}}
	}
	s := &t.Routine.Labels[i]
	var sheets []LabelSheet
	perSheet := s.Across * s.Down
	for n, l := range t.labels(k) {
		if n%perSheet == 0 {
			sheets = append(sheets, LabelSheet{Stock: s})
		}
		at := n % perSheet
		l.X = s.Left.Add(s.StepX.Times(unit.Int(int64(at % s.Across))))
		l.Y = s.Top.Add(s.StepY.Times(unit.Int(int64(at / s.Across))))
		last := &sheets[len(sheets)-1]
		last.Labels = append(last.Labels, l)
	}
	return sheets, nil
}

// labels lists the labels without places: for each group its stocks, then its jars in
// the order of runs. Shared jars go round the groups.
func (t *Trial) labels(k *Kit) []Label {
	var list []Label
	for g := 1; g <= k.Groups; g++ {
		for _, s := range t.Stocks {
			for range s.Times {
				list = append(list, Label{Group: g, Stock: t.Products[s.Product].Name, Parts: s.Stock.Parts, Shake: s.Stock.Shake})
			}
		}
		for i := range t.Jars {
			if j := &t.Jars[i]; k.pours(g, i) {
				list = append(list, Label{Code: j.Code, Group: g, Run: j.Run, Opening: j.Opening})
			}
		}
	}
	return list
}

// pours reports whether a group, from 1, pours the i-th jar.
func (k *Kit) pours(group, i int) bool { return k.Sets > 1 || k.Groups == 1 || i%k.Groups == group-1 }
