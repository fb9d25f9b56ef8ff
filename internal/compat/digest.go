package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// Digest is what resolution works on, for a tool that combines it away from the
// book: each statement and notice as it was judged by itself, each set of jars with
// its outcomes, and what quiet jars do to statements on classes. All that takes the
// book's records is done; what is left depends on a mix and its situation.
type Digest struct {
	Needed  []mix.Symptom // without which no jar is clean
	Rules   []DigestRule  // interactions, then notices, each by ID
	Sets    []DigestSet   // by their products
	Opposed []Opposed     // by rule, then products
	// Hides is what a product of a class takes away from a quiet jar of more: what it
	// suppresses, and what some statement says it mends.
	Hides map[mix.ID][]mix.Symptom
}

// DigestRule is an interaction or a notice as resolution takes it. Its fields are
// what [Finding] says of it before any mix is known.
type DigestRule struct {
	Evidence Evidence
	ID       mix.ID
	Notice   bool
	Members  []mix.ID
	Verdict  mix.Verdict // once hazards are counted
	Stated   mix.Verdict // as its author wrote it
	Kind     mix.Kind
	Grade    mix.Grade
	Hazards  []mix.Hazard
	Care     []mix.Hazard // of gas, heat or fire that its steps deal with
	Firm     bool         // no mend softens it and no jar relaxes it
	Law      bool         // holds for all members of a class
	Demand   bool         // asks for steps and is no evidence
	InForce  bool
	Symptoms []mix.Symptom
	When     []mix.Gate // the place of a notice among them
	Mends    []mix.Mend
	Doubts   []Doubt // whatever the mix
}

// DigestSet is a set of jars with what follows from its outcomes.
type DigestSet struct {
	*JarSet
	Reacted, Clear []mix.Symptom
	Unjudged       bool          // something was seen that the criteria could not judge
	Worst          []mix.Verdict // of each symptom that reacted, in their order
	Hazards        []mix.Hazard  // of its reactions
	Grade          mix.Grade
	Doubts         []Doubt       // whatever the mix
	RanAt          []mix.Gate    // the range of each numeric factor that its jar tests recorded
	Orders         []DigestOrder // that stayed clean where others reacted
}

// DigestOrder is the jars of a set that went in in one order. They speak instead of
// the set for a mix of which that order is known.
type DigestOrder struct {
	Order []mix.ID
	Set   DigestSet
}

// Opposed is what quiet jars of some products do to a statement that reaches these
// very products through their classes (rule 3).
type Opposed struct {
	Rule     int      // index in [Digest.Rules]
	Products []mix.ID // that stand for its members, sorted
	Carriers []int    // members that the liquid of the tank stands for
	Relaxes  bool
	Lenient  int // jar tests that do not answer the statement under its own conditions
}

// Digest returns the digest of the judge's book.
func (j *Judge) Digest() Digest {
	d := Digest{Needed: j.needed.list(), Hides: map[mix.ID][]mix.Symptom{}}
	for class, s := range j.quiets {
		d.Hides[class] = s.list()
	}
	for _, r := range j.all {
		d.Rules = append(d.Rules, DigestRule{
			Evidence: r.evidence, ID: r.id, Notice: r.notice, Members: r.members, Verdict: r.verdict, Stated: r.stated,
			Kind: r.kind, Grade: r.grade, Hazards: r.hazards.list(), Care: r.care.list(), Firm: r.firm, Law: r.law,
			Demand: r.demand, InForce: r.inForce, Symptoms: r.symptoms.list(), When: r.when, Mends: r.mends, Doubts: r.doubts,
		})
	}
	sets := sorted(j.sets)
	for _, s := range sets {
		d.Sets = append(d.Sets, j.digestSet(s))
	}
	d.Opposed = j.opposed(sets)
	return d
}

func (j *Judge) digestSet(s *jarSet) DigestSet {
	out := DigestSet{JarSet: &s.JarSet, Reacted: s.reacted.list(), Clear: s.clear.list(), Unjudged: s.unjudged,
		Grade: s.grade(), Doubts: j.jarDoubts(s)}
	var hazards hazardSet
	for _, x := range out.Reacted {
		out.Worst = append(out.Worst, s.worst[x].Verdict)
		hazards = hazards.with(s.worst[x].Hazard)
	}
	out.Hazards = hazards.list()
	for _, o := range s.orders {
		out.Orders = append(out.Orders, DigestOrder{o.order, j.digestSet(o.set)})
	}
	for f := mix.Hardness; f.Numeric(); f++ {
		if low, high := j.ranAt(s, f); low.Known {
			out.RanAt = append(out.RanAt, rangeGate(f, low.N, high.N))
		}
	}
	return out
}

// opposed looks at every part of quiet jars that a rule can reach.
func (j *Judge) opposed(sets []*jarSet) []Opposed {
	type key struct {
		rule int
		part string
		mask uint64
	}
	seen := map[key]bool{}
	var list []Opposed
	for _, s := range sets {
		if !s.clean() {
			continue
		}
		for _, r := range j.reaching(s.Products) {
			for _, m := range j.reaches(r, s.Products) {
				k := key{r.place, setKey(m.part), m.mask}
				if seen[k] {
					continue
				}
				seen[k] = true
				if o := j.oppose(r, m); o.Relaxes || o.Lenient > 0 {
					list = append(list, o)
				}
			}
		}
	}
	slices.SortFunc(list, func(a, b Opposed) int {
		return cmp.Or(cmp.Compare(a.Rule, b.Rule), slices.Compare(a.Products, b.Products), slices.Compare(a.Carriers, b.Carriers))
	})
	return list
}

// reaching returns the rules that ask for caution and each of whose members a
// product or a carrier can stand for.
func (j *Judge) reaching(products []mix.ID) []*rule {
	var ids []mix.ID
	for _, c := range j.liquids {
		ids = append(ids, j.x.Ancestors(c.ID)...)
	}
	for _, p := range products {
		ids = append(ids, j.x.Ancestors(p)...)
	}
	slices.Sort(ids)
	hits := map[*rule]int{}
	for _, id := range slices.Compact(ids) {
		for _, r := range j.rules[id] {
			hits[r]++
		}
	}
	var list []*rule
	for r, n := range hits {
		if n == r.distinct && r.verdict >= mix.Steps && (!r.law || r.hazards != 0) {
			list = append(list, r)
		}
	}
	slices.SortFunc(list, func(a, b *rule) int { return a.place - b.place })
	return list
}

// reachedBy is products that stand for members of a rule; the others, bits of the
// mask, are left to the liquid of the tank.
type reachedBy struct {
	part []mix.ID
	mask uint64
}

// reaches returns every way in which some of the products, and the liquid of the
// tank, stand for the members of a rule.
func (j *Judge) reaches(r *rule, products []mix.ID) []reachedBy {
	var all []reachedBy
	used := make([]bool, len(products))
	var place func(n int, mask uint64)
	place = func(n int, mask uint64) {
		if n == len(r.members) {
			by := reachedBy{mask: mask}
			for i, p := range products {
				if used[i] {
					by.part = append(by.part, p)
				}
			}
			if len(by.part) > 0 {
				all = append(all, by)
			}
			return
		}
		if j.liquidFor(r.members[n]) != "" {
			place(n+1, mask|1<<n)
		}
		for i, p := range products {
			if !used[i] && j.x.IsA(p, r.members[n]) {
				used[i] = true
				place(n+1, mask)
				used[i] = false
			}
		}
	}
	place(0, 0)
	return all
}

// liquidFor returns a carrier that can stand for a member, "" when none can.
func (j *Judge) liquidFor(member mix.ID) mix.ID {
	for _, c := range j.liquids {
		if j.x.IsA(c.ID, member) {
			return c.ID
		}
	}
	return ""
}

// oppose weighs the quiet jars of a part against a rule, as resolution does.
func (j *Judge) oppose(r *rule, by reachedBy) Opposed {
	h := &holding{rule: r, symptoms: r.symptoms}
	out := Opposed{Rule: r.place, Products: by.part}
	for n, m := range r.members {
		if by.mask>>n&1 == 1 {
			out.Carriers = append(out.Carriers, n)
			h.Matches = append(h.Matches, Match{Item: j.liquidFor(m), Member: m})
		}
	}
	met, lenient := j.demanding(h, by.part, j.opposing(h.symptoms, by.part))
	q := &inquiry{j: j}
	out.Relaxes, out.Lenient = q.relaxes(h, by.part, met), lenient
	return out
}
