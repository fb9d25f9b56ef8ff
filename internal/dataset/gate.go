package dataset

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// gate is one condition: a mapping with one key.
func (l *loader) gate() yamlpos.Kind[mix.Gate] {
	fields := []yamlpos.Field[mix.Gate]{
		bounds(mix.Hardness, hardnesses, unit.ParseContent, ppm, "of the water as CaCO3: > 300 ppm"),
		bounds(mix.PH, phs, unit.ParseNumber, self, "of water or mix: < 6.5, or 5.5 to 7"),
		bounds(mix.Bicarbonate, contents, unit.ParseContent, ppm, "in the water: > 500 ppm"),
		bounds(mix.WaterTemp, temperatures, unit.ParseTemperature, celsius, "of the water: < 10 °C"),
		bounds(mix.CarrierRate, sprayVolumes, unit.ParseSprayVolume, base[unit.SprayVolume], "carrier per area: < 10 gal/ac"),
		bounds(mix.Standing, durations, unit.ParseDuration, base[unit.Duration], "since the last product went in: > 2 h"),
		bounds(mix.WaterShare, shares, unit.ParsePercent, self, "water present when products meet: < 50 %"),
		may("order", l.pair(), setPair, "first went in before second: [ec, wp]"),
		may("vessel", word("vessel", "open", "closed"), setVessel, "open or closed"),
		may("place", l.ref(places, "place"), setRef(mix.PlaceFactor), "id of a place"),
		may("crop", l.ref(crops, "crop"), setRef(mix.CropFactor), "id of a crop"),
		may("carrier", l.classRef(), setRef(mix.CarrierClass), "id of a carrier class"),
	}
	k := yamlpos.Object[mix.Gate]{
		Name: "gate", Fields: fields,
		Doc:   "one condition; a list of gates holds when all hold",
		Start: func(g *mix.Gate, at diag.Pos) { g.At = at },
		Check: oneKey(fields),
	}.Kind()
	k.Schema.MinKeys, k.Schema.MaxKeys = 1, 1
	return yamlpos.Named("gate", k)
}

// gates is a list of conditions that must all hold.
func (l *loader) gates() yamlpos.Kind[[]mix.Gate] { return many("gates", l.gate()) }

func oneKey(fields []yamlpos.Field[mix.Gate]) func(*mix.Gate, yamlpos.Found) {
	return func(_ *mix.Gate, f yamlpos.Found) {
		var written []string
		for _, k := range fields {
			if f.Has(k.Name) {
				written = append(written, k.Name)
			}
		}
		switch len(written) {
		case 0:
			f.Problem("gate without a condition", `write one as in {hardness: "> 300 ppm"}`)
		case 1:
		default:
			f.Problem("gate with "+strings.Join(written, " and "), "write one list entry for each: all must hold")
		}
	}
}

func setRef(factor mix.Factor) func(*mix.Gate, mix.Ref) {
	return func(g *mix.Gate, r mix.Ref) { g.Factor, g.Ref, g.Written = factor, r, string(r.ID) }
}

func setVessel(g *mix.Gate, w string) {
	g.Factor, g.Ref, g.Written = mix.VesselFactor, mix.Ref{ID: mix.ID(w), At: g.At}, w
}

// pair is two items in the order they went in.
func (l *loader) pair() yamlpos.Kind[[]mix.Ref] {
	k := many("items", l.itemRef())
	k.Schema.MinItems, k.Schema.MaxItems = 2, 2
	read := k.Read
	k.Read = func(n yamlpos.Node) ([]mix.Ref, bool) {
		refs, ok := read(n)
		if ok && len(refs) != 2 {
			n.Problem("an order has two items", "write [first, second]")
		}
		return refs, ok && len(refs) == 2
	}
	return k
}

func setPair(g *mix.Gate, r []mix.Ref) {
	g.Factor, g.First, g.Then = mix.OrderFactor, r[0], r[1]
	g.Written = string(r[0].ID) + " before " + string(r[1].ID)
}

// limits is a range of a numeric factor as it was written.
type limits struct {
	low, high mix.Bound
	written   string
}

// bounds is the field of a numeric factor. Bounds are kept in the unit that the
// factor names.
func bounds[V any](f mix.Factor, r span, parse func(string) (V, error), in func(V) unit.Number, doc string) yamlpos.Field[mix.Gate] {
	value := func(s string) (unit.Number, error) {
		v, err := parse(s)
		if err != nil {
			return unit.Number{}, err
		}
		return in(v), nil
	}
	_, example, _ := strings.Cut(doc, ": ")
	s := yamlpos.Schema{Type: "string", Examples: []string{example}}
	k := yamlpos.Scalar("a bound", s, func(n yamlpos.Node, text string) (limits, bool) {
		p := boundParser{n, r, value}
		return p.limits(text)
	})
	return may(f.String(), k, func(g *mix.Gate, b limits) {
		g.Factor, g.Low, g.High, g.Written = f, b.low, b.high, b.written
	}, doc)
}

// boundParser reads "> 300 ppm" and "5.5 to 7".
type boundParser struct {
	node  yamlpos.Node
	span  span
	value func(string) (unit.Number, error)
}

func (p boundParser) limits(text string) (limits, bool) {
	b := limits{written: strings.TrimSpace(text)}
	if low, high, isRange := strings.Cut(text, " to "); isRange {
		return p.between(b, low, high)
	}
	for _, op := range []string{"<=", ">=", "≤", "≥", "<", ">"} {
		rest, found := strings.CutPrefix(strings.TrimLeft(text, " "), op)
		if !found {
			continue
		}
		shift := len([]rune(text)) - len([]rune(rest))
		v, ok := p.number(rest, shift)
		bound := mix.Bound{Set: true, Open: op == "<" || op == ">", Value: v}
		if op[0] == '<' || op == "≤" {
			b.high = bound
		} else {
			b.low = bound
		}
		return b, ok
	}
	p.node.Problem(fmt.Sprintf("%s %q is no bound", p.span.what, short(text)), `start it with <, <=, > or >=, or write a range: "5 to 7"`)
	return b, false
}

// between reads a range, whose first number may leave its unit to the second.
func (p boundParser) between(b limits, low, high string) (limits, bool) {
	h, ok := p.number(high, len([]rune(low))+len(" to "))
	if !ok {
		return b, false
	}
	if _, err := p.value(low); err != nil {
		if unitText := strings.TrimLeft(strings.TrimSpace(high), "0123456789./-"); unitText != "" {
			if _, err := unit.ParseNumber(strings.TrimPrefix(strings.TrimSpace(low), "-")); err == nil {
				low = strings.TrimSpace(low) + " " + strings.TrimSpace(unitText)
			}
		}
	}
	l, ok := p.number(low, 0)
	if !ok {
		return b, false
	}
	if l.Cmp(h) >= 0 {
		p.node.Problem(fmt.Sprintf("range %q is reversed", b.written), "write the lower bound first")
		return b, false
	}
	b.low, b.high = mix.Bound{Set: true, Value: l}, mix.Bound{Set: true, Value: h}
	return b, true
}

func (p boundParser) number(text string, shift int) (unit.Number, bool) {
	trimmed := strings.TrimLeft(text, " ")
	shift += len(text) - len(trimmed)
	text = trimmed
	v, err := p.value(text)
	if err != nil {
		report(p.node, shift, err)
		return v, false
	}
	if !p.span.holds(v) {
		p.node.ProblemAt(shift, fmt.Sprintf("%s %q is outside %s", p.span.what, strings.TrimSpace(text), p.span), "check the number and its unit")
		return v, false
	}
	return v, true
}
