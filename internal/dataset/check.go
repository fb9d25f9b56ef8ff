package dataset

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// usedRate is the rate of a product in a record other than its own.
type usedRate struct {
	node    yamlpos.Node
	product mix.ID
	rate    unit.Rate
}

// check looks at what only shows once all files are read.
func (l *loader) check() {
	l.checkRefs()
	l.checkCircles()
	x := mix.NewIndex(&l.book)
	l.checkRepeats(x)
	l.checkUsedRates(x)
	l.checkTrials(x)
	l.checkCarriers(x)
	l.checkProducts(x)
	l.checkSteps()
	l.checkCautions()
	l.checkLookAlikes()
	l.checkActives()
}

func (l *loader) checkRefs() {
	h := &hints{loader: l, names: map[string][]string{}, known: map[string]string{}}
	for _, r := range l.refs {
		d, ok := l.defs[r.in][r.id]
		switch {
		case !ok && !l.complete(r.in):
		case !ok:
			msg := fmt.Sprintf("unknown %s %q", r.what, r.id)
			if crop, is := strings.CutPrefix(string(r.in), string(timings(""))); is {
				msg = fmt.Sprintf("crop %q has no timing %q", crop, r.id)
			}
			r.node.Problem(msg, h.nearest(r))
		case r.in == items && r.what != string(items) && d.what != r.what:
			r.node.Problem(fmt.Sprintf("%q is a %s; here stands a %s", r.id, d.what, r.what), "", "defined at "+d.at.String())
		}
	}
}

// maxHints is how many hints are worked out in one run: each compares a name
// with all there are, 10,000 products perhaps.
const maxHints = maxShown

// hints finds the nearest name, once for each wrong one.
type hints struct {
	*loader
	names map[string][]string // by what is meant
	known map[string]string
}

// nearest is the hint for an ID that nobody has.
func (h *hints) nearest(r reference) string {
	space := string(r.in) + "/" + r.what
	key := space + "/" + string(r.id)
	hint, done := h.known[key]
	if !done && len(h.known) < maxHints && !r.node.Full() {
		if h.names[space] == nil {
			h.names[space] = h.ids(r)
		}
		hint = guess(string(r.id), h.names[space])
		h.known[key] = hint
	}
	return hint
}

// ids lists what the reference may be to.
func (h *hints) ids(r reference) []string {
	all := []string{}
	for _, id := range slices.Sorted(maps.Keys(h.defs[r.in])) {
		if d := h.defs[r.in][id]; r.in != items || r.what == string(items) || d.what == r.what {
			all = append(all, string(id))
		}
	}
	return all
}

func guess(got string, names []string) string {
	if near := diag.Nearest(got, names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	switch n := len(names); {
	case n == 0:
		return "none is defined"
	case n <= 12:
		return "known are " + strings.Join(names, ", ")
	}
	return ""
}

// checkCircles refuses classes that are their own ancestors, and places that lie
// in themselves.
func (l *loader) checkCircles() {
	up := map[mix.ID][]mix.Ref{}
	for _, c := range l.book.Classes {
		up[c.ID] = c.KindOf
	}
	l.circles("kind_of", up)
	up = map[mix.ID][]mix.Ref{}
	for _, p := range l.book.Places {
		if p.PartOf.ID != "" {
			up[p.ID] = []mix.Ref{p.PartOf}
		}
	}
	l.circles("part_of", up)
}

// circles walks up from every record in the order of IDs and reports each circle
// once, at the reference that closes it.
func (l *loader) circles(key string, up map[mix.ID][]mix.Ref) {
	const (
		fresh = iota
		open
		done
	)
	state := map[mix.ID]int{}
	var path []mix.ID
	var walk func(id mix.ID)
	walk = func(id mix.ID) {
		state[id] = open
		path = append(path, id)
		parents := slices.Clone(up[id])
		slices.SortFunc(parents, func(a, b mix.Ref) int { return strings.Compare(string(a.ID), string(b.ID)) })
		for _, p := range parents {
			switch state[p.ID] {
			case fresh:
				walk(p.ID)
			case open:
				circle := append(slices.Clone(path[slices.Index(path, p.ID):]), p.ID)
				l.problems.Add(p.At, key+" goes in a circle", "remove one of the links", joinIDs(circle, " → "))
			}
		}
		path = path[:len(path)-1]
		state[id] = done
	}
	for _, id := range slices.Sorted(maps.Keys(up)) {
		if state[id] == fresh {
			walk(id)
		}
	}
}

func joinIDs(ids []mix.ID, sep string) string {
	all := make([]string, len(ids))
	for i, id := range ids {
		all[i] = string(id)
	}
	return strings.Join(all, sep)
}

func (l *loader) checkRepeats(x *mix.Index) {
	for _, r := range l.repeats {
		if x.Product(r.ID) != nil {
			l.problems.Add(r.At, fmt.Sprintf("product %q is listed twice", r.ID), "a product with itself is no mix; a class may stand twice")
		}
	}
}

// checkUsedRates holds the rates of records against the products they are of.
func (l *loader) checkUsedRates(x *mix.Index) {
	for _, u := range l.rates {
		p := x.Product(u.product)
		if p == nil {
			continue
		}
		checkBasis(p, mix.RateRange{High: u.rate}, u.node)
	}
}

func (l *loader) checkCarriers(x *mix.Index) {
	carrier := func(list []mix.Gate) {
		for _, g := range list {
			if c := x.Class(g.Ref.ID); g.Factor == mix.CarrierClass && c != nil && !c.Carrier {
				l.problems.Add(g.Ref.At, fmt.Sprintf("class %q is no carrier", g.Ref.ID), "write carrier: true at the class, or make it a member")
			}
		}
	}
	for i := range l.book.Interactions {
		carrier(l.book.Interactions[i].When)
	}
	for i := range l.book.Notices {
		carrier(l.book.Notices[i].When)
	}
	for i := range l.book.Products {
		for _, r := range l.book.Products[i].Classes {
			if c := x.Class(r.ID); c != nil && c.Carrier && c.Axis == mix.Water {
				l.problems.Add(r.At, fmt.Sprintf("a product in class %q, which is a water", r.ID), "name the class of the product itself")
			}
		}
	}
}

func (l *loader) checkProducts(x *mix.Index) {
	for i := range l.book.Products {
		p := &l.book.Products[i]
		if p.ID != "" && x.Product(p.ID) == p && len(x.Classes(p.ID)) == 0 && !l.unread["classes"] {
			l.problems.Add(p.At, fmt.Sprintf("product %q belongs to no class", p.ID), "add classes: nothing can be said of it otherwise")
		}
	}
}

// checkSteps refuses a formulation code or a class that goes in at two places.
func (l *loader) checkSteps() {
	forms, classes := map[mix.Form]mix.ID{}, map[mix.ID]mix.ID{}
	for _, s := range l.book.Order {
		for _, f := range s.Forms {
			if first, again := forms[f]; again {
				l.problems.Add(s.At, fmt.Sprintf("formulation code %s goes in at two steps", f), "remove it from one", "also at "+string(first))
			}
			forms[f] = s.ID
		}
		for _, c := range s.Classes {
			if first, again := classes[c.ID]; again {
				l.problems.Add(c.At, fmt.Sprintf("class %q goes in at two steps", c.ID), "remove it from one", "also at "+string(first))
			}
			classes[c.ID] = s.ID
		}
	}
}

// checkCautions wants one general block, and one for each hazard that the data
// speaks of: a page with that hazard could not be published without.
func (l *loader) checkCautions() {
	have := map[mix.Hazard]diag.Pos{}
	for _, c := range l.book.Cautions {
		if first, again := have[c.Hazard]; again {
			l.problems.Add(c.At, "a second caution for one hazard", "join the two", "first at "+first.String())
			continue
		}
		have[c.Hazard] = c.At
	}
	if l.unread["cautions"] {
		return
	}
	if _, ok := have[mix.NoHazard]; !ok {
		l.problems.Add(diag.Pos{File: dir + "/cautions.yaml"}, "no general caution, which closes every page", "add a caution with hazard: general")
	}
	wants := map[mix.Hazard]diag.Pos{}
	want := func(at diag.Pos, hazards ...mix.Hazard) {
		for _, h := range hazards {
			if first, seen := wants[h]; h != mix.NoHazard && (!seen || at.Compare(first) < 0) {
				wants[h] = at
			}
		}
	}
	for _, c := range l.book.Classes {
		want(c.At, c.Hazards...)
	}
	for _, i := range l.book.Interactions {
		want(i.At, i.Hazards...)
	}
	for _, c := range l.book.Criteria {
		want(c.At, c.Hazard)
	}
	for h, at := range wants {
		if _, ok := have[h]; !ok {
			l.problems.Add(at, fmt.Sprintf("hazard %v has no caution", h), "add one to data/cautions.yaml with hazard: "+h.String())
		}
	}
}
