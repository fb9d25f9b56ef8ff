package office

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Size is how much of everything an office has.
type Size struct{ Products, Classes, Interactions, Notices, Observations int }

// Large is the size an office may reach: see the design's notes on scale.
var Large = Size{Products: 10_000, Classes: 400, Interactions: 800, Notices: 60, Observations: 20_000}

// Small is an office that a test can look at from all sides.
var Small = Size{Products: 60, Classes: 30, Interactions: 60, Notices: 12, Observations: 300}

// Make returns the book of an office. The same size and seed give the same book.
func Make(s Size, seed uint64) *mix.Book {
	m := &maker{Rand: rand.New(rand.NewPCG(seed, 7)), size: s, book: &mix.Book{}}
	m.frame()
	m.classes()
	m.products()
	for i := range s.Interactions {
		m.book.Interactions = append(m.book.Interactions, m.interaction(i))
	}
	for i := range s.Notices {
		m.book.Notices = append(m.book.Notices, m.notice(i))
	}
	for i := range s.Observations {
		m.book.Observations = append(m.book.Observations, m.observation(i))
	}
	return m.book
}

// maker makes one book.
type maker struct {
	*rand.Rand
	size Size
	book *mix.Book
	pair []mix.Portion // of the jars that are being repeated
}

// oneIn is true one time in n.
func (m *maker) oneIn(n int) bool { return m.IntN(n) == 0 }

func pick[T any](m *maker, list []T) T { return list[m.IntN(len(list))] }

func ref(format string, args ...any) mix.Ref {
	return mix.Ref{ID: mix.ID(fmt.Sprintf(format, args...))}
}

func text(en, es string) mix.Text { return mix.Text{"en": en, "es": es} }

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func date(s string) mix.Date {
	d, ok := mix.ParseDate(s)
	if !ok {
		panic(s)
	}
	return d
}

func known(n int) mix.Value { return mix.Known(unit.Int(int64(n))) }

var (
	timings  = []string{"early", "full", "late"}
	purposes = []string{"blight", "rust", "mites", "thrips", "grasses", "broadleaf", "feeding", "spreading"}
	crops    = []string{"apple", "barley", "carrot", "grape", "onion", "wheat"}
)

// frame makes what stands around classes and products.
func (m *maker) frame() {
	b := m.book
	b.Site = mix.Site{Office: text("Made Office", "Oficina hecha"), Title: text("Made", "Hecha"), Contact: text("nobody", "nadie"),
		Demonstration: text("Made up for a test.", "Inventado para una prueba."), Languages: []mix.Lang{"en", "es"},
		Published: date("2026-11-20"), Tolerance: unit.Frac(1, 20), FirstWater: unit.Frac(1, 2),
		Jars: []unit.Volume{must(unit.ParseVolume("1 qt"))}}
	b.Sources = []mix.Source{
		{ID: "paper", Kind: mix.Paper, Title: "A paper", Authors: "Author", Year: 2001},
		{ID: "law", Kind: mix.Law, Title: "A law"},
		{ID: "common-practice", Kind: mix.CommonPractice, Title: "Common practice"},
	}
	b.Groups = []mix.Group{{ID: "group-1", Name: text("One", "Uno")}, {ID: "group-2", Name: text("Two", "Dos")}}
	b.Places = []mix.Place{{ID: "valley", Name: text("Valley", "Valle")},
		{ID: "upper", Name: text("Upper", "Alto"), PartOf: ref("valley")}, {ID: "lower", Name: text("Lower", "Bajo"), PartOf: ref("valley")}}
	for _, c := range crops {
		crop := mix.Crop{ID: mix.ID(c), Name: text(c, c)}
		for _, t := range timings {
			crop.Timings = append(crop.Timings, mix.Timing{ID: mix.ID(t), Name: text(t, t)})
		}
		b.Crops = append(b.Crops, crop)
	}
	for _, p := range purposes {
		b.Purposes = append(b.Purposes, mix.Purpose{ID: mix.ID(p), Name: text(p, p)})
	}
	b.Waters = []mix.WaterSource{
		{ID: "well", Name: text("Well", "Pozo"), Hardness: known(400), PH: known(8), Bicarbonate: known(300)},
		{ID: "rain", Name: text("Rain", "Lluvia"), Hardness: known(5), PH: known(6)},
	}
	minute := must(unit.ParseDuration("1 min"))
	b.Criteria = []mix.Criterion{
		{Symptom: mix.Gas, Gas: mix.Bubbles, Verdict: mix.Never, Hazard: mix.Pressure, Needed: true, Says: text("Bubbles", "Burbujas")},
		{Symptom: mix.Foam, Share: mix.Known(unit.Frac(1, 10)), After: minute, Verdict: mix.Steps, Needed: true, Says: text("Foam", "Espuma")},
		{Symptom: mix.Flakes, Extent: mix.Some, Verdict: mix.Apart, Mixes: true, Needed: true, Says: text("Flakes", "Copos")},
	}
	b.Cautions = []mix.Caution{{Title: text("Care", "Cuidado"), Lines: []mix.Text{text("Read the label.", "Lea la etiqueta.")}}}
	b.Order = []mix.OrderStep{
		{ID: "bags", Name: text("Bags", "Bolsas"), Bags: true},
		{ID: "conditioners", Name: text("Conditioners", "Acondicionadores"), Classes: []mix.Ref{ref("class-3")}, Wait: must(unit.ParseDuration("5 min"))},
		{ID: "dry", Name: text("Dry", "Secos"), Forms: []mix.Form{"WP", "WG"}},
		{ID: "liquid", Name: text("Liquids", "Líquidos"), Forms: []mix.Form{"SC", "SL", "EC"}},
	}
}

// classes makes shallow trees of classes, and waters and carriers among them.
func (m *maker) classes() {
	for i := range m.size.Classes {
		c := mix.Class{ID: mix.ID(fmt.Sprintf("class-%d", i)), Name: text(m.name(i), m.name(i)), Axis: mix.Chemistry,
			Group: ref("group-%d", 1+i%2), Matrix: i < 60}
		if i >= 10 {
			c.KindOf = []mix.Ref{ref("class-%d", m.IntN(1+i/4))}
		}
		if m.oneIn(15) {
			c.Suppresses = []mix.Symptom{mix.Foam}
		}
		if m.oneIn(20) {
			c.Hazards = []mix.Hazard{mix.Concentrate}
		}
		if m.oneIn(8) {
			c.Also = []string{m.misspelled(m.name(i))}
		}
		m.book.Classes = append(m.book.Classes, c)
	}
	m.book.Classes[1].Forms = []mix.Form{"EC"}
	gate := func(f mix.Factor, low int64, written string) []mix.Gate {
		return []mix.Gate{{Factor: f, Low: mix.Bound{Set: true, Open: true, Value: unit.Int(low)}, Written: written}}
	}
	m.book.Classes = append(m.book.Classes,
		mix.Class{ID: "water", Name: text("Water", "Agua"), Axis: mix.Water, Carrier: true},
		mix.Class{ID: "hard-water", Name: text("Hard water", "Agua dura"), Axis: mix.Water, Carrier: true,
			KindOf: []mix.Ref{ref("water")}, When: gate(mix.Hardness, 120, "> 120 ppm")},
		mix.Class{ID: "alkaline-water", Name: text("Alkaline water", "Agua alcalina"), Axis: mix.Water, Carrier: true,
			KindOf: []mix.Ref{ref("water")}, When: gate(mix.PH, 8, "> 8")},
		mix.Class{ID: "solution-28", Name: text("Solution 28", "Solución 28"), Axis: mix.Chemistry, Carrier: true, KindOf: []mix.Ref{ref("class-0")}},
	)
}

var forms = []mix.Form{"SC", "SC", "SL", "EC", "WG", "WP"}

// products makes products in kinds, each kind a set of classes.
func (m *maker) products() {
	kinds := make([][]mix.Ref, max(4, m.size.Products/8))
	for i := range kinds {
		for range 1 + m.IntN(3) {
			kinds[i] = append(kinds[i], m.class())
		}
	}
	for i := range m.size.Products {
		p := mix.Product{ID: mix.ID(fmt.Sprintf("product-%d", i)), Name: fmt.Sprintf("%s %d", m.name(m.IntN(1600)), 1+m.IntN(960)),
			Form: pick(m, forms), Classes: pick(m, kinds), Bag: m.oneIn(40)}
		p.ID = mix.ID(strings.ReplaceAll(strings.ToLower(p.Name), " ", "-") + fmt.Sprintf("-%d", i))
		p.Dry = p.Form.Solid()
		p.Actives = []mix.Active{{Name: strings.ToLower(m.name(m.IntN(300)))}}
		m.label(&p)
		if m.oneIn(10) {
			p.Also = []string{m.misspelled(p.Name)}
		}
		m.book.Products = append(m.book.Products, p)
	}
}

// label gives a product its rates and uses.
func (m *maker) label(p *mix.Product) {
	u := "pt/ac"
	if p.Dry {
		u = "oz/ac"
	} else {
		p.Density = must(unit.ParseDensity(fmt.Sprintf("1.%02d g/mL", m.IntN(40))))
	}
	low := 1 + m.IntN(20)
	p.Rate = mix.RateRange{Low: must(unit.ParseRate(fmt.Sprintf("%d %s", low, u))), High: must(unit.ParseRate(fmt.Sprintf("%d %s", low+m.IntN(12), u)))}
	purpose := ref("%s", pick(m, purposes))
	for range 1 + m.IntN(3) {
		p.Uses = append(p.Uses, mix.Use{Crop: ref("%s", pick(m, crops)), Timing: ref("%s", pick(m, timings)), Purpose: purpose})
	}
	if m.oneIn(12) {
		p.Position = 1 + m.IntN(3)
	}
	if m.oneIn(4) {
		p.SprayVolume = [2]unit.SprayVolume{must(unit.ParseSprayVolume("5 gal/ac"))}
	}
}

func (m *maker) class() mix.Ref { return ref("class-%d", m.IntN(m.size.Classes)) }

func (m *maker) product() mix.Ref { return mix.Ref{ID: pick(m, m.book.Products).ID} }

var firstNouns = strings.Fields("Amber Anvil Aspen Badger Barley Basin Beacon Birch Bobbin Boulder Bramble Brook Canyon Cedar Chalk Cinder Clover Copper Cotton Cradle Crane Dapple Delta Ember Falcon Fennel Fern Flint Garnet Gravel Harbor Hazel Heron Ivory Juniper Kestrel Larch Linen Maple Meadow")

var secondNouns = strings.Fields("Kettle Ladder Lantern Loom Mallet Mantle Marble Mill Mirror Needle Nettle Notch Oar Paddle Pebble Pewter Pitcher Plank Pocket Quarry Quill Rafter Ribbon Saddle Satchel Shuttle Spindle Spoke Stile Tallow Thimble Timber Trestle Trowel Turret Vessel Wagon Wicket Willow Yoke")

// name is the nth pair of nouns.
func (m *maker) name(n int) string {
	return firstNouns[n%len(firstNouns)] + " " + secondNouns[n/len(firstNouns)%len(secondNouns)]
}

// misspelled leaves one letter of a name out.
func (m *maker) misspelled(name string) string {
	at := 1 + m.IntN(len(name)-2)
	return name[:at] + name[at+1:]
}
