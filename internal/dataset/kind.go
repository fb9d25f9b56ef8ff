package dataset

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/yamlpos"
)

// fileKind is a kind of file below data/.
type fileKind struct {
	Name   string
	Editor string // name of its schema, without .json
	Deep   bool   // only in its own folder, at any depth
	Alone  bool   // only one file, no folder
	read   func(yamlpos.Node)
	yamlpos.Schema
}

// kinds is the table of everything that may stand below data/; the site first.
func (l *loader) kinds() []fileKind {
	b := &l.book
	return []fileKind{
		whole("site", l.site(), func(s mix.Site) { b.Site = s }).alone(),
		lists("classes", may("groups", many("groups", l.group()), addTo(&b.Groups), "headings of the matrix, in order"),
			may("classes", many("classes", l.class()), addTo(&b.Classes), "what behaves alike in the tank")),
		one("products", l.product(), &b.Products, "what goes in the tank"),
		one("crops", l.crop(), &b.Crops, "crops with the timings labels speak of"),
		one("purposes", l.purpose(), &b.Purposes, "what products are used for"),
		one("interactions", l.interaction(), &b.Interactions, "sourced statements that members react, or do not"),
		one("notices", l.notice(), &b.Notices, "rules of law and label"),
		whole("observations", l.observation(), func(o mix.Observation) { b.Observations = append(b.Observations, o) }).deep("observation"),
		one("investigations", l.investigation(), &b.Investigations, "groups of observations that answer one question"),
		one("sources", l.source(), &b.Sources, "the bibliography"),
		one("places", l.place(), &b.Places, "districts for which notices are written"),
		one("waters", l.water(), &b.Waters, "waters that were measured"),
		one("tools", l.tool(), &b.Tools, "what the office measures doses with"),
		lists("order", may("order", many("steps", l.orderStep()), addTo(&b.Order), "places in the order of addition, first to last"),
			may("disputes", many("disputes", l.orderDispute()), addTo(&b.Disputes), "questions on which published orders disagree"),
			may("sequences", many("sequences", l.sequence()), addTo(&b.Sequences), "orders of addition as their sources publish them")),
		whole("routine", l.routine(), func(r mix.Routine) { b.Routine = r }).alone(),
		one("recipes", l.recipe(), &b.Recipes, "jar tests ready to print"),
		one("trials", l.trial(), &b.Trials, "trials offered as packets"),
		one("cautions", l.caution(), &b.Cautions, "safety text stamped on pages"),
		one("criteria", l.criterion(), &b.Criteria, "when a reading counts as a reaction"),
		one("reviews", l.review(), &b.Reviews, "why verdicts softened"),
		one("halflives", l.halfLife(), &b.HalfLives, "how long actives last in water, by pH"),
	}
}

// file is the top level of a file of lists.
type file struct{}

func addTo[T any](list *[]T) func(*file, []T) {
	return func(_ *file, more []T) { *list = append(*list, more...) }
}

// whole is a kind of file whose top level is the record.
func whole[T any](name string, k yamlpos.Kind[T], put func(T)) fileKind {
	return fileKind{Name: name, Editor: name, Schema: k.Schema, read: func(n yamlpos.Node) {
		if v, ok := k.Read(n); ok {
			put(v)
		}
	}}
}

// one is a kind of file with a single key, its own name.
func one[T any](name string, item yamlpos.Kind[T], list *[]T, doc string) fileKind {
	return lists(name, must(name, many(name, item), addTo(list), doc))
}

func lists(name string, fields ...yamlpos.Field[file]) fileKind {
	o := yamlpos.Object[file]{Name: "file of " + name, Fields: fields, Check: func(_ *file, f yamlpos.Found) {
		for _, field := range fields {
			if f.Has(field.Name) {
				return
			}
		}
		if len(fields) > 1 {
			var keys []string
			for _, field := range fields {
				keys = append(keys, field.Name+":")
			}
			f.Problem("nothing here that belongs into a file of "+name, "write "+strings.Join(keys, " or "))
		}
	}}
	return whole(name, o.Kind(), func(file) {})
}

func (k fileKind) alone() fileKind { k.Alone = true; return k }

// deep is a kind of which each file, at any depth of its folder, is one record.
func (k fileKind) deep(record string) fileKind { k.Deep, k.Editor = true, record; return k }

// must and may are the fields of yamlpos, shortened because the tables of this
// package are made of them.
func must[T, V any](name string, k yamlpos.Kind[V], set func(*T, V), doc string) yamlpos.Field[T] {
	return yamlpos.Must(name, k, set, doc)
}

func may[T, V any](name string, k yamlpos.Kind[V], set func(*T, V), doc string) yamlpos.Field[T] {
	return yamlpos.May(name, k, set, doc)
}

// many is a list, some a list of at least one.
func many[T any](what string, k yamlpos.Kind[T]) yamlpos.Kind[[]T] { return yamlpos.List(what, k) }

func some[T any](what string, k yamlpos.Kind[T]) yamlpos.Kind[[]T] {
	return yamlpos.AtLeast(1, what, yamlpos.List(what, k))
}

// Schemas returns the JSON Schema of every kind of file by the name it has in
// data/schema, printed from the tables that Load reads with.
func Schemas() (map[string][]byte, error) {
	all := map[string][]byte{}
	for _, k := range newLoader(nil).table {
		text, err := k.Schema.Print("Tankleaf " + k.Editor)
		if err != nil {
			return nil, err
		}
		all[k.Editor] = text
	}
	return all, nil
}

const schemaMark = "$schema="

// checkMark holds the schema that a file's first line names for editors to the
// one of its kind: with another they would complete and check the wrong keys.
func (l *loader) checkMark(k fileKind) {
	first, _, _ := strings.Cut(string(l.file.text), "\n")
	comment, named, found := strings.Cut(strings.TrimSpace(first), schemaMark)
	if !found || !strings.HasPrefix(comment, "#") {
		return
	}
	up := strings.Repeat("../", strings.Count(l.file.name, "/")-1)
	if want := up + "schema/" + k.Editor + ".json"; named != want {
		at := diag.Pos{File: l.file.name, Line: 1, Col: len([]rune(comment)) + len(schemaMark) + 1}
		l.problems.Add(at, fmt.Sprintf("first line names the schema %q", short(named)), fmt.Sprintf("write %q", want))
	}
}
