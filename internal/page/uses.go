package page

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// uses tells where records are spoken of: the way back from an item to what
// names it. Lists are in a fixed order.
type uses struct {
	observations map[mix.ID][]*mix.Observation // product → newest first
	inquiry      map[mix.ID][]*mix.Observation // investigation → oldest first
	recipes      map[mix.ID][]*mix.Recipe      // product
	notices      map[mix.ID][]*mix.Notice      // class or product, as written
	interactions map[mix.ID][]*mix.Interaction // class or product, as written
	children     map[mix.ID][]mix.ID           // class → classes directly below
	products     map[mix.ID][]mix.ID           // class → products written into it
	sheets       map[mix.ID][]mix.ID           // class → slugs
	cited        map[mix.ID][]*mix.Interaction // source
	byPurpose    map[mix.ID][]mix.ID           // purpose → products
	byTiming     map[timing][]mix.ID           // stage of a crop → products
	byCrop       map[mix.ID][]mix.ID           // crop → products
}

func findUses(in *Inputs) *uses {
	b := in.Index.Book()
	u := &uses{
		observations: map[mix.ID][]*mix.Observation{}, inquiry: map[mix.ID][]*mix.Observation{},
		recipes: map[mix.ID][]*mix.Recipe{}, notices: map[mix.ID][]*mix.Notice{},
		interactions: map[mix.ID][]*mix.Interaction{}, children: map[mix.ID][]mix.ID{},
		products: map[mix.ID][]mix.ID{}, sheets: map[mix.ID][]mix.ID{}, cited: map[mix.ID][]*mix.Interaction{},
		byPurpose: map[mix.ID][]mix.ID{}, byTiming: map[timing][]mix.ID{}, byCrop: map[mix.ID][]mix.ID{},
	}
	u.addObservations(b)
	for i := range b.Recipes {
		for _, p := range b.Recipes[i].Products {
			push(u.recipes, p.ID, &b.Recipes[i])
		}
	}
	for i := range b.Notices {
		for _, m := range b.Notices[i].Members {
			push(u.notices, m.ID, &b.Notices[i])
		}
	}
	for i := range b.Interactions {
		in := &b.Interactions[i]
		for _, m := range in.Members {
			push(u.interactions, m.ID, in)
		}
		for _, s := range in.Sources {
			push(u.cited, s.ID, in)
		}
	}
	u.addItems(b)
	for _, s := range in.Sheets {
		for _, c := range s.Classes {
			push(u.sheets, c.ID, s.Slug)
		}
	}
	return u
}

func (u *uses) addObservations(b *mix.Book) {
	for i := range b.Observations {
		o := &b.Observations[i]
		for _, p := range o.Products {
			push(u.observations, p.ID, o)
		}
		if o.Investigation.ID != "" {
			push(u.inquiry, o.Investigation.ID, o)
		}
	}
	for _, list := range u.observations {
		slices.SortFunc(list, newestFirst)
	}
	for _, list := range u.inquiry {
		slices.SortFunc(list, func(a, b *mix.Observation) int { return newestFirst(b, a) })
	}
}

func (u *uses) addItems(b *mix.Book) {
	for i := range b.Classes {
		for _, parent := range b.Classes[i].KindOf {
			push(u.children, parent.ID, b.Classes[i].ID)
		}
	}
	for i := range b.Products {
		p := &b.Products[i]
		for _, c := range p.Classes {
			push(u.products, c.ID, p.ID)
		}
		for _, use := range p.Uses {
			push(u.byPurpose, use.Purpose.ID, p.ID)
			push(u.byCrop, use.Crop.ID, p.ID)
			push(u.byTiming, timing{use.Crop.ID, use.Timing.ID}, p.ID)
		}
	}
}

// push appends a value to a list, unless it stands there last.
func push[K, V comparable](m map[K][]V, key K, v V) {
	if list := m[key]; len(list) == 0 || list[len(list)-1] != v {
		m[key] = append(list, v)
	}
}

func newestFirst(a, b *mix.Observation) int {
	return cmp.Or(b.Date.Compare(a.Date), cmp.Compare(b.ID, a.ID))
}
