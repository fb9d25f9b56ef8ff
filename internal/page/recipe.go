package page

import (
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// RecipesPage lists the office's recipes.
type RecipesPage struct {
	Frame
	Cards []RecipeCard
}

// RecipeCard is one recipe in a list.
type RecipeCard struct {
	Link
	Jar, Products string
	Verdict       mix.Verdict
	Doubts        string // how many
}

func (e *edition) recipesPage() ([]byte, error) {
	l := e.newLeaf("recipes.html")
	p := &RecipesPage{}
	for i := range e.book().Recipes {
		r := &e.book().Recipes[i]
		a := l.Judge.Mix(portionIDs(r.Products), mix.Situation{})
		l.danger(a.Hazards...)
		p.Cards = append(p.Cards, RecipeCard{Link{l.link(recipePath(r.ID)), l.phrase(r.Title)}, l.volume(r.Jar),
			l.names(portionIDs(r.Products)), a.Verdict, l.doubtCount(&a)})
	}
	return l.finish("recipes", p, head{l.t("recipes.title"), l.t("recipes.summary")})
}

func portionIDs(all []mix.Portion) []mix.ID {
	ids := make([]mix.ID, len(all))
	for i, p := range all {
		ids[i] = p.ID
	}
	return ids
}

// RecipePage is one jar, printed on one page with a table to fill in.
type RecipePage struct {
	Frame
	Heading Phrase
	Why     Phrase
	Answer  AnswerView
	Card    RecipeView
	Times   []string // heads of the record table
	Rows    []string // what to look for
}

// RecipeView is the card of a recipe.
type RecipeView struct {
	Jar, Finished, SprayVolume, Share string
	Crowded                           bool
	FirstWater, TopUp                 Dual
	Doses                             []DoseLine
	Trouble                           []string // why there is no recipe
	Cites                             []Cite
}

// Dual is one amount in both systems of units.
type Dual struct{ Metric, US string }

// DoseLine is one product on the card.
type DoseLine struct {
	N      int
	Item   Link
	Form   string
	Rate   string
	Amount Dual
	Weigh  bool
	How    Phrase
	Wait   string
	Reason string // why it goes in here
	Fit    string // a warning when the rate is off the label's range
}

func (e *edition) recipePage(r *mix.Recipe) ([]byte, error) {
	l := e.newLeaf(recipePath(r.ID))
	a := l.Judge.Mix(portionIDs(r.Products), mix.Situation{})
	p := &RecipePage{Heading: l.phrase(r.Title), Why: l.phrase(r.Why), Answer: l.answer(&a), Card: l.recipe(r)}
	l.handling(portionIDs(r.Products))
	for _, minutes := range standingTimes {
		p.Times = append(p.Times, l.duration(unit.Minute.Of(unit.Int(minutes))))
	}
	for _, key := range lookFor {
		p.Rows = append(p.Rows, capital(l.t(key)))
	}
	return l.finish("recipe", p, head{p.Heading.Text, l.t("recipe.summary", "mix", l.names(portionIDs(r.Products)))})
}

// standingTimes are the readings of a jar in minutes: at once, 15 and 30 minutes,
// 2 hours and overnight. Common practice; ASTM methods read at fixed times too.
var standingTimes = []int64{0, 15, 30, 120, 960}

// lookFor are the rows of the record table, hazards first.
var lookFor = []string{"symptom.gas", "symptom.heat", "symptom.foam", "symptom.flakes", "symptom.gel", "symptom.precipitate",
	"symptom.layers", "symptom.oil-film", "reading.redispersed", "symptom.residue", "reading.ph"}

// handling adds the hazards of handling the products themselves.
func (l *leaf) handling(products []mix.ID) {
	for _, id := range products {
		for _, c := range l.Index.Classes(id) {
			l.danger(l.Index.Class(c).Hazards...)
		}
	}
}

// recipe works a jar out and puts it into words.
func (l *leaf) recipe(r *mix.Recipe) RecipeView {
	v := RecipeView{Jar: l.volume(r.Jar), Cites: l.cites(r.Sources)}
	if !r.SprayVolume.IsZero() {
		v.SprayVolume = l.sprayVolume(r.SprayVolume)
	}
	worked, err := jar.FromRecipe(l.Index, r).Recipe()
	if err != nil {
		v.Trouble = []string{err.Error()}
		return v
	}
	v.Finished = l.volume(worked.Finished)
	v.Crowded = worked.WaterShare.Cmp(unit.Int(1)) < 0
	v.Share = l.percent(worked.WaterShare)
	v.FirstWater, v.TopUp = dualVolume(worked.FirstWater), dualVolume(worked.TopUp)
	for i := range worked.Doses {
		v.Doses = append(v.Doses, l.dose(&worked.Doses[i]))
	}
	return v
}

func (l *leaf) dose(d *jar.Dose) DoseLine {
	line := DoseLine{N: d.Place.Number, Item: l.item(d.Product.ID), Form: string(d.Product.Form), Rate: l.rate(d.Product.Rate),
		Amount: dual(d.Amount), Weigh: d.Amount.Dry, Reason: l.reason(&d.Place)}
	if d.Place.Step != nil {
		line.How = l.phrase(d.Place.Step.Do)
		if w := d.Place.Step.Wait; !w.IsZero() {
			line.Wait = l.t("recipe.wait", "time", l.duration(w))
		}
	}
	if d.Label == jar.Below || d.Label == jar.Above {
		line.Fit = l.t("fit."+d.Label.String(), "range", l.rateRange(d.Product.Range))
	}
	return line
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
