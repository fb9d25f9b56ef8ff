package compat

import (
	"cmp"
	"slices"
	"sync"

	"tankleaf.example/internal/mix"
)

// Judge answers what is known about mixes. It is built once from a book, which
// must not change afterwards, and may be asked from several goroutines.
type Judge struct {
	x          *mix.Index
	criteria   criteria
	needed     symptomSet              // without which no jar is clean
	byForm     map[mix.Form][]mix.ID   // classes that list a formulation code
	named      map[mix.ID][]mix.ID     // items below a class that some rule names
	liquids    []*mix.Class            // all carriers, by ID
	waters     []*mix.Class            // carriers known by what is dissolved in them, by ID
	hides      []*mix.Class            // classes that suppress a symptom
	quiets     map[mix.ID]symptomSet   // by class: what it suppresses, or mends by some statement
	mends      []mix.ID                // classes that a statement names as its mend, sorted
	rules      map[mix.ID][]*rule      // by member
	all        []*rule                 // by ID
	outcomes   map[mix.ID]*Outcome     // by observation
	sets       map[string]*jarSet      // by products
	setsWith   map[mix.ID][]*jarSet    // by product, in order
	twos       map[mix.ID][]*jarSet    // by class or product: reacting sets of two products, one of them its member
	productIDs []mix.ID                // sorted
	purpose    map[purposeKey][]mix.ID // products by what they are for
	nothing    *setting                // a situation of which nothing is known
	mending    sync.Map                // mends in a record, by mendKey
	mu         sync.Mutex              // guards what follows
	pairs      map[pairKey]*Answer     // answers between signatures and classes
}

// New returns the judge of a book.
func New(x *mix.Index) *Judge {
	j := &Judge{
		x:        x,
		criteria: newCriteria(x.Book()),
		byForm:   map[mix.Form][]mix.ID{},
		named:    map[mix.ID][]mix.ID{},
		rules:    map[mix.ID][]*rule{},
		outcomes: map[mix.ID]*Outcome{},
		setsWith: map[mix.ID][]*jarSet{},
		twos:     map[mix.ID][]*jarSet{},
		purpose:  map[purposeKey][]mix.ID{},
		pairs:    map[pairKey]*Answer{},
		quiets:   map[mix.ID]symptomSet{},
	}
	j.needed = symptomsOf(j.criteria.needed())
	j.readClasses()
	j.readRules()
	j.readJars()
	j.readPurposes()
	j.nothing = j.setting(mix.Situation{})
	return j
}

// Index returns the index the judge works on.
func (j *Judge) Index() *mix.Index { return j.x }

// Outcome returns what an observation of the book says, nil when there is none
// of that ID.
func (j *Judge) Outcome(id mix.ID) *Outcome { return j.outcomes[id] }

func (j *Judge) readClasses() {
	book := j.x.Book()
	for i := range book.Classes {
		c := &book.Classes[i]
		if j.x.Class(c.ID) != c {
			continue // a repeated ID; the first counts
		}
		for _, f := range c.Forms {
			j.byForm[f] = append(j.byForm[f], c.ID)
		}
		if c.Carrier {
			j.liquids = append(j.liquids, c)
		}
		if c.Carrier && len(c.When) > 0 {
			j.waters = append(j.waters, c)
		}
		if len(c.Suppresses) > 0 {
			j.hides = append(j.hides, c)
		}
	}
	byClass := func(a, b *mix.Class) int { return cmp.Compare(a.ID, b.ID) }
	slices.SortFunc(j.liquids, byClass)
	slices.SortFunc(j.waters, byClass)
	slices.SortFunc(j.hides, byClass)
}

// mended is what a mend takes away: the symptoms of its statement, and all of one
// that speaks of the mix as a whole.
func mended(symptoms symptomSet) symptomSet {
	if symptoms == 0 {
		return symptomsOf(mix.Symptoms())
	}
	return symptoms
}

func (j *Judge) readRules() {
	book := j.x.Book()
	for i := range book.Interactions {
		if n := &book.Interactions[i]; j.x.Interaction(n.ID) == n {
			j.enter(j.interactionRule(n))
		}
	}
	for i := range book.Notices {
		if n := &book.Notices[i]; j.x.Notice(n.ID) == n {
			j.enter(j.noticeRule(n))
		}
	}
	slices.SortFunc(j.all, compareRules)
	for _, c := range j.hides {
		j.quiets[c.ID] = symptomsOf(c.Suppresses)
	}
	for _, r := range j.all {
		for _, m := range r.mends {
			j.mends = append(j.mends, m.Class.ID)
			j.quiets[m.Class.ID] |= mended(r.symptoms)
		}
	}
	slices.Sort(j.mends)
	j.mends = slices.Compact(j.mends)
	for n, r := range j.all {
		members := slices.Clone(r.members)
		slices.Sort(members)
		members = slices.Compact(members)
		r.place, r.distinct = n, len(members)
		for _, m := range members {
			j.rules[m] = append(j.rules[m], r)
		}
	}
	for m := range j.rules {
		for _, a := range j.x.Ancestors(m) {
			if a != m {
				j.named[a] = append(j.named[a], m)
			}
		}
	}
}

func (j *Judge) enter(r *rule) {
	if len(r.members) == 0 {
		return
	}
	for _, m := range r.members {
		if j.x.Product(m) != nil {
			r.product = true
		}
	}
	j.all = append(j.all, r)
}

// compareRules puts interactions before notices, each by ID.
func compareRules(a, b *rule) int {
	if a.notice != b.notice {
		if b.notice {
			return -1
		}
		return 1
	}
	return cmp.Compare(a.id, b.id)
}

func (j *Judge) readJars() {
	var list []*Outcome
	book := j.x.Book()
	for i := range book.Observations {
		o := &book.Observations[i]
		if j.x.Observation(o.ID) != o {
			continue
		}
		out := j.criteria.outcome(o)
		j.outcomes[o.ID] = out
		list = append(list, out)
	}
	known := intervals{}
	j.sets = gather(list, known)
	for n, s := range sorted(j.sets) {
		s.place = n // once: a judge is asked from many sides at the same time
		s.orders = j.ordered(s, known)
		for _, p := range s.Products {
			j.setsWith[p] = append(j.setsWith[p], s)
		}
		if len(s.Products) == 2 && s.reacted != 0 {
			j.lift(s)
		}
	}
}

// lift enters a reacting pair of products under all their classes, where it is a
// counterexample to any statement that such things mix cleanly.
func (j *Judge) lift(s *jarSet) {
	over := slices.Concat(j.x.Ancestors(s.Products[0]), j.x.Ancestors(s.Products[1]))
	slices.Sort(over)
	for _, c := range slices.Compact(over) {
		j.twos[c] = append(j.twos[c], s)
	}
}

// Mix answers what is known about a mix of products or classes, in a situation
// of which the zero value says that nothing is known. Items may come in any
// order and repeated. An item that is in no book is one about which nothing is
// known. One item alone is answered with what is said about it by itself. It
// panics on more than [MaxItems].
func (j *Judge) Mix(items []mix.ID, s mix.Situation) Answer {
	list := slices.Clone(items)
	slices.Sort(list)
	list = slices.Compact(list)
	return j.judge(list, j.setting(s))
}

// Solo answers what is said about one item by itself: notices, hazards of
// handling it, and jars that held nothing else.
func (j *Judge) Solo(item mix.ID) *Answer {
	a := j.Mix([]mix.ID{item}, mix.Situation{})
	return &a
}
