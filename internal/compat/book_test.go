package compat_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// book builds small books in few words. Lists of IDs are written with spaces.
type book struct{ mix.Book }

// newBook has three criteria, all needed: gas from bubbles up, foam from a tenth
// of the liquid after one minute, flakes from "some", which redisperse.
func newBook() *book {
	b := &book{}
	b.Site.Published = date("2026-11-20")
	minute := must(unit.ParseDuration("1 min"))
	b.Criteria = []mix.Criterion{
		{Symptom: mix.Gas, Gas: mix.Bubbles, Verdict: mix.Never, Hazard: mix.Pressure, Needed: true},
		{Symptom: mix.Foam, Share: mix.Known(unit.Frac(1, 10)), After: minute, Verdict: mix.Steps, Needed: true},
		{Symptom: mix.Flakes, Extent: mix.Some, Verdict: mix.Apart, Mixes: true, Needed: true},
	}
	b.Sources = []mix.Source{
		{ID: "paper", Kind: mix.Paper}, {ID: "practice", Kind: mix.CommonPractice}, {ID: "law", Kind: mix.Law},
		{ID: "memory", Kind: mix.Memory}, {ID: "press", Kind: mix.Press},
	}
	return b
}

func (b *book) judge() *compat.Judge { return compat.New(mix.NewIndex(&b.Book)) }

// class adds a class with its parents.
func (b *book) class(id, parents string, edit ...func(*mix.Class)) {
	c := mix.Class{ID: mix.ID(id), KindOf: refs(parents), Matrix: true}
	for _, f := range edit {
		f(&c)
	}
	b.Classes = append(b.Classes, c)
}

// product adds a product with its classes.
func (b *book) product(id, classes string) {
	b.Products = append(b.Products, mix.Product{ID: mix.ID(id), Form: "SC", Classes: refs(classes)})
}

// says adds an interaction: "never: acid carbonate: gas".
func (b *book) says(id, what string, edit ...func(*mix.Interaction)) {
	f := strings.Split(what, ":")
	v, ok := mix.ParseVerdict(f[0])
	if !ok {
		panic(what)
	}
	n := mix.Interaction{ID: mix.ID(id), Verdict: v, Members: refs(f[1]), Kind: mix.Physical,
		Sources: []mix.Cite{{Ref: mix.Ref{ID: "paper"}}}}
	if len(f) > 2 {
		for _, w := range strings.Fields(f[2]) {
			s, ok := mix.ParseSymptom(w)
			if !ok {
				panic(w)
			}
			n.Symptoms = append(n.Symptoms, s)
		}
	}
	for _, e := range edit {
		e(&n)
	}
	b.Interactions = append(b.Interactions, n)
}

// notice adds a notice of law.
func (b *book) notice(id string, effect mix.Effect, members string, edit ...func(*mix.Notice)) {
	n := mix.Notice{ID: mix.ID(id), Law: true, Effect: effect, Members: refs(members),
		Sources: []mix.Cite{{Ref: mix.Ref{ID: "law"}}}}
	for _, e := range edit {
		e(&n)
	}
	b.Notices = append(b.Notices, n)
}

// jar adds a jar test of the given day: "a b: gas=none foam=0 flakes=none". Foam
// is in mL of 700 mL. Readings are after five minutes. "clean" stands for the
// three criteria of newBook looked for in vain.
func (b *book) jar(id, day, what string, edit ...func(*mix.Observation)) {
	list, seen, _ := strings.Cut(what, ":")
	o := mix.Observation{ID: mix.ID(id), Date: date(day), OrderKnown: true, Water: mix.Ref{ID: "well"},
		Vessel: mix.Vessel{Liquid: must(unit.ParseVolume("700 mL")), Closed: true, Recorded: true}}
	for _, p := range strings.Fields(list) {
		o.Products = append(o.Products, mix.Portion{Ref: mix.Ref{ID: mix.ID(p)}, Rate: must(unit.ParseRate("1 qt/ac")), Batch: "B1"})
	}
	o.Readings = []mix.Reading{reading("5 min", strings.ReplaceAll(seen, "clean", "gas=none foam=0 flakes=none"))}
	for _, e := range edit {
		e(&o)
	}
	b.Observations = append(b.Observations, o)
}

// clean3 adds three independent clean jars.
func (b *book) clean3(id, products string, edit ...func(*mix.Observation)) {
	for n := range 3 {
		b.jar(fmt.Sprintf("%s-%d", id, n), fmt.Sprintf("2026-05-0%d", n+1), products+": clean", edit...)
	}
}

func field(o *mix.Observation) { o.Field = true }

func reading(after, seen string) mix.Reading {
	r := mix.Reading{After: must(unit.ParseDuration(after))}
	for _, w := range strings.Fields(seen) {
		k, v, _ := strings.Cut(w, "=")
		ok := true
		switch k {
		case "gas":
			r.Gas, ok = mix.ParseGasSign(v)
		case "foam":
			r.Foam = mix.Head{Recorded: true, Volume: must(unit.ParseVolume(v + " mL"))}
		case "rise":
			r.Rise = mix.Known(unit.Int(int64(must(strconv.Atoi(v)))))
		case "flakes":
			r.Flakes, ok = mix.ParseExtent(v)
		case "gel":
			r.Gel, ok = mix.ParseExtent(v)
		case "precipitate":
			r.Precipitate, ok = mix.ParseExtent(v)
		case "layers":
			r.Layers, ok = mix.ParseExtent(v)
		case "oil-film":
			r.OilFilm, ok = mix.ParseExtent(v)
		case "screen":
			r.Screen, ok = mix.ParseResidueSign(v)
		case "back":
			r.Redisperse, ok = mix.ParseRedispersed(v)
		default:
			ok = false
		}
		if !ok {
			panic("no reading " + w)
		}
	}
	return r
}

func refs(list string) []mix.Ref {
	var all []mix.Ref
	for _, id := range strings.Fields(list) {
		all = append(all, mix.Ref{ID: mix.ID(id)})
	}
	return all
}

func items(list string) []mix.ID {
	var all []mix.ID
	for _, id := range strings.Fields(list) {
		all = append(all, mix.ID(id))
	}
	return all
}

func date(s string) mix.Date {
	d, ok := mix.ParseDate(s)
	if !ok {
		panic(s)
	}
	return d
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// tell writes an answer in one line a finding, for tests to compare:
//
//	apart jars
//	decides apart x [a b] some-members
func tell(a compat.Answer) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%v %v", a.Verdict, a.Grade)
	for _, d := range a.Doubts {
		fmt.Fprintf(&b, " %s", d.Code)
	}
	for _, f := range a.Findings {
		fmt.Fprintf(&b, "\n%v %v %s", f.Part, f.Verdict, evidenceName(f.Evidence))
	}
	return b.String()
}

func evidenceName(e compat.Evidence) string {
	switch e := e.(type) {
	case compat.Statement:
		return string(e.ID)
	case compat.Ruling:
		return string(e.ID)
	case *compat.JarSet:
		return fmt.Sprint(e.Products)
	default:
		panic(fmt.Sprintf("%T", e))
	}
}

func mixed(j *compat.Judge, list string) compat.Answer { return j.Mix(items(list), mix.Situation{}) }

func hasDoubt(list []compat.Doubt, code compat.DoubtCode) bool {
	for _, d := range list {
		if d.Code == code {
			return true
		}
	}
	return false
}

func finding(t *testing.T, a compat.Answer, name string) compat.Finding {
	t.Helper()
	for _, f := range a.Findings {
		if evidenceName(f.Evidence) == name {
			return f
		}
	}
	t.Fatalf("no finding %s in\n%s", name, tell(a))
	return compat.Finding{}
}
