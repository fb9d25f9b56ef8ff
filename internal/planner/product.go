package planner

import (
	"slices"
	"strconv"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// products fills in what the core says of each product.
func (p *packer) products() {
	c := &p.Core
	c.Also = map[string][]string{}
	for n, one := range p.list {
		id := string(one.ID)
		if id == slug(one.Name) {
			id = ""
		}
		c.IDs, c.Names = append(c.IDs, id), append(c.Names, one.Name)
		c.Of = append(c.Of, p.x.Signature(one.ID))
		c.Holds = append(c.Holds, p.holds(one))
		if len(one.Also) > 0 {
			c.Also[strconv.Itoa(n)] = one.Also
		}
	}
}

func (p *packer) holds(one *mix.Product) []int {
	list := []int{}
	for _, a := range one.Actives {
		n, ok := p.active[a.Name]
		if !ok {
			n = len(p.Core.Actives)
			p.active[a.Name] = n
			p.Core.Actives = append(p.Core.Actives, a.Name)
		}
		list = append(list, n)
	}
	return list
}

// slug is the ID that most products have: the name in lower case, each run of other
// characters a hyphen. The client does the same.
func slug(name string) string {
	words := strings.FieldsFunc(strings.Map(asciiLower, name), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	return strings.Join(words, "-")
}

func asciiLower(r rune) rune {
	if r >= 'A' && r <= 'Z' {
		return r + 'a' - 'A'
	}
	return r
}

// shards fills in the shards: labels, then jars and what they oppose.
func (p *packer) shards() {
	for first := 0; first < len(p.list); first += p.Core.PerShard {
		s := Shard{First: first, Sets: []Set{}, Opposed: []Opposed{}}
		for _, one := range p.list[first:min(first+p.Core.PerShard, len(p.list))] {
			s.Products = append(s.Products, label(one))
		}
		p.Shards = append(p.Shards, s)
	}
	for n := range p.digest.Sets {
		set := p.set(n, &p.digest.Sets[n])
		for _, k := range p.shardsOf(set.Products) {
			p.Shards[k].Sets = append(p.Shards[k].Sets, set)
		}
	}
	for _, o := range p.digest.Opposed {
		one := p.oppose(&o)
		for _, k := range p.shardsOf(one.Products) {
			p.Shards[k].Opposed = append(p.Shards[k].Opposed, one)
		}
	}
}

func (p *packer) oppose(o *compat.Opposed) Opposed {
	return Opposed{Rule: o.Rule, Products: p.places(o.Products), Carriers: o.Carriers, Relaxes: o.Relaxes, Lenient: o.Lenient}
}

// shardsOf returns the shards of some products, each once.
func (p *packer) shardsOf(places []int) []int {
	var list []int
	for _, n := range places {
		if n >= 0 && !slices.Contains(list, n/p.Core.PerShard) {
			list = append(list, n/p.Core.PerShard)
		}
	}
	return list
}

func (p *packer) set(n int, s *compat.DigestSet) Set {
	out := Set{N: n, Products: p.places(s.Products), Reacted: names(s.Reacted), Clear: names(s.Clear), Unjudged: s.Unjudged,
		Worst: names(s.Worst), Hazards: names(s.Hazards), Grade: s.Grade.String(), Doubts: doubts(s.Doubts)}
	for _, o := range s.Jars {
		out.Jars = append(out.Jars, string(o.ID))
	}
	for _, c := range s.Counts {
		if c.Reacted > 0 || c.Reports > 0 {
			out.Counts = append(out.Counts, count(c))
		}
	}
	for _, g := range s.RanAt {
		out.RanAt = append(out.RanAt, gate(g))
	}
	for _, o := range s.Orders {
		out.Orders = append(out.Orders, Ordered{p.places(o.Order), p.set(n, &o.Set)})
	}
	return out
}

func label(one *mix.Product) Product {
	out := Product{Form: string(one.Form), Dry: one.Dry, Bag: one.Bag, Position: one.Position, Rate: rates(one.Rate)}
	if !one.Density.IsZero() {
		out.Density = one.Density.String()
	}
	for i, v := range one.SprayVolume {
		if !v.IsZero() {
			out.Spray[i] = v.String()
		}
	}
	for _, u := range one.Uses {
		out.Uses = append(out.Uses, Use{Crop: string(u.Crop.ID), Timing: string(u.Timing.ID), Purpose: string(u.Purpose.ID), Rate: rates(u.Rate)})
	}
	return out
}

func rates(r mix.RateRange) [2]string {
	var out [2]string
	for i, one := range []unit.Rate{r.Low, r.High} {
		if !one.IsZero() {
			out[i] = one.String()
		}
	}
	return out
}

// uses fills in who serves which purpose.
func (p *packer) uses() {
	u := &p.Uses
	purpose, crop := map[mix.ID]int{}, map[mix.ID]int{}
	number := func(m map[mix.ID]int, list *[]string, id mix.ID) int {
		if id == "" {
			return -1
		}
		n, ok := m[id]
		if !ok {
			n = len(*list)
			m[id] = n
			*list = append(*list, string(id))
		}
		return n
	}
	u.Crops, u.Purposes, u.Of = []string{}, []string{}, [][]int{}
	for _, one := range p.list {
		list := []int{}
		for _, use := range one.Uses {
			if use.Purpose.ID != "" {
				list = append(list, number(purpose, &u.Purposes, use.Purpose.ID), number(crop, &u.Crops, use.Crop.ID))
			}
		}
		u.Of = append(u.Of, list)
	}
	p.alone()
}

// alone fills in what is known of products by themselves. Of two products everything is
// in the shards of both, so a mix of which all but one are loaded lacks nothing else.
func (p *packer) alone() {
	p.Uses.Sets, p.Uses.Opposed = []Set{}, []Opposed{}
	for n := range p.digest.Sets {
		if s := &p.digest.Sets[n]; len(s.Products) == 1 && slices.Contains(s.Worst, mix.Never) {
			p.Uses.Sets = append(p.Uses.Sets, p.set(n, s))
		}
	}
	for _, o := range p.digest.Opposed {
		if len(o.Products) == 1 {
			p.Uses.Opposed = append(p.Uses.Opposed, p.oppose(&o))
		}
	}
}
