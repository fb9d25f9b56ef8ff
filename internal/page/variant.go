package page

import (
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// variant is a jar to be run beside a recipe: the same doses in another share of the
// water, or the same mix with or without one product that may hide or mend what it
// does. The zero variant is the recipe as it was written.
type variant struct {
	share   string // "crowded" or "full-water"
	without mix.ID
	with    mix.ID
}

// path is the variant's own page, so that each prints on its own.
func (v variant) path(recipe mix.ID) string {
	end := ""
	switch {
	case v.share != "":
		end = "--" + v.share
	case v.without != "":
		end = "--without-" + string(v.without)
	case v.with != "":
		end = "--with-" + string(v.with)
	}
	return strings.TrimSuffix(recipePath(recipe), ".html") + end + ".html"
}

// variants lists what can be run beside a recipe.
func (e *edition) variants(r *mix.Recipe) []variant {
	share := variant{share: "crowded"}
	if isCrowded(r) {
		share.share = "full-water"
	}
	all := []variant{share}
	if len(r.Products) > 2 {
		for _, p := range r.Products {
			if e.isAid(r, p.ID) {
				all = append(all, variant{without: p.ID})
			}
		}
	}
	if id := e.missingMend(r); id != "" {
		all = append(all, variant{with: id})
	}
	return all
}

func isCrowded(r *mix.Recipe) bool { return r.WaterShare.Sign() > 0 && r.WaterShare.Cmp(full) < 0 }

// isAid reports whether a product hides a symptom by its class, or mends what its
// partners do by what a source says of them.
func (e *edition) isAid(r *mix.Recipe, id mix.ID) bool {
	classes := e.Index.Classes(id)
	for _, c := range classes {
		if len(e.Index.Class(c).Suppresses) > 0 {
			return true
		}
	}
	mends := e.mends(r)
	return slices.ContainsFunc(classes, func(c mix.ID) bool { return slices.Contains(mends, c) })
}

// mends lists the classes that a source names as a mend for something in the mix.
func (e *edition) mends(r *mix.Recipe) []mix.ID {
	a := e.Judge.Mix(portionIDs(r.Products), mix.Situation{})
	var classes []mix.ID
	for i := range a.Findings {
		for _, m := range mendsOf(&a.Findings[i]) {
			classes = append(classes, m.Class.ID)
		}
	}
	return classes
}

// missingMend returns the first product, by name, of a class that mends something in
// the mix when none of that class is in it, or "".
func (e *edition) missingMend(r *mix.Recipe) mix.ID {
	in := portionIDs(r.Products)
	for _, class := range e.mends(r) {
		members := slices.Clone(e.Index.Members(class))
		if slices.ContainsFunc(members, func(id mix.ID) bool { return slices.Contains(in, id) }) {
			continue
		}
		members = slices.DeleteFunc(members, func(id mix.ID) bool { return e.Index.Product(id).Rate.High.IsZero() })
		if len(members) > 0 {
			return slices.MinFunc(members, func(a, b mix.ID) int { return e.compare(e.nameText(a), e.nameText(b)) })
		}
	}
	return ""
}

// recipe returns the jar of a variant.
func (v variant) recipe(e *edition, r *mix.Recipe) *mix.Recipe {
	jar := *r
	switch {
	case v.share == "crowded":
		jar.WaterShare = e.book().Routine.Crowded
	case v.share == "full-water":
		jar.WaterShare = full
	case v.without != "":
		jar.Products = slices.DeleteFunc(slices.Clone(r.Products), func(p mix.Portion) bool { return p.ID == v.without })
	case v.with != "":
		p := e.Index.Product(v.with)
		rate := p.Rate.Low
		if rate.IsZero() {
			rate = p.Rate.High
		}
		jar.Products = append(slices.Clone(r.Products), mix.Portion{Ref: mix.Ref{ID: p.ID}, Rate: rate})
	}
	return &jar
}

// variantWords names a variant; "" for the recipe as it was written.
func (l *leaf) variantWords(v variant) string {
	switch {
	case v.share == "crowded":
		return l.t("variant.crowded", "share", l.percent(l.book().Routine.Crowded))
	case v.share == "full-water":
		return l.t("variant.full-water")
	case v.without != "":
		return l.t("variant.without", "product", l.nameText(v.without))
	case v.with != "":
		return l.t("variant.with", "product", l.nameText(v.with))
	}
	return ""
}

// recipeJobs lists the pages of a recipe and of its variants.
func (e *edition) recipeJobs(r *mix.Recipe, add func(string, func() ([]byte, error))) {
	for _, v := range append([]variant{{}}, e.variants(r)...) {
		add(v.path(r.ID), func() ([]byte, error) { return e.recipePage(r, v) })
	}
}

// mendsOf lists the mends that a finding's statement names.
func mendsOf(f *compat.Finding) []mix.Mend {
	if s, ok := f.Evidence.(compat.Statement); ok {
		return s.Mends
	}
	return nil
}
