package planner

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Pack is the data of one publication, in no language.
type Pack struct {
	Core   Core
	Shards []Shard
	Uses   Uses

	Rules    []compat.DigestRule // of Core.Rules
	GateList []mix.Gate          // of Core.Gates
}

const (
	// smallOffice is how many products fit in one shard: below it a second file
	// would cost more than it saves.
	smallOffice = 400
	perShard    = 64
	// perSays rules of a few hundred bytes make a file of about ten kilobytes.
	perSays = 48
)

// New packs a judge's book.
func New(j *compat.Judge) *Pack {
	p := newPacker(j)
	p.readKeys()
	p.core()
	p.products()
	p.shards()
	p.uses()
	p.Rules = p.digest.Rules
	return &p.Pack
}

// Script writes a part of the data as a script. Parts of one edition carry its mark,
// and the client takes no others: a page never mixes two publications.
func Script(name, edition string, value any) ([]byte, error) {
	data, err := json.Marshal(value)
	if err != nil {
		return nil, fmt.Errorf("planner data %s: %w", name, err)
	}
	return fmt.Appendf(nil, "tankleafData(%q,%q,%s);\n", name, edition, data), nil
}

// Edition is the mark of this publication's data: equal data have equal marks.
func (p *Pack) Edition() (string, error) {
	data, err := json.Marshal([]any{p.Core, p.Shards, p.Uses})
	if err != nil {
		return "", fmt.Errorf("planner data: %w", err)
	}
	return fmt.Sprintf("%.8x", sha256.Sum256(data)), nil
}

// File writes a part that is in no language: "core", "uses" or "products-N".
func (p *Pack) File(name, edition string) ([]byte, error) {
	switch n, ok := strings.CutPrefix(name, "products-"); {
	case name == "core":
		return Script(name, edition, p.Core)
	case name == "uses":
		return Script(name, edition, p.Uses)
	case ok:
		i, err := strconv.Atoi(n)
		if err == nil && i >= 0 && i < len(p.Shards) {
			return Script(name, edition, p.Shards[i])
		}
	}
	return nil, fmt.Errorf("planner data: no part %q", name)
}

// ShardCount returns how many files the labels of so many products make.
func ShardCount(products int) int { return (products + shardSize(products) - 1) / shardSize(products) }

func shardSize(products int) int {
	if products <= smallOffice {
		return smallOffice
	}
	return perShard
}

// SaysCount returns how many files so many rules make.
func SaysCount(rules int) int { return (rules + perSays - 1) / perSays }

type packer struct {
	Pack
	x      *mix.Index
	digest compat.Digest
	key    map[mix.ID]int // places in Core.Keys
	place  map[mix.ID]int // places of products
	list   []*mix.Product // by ID
	gates  map[string]int // places in Core.Gates, by what they say
	active map[string]int
}

func newPacker(j *compat.Judge) *packer {
	p := &packer{x: j.Index(), digest: j.Digest(), key: map[mix.ID]int{}, place: map[mix.ID]int{}, gates: map[string]int{},
		active: map[string]int{}}
	book := p.x.Book()
	for i := range book.Products {
		if one := &book.Products[i]; p.x.Product(one.ID) == one {
			p.list = append(p.list, one)
		}
	}
	slices.SortFunc(p.list, func(a, b *mix.Product) int { return strings.Compare(string(a.ID), string(b.ID)) })
	for n, one := range p.list {
		p.place[one.ID] = n
	}
	p.Core = Core{Schema: Schema, Published: book.Site.Published.String(), PerShard: shardSize(len(p.list)), PerSays: perSays}
	return p
}

// readKeys numbers all that is named by key: classes of products and carriers, and
// what rules, mends and orders name.
func (p *packer) readKeys() {
	seen := map[mix.ID]bool{}
	add := func(ids ...mix.ID) {
		for _, id := range ids {
			seen[id] = true
		}
	}
	for _, set := range p.x.Signatures() {
		add(set...)
	}
	for _, c := range p.x.Book().Classes {
		if c.Carrier {
			add(p.x.Ancestors(c.ID)...)
		}
	}
	for i := range p.digest.Rules {
		r := &p.digest.Rules[i]
		add(r.Members...)
		for _, m := range r.Mends {
			add(m.Class.ID)
		}
		for _, g := range r.When {
			if g.Factor == mix.OrderFactor {
				add(g.First.ID, g.Then.ID)
			}
		}
	}
	for id := range seen {
		p.Core.Keys = append(p.Core.Keys, string(id))
	}
	slices.Sort(p.Core.Keys)
	for n, id := range p.Core.Keys {
		p.key[mix.ID(id)] = n
	}
}

func (p *packer) keys(ids []mix.ID) []int {
	list := make([]int, len(ids))
	for i, id := range ids {
		list[i] = p.key[id]
	}
	return list
}

func (p *packer) places(ids []mix.ID) []int {
	list := []int{}
	for _, id := range ids {
		if n, ok := p.place[id]; ok {
			list = append(list, n)
		} else {
			list = append(list, -1) // in a record, and no longer in the book
		}
	}
	return list
}

func names[T interface{ String() string }](list []T) []string {
	var out []string
	for _, v := range list {
		out = append(out, v.String())
	}
	return out
}

// core fills in what does not depend on single products.
func (p *packer) core() {
	book := p.x.Book()
	c := &p.Core
	c.Needed = append([]string{}, names(p.digest.Needed)...)
	for _, set := range p.x.Signatures() {
		c.Signatures = append(c.Signatures, p.signature(set))
	}
	c.Carriers = p.carriers()
	c.Places = []Place{}
	for i := range book.Places {
		if one := &book.Places[i]; p.x.Place(one.ID) == one {
			c.Places = append(c.Places, Place{string(one.ID), string(one.PartOf.ID)})
		}
	}
	c.Rules = []Rule{}
	for i := range p.digest.Rules {
		c.Rules = append(c.Rules, p.rule(&p.digest.Rules[i]))
	}
	c.Steps = []Step{}
	for _, s := range book.Order {
		c.Steps = append(c.Steps, step(s))
	}
	c.FirstWater = book.Site.FirstWater.Mul(unit.Int(100)).Short(unit.MaxDecimals) + " %"
	c.Least = Least{Liquid: least(book.Tools, false), Dry: least(book.Tools, true)}
	c.Jar = "1 qt"
	if len(book.Site.Jars) > 0 {
		c.Jar = book.Site.Jars[0].String()
	}
	if c.Gates == nil {
		c.Gates = []Gate{}
	}
}

func (p *packer) signature(set []mix.ID) Signature {
	s := Signature{Keys: p.keys(set)}
	var handling, hides []string
	for _, id := range set {
		if c := p.x.Class(id); c != nil {
			handling = append(handling, names(c.Hazards)...)
			hides = append(hides, names(p.digest.Hides[id])...)
		}
	}
	slices.Sort(handling)
	slices.Sort(hides)
	s.Handling, s.Hides = slices.Compact(handling), slices.Compact(hides)
	return s
}

// carriers lists the carriers by ID.
func (p *packer) carriers() []Carrier {
	list := []Carrier{}
	book := p.x.Book()
	for i := range book.Classes {
		c := &book.Classes[i]
		if c.Carrier && p.x.Class(c.ID) == c {
			list = append(list, Carrier{Key: p.key[c.ID], Above: p.keys(p.x.Ancestors(c.ID)), When: p.gateList(c.When)})
		}
	}
	slices.SortFunc(list, func(a, b Carrier) int { return a.Key - b.Key })
	return list
}

func (p *packer) rule(r *compat.DigestRule) Rule {
	out := Rule{
		ID: string(r.ID), Notice: r.Notice, Members: p.keys(r.Members), Verdict: r.Verdict.String(), Kind: r.Kind.String(),
		Grade: r.Grade.String(), Hazards: names(r.Hazards), Care: names(r.Care), Symptoms: names(r.Symptoms), Firm: r.Firm,
		Law: r.Law, Demand: r.Demand, Lapsed: !r.InForce, When: p.gateList(r.When), Doubts: doubts(r.Doubts),
	}
	if r.Stated != r.Verdict {
		out.Stated = r.Stated.String()
	}
	for _, m := range r.Mends {
		out.Mends = append(out.Mends, Mend{p.key[m.Class.ID], m.To.String()})
	}
	return out
}

func doubts(list []compat.Doubt) []Doubt {
	var out []Doubt
	for _, d := range list {
		one := Doubt{Code: string(d.Code), Symptoms: names(d.Symptoms), N: d.Number}
		if d.Count != nil {
			c := count(*d.Count)
			one.Count = &c
		}
		out = append(out, one)
	}
	return out
}

func count(c compat.Count) Count {
	return Count{Symptom: c.Symptom.String(), Reacted: c.Reacted, Recorded: c.Recorded, Reports: c.Reports,
		Independent: c.Independent, Upper: c.Upper}
}

// gateList numbers gates; equal ones share a number.
func (p *packer) gateList(list []mix.Gate) []int {
	var out []int
	for _, g := range list {
		said := gateKey(g)
		n, ok := p.gates[said]
		if !ok {
			n = len(p.Core.Gates)
			p.gates[said] = n
			p.Core.Gates = append(p.Core.Gates, gate(g))
			p.GateList = append(p.GateList, g)
		}
		out = append(out, n)
	}
	return out
}

// gateKey tells gates apart, also by how their author wrote them.
func gateKey(g mix.Gate) string {
	w := gate(g)
	return strings.Join([]string{w.Factor, w.Low, strconv.FormatBool(w.LowOpen), w.High, strconv.FormatBool(w.HighOpen), w.Ref,
		w.First, w.Then, g.Written}, "|")
}

func gate(g mix.Gate) Gate {
	w := Gate{Factor: g.Factor.String(), Ref: string(g.Ref.ID), First: string(g.First.ID), Then: string(g.Then.ID)}
	if g.Low.Set {
		w.Low, w.LowOpen = exact(g.Low.Value), g.Low.Open
	}
	if g.High.Set {
		w.High, w.HighOpen = exact(g.High.Value), g.High.Open
	}
	return w
}

// exact writes a number as a whole one or a fraction: "45/8".
func exact(n unit.Number) string { return n.Rat().RatString() }

func step(s mix.OrderStep) Step {
	out := Step{ID: string(s.ID), Bags: s.Bags}
	for _, f := range s.Forms {
		out.Forms = append(out.Forms, string(f))
	}
	for _, c := range s.Classes {
		out.Classes = append(out.Classes, string(c.ID))
	}
	if !s.Wait.IsZero() {
		out.Wait = s.Wait.String()
	}
	return out
}

// least returns the smallest low end of the tools for dry or for liquid products, in
// g or mL.
func least(tools []mix.Tool, dry bool) string {
	var low unit.Number
	for _, t := range tools {
		if (t.Kind == mix.Scale) == dry && (low.Sign() == 0 || t.Low.Base().Cmp(low) < 0) {
			low = t.Low.Base()
		}
	}
	if low.Sign() == 0 {
		return ""
	}
	return low.Short(unit.MaxDecimals)
}
