package page

import (
	"cmp"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// Partners is everything an item may meet, by verdict.
type Partners struct {
	Tally    []TallyLine
	Groups   []PartnerGroup // most caution first; never Unknown
	Untested Untested
}

// TallyLine counts the partners under one verdict.
type TallyLine struct {
	Verdict mix.Verdict
	N       int
	Href    string
}

// PartnerGroup is the partners of one verdict.
type PartnerGroup struct {
	Verdict  mix.Verdict
	Anchor   string
	Classes  []PartnerLine
	Products []PartnerLine
}

// PartnerLine is one partner: its name and what happens in one line.
type PartnerLine struct {
	Verdict mix.Verdict
	Name    Phrase
	Href    string // of the pair's page
	Line    Phrase
	Doubts  string // how many
}

// Untested is what nobody has told us: how many partners, and by name those that
// share a use with the item and are likely to meet it.
type Untested struct {
	N      int
	Likely []Link
}

// partners lists what an item may meet: classes, and for a product the products
// as well.
func (l *leaf) partners(item mix.ID) Partners {
	by := map[mix.Verdict]*PartnerGroup{}
	add := func(other mix.ID, a *compat.Answer) {
		if a.Verdict == mix.Unknown {
			return
		}
		l.danger(a.Hazards...)
		g := by[a.Verdict]
		if g == nil {
			g = &PartnerGroup{Verdict: a.Verdict, Anchor: "partners-" + a.Verdict.String()}
			by[a.Verdict] = g
		}
		list := &g.Classes
		if l.Index.Product(other) != nil {
			list = &g.Products
		}
		*list = append(*list, l.partner(item, other, a))
	}
	for _, p := range l.Judge.Partners(item) {
		l.danger(p.Answer.Hazards...) // of products that a class's page does not name, too
		if l.Index.Product(p.Item) == nil {
			add(p.Item, p.Answer)
		}
	}
	for _, other := range l.likely(item) {
		add(other, l.Judge.Pair(item, other))
	}
	return l.collect(item, by)
}

// likely lists the products that a product's page names: all of a small office,
// in a large one those with which it shared a jar, a statement or a notice. A
// class has none: its own products stand on its page, and its partners' on theirs.
func (l *leaf) likely(item mix.ID) []mix.ID {
	if l.Index.Product(item) == nil {
		return nil
	}
	var list []mix.ID
	if l.large() {
		for _, p := range l.Judge.Partners(item) {
			if l.Index.Product(p.Item) != nil {
				list = append(list, p.Item)
			}
		}
		return list
	}
	for i := range l.book().Products {
		if id := l.book().Products[i].ID; id != item {
			list = append(list, id)
		}
	}
	return list
}

func (l *leaf) collect(item mix.ID, by map[mix.Verdict]*PartnerGroup) Partners {
	var p Partners
	for v := mix.Never; v > mix.Unknown; v-- {
		if g := by[v]; g != nil {
			l.sortLines(g.Classes)
			l.sortLines(g.Products)
			p.Groups = append(p.Groups, *g)
			p.Tally = append(p.Tally, TallyLine{v, len(g.Classes) + len(g.Products), "#" + g.Anchor})
		}
	}
	p.Untested = l.untested(item)
	if p.Untested.N > 0 {
		p.Tally = append(p.Tally, TallyLine{mix.Unknown, p.Untested.N, "#partners-unknown"})
	}
	return p
}

func (l *leaf) sortLines(lines []PartnerLine) {
	slices.SortFunc(lines, func(a, b PartnerLine) int {
		return cmp.Or(l.compare(a.Name.Text, b.Name.Text), cmp.Compare(a.Href, b.Href))
	})
}

func (l *leaf) partner(item, other mix.ID, a *compat.Answer) PartnerLine {
	line := PartnerLine{Verdict: a.Verdict, Name: l.name(other), Href: l.pairHref(a)}
	if d := a.Deciding(); d != nil {
		line.Line = l.short(d)
	}
	line.Doubts = l.doubtCount(a)
	return line
}

// doubtCount says how many doubts an answer has, "" for none.
func (l *leaf) doubtCount(a *compat.Answer) string {
	if n := len(l.doubts(a.Doubts)); n > 0 {
		return l.t("count.doubts", "n", n)
	}
	return ""
}

// pairHref leads to what explains the answer for two items: the page of the
// pair, or of the two classes through which a statement reaches them, or the
// record that decides.
func (l *leaf) pairHref(a *compat.Answer) string {
	if len(a.Items) == 2 && l.hasPage(a.Items[0], a.Items[1]) {
		return l.link(togetherPath(a.Items[0], a.Items[1]))
	}
	d := a.Deciding()
	if d == nil {
		return ""
	}
	if len(d.Matches) == 2 && l.hasPage(d.Matches[0].Member, d.Matches[1].Member) {
		return l.link(togetherPath(d.Matches[0].Member, d.Matches[1].Member))
	}
	if links := l.evidenceLinks([]compat.Evidence{d.Evidence}); len(links) > 0 {
		return links[0].Href
	}
	return ""
}

// short is what a finding found, without its sources: the pair's page has them.
func (l *leaf) short(f *compat.Finding) Phrase {
	switch e := f.Evidence.(type) {
	case compat.Statement:
		return l.phrase(e.What)
	case compat.Ruling:
		return l.phrase(e.Title)
	case *compat.JarSet:
		return Phrase{Text: l.jarWords(e)}
	}
	return Phrase{}
}

// untested counts the products about which nothing is known with an item and
// names those that share a crop and timing with it. For a class, which has no
// uses, and in a large office it counts the printed classes.
func (l *leaf) untested(item mix.ID) Untested {
	var u Untested
	if l.Index.Product(item) == nil || l.large() {
		for _, c := range l.printed() {
			if !l.Index.IsA(item, c) && !l.Index.IsA(c, item) && l.unknown(item, c) {
				u.N++
				u.Likely = append(u.Likely, l.item(c))
			}
		}
		return u
	}
	meets := l.meets(l.Index.Product(item))
	for _, other := range l.likely(item) {
		if !l.unknown(item, other) {
			continue
		}
		u.N++
		if meets[other] {
			u.Likely = append(u.Likely, l.item(other))
		}
	}
	slices.SortFunc(u.Likely, func(a, b Link) int { return l.compare(a.Name.Text, b.Name.Text) })
	return u
}

// unknown reports whether nothing is known of two items together.
func (p *press) unknown(a, b mix.ID) bool { return p.Judge.Pair(a, b).Verdict == mix.Unknown }

// printed lists the classes of the printed matrix in the order of the book.
func (p *press) printed() []mix.ID {
	var ids []mix.ID
	for i := range p.book().Classes {
		if c := &p.book().Classes[i]; c.Matrix {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

// meets returns the products that share a crop and timing with one.
func (e *edition) meets(p *mix.Product) map[mix.ID]bool {
	found := map[mix.ID]bool{}
	for _, use := range p.Uses {
		for _, other := range e.uses.byTiming[timing{use.Crop.ID, use.Timing.ID}] {
			found[other] = true
		}
	}
	return found
}

// timing is a stage of a crop.
type timing struct{ crop, stage mix.ID }

// folded takes accents off the letters that the languages of the catalogues use,
// so that Ácido sorts with A; ñ follows n.
var folded = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n\u007f")

// compare orders names as a reader expects, without regard to case and accents.
func (e *edition) compare(a, b string) int {
	return cmp.Or(cmp.Compare(folded.Replace(strings.ToLower(a)), folded.Replace(strings.ToLower(b))), cmp.Compare(a, b))
}
