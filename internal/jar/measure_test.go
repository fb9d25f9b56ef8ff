package jar_test

import (
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// tool writes a tool in a line of a table: id, kind, low, high, graduation.
func tool(t testing.TB, line string) mix.Tool {
	t.Helper()
	f := strings.Split(line, ", ")
	kind, ok := mix.ParseToolKind(f[1])
	if !ok || len(f) != 5 {
		t.Fatalf("no tool: %q", line)
	}
	return mix.Tool{ID: mix.ID(f[0]), Kind: kind, Low: must(t, unit.ParseAmount, f[2]), High: must(t, unit.ParseAmount, f[3]),
		Graduation: must(t, unit.ParseAmount, f[4])}
}

var shelf = []string{
	"syringe-1, syringe, 0.1 mL, 1 mL, 0.01 mL",
	"syringe-3, syringe, 0.5 mL, 3 mL, 0.1 mL",
	"syringe-10, syringe, 1 mL, 10 mL, 0.2 mL",
	"syringe-60, syringe, 5 mL, 60 mL, 1 mL",
	"cylinder-100, cylinder, 10 mL, 100 mL, 1 mL",
	"cylinder-250, cylinder, 25 mL, 250 mL, 2 mL",
	"cylinder-500, cylinder, 50 mL, 500 mL, 5 mL",
	"scale-01, scale, 2 g, 2000 g, 0.1 g",
	"scale-001, scale, 0.2 g, 300 g, 0.01 g",
}

// bench is the tools of a shelf by the start of their ids; all when none is named.
func bench(t testing.TB, ids ...string) *jar.Bench {
	t.Helper()
	b := &jar.Bench{Tolerance: unit.Frac(5, 100)}
	for _, line := range shelf {
		if len(ids) == 0 || slices.ContainsFunc(ids, func(id string) bool { return strings.HasPrefix(line, id) }) {
			b.Tools = append(b.Tools, tool(t, line))
		}
	}
	for _, v := range []string{"250 mL", "1 pt", "500 mL", "1 qt", "1 L"} {
		b.Jars = append(b.Jars, must(t, unit.ParseVolume, v))
	}
	return b
}

func TestPour(t *testing.T) {
	for _, c := range []struct {
		exact, tools, tool, poured string
		draws                      int
		why                        string
	}{
		{"0.37 mL", "", "syringe-1", "0.37 mL", 1, "the finest graduation that holds it"},
		{"2.366 mL", "", "syringe-3", "2.4 mL", 1, "one draw of a coarser tool before three of a finer"},
		{"0.095 mL", "", "", "0.1 mL", 1, "5.3 % off: the least error when none passes"},
		{"0.094 mL", "", "", "0 mL", 0, "rounds to a mark below the range of every tool"},
		{"7.886 mL", "", "syringe-10", "7.8 mL", 1, "to the nearest mark"},
		{"7.9 mL", "", "syringe-10", "8 mL", 1, "half a graduation goes up"},
		{"120 mL", "", "cylinder-250", "120 mL", 1, "a larger cylinder"},
		{"25 mL", "syringe-10", "syringe-10", "25 mL", 3, "several draws where no larger tool is at hand"},
		{"101 mL", "syringe-10", "", "0 mL", 0, "more draws than a person counts"},
		{"10.5 mL", "syringe-10", "syringe-10", "10.6 mL", 2, "two draws that differ by one graduation at most"},
		{"1234.5 g", "", "scale-01", "1234.5 g", 1, "beyond the fine scale"},
		{"10.206 g", "", "scale-001", "10.21 g", 1, "the finer scale"},
		{"0.1 g", "", "", "0 g", 0, "below both scales"},
		{"3 g", "cylinder", "", "0 g", 0, "a dry product is never measured by volume"},
	} {
		b := bench(t)
		if c.tools != "" {
			b = bench(t, c.tools)
		}
		exact := must(t, unit.ParseAmount, c.exact)
		p := b.Pour(exact)
		id := mix.ID("")
		if p.Tool != nil {
			id = p.Tool.ID
		}
		if want := must(t, unit.ParseAmount, c.poured); !p.Poured.Base().Equal(want.Base()) || len(p.Draws) != c.draws ||
			c.tool != "" && id != mix.ID(c.tool) {
			t.Errorf("%s (%s): %v by %s in %d draws", c.exact, c.why, p.Poured, id, len(p.Draws))
		}
	}
}

func TestPourError(t *testing.T) {
	b := bench(t, "syringe-10")
	p := b.Pour(must(t, unit.ParseAmount, "7.886 mL"))
	if want := unit.Frac(7800, 7886).Sub(unit.Int(1)); !p.Error.Equal(want) {
		t.Errorf("error %s, want %s", p.Error.Short(6), want.Short(6))
	}
	if !b.Within(p.Error) || b.Within(unit.Frac(-51, 1000)) || !b.Within(unit.Frac(5, 100)) {
		t.Error("the tolerance counts both ways and includes its end")
	}
	if b := (&jar.Bench{}); b.Within(unit.Frac(6, 100)) || !b.Within(unit.Frac(-5, 100)) {
		t.Error("an office that says nothing allows 5 %")
	}
}

// TestUnreadyTools holds that a faulty tool measures nothing.
func TestUnreadyTools(t *testing.T) {
	b := &jar.Bench{Tools: []mix.Tool{{}, {Kind: mix.Syringe}, {Kind: mix.Scale, High: unit.Amount{Dry: true, Mass: unit.Gram.Of(unit.Int(5))}}}}
	for _, s := range []string{"1 mL", "1 g", "0 mL"} {
		if p := b.Pour(must(t, unit.ParseAmount, s)); p.Tool != nil || p.Poured.Base().Sign() != 0 {
			t.Errorf("%s was measured with %v", s, p.Tool)
		}
	}
}

func TestSettles(t *testing.T) {
	for _, c := range []struct {
		p    jar.Product
		want bool
		why  string
	}{
		{jar.Product{Form: "SC"}, true, "a suspension"},
		{jar.Product{Form: "CS"}, true, "capsules settle too"},
		{jar.Product{Form: "SL"}, false, "a solution"},
		{jar.Product{Form: "EC"}, false, "a solution in solvent until it meets water"},
		{jar.Product{Form: "WG"}, false, "dry: it is weighed, not drawn"},
		{jar.Product{Form: "SC", State: jar.Dry}, false, "said to be dry"},
	} {
		if got := c.p.Settles(); got != c.want {
			t.Errorf("%s %s: %v", c.p.Form, c.why, got)
		}
	}
}

func TestStock(t *testing.T) {
	for _, c := range []struct {
		form            mix.Form
		parts           int
		drawn           string
		product, volume string
		cylinder        string
		carrier         string
		shake, none     bool
		tools           []string
		why             string
	}{
		{form: "SL", parts: 10, drawn: "3 mL", product: "1 mL", volume: "10 mL", cylinder: "cylinder-100", carrier: "9 mL",
			why: "the smallest round stock that holds the draw and a tenth"},
		{form: "SL", parts: 10, drawn: "9.5 mL", product: "2 mL", volume: "20 mL", cylinder: "cylinder-100", carrier: "18 mL",
			why: "9.5 mL and a tenth is more than 10 mL"},
		{form: "EC", parts: 100, drawn: "20 mL", product: "0.5 mL", volume: "50 mL", cylinder: "cylinder-100", carrier: "49.5 mL",
			shake: true, why: "an emulsion creams"},
		{form: "WG", parts: 10, drawn: "40 mL", product: "5 g", volume: "50 mL", cylinder: "cylinder-100", carrier: "50 mL",
			shake: true, why: "1 g to 10 mL; what it takes up is not known"},
		{form: "SL", parts: 10, drawn: "600 mL", none: true, why: "no cylinder is as large"},
		{form: "SL", parts: 10, drawn: "3 mL", none: true, tools: []string{"syringe"}, why: "nothing to make it up in"},
		{form: "WG", parts: 10, drawn: "3 mL", none: true, tools: []string{"syringe", "cylinder"}, why: "no scale"},
	} {
		b := bench(t, c.tools...)
		s, ok := b.Stock(&jar.Product{Form: c.form}, c.parts, must(t, unit.ParseVolume, c.drawn))
		if ok == c.none {
			t.Errorf("%s: ok %v", c.why, ok)
			continue
		}
		if c.none {
			continue
		}
		if s.Product.Poured.String() != c.product || s.Volume.String() != c.volume || string(s.MadeIn.ID) != c.cylinder ||
			s.Carrier().String() != c.carrier || s.Shake != c.shake {
			t.Errorf("%s: %v to %v in %s with %v, shake %v", c.why, s.Product.Poured, s.Volume, s.MadeIn.ID, s.Carrier(), s.Shake)
		}
	}
}
