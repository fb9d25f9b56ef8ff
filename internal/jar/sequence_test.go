package jar_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
)

// published reads the sequences of the data folder.
func published(t *testing.T) []mix.Sequence {
	t.Helper()
	b, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	return b.Sequences
}

// things are one product for each word that the published orders use.
var things = map[string]jar.Product{
	"bags": {Bag: true, Form: "SP"}, "WP": {Form: "WP"}, "WG": {Form: "WG"}, "CS": {Form: "CS"}, "EC": {Form: "EC"}, "SL": {Form: "SL"},
	"SP": {Form: "SP"}, "SG": {Form: "SG"}, "SC": {Form: "SC"}, "SE": {Form: "SE"}, "EW": {Form: "EW"}, "OD": {Form: "OD"},
	"surfactant": {Form: "SL", Classes: []mix.ID{"surfactant"}}, "oil": {Form: "EC", Classes: []mix.ID{"crop-oil"}},
	"drift agent": {Form: "SL", Classes: []mix.ID{"drift-polymer"}}, "fertilizer": {Form: "SL", Classes: []mix.ID{"fluid-fertilizer"}},
	"ammonium sulfate": {Form: "SP", Classes: []mix.ID{"ammonium-sulfate"}}, "defoamer": {Form: "SL", Classes: []mix.ID{"defoamer"}},
	"compatibility agent": {Form: "SL", Classes: []mix.ID{"compatibility-agent"}}, "conditioner": {Form: "SL", Classes: []mix.ID{"water-conditioner"}},
	"pH adjuster": {Form: "SL", Classes: []mix.ID{"acidifier", "water-conditioner"}},
}

func products1(names ...string) []jar.Product {
	var all []jar.Product
	for _, n := range names {
		p := things[n]
		p.Name = n
		all = append(all, p)
	}
	return all
}

// TestPublishedSequences reproduces each source's own order, from the reference
// that the sequences were copied from, with the products given the other way round.
// What stands in one step is joined by a plus.
func TestPublishedSequences(t *testing.T) {
	want := map[mix.ID]string{
		"utah-2012":    "bags > WP > WG > CS > EC > SL > SP > surfactant > fertilizer",
		"south-dakota": "ammonium sulfate > compatibility agent > defoamer > WP + WG > SC + SL > EC > CS > surfactant + oil + drift agent",
		"manitoba":     "bags > fertilizer + pH adjuster > WP + WG + SC > SL > EC > surfactant + oil",
		"north-dakota": "ammonium sulfate + SG + SP > WG + WP > SC + SE + CS > EC + EW + OD + oil > SL",
		"turf-2021":    "bags > SG + WG + WP + SP > ammonium sulfate + compatibility agent > CS + EW + SC + SE > drift agent > EC + OD + SL > oil + surfactant > fertilizer > defoamer",
		"oklahoma":     "compatibility agent + defoamer > ammonium sulfate",
		"wales":        "WP + WG > SC > EC > surfactant + SL",
		"australia":    "conditioner > WP",
		"core-manual":  "compatibility agent > WP + WG > SC > SL > surfactant > EC",
	}
	for _, s := range published(t) {
		order, known := want[s.ID]
		if !known {
			t.Errorf("%s: no order to hold it against", s.ID)
			continue
		}
		delete(want, s.ID)
		names := strings.FieldsFunc(strings.ReplaceAll(order, " + ", " > "), func(r rune) bool { return r == '>' })
		for i := range names {
			names[i] = strings.TrimSpace(names[i])
		}
		slices.Reverse(names)
		products := products1(names...)
		if silent := jar.Silent(products, &s); len(silent) > 0 {
			t.Errorf("%s says nothing of %s", s.ID, names[silent[0]])
		}
		if got := spell(products, s.Steps); got != steps(order) {
			t.Errorf("%s\n got %s\nwant %s", s.ID, got, steps(order))
		}
	}
	for id := range want {
		t.Errorf("sequence %s is missing", id)
	}
}

// spell writes an order, what stands in one step sorted.
func spell(products []jar.Product, table []mix.OrderStep) string {
	var groups [][]string
	var last *mix.OrderStep
	for _, p := range jar.Order(products, table) {
		if p.Place.Step != last || last == nil {
			groups = append(groups, nil)
		}
		last = p.Place.Step
		groups[len(groups)-1] = append(groups[len(groups)-1], products[p.Given].Name)
	}
	var all []string
	for _, g := range groups {
		slices.Sort(g)
		all = append(all, strings.Join(g, " + "))
	}
	return strings.Join(all, " > ")
}

func steps(order string) string {
	var all []string
	for g := range strings.SplitSeq(order, " > ") {
		names := strings.Split(g, " + ")
		slices.Sort(names)
		all = append(all, strings.Join(names, " + "))
	}
	return strings.Join(all, " > ")
}

// TestDisagreements holds the pairs that published orders quarrel about against
// the list drawn up from them by hand.
func TestDisagreements(t *testing.T) {
	seqs := published(t)
	for _, c := range []struct{ a, b, first, second, together, why string }{
		{"SL", "EC", "core-manual manitoba south-dakota", "north-dakota utah-2012 wales", "turf-2021", "solutions before, after or with EC"},
		{"CS", "EC", "north-dakota turf-2021 utah-2012", "south-dakota", "", "capsules"},
		{"ammonium sulfate", "WP", "north-dakota south-dakota", "turf-2021", "", "ammonium sulfate before or after the dry products"},
		{"SP", "WG", "north-dakota", "utah-2012", "turf-2021", "soluble powders"},
		{"EW", "SC", "", "north-dakota", "turf-2021", "an emulsion with the suspensions or with EC"},
		{"surfactant", "EC", "core-manual", "manitoba south-dakota turf-2021 utah-2012 wales", "", "surfactants"},
		{"fertilizer", "EC", "manitoba", "turf-2021 utah-2012", "", "fertilizer early or last"},
	} {
		d := jar.Disagreements(products1(c.a, c.b), seqs)
		if len(d) != 1 {
			t.Errorf("%s: %d disagreements", c.why, len(d))
			continue
		}
		got := fmt.Sprintf("%s; %s; %s", ids(d[0].First), ids(d[0].Second), ids(d[0].Together))
		if want := fmt.Sprintf("%s; %s; %s", c.first, c.second, c.together); got != want {
			t.Errorf("%s: got %s, want %s", c.why, got, want)
		}
	}
	for _, c := range [][2]string{{"WP", "EC"}, {"WG", "EC"}, {"bags", "WP"}} {
		if d := jar.Disagreements(products1(c[0], c[1]), slices.DeleteFunc(slices.Clone(seqs), func(s mix.Sequence) bool {
			return c[0] == "bags" && s.ID == "south-dakota" // there packets are soaked, not dropped in first
		})); len(d) != 0 {
			t.Errorf("all readable sources agree on %s before %s; got %+v", c[0], c[1], d)
		}
	}
	if d := jar.Disagreements(products1("WP"), seqs); len(d) != 0 {
		t.Error("one product alone has no order")
	}
}

func ids(list []*mix.Sequence) string {
	var all []string
	for _, s := range list {
		all = append(all, string(s.ID))
	}
	slices.Sort(all)
	return strings.Join(all, " ")
}

func TestSilent(t *testing.T) {
	seqs := published(t)
	i := slices.IndexFunc(seqs, func(s mix.Sequence) bool { return s.ID == "oklahoma" })
	if got := jar.Silent(products1("defoamer", "EC", "ammonium sulfate", "WP"), &seqs[i]); !slices.Equal(got, []int{1, 3}) {
		t.Errorf("silent of %v, want the EC and the WP: the source was read to its second step", got)
	}
}
