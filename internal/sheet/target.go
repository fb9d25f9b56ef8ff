package sheet

import (
	"fmt"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// Record is a kind of record that a sheet can speak of. Its name is the scheme
// of a link: [sulfur](class:sulfur).
type Record uint8

const (
	NoRecord Record = iota
	ToClass
	ToProduct
	ToSheet
	ToSource
	ToObservation
	ToRecipe
	ToInvestigation
	ToNotice
	ToPlace
	ToWater
	ToCrop
	ToFile // a file under content/; links name it by its path, not by a scheme
)

var recordNames = []string{"none", "class", "product", "sheet", "source", "observation", "recipe", "investigation",
	"notice", "place", "water", "crop", "file"}

func (r Record) String() string {
	if int(r) < len(recordNames) {
		return recordNames[r]
	}
	return fmt.Sprintf("Record(%d)", uint8(r))
}

// ParseRecord returns the kind named by the scheme of a link.
func ParseRecord(scheme string) (Record, bool) {
	for r := ToClass; r < ToFile; r++ {
		if recordNames[r] == scheme {
			return r, true
		}
	}
	return NoRecord, false
}

// plural names the records in a sentence, and the file they stand in under data/.
func (r Record) plural() string {
	switch r {
	case ToClass:
		return "classes"
	case ToProduct, ToSource, ToObservation, ToRecipe, ToInvestigation, ToNotice, ToPlace, ToWater, ToCrop,
		ToSheet, ToFile:
		return r.String() + "s"
	case NoRecord:
	}
	panic("sheet: no plural of " + r.String())
}

// Target is what a link or a block points at, inside the site.
type Target struct {
	At     diag.Pos
	To     Record
	ID     mix.ID // of the record; a sheet's slug
	Anchor string // id attribute of a heading in that sheet; "" is its top
	File   string // with ToFile: slash-separated path from the office folder
}

// names knows which records there are.
type names struct {
	ids map[Record]map[mix.ID]bool
	all map[Record][]string // in the order of the book, for "did you mean"
}

func newNames(b *mix.Book) *names {
	n := &names{ids: map[Record]map[mix.ID]bool{}, all: map[Record][]string{}}
	each(n, ToClass, b.Classes, func(r *mix.Class) mix.ID { return r.ID })
	each(n, ToProduct, b.Products, func(r *mix.Product) mix.ID { return r.ID })
	each(n, ToSource, b.Sources, func(r *mix.Source) mix.ID { return r.ID })
	each(n, ToObservation, b.Observations, func(r *mix.Observation) mix.ID { return r.ID })
	each(n, ToRecipe, b.Recipes, func(r *mix.Recipe) mix.ID { return r.ID })
	each(n, ToInvestigation, b.Investigations, func(r *mix.Investigation) mix.ID { return r.ID })
	each(n, ToNotice, b.Notices, func(r *mix.Notice) mix.ID { return r.ID })
	each(n, ToPlace, b.Places, func(r *mix.Place) mix.ID { return r.ID })
	each(n, ToWater, b.Waters, func(r *mix.WaterSource) mix.ID { return r.ID })
	each(n, ToCrop, b.Crops, func(r *mix.Crop) mix.ID { return r.ID })
	return n
}

func each[T any](n *names, to Record, rows []T, id func(*T) mix.ID) {
	for i := range rows {
		n.add(to, id(&rows[i]))
	}
}

func (n *names) add(to Record, id mix.ID) {
	if n.ids[to] == nil {
		n.ids[to] = map[mix.ID]bool{}
	}
	if !n.ids[to][id] {
		n.ids[to][id] = true
		n.all[to] = append(n.all[to], string(id))
	}
}

// has reports whether there is such a record.
func (n *names) has(to Record, id mix.ID) bool { return n.ids[to][id] }

// check reports a record that does not exist, with the nearest name. The kinds
// are tried in turn: an item of a mix is a class or a product.
func (n *names) check(at diag.Pos, id mix.ID, problems *diag.List, kinds ...Record) (Record, bool) {
	var near []string
	for _, to := range kinds {
		if n.has(to, id) {
			return to, true
		}
		near = append(near, n.all[to]...)
	}
	problems.Add(at, fmt.Sprintf("unknown %s %q", either(kinds), id), didYouMean(diag.Nearest(string(id), near), kinds[0]))
	return NoRecord, false
}

func either(kinds []Record) string {
	s := kinds[0].String()
	for _, k := range kinds[1:] {
		s += " or " + k.String()
	}
	return s
}

func didYouMean(near string, to Record) string {
	where := "data/" + to.plural() // a file of that name, or a folder
	if to == ToSheet {
		where = "content"
	}
	if near == "" {
		return fmt.Sprintf("known %s are in %s", to.plural(), where)
	}
	return fmt.Sprintf("did you mean %q? (known %s are in %s)", near, to.plural(), where)
}
