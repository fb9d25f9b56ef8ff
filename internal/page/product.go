package page

import (
	"cmp"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// ProductsPage lists all products from A to Z.
type ProductsPage struct {
	Frame
	AtoZ     []Link
	Letters  []Letter // empty when each letter has a page of its own
	Crops    []ProductGroup
	Purposes []ProductGroup
}

// Letter is the products that begin with one letter.
type Letter struct {
	Letter, Anchor string
	Products       []ProductLine
}

// ProductLine is one product in a list.
type ProductLine struct {
	Link
	Form string
	What string
}

// ProductGroup is the products of one crop or for one purpose.
type ProductGroup struct {
	Anchor   string
	Name     Phrase
	Products []Link
}

func (e *edition) productsPage() ([]byte, error) {
	l := e.newLeaf("products.html")
	p := &ProductsPage{Letters: l.letters()}
	for _, letter := range p.Letters {
		p.AtoZ = append(p.AtoZ, Link{l.link(e.letterPath(letter.Letter)), Phrase{Text: letter.Letter}})
	}
	if e.large() {
		p.Letters = nil
	} else {
		p.Crops, p.Purposes = l.byCrop(), l.byPurpose()
	}
	return l.finish("products", p, head{l.t("products.title"), l.t("products.summary")})
}

// letterPath is where the products of a letter are listed: all on one page, or
// in a large office a page a letter.
func (e *edition) letterPath(letter string) string {
	if e.large() {
		return "products-" + strings.ToLower(letter) + ".html"
	}
	return "products.html#letter-" + strings.ToLower(letter)
}

// letterPage lists the products of one letter of a large office.
func (e *edition) letterPage(letter string) ([]byte, error) {
	l := e.newLeaf(e.letterPath(letter))
	p := &ProductsPage{}
	for _, found := range l.letters() {
		p.AtoZ = append(p.AtoZ, Link{l.link(e.letterPath(found.Letter)), Phrase{Text: found.Letter}})
		if found.Letter == letter {
			p.Letters = []Letter{found}
		}
	}
	return l.finish("products", p, head{l.t("products.title-letter", "letter", letter), l.t("products.summary")})
}

// initials lists the letters that products begin with.
func (e *edition) initials() []string {
	var all []string
	for i := range e.book().Products {
		all = append(all, initial(e.book().Products[i].Name))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// byPurpose lists products by what they are used for.
func (l *leaf) byPurpose() []ProductGroup {
	var groups []ProductGroup
	for i := range l.book().Purposes {
		p := &l.book().Purposes[i]
		groups = append(groups, ProductGroup{"purpose-" + string(p.ID), l.phrase(p.Name), l.items(l.uses.byPurpose[p.ID])})
	}
	return l.filled(groups)
}

// byCrop lists products by the crops they are used on.
func (l *leaf) byCrop() []ProductGroup {
	var groups []ProductGroup
	for i := range l.book().Crops {
		c := &l.book().Crops[i]
		groups = append(groups, ProductGroup{"crop-" + string(c.ID), l.phrase(c.Name), l.items(l.uses.byCrop[c.ID])})
	}
	return l.filled(groups)
}

// filled leaves out groups without products and sorts the rest by name, and
// their products.
func (l *leaf) filled(groups []ProductGroup) []ProductGroup {
	byName := func(a, b Link) int { return cmp.Or(l.compare(a.Name.Text, b.Name.Text), cmp.Compare(a.Href, b.Href)) }
	groups = slices.DeleteFunc(groups, func(g ProductGroup) bool { return len(g.Products) == 0 })
	for _, g := range groups {
		slices.SortFunc(g.Products, byName)
	}
	slices.SortFunc(groups, func(a, b ProductGroup) int {
		return cmp.Or(l.compare(a.Name.Text, b.Name.Text), cmp.Compare(a.Anchor, b.Anchor))
	})
	return groups
}

// letters lists all products by their first letter.
func (l *leaf) letters() []Letter {
	var all []*mix.Product
	for i := range l.book().Products {
		all = append(all, &l.book().Products[i])
	}
	slices.SortFunc(all, func(a, b *mix.Product) int { return cmp.Or(l.compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) })
	var letters []Letter
	for _, p := range all {
		first := initial(p.Name)
		if n := len(letters); n == 0 || letters[n-1].Letter != first {
			letters = append(letters, Letter{Letter: first, Anchor: "letter-" + strings.ToLower(first)})
		}
		last := &letters[len(letters)-1]
		last.Products = append(last.Products, ProductLine{l.item(p.ID), string(p.Form), l.actives(p)})
	}
	return letters
}

// initial returns the letter a name is listed under; "0" for anything else.
func initial(name string) string {
	if first := folded.Replace(strings.ToLower(name)); first != "" && first[0] >= 'a' && first[0] <= 'z' {
		return strings.ToUpper(first[:1])
	}
	return "0"
}

// actives names the active ingredients in one line, or the first class of a
// product that has none.
func (l *leaf) actives(p *mix.Product) string {
	var names []string
	for _, a := range p.Actives {
		names = append(names, a.Name)
	}
	if len(names) == 0 && len(p.Classes) > 0 {
		return l.nameText(p.Classes[0].ID)
	}
	return l.words.List(names)
}

// ProductPage is one product.
type ProductPage struct {
	Frame
	Name         string
	Form         string
	About        Phrase
	Band         Band
	Partners     Partners
	Facts        []Fact
	Uses         []UseLine
	Standing     *Standing
	Notices      []Link
	Observations []ObservationLine
	Recipes      []Link
	Sheets       []SheetCard
}

// UseLine is one labelled use.
type UseLine struct{ Crop, Timing, Purpose, Rate string }

func (e *edition) productPage(product *mix.Product) ([]byte, error) {
	l := e.newLeaf(productPath(product.ID))
	p := &ProductPage{Name: product.Name, Form: l.formWords(product.Form), About: l.phrase(product.About)}
	l.handling([]mix.ID{product.ID})
	p.Band = l.productBand(product)
	p.Partners = l.partners(product.ID)
	p.Facts = l.productFacts(product)
	p.Uses = l.productUses(product)
	p.Standing = l.productStanding(product)
	p.Observations = l.observationLines(e.uses.observations[product.ID])
	for _, r := range e.uses.recipes[product.ID] {
		p.Recipes = append(p.Recipes, Link{l.link(recipePath(r.ID)), l.phrase(r.Title)})
	}
	p.Notices, p.Sheets = l.productReading(product)
	return l.finish("product", p, head{product.Name, l.t("product.summary", "name", product.Name, "what", l.actives(product))})
}

// productReading finds notices and sheets that speak of the product or of a
// class it belongs to.
func (l *leaf) productReading(p *mix.Product) ([]Link, []SheetCard) {
	var notices []*mix.Notice
	var slugs []mix.ID
	for _, id := range append([]mix.ID{p.ID}, l.Index.Classes(p.ID)...) {
		for _, n := range l.uses.notices[id] {
			if !slices.Contains(notices, n) {
				notices = append(notices, n)
			}
		}
		for _, s := range l.uses.sheets[id] {
			if !slices.Contains(slugs, s) {
				slugs = append(slugs, s)
			}
		}
	}
	return l.noticeLinks(notices), l.sheetCards(slugs)
}

// productBand shows the partner that calls for most caution: what a reader must
// not miss before anything else. Among equals more hazards and the stronger
// evidence come first.
func (l *leaf) productBand(p *mix.Product) Band {
	var worst compat.Partner
	for _, candidate := range l.Judge.Partners(p.ID) {
		if worst.Answer == nil || worse(candidate, worst) {
			worst = candidate
		}
	}
	if worst.Answer == nil || worst.Answer.Verdict == mix.Unknown {
		return l.band(&compat.Answer{})
	}
	b := l.band(worst.Answer)
	b.Rest = l.t("band.grade", "grade", l.gradeWords(worst.Answer.Deciding()))
	b.More = Link{l.pairHref(worst.Answer), Phrase{Text: l.t("band.pair")}}
	b.Says = Phrase{Text: l.t("product.band."+b.Verdict.String(), "other", l.nameText(worst.Item))}
	return b
}

// worse reports whether a calls for more caution than b.
func worse(a, b compat.Partner) bool {
	return cmp.Or(
		cmp.Compare(a.Answer.Verdict, b.Answer.Verdict),
		cmp.Compare(len(a.Answer.Hazards), len(b.Answer.Hazards)),
		cmp.Compare(a.Answer.Grade, b.Answer.Grade),
		cmp.Compare(b.Item, a.Item),
	) > 0
}

func (l *leaf) productFacts(p *mix.Product) []Fact {
	var fs facts
	fs.add(l.t("fact.form"), said(l.formWords(p.Form)))
	var actives []Line
	for _, a := range p.Actives {
		text := a.Name
		if a.Amount != "" {
			text = l.t("active.amount", "name", a.Name, "amount", a.Amount)
		}
		actives = append(actives, said(text))
	}
	fs.add(l.t("fact.actives"), actives...)
	fs.add(l.t("fact.classes"), l.refLines(p.Classes)...)
	fs.add(l.t("fact.rate"), said(l.rateRange(p.Rate)))
	fs.add(l.t("fact.spray-volume"), said(l.sprayRange(p.SprayVolume)))
	if !p.Density.IsZero() {
		fs.add(l.t("fact.density"), said(l.both(unit.PoundPerGallon.Format(p.Density, 2), unit.GramPerMilliliter.Format(p.Density, 3))))
	}
	fs.add(l.t("fact.gas"), said(l.gasFact(p)))
	if p.Bag {
		fs.add(l.t("fact.pack"), said(l.t("product.bag")))
	}
	if p.Position > 0 {
		fs.add(l.t("fact.order"), said(l.t("product.position", "n", p.Position)))
	}
	fs.add(l.t("fact.also"), said(l.words.List(p.Also)))
	fs.add(l.t("fact.says-who"), l.saysWho(p.Sources)...)
	return fs
}

func (l *leaf) sprayRange(r [2]unit.SprayVolume) string {
	switch {
	case r[0].IsZero() && r[1].IsZero():
		return ""
	case r[1].IsZero():
		return l.t("bound.from", "value", l.sprayVolume(r[0]))
	case r[0].IsZero():
		return l.t("bound.up-to", "value", l.sprayVolume(r[1]))
	}
	return l.t("rate.range", "low", l.sprayVolume(r[0]), "high", l.sprayVolume(r[1]))
}

func (l *leaf) productUses(p *mix.Product) []UseLine {
	var lines []UseLine
	for _, u := range p.Uses {
		rate := u.Rate
		if rate.IsZero() {
			rate = p.Rate
		}
		lines = append(lines, UseLine{l.nameText(u.Crop.ID), l.timingName(u.Crop.ID, u.Timing.ID), l.nameText(u.Purpose.ID), l.rateRange(rate)})
	}
	return lines
}

func (l *leaf) timingName(crop, stage mix.ID) string {
	c := l.Index.Crop(crop)
	if c == nil {
		return string(stage)
	}
	for _, t := range c.Timings {
		if t.ID == stage {
			return l.phrase(t.Name).Text
		}
	}
	return string(stage)
}
