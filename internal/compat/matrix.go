package compat

import (
	"cmp"
	"iter"
	"maps"
	"slices"

	"tankleaf.example/internal/mix"
)

// Matrix is classes against classes, listed under their groups.
type Matrix struct {
	Groups []MatrixGroup
	judge  *Judge
}

// MatrixGroup is a heading of a matrix with its classes, in the order of the
// book.
type MatrixGroup struct {
	Group   *mix.Group // nil for classes without one, which come last
	Classes []*mix.Class
}

// ClassMatrix returns the matrix of the classes that are marked for print.
func (j *Judge) ClassMatrix() *Matrix {
	return j.matrix(func(c *mix.Class) bool { return c.Matrix })
}

// FullMatrix returns the matrix of all classes.
func (j *Judge) FullMatrix() *Matrix {
	return j.matrix(func(*mix.Class) bool { return true })
}

// MatrixOf returns the matrix of the classes named, in the order of the book.
func (j *Judge) MatrixOf(classes ...mix.ID) *Matrix {
	return j.matrix(func(c *mix.Class) bool { return slices.Contains(classes, c.ID) })
}

func (j *Judge) matrix(show func(*mix.Class) bool) *Matrix {
	m := &Matrix{judge: j}
	at := map[mix.ID]int{}
	book := j.x.Book()
	for i := range book.Groups {
		at[book.Groups[i].ID] = len(m.Groups)
		m.Groups = append(m.Groups, MatrixGroup{Group: &book.Groups[i]})
	}
	m.Groups = append(m.Groups, MatrixGroup{})
	for i := range book.Classes {
		c := &book.Classes[i]
		if j.x.Class(c.ID) != c || !show(c) {
			continue
		}
		n, ok := at[c.Group.ID]
		if !ok {
			n = len(m.Groups) - 1
		}
		m.Groups[n].Classes = append(m.Groups[n].Classes, c)
	}
	m.Groups = slices.DeleteFunc(m.Groups, func(g MatrixGroup) bool { return len(g.Classes) == 0 })
	return m
}

// Classes returns all classes of the matrix, group by group.
func (m *Matrix) Classes() []*mix.Class {
	var all []*mix.Class
	for _, g := range m.Groups {
		all = append(all, g.Classes...)
	}
	return all
}

// Cell returns the answer for two classes, which callers must not change. On the
// diagonal it is for two different members of the class.
func (m *Matrix) Cell(a, b mix.ID) *Answer { return m.judge.Pair(a, b) }

// Partner is an item with what is known about it beside another.
type Partner struct {
	Item   mix.ID
	Answer *Answer
}

// Partners returns the partners of a product or class about which anything is
// said: the worst verdicts first and, last of all, those of which evidence
// exists but no verdict follows. Within a verdict they stand by ID.
//
// For a class they are the classes that some statement names, exactly or from
// above or below. For a product they are those classes, and the products with
// which it shares a jar, a statement or a notice; of the many products that it
// meets through its classes alone, the class stands for all. See
// [Judge.ProductPartners] for each of them.
func (j *Judge) Partners(item mix.ID) []Partner {
	var list []Partner
	for _, other := range j.mayMeet(item) {
		if a := j.Pair(item, other); j.joint(a) {
			list = append(list, Partner{other, a})
		}
	}
	slices.SortFunc(list, comparePartners)
	return list
}

// ProductPartners yields every product of the book about which anything is said
// beside an item, in the order of the book. It asks for each product there is;
// on large books use [Judge.Partners].
func (j *Judge) ProductPartners(item mix.ID) iter.Seq[Partner] {
	return func(yield func(Partner) bool) {
		book := j.x.Book()
		for i := range book.Products {
			p := &book.Products[i]
			if p.ID == item || j.x.Product(p.ID) != p {
				continue
			}
			if a := j.Pair(item, p.ID); j.joint(a) && !yield(Partner{p.ID, a}) {
				return
			}
		}
	}
}

// joint reports whether an answer on a pair says anything of both at once,
// beyond what is said of either alone.
func (j *Judge) joint(a *Answer) bool {
	for i := range a.Findings {
		f := &a.Findings[i]
		if s, ok := f.Evidence.(*JarSet); ok {
			if len(s.Products) > 1 {
				return true
			}
			continue
		}
		real := 0
		for _, m := range f.Matches {
			if slices.Contains(a.Items, m.Item) {
				real++
			}
		}
		if real > 1 {
			return true
		}
	}
	return slices.ContainsFunc(a.Doubts, func(d Doubt) bool { return d.Code == Suspect })
}

func comparePartners(a, b Partner) int {
	return cmp.Or(cmp.Compare(b.Answer.Verdict, a.Answer.Verdict), cmp.Compare(a.Item, b.Item))
}

// mayMeet returns the items that statements, notices and jars bring together
// with an item, sorted: for each of them the members as they are named.
func (j *Judge) mayMeet(item mix.ID) []mix.ID {
	seen := map[mix.ID]bool{}
	for _, r := range j.about(item) {
		for n, m := range r.members {
			if j.stands(item, m) == no {
				continue
			}
			for k, other := range r.members {
				if k != n {
					seen[other] = true
				}
			}
		}
	}
	for _, s := range j.setsWith[item] {
		for _, p := range s.Products {
			seen[p] = true
		}
	}
	if j.x.Product(item) != nil {
		delete(seen, item)
	}
	return slices.Sorted(maps.Keys(seen))
}

// about returns the rules that name an item, something above it or, for a class,
// something below it.
func (j *Judge) about(item mix.ID) []*rule {
	var list []*rule
	for _, id := range j.near(nil, item) {
		list = append(list, j.rules[id]...)
	}
	slices.SortFunc(list, func(a, b *rule) int { return a.place - b.place })
	return slices.Compact(list)
}

// Pairs yields every pair of items that has anything to say together: classes as
// statements name them, classes of the printed matrix, and products or a product
// and a class where the very product has evidence. Each comes once, sorted.
func (j *Judge) Pairs() iter.Seq2[[2]mix.ID, *Answer] {
	return func(yield func([2]mix.ID, *Answer) bool) {
		for _, p := range j.pairList() {
			if a := j.Pair(p[0], p[1]); j.joint(a) && !yield(p, a) {
				return
			}
		}
	}
}

func (j *Judge) pairList() [][2]mix.ID {
	seen := map[[2]mix.ID]bool{}
	add := func(list []mix.ID) {
		for i, a := range list {
			for _, b := range list[i+1:] {
				if a != b || j.x.Class(a) != nil {
					seen[[2]mix.ID{min(a, b), max(a, b)}] = true
				}
			}
		}
	}
	for _, r := range j.all {
		add(r.members)
	}
	for _, s := range j.sets {
		add(s.Products)
	}
	printed := j.ClassMatrix().Classes()
	for i, a := range printed {
		for _, b := range printed[i:] {
			seen[[2]mix.ID{min(a.ID, b.ID), max(a.ID, b.ID)}] = true
		}
	}
	list := slices.Collect(maps.Keys(seen))
	slices.SortFunc(list, func(a, b [2]mix.ID) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	return list
}
