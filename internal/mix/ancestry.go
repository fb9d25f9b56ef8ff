package mix

import (
	"maps"
	"slices"
	"strings"
)

// Index finds the records of a [Book] by ID and answers which classes an item
// belongs to. It holds pointers into the book, which must not change afterwards.
//
// A product belongs to the classes it is written into, to the classes that list
// its formulation code in Forms, and to all their ancestors. References to
// records that are not in the book and cycles in kind_of, which a reader of
// data reports, are passed over here, so that an index of a faulty book is no
// worse than smaller. Of two records with one ID the first counts.
type Index struct {
	book           *Book
	groups         map[ID]*Group
	classes        map[ID]*Class
	products       map[ID]*Product
	crops          map[ID]*Crop
	purposes       map[ID]*Purpose
	interactions   map[ID]*Interaction
	notices        map[ID]*Notice
	observations   map[ID]*Observation
	investigations map[ID]*Investigation
	sources        map[ID]*Source
	places         map[ID]*Place
	waters         map[ID]*WaterSource
	tools          map[ID]*Tool
	steps          map[ID]*OrderStep
	recipes        map[ID]*Recipe
	trials         map[ID]*Trial

	ancestors  map[ID][]ID // of classes and products, with itself, sorted
	members    map[ID][]ID // class → products, sorted
	signatures [][]ID      // distinct class sets, each sorted, in lexical order
	signature  map[ID]int  // product → index in signatures
}

// NewIndex builds the index of b.
func NewIndex(b *Book) *Index {
	x := &Index{
		book:           b,
		groups:         byID(b.Groups, func(r *Group) ID { return r.ID }),
		classes:        byID(b.Classes, func(r *Class) ID { return r.ID }),
		products:       byID(b.Products, func(r *Product) ID { return r.ID }),
		crops:          byID(b.Crops, func(r *Crop) ID { return r.ID }),
		purposes:       byID(b.Purposes, func(r *Purpose) ID { return r.ID }),
		interactions:   byID(b.Interactions, func(r *Interaction) ID { return r.ID }),
		notices:        byID(b.Notices, func(r *Notice) ID { return r.ID }),
		observations:   byID(b.Observations, func(r *Observation) ID { return r.ID }),
		investigations: byID(b.Investigations, func(r *Investigation) ID { return r.ID }),
		sources:        byID(b.Sources, func(r *Source) ID { return r.ID }),
		places:         byID(b.Places, func(r *Place) ID { return r.ID }),
		waters:         byID(b.Waters, func(r *WaterSource) ID { return r.ID }),
		tools:          byID(b.Tools, func(r *Tool) ID { return r.ID }),
		steps:          byID(b.Order, func(r *OrderStep) ID { return r.ID }),
		recipes:        byID(b.Recipes, func(r *Recipe) ID { return r.ID }),
		trials:         byID(b.Trials, func(r *Trial) ID { return r.ID }),
		ancestors:      map[ID][]ID{},
		members:        map[ID][]ID{},
	}
	x.climb()
	x.sign()
	return x
}

func byID[T any](list []T, id func(*T) ID) map[ID]*T {
	m := make(map[ID]*T, len(list))
	for i := range list {
		if k := id(&list[i]); m[k] == nil {
			m[k] = &list[i]
		}
	}
	return m
}

// climb fills ancestors and members.
func (x *Index) climb() {
	for id, c := range x.classes {
		x.ancestors[id] = x.above(id, c.KindOf)
	}
	byForm := map[Form][]Ref{}
	for id, c := range x.classes {
		for _, f := range c.Forms {
			byForm[f] = append(byForm[f], Ref{ID: id})
		}
	}
	for id, p := range x.products {
		all := x.above(id, slices.Concat(p.Classes, byForm[p.Form]))
		x.ancestors[id] = all
		for _, c := range all {
			if c != id {
				x.members[c] = append(x.members[c], id)
			}
		}
	}
	for _, m := range x.members {
		slices.Sort(m)
	}
}

// above returns the item and everything above it, sorted.
func (x *Index) above(item ID, parents []Ref) []ID {
	seen := map[ID]bool{item: true}
	todo := slices.Clone(parents)
	for len(todo) > 0 {
		next := todo[len(todo)-1].ID
		todo = todo[:len(todo)-1]
		c := x.classes[next]
		if c == nil || seen[next] {
			continue
		}
		seen[next] = true
		todo = append(todo, c.KindOf...)
	}
	return slices.Sorted(maps.Keys(seen))
}

// sign numbers the distinct class sets of products in lexical order.
func (x *Index) sign() {
	key := func(set []ID) string {
		var b strings.Builder
		for _, id := range set {
			b.WriteString(string(id) + " ")
		}
		return b.String()
	}
	sets := map[string][]ID{}
	for id := range x.products {
		set := x.Classes(id)
		sets[key(set)] = set
	}
	number := map[string]int{}
	for i, k := range slices.Sorted(maps.Keys(sets)) {
		number[k] = i
		x.signatures = append(x.signatures, sets[k])
	}
	x.signature = make(map[ID]int, len(x.products))
	for id := range x.products {
		x.signature[id] = number[key(x.Classes(id))]
	}
}

// Book returns the book the index is of.
func (x *Index) Book() *Book { return x.book }

// Group returns the group of an ID, or nil.
func (x *Index) Group(id ID) *Group { return x.groups[id] }

// Class returns the class of an ID, or nil.
func (x *Index) Class(id ID) *Class { return x.classes[id] }

// Product returns the product of an ID, or nil.
func (x *Index) Product(id ID) *Product { return x.products[id] }

// Crop returns the crop of an ID, or nil.
func (x *Index) Crop(id ID) *Crop { return x.crops[id] }

// Purpose returns the purpose of an ID, or nil.
func (x *Index) Purpose(id ID) *Purpose { return x.purposes[id] }

// Interaction returns the interaction of an ID, or nil.
func (x *Index) Interaction(id ID) *Interaction { return x.interactions[id] }

// Notice returns the notice of an ID, or nil.
func (x *Index) Notice(id ID) *Notice { return x.notices[id] }

// Observation returns the observation of an ID, or nil.
func (x *Index) Observation(id ID) *Observation { return x.observations[id] }

// Investigation returns the investigation of an ID, or nil.
func (x *Index) Investigation(id ID) *Investigation { return x.investigations[id] }

// Source returns the source of an ID, or nil.
func (x *Index) Source(id ID) *Source { return x.sources[id] }

// Place returns the place of an ID, or nil.
func (x *Index) Place(id ID) *Place { return x.places[id] }

// Water returns the measured water of an ID, or nil.
func (x *Index) Water(id ID) *WaterSource { return x.waters[id] }

// Tool returns the tool of an ID, or nil.
func (x *Index) Tool(id ID) *Tool { return x.tools[id] }

// OrderStep returns the step in the order of addition of an ID, or nil.
func (x *Index) OrderStep(id ID) *OrderStep { return x.steps[id] }

// Recipe returns the recipe of an ID, or nil.
func (x *Index) Recipe(id ID) *Recipe { return x.recipes[id] }

// Trial returns the trial of an ID, or nil.
func (x *Index) Trial(id ID) *Trial { return x.trials[id] }

// Ancestors returns the classes above a class or product, and itself, sorted;
// nil for what is neither. Callers must not change the slice.
func (x *Index) Ancestors(id ID) []ID { return x.ancestors[id] }

// Classes returns a product's full class set, sorted: Ancestors without the
// product itself. Of a class it returns the class and all above it.
func (x *Index) Classes(id ID) []ID {
	all := x.ancestors[id]
	if x.products[id] == nil || x.classes[id] != nil {
		return all
	}
	set := make([]ID, 0, len(all))
	for _, a := range all {
		if a != id {
			set = append(set, a)
		}
	}
	return set
}

// IsA reports whether item, a class or a product, is class or lies below it.
// Every known item is itself.
func (x *Index) IsA(item, class ID) bool {
	_, found := slices.BinarySearch(x.ancestors[item], class)
	return found
}

// Members returns the products of a class and of the classes below it, sorted.
// Callers must not change the slice.
func (x *Index) Members(class ID) []ID { return x.members[class] }

// Signatures returns the distinct class sets of all products, each sorted, in
// lexical order. Products of one set behave alike until direct evidence says
// otherwise. Callers must not change the slices.
func (x *Index) Signatures() [][]ID { return x.signatures }

// Signature returns the index of a product's class set in [Index.Signatures],
// -1 when there is no such product.
func (x *Index) Signature(product ID) int {
	if n, ok := x.signature[product]; ok {
		return n
	}
	return -1
}
