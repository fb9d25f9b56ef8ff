package page

import (
	"errors"
	"slices"
	"strings"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// CardView is one jar as it is poured: the exact dose of each product, what the
// office's tools make of it, and by how much that is off.
type CardView struct {
	Jar, Finished, SprayVolume, Share string
	Crowded                           bool
	Water                             Line   // which water, with what is dissolved in it
	Vessel                            string // that leaves the headspace free
	Stocks                            []StockLine
	First, TopUp                      FillLine
	Doses                             []DoseLine
	Measured                          bool     // the office lists tools; otherwise exact doses stand alone
	Within                            string   // how far the rates in the finished jar are off
	Notes                             []string // why this is not the jar that was asked for
	Trouble                           []string // why there is no card
	Gas                               *GasView // the most it could give off; nil without a carbonate
	Cites                             []Cite
}

// Dual is one amount in both systems of units.
type Dual struct{ Metric, US string }

// PourView is an amount as a tool measures it.
type PourView struct {
	Amount string // "1.2 mL"; "" when no tool measures it
	Draws  string // "60 + 60 + 34 mL" when the tool is filled more than once
	Tool   Phrase
	Off    string // "+1.7 %"
	Fails  bool   // off by more than the office's tolerance
}

// FillLine is the water before the first product or after the last.
type FillLine struct {
	Exact Dual
	Pour  PourView
	How   string
}

// StockLine is a pre-dilution with its own steps.
type StockLine struct {
	Letter, Parts string
	Item          Link
	Product       PourView
	Dry           bool
	Made          string // the mark it is filled to
	In            Phrase // the cylinder
	Carrier       string // how much water that takes; "" when not known
	Shake         bool
	Needs         string // how much of it the jar takes; "" when it is made for several
	Times         string // that it is made more than once
}

// DoseLine is one product on the card.
type DoseLine struct {
	N      int
	Item   Link
	Form   string
	Rate   string
	Exact  Dual
	Pour   PourView
	Stock  string // the letter of the stock it is drawn from
	Holds  string // what of the product the draw holds
	Weigh  bool
	Shake  bool
	How    Phrase
	Wait   string
	Reason string   // why it goes in here
	Fits   []string // warnings when rate or spray volume are off the label's range
}

// jarCard works a recipe out, measures it with the office's tools, and puts it into
// words. Where the jar asked for cannot be measured the card shows what can be
// poured instead, and says so.
func (l *leaf) jarCard(r *mix.Recipe) CardView {
	v := CardView{Jar: l.volume(r.Jar), Cites: l.cites(r.Sources)}
	if !r.SprayVolume.IsZero() {
		v.SprayVolume = l.sprayVolume(r.SprayVolume)
	}
	if r.Water.ID != "" {
		v.Water = Line{Phrase: l.name(r.Water.ID)}
	}
	bench := jar.BenchOf(l.book())
	offer, err := bench.Propose(jar.FromRecipe(l.Index, r))
	if err != nil {
		v.Trouble = l.troubles(err)
		return v
	}
	v.Measured = len(bench.Tools) > 0
	c := offer.Best()
	if c == nil {
		c = &offer.Asked
	}
	if v.Measured {
		v.Notes = l.offerNotes(&offer, r.Jar)
	}
	if len(c.Doses) == 0 {
		v.Trouble, v.Notes = v.Notes, nil
		return v
	}
	v.Gas = l.gasOfCard(r, &c.Recipe)
	l.fillCard(&v, c, func(line *jar.Line) string {
		letter := string(rune('A' + len(v.Stocks)))
		v.Stocks = append(v.Stocks, l.stock(line, letter))
		return letter
	})
	return v
}

// fillCard puts a card into words. letterOf names the stock that a line is drawn from.
func (l *leaf) fillCard(v *CardView, c *jar.Card, letterOf func(*jar.Line) string) {
	r := &c.Recipe
	v.Jar, v.Finished = l.volume(r.Jar), l.volume(r.Finished)
	v.Crowded, v.Share = r.WaterShare.Cmp(unit.Int(1)) < 0, l.percent(r.WaterShare)
	if size := l.vesselFor(r.Finished); !size.IsZero() {
		v.Vessel = l.t("card.vessel", "size", l.volume(size), "share", l.percent(l.book().Routine.Headspace))
	}
	l.fillWater(v, c)
	worst := unit.Number{}
	for i := range c.Doses {
		line := &c.Doses[i]
		letter := ""
		if line.Stock != nil {
			letter = letterOf(line)
		}
		v.Doses = append(v.Doses, l.dose(line, letter, v.Measured))
		worst = worst.Max(line.Rate).Max(line.Rate.Neg())
	}
	if v.Measured && c.Passes() && len(c.Doses) > 0 {
		v.Within = l.t("card.within", "share", l.percent(tenths(worst)))
	}
}

// vesselFor returns the vessel that leaves the office's headspace free over a volume;
// the zero Volume when the office asks for none.
func (l *leaf) vesselFor(finished unit.Volume) unit.Volume {
	head := l.book().Routine.Headspace
	free := unit.Int(1).Sub(head)
	if head.Sign() <= 0 || free.Sign() <= 0 {
		return unit.Volume{}
	}
	return upToTen(finished.Times(unit.Int(1).Quo(free)))
}

// tenths rounds a share up to the next tenth of a per cent, so that a limit is never
// written too narrow.
func tenths(share unit.Number) unit.Number {
	return share.Mul(unit.Int(1000)).Neg().Floor().Neg().Quo(unit.Int(1000))
}

// fillWater tells of the water before the first product and after the last. Where not
// every dose can be poured the exact recipe's amounts stand alone: what is missing
// in the jar cannot be made up with water.
func (l *leaf) fillWater(v *CardView, c *jar.Card) {
	if !v.Measured || !c.Passes() {
		v.First.Exact, v.TopUp.Exact = dualVolume(c.Recipe.FirstWater), dualVolume(c.Recipe.TopUp)
		v.TopUp.How = l.t("card.to-mark", "finished", l.volume(c.Recipe.Finished))
		return
	}
	v.First = FillLine{Exact: dualVolume(c.First.Exact.Volume), Pour: l.pour(&c.First)}
	v.TopUp = FillLine{Exact: dualVolume(c.TopUp.Exact.Volume), Pour: l.pour(&c.TopUp), How: l.topUp(c)}
}

// upToTen returns the next whole 10 mL, so that a vessel is named as it is sold.
func upToTen(v unit.Volume) unit.Volume {
	tens := v.Base().Quo(unit.Int(10)).Neg().Floor().Neg()
	return unit.Milliliter.Of(tens.Mul(unit.Int(10)))
}

// topUp says how the jar is filled up at the end.
func (l *leaf) topUp(c *jar.Card) string {
	switch {
	case c.TopUp.Tool != nil:
		return l.t("card.makes", "finished", l.volume(c.Filled))
	case c.TopUp.Poured.Base().Sign() > 0:
		return l.t("card.to-mark", "finished", l.volume(c.Recipe.Finished))
	}
	return l.t("card.no-top-up")
}

// pour puts a measured amount into words.
func (l *leaf) pour(p *jar.Pour) PourView {
	if p.Tool == nil {
		return PourView{}
	}
	marks := markDecimals(p.Tool)
	v := PourView{Amount: p.Poured.Base().Fixed(marks) + " " + p.Poured.BaseUnit(), Tool: l.phrase(p.Tool.Name), Off: l.off(p.Error)}
	if len(p.Draws) > 1 {
		var parts []string
		for _, d := range p.Draws {
			parts = append(parts, d.Base().Fixed(marks))
		}
		v.Draws = strings.Join(parts, " + ") + " " + p.Poured.BaseUnit()
	}
	return v
}

// markDecimals is how many decimals the marks of a tool have, 3 at most: 0.20 mL on
// one that is marked in hundredths.
func markDecimals(t *mix.Tool) int {
	n := t.Graduation.Base()
	for d := range 3 {
		if n.IsInt() {
			return d
		}
		n = n.Mul(unit.Int(10))
	}
	return 3
}

// measured writes an amount that stands on marks, without needless zeros.
func measured(a unit.Amount) string { return a.Base().Short(3) + " " + a.BaseUnit() }

// off writes a relative error with its sign; one that is too small for the decimal
// is not written as none.
func (l *leaf) off(share unit.Number) string {
	rounded := share.Mul(unit.Int(100)).Round(1)
	switch {
	case share.Sign() == 0:
		return l.t("number.percent", "n", "0")
	case rounded.Sign() == 0:
		return l.t("number.percent-tiny", "n", "0.1")
	case share.Sign() > 0:
		return l.t("number.percent", "n", "+"+rounded.Fixed(1))
	}
	return l.t("number.percent", "n", "−"+rounded.Neg().Fixed(1))
}

// stock tells how the pre-dilution of one line is made, and how much the jar takes.
func (l *leaf) stock(line *jar.Line, letter string) StockLine {
	v := l.stockOf(line.Stock, l.doseItem(&line.Dose), letter)
	v.Needs = measured(line.Pour.Poured)
	return v
}

// stockOf tells how a pre-dilution is made.
func (l *leaf) stockOf(s *jar.Stock, of Link, letter string) StockLine {
	v := StockLine{Letter: letter, Parts: atoi(s.Parts), Item: of, Product: l.pour(&s.Product), Dry: s.Product.Exact.Dry,
		Made: measured(unit.Amount{Volume: s.Volume}), In: l.phrase(s.MadeIn.Name), Shake: s.Shake}
	if !s.Takes.IsZero() {
		v.Carrier = measured(unit.Amount{Volume: s.Carrier()})
	}
	return v
}

func (l *leaf) doseItem(d *jar.Dose) Link {
	if d.Product.ID == "" {
		return Link{Name: Phrase{Text: d.Product.Name}}
	}
	return l.item(d.Product.ID)
}

// dose tells one line of the card.
func (l *leaf) dose(line *jar.Line, letter string, tools bool) DoseLine {
	d := &line.Dose
	v := DoseLine{N: d.Place.Number, Item: l.doseItem(d), Form: codeBeside(d.Product.Name, d.Product.Form), Rate: l.rate(d.Product.Rate), Exact: dual(d.Amount),
		Pour: l.pour(&line.Pour), Weigh: d.Amount.Dry, Shake: line.Shake, Reason: l.reason(&d.Place)}
	v.Pour.Fails = tools && !line.Passes
	if letter != "" {
		v.Stock, v.Weigh = letter, false
		v.Holds = fine(line.Poured.Base(), 4, line.Poured.BaseUnit())
		v.Pour.Off = l.off(line.Error)
	}
	if d.Place.Step != nil {
		if letter == "" { // what a step does to a dry product was done to the stock
			v.How = l.phrase(d.Place.Step.Do)
		}
		if w := d.Place.Step.Wait; !w.IsZero() {
			v.Wait = l.t("recipe.wait", "time", l.duration(w))
		}
	}
	v.Fits = l.fits(d)
	return v
}

// fits warns where rate or spray volume lie off the label's range.
func (l *leaf) fits(d *jar.Dose) []string {
	var all []string
	if d.Label == jar.Below || d.Label == jar.Above {
		all = append(all, l.t("fit."+d.Label.String(), "range", l.rateRange(d.Product.Range)))
	}
	if d.SprayLabel == jar.Below || d.SprayLabel == jar.Above {
		all = append(all, l.t("fit.spray-"+d.SprayLabel.String()))
	}
	return all
}

// offerNotes says what the tools cannot measure of the jar that was asked for, and
// what the card does about it.
func (l *leaf) offerNotes(p *jar.Proposal, asked unit.Volume) []string {
	if p.Passes() {
		return nil
	}
	var notes []string
	for i := range p.Asked.Doses {
		if line := &p.Asked.Doses[i]; !line.Passes {
			notes = append(notes, l.misses(line))
		}
	}
	for _, one := range p.Trouble {
		if one.Code == jar.TooSmall {
			notes = append(notes, l.t("card.too-small", "product", one.Product))
		}
	}
	switch {
	case p.Diluted != nil && p.Larger != nil:
		return append(notes, l.t("card.stock-or-larger", "jar", l.volume(p.Larger.Recipe.Jar)))
	case p.Diluted != nil:
		return append(notes, l.t("card.stock"))
	case p.Larger != nil:
		return append(notes, l.t("card.larger", "asked", l.volume(asked), "jar", l.volume(p.Larger.Recipe.Jar)))
	}
	return append(notes, l.t("card.no-way"))
}

// misses says why one dose cannot be measured as it is.
func (l *leaf) misses(line *jar.Line) string {
	name, a := line.Dose.Product.Name, line.Dose.Amount
	dose := fine(a.Base(), 4, a.BaseUnit())
	if line.Pour.Tool == nil {
		return l.t("card.no-tool", "product", name, "dose", dose)
	}
	off := line.Error
	if jar.BenchOf(l.book()).Within(off) {
		off = line.Rate
	}
	return l.t("card.misses", "product", name, "dose", dose, "poured", measured(line.Poured), "off", l.off(off))
}

// troubles says why there is no recipe. The kinds of problem that a recipe of the
// data can have come in the page's language.
func (l *leaf) troubles(err error) []string {
	var ps jar.Problems
	if !errors.As(err, &ps) {
		return []string{err.Error()}
	}
	var all []string
	for _, p := range ps {
		text := p.Msg
		if key := "card.problem." + string(p.Code); l.words.Has(key) {
			text = l.t(key, "product", p.Product)
		}
		if !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return all
}

// codeBeside is the formulation code to print beside a name that does not end with
// it.
func codeBeside(name string, f mix.Form) string {
	if strings.HasSuffix(name, " "+string(f)) {
		return ""
	}
	return string(f)
}

// reason says why a product goes in where it does.
func (l *leaf) reason(p *jar.Place) string {
	step := ""
	if p.Step != nil {
		step = l.phrase(p.Step.Name).Text
	}
	switch p.Reason {
	case jar.NotKnown:
		return l.t("order.not-known")
	case jar.ByForm, jar.ByBag:
		return l.t("order.by-form", "step", step)
	case jar.ByClass:
		return l.t("order.by-class", "step", step, "class", l.nameText(p.Class))
	case jar.ByLabel:
		return l.t("order.by-label")
	}
	panic("page: order of addition by " + p.Reason.String())
}

// dual writes an amount in both systems: liquids in mL and fl oz, weights in g
// and oz. Jar doses are small, so no larger unit is needed.
func dual(a unit.Amount) Dual {
	if a.Dry {
		return Dual{fine(a.Mass.In(unit.Gram), 4, "g"), fine(a.Mass.In(unit.Ounce), 3, "oz")}
	}
	return dualVolume(a.Volume)
}

func dualVolume(v unit.Volume) Dual {
	return Dual{fine(v.In(unit.Milliliter), 4, "mL"), fine(v.In(unit.FluidOunce), 3, "fl oz")}
}

// fine writes a number with enough decimals for three figures below 100, as far
// as the limit, and one decimal above.
func fine(n unit.Number, limit int, name string) string {
	if n.Sign() == 0 {
		return "0 " + name
	}
	return n.Fixed(min(max(1, decimals(n)), limit)) + " " + name
}
