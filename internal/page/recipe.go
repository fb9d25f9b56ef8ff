package page

import (
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/gas"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
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
	Variant string // what sets this jar apart from the recipe as it was written
	Main    Link   // the recipe as it was written, on the page of a variant
	Why     Phrase
	Answer  AnswerView
	Changes ChangesView // on the page of the recipe as it was written
	Opening Opening
	Card    CardView
	Times   []string    // heads of the record table
	Rows    []RecordRow // what to look for
	Apart   []ApartView // pairs of the mix that published orders put differently
	Beside  []Link      // jars to run beside this one
	FillIn  string      // way to the observation form with this mix in it
	Back    WayBack
}

// recipePage prints a recipe, or one of its variants.
func (e *edition) recipePage(r *mix.Recipe, v variant) ([]byte, error) {
	l := e.newLeaf(v.path(r.ID))
	jarOf := v.recipe(e, r)
	ids := portionIDs(jarOf.Products)
	a := l.Judge.Mix(ids, mix.Situation{})
	p := &RecipePage{Heading: l.phrase(r.Title), Variant: l.variantWords(v), Why: l.phrase(r.Why), Answer: l.answer(&a),
		Opening: l.opening(&a), Card: l.jarCard(jarOf), Times: l.times(), Rows: l.recordRows(), Apart: l.apartIn(jarOf.Products),
		FillIn: l.link("record.html") + formAddress(jarOf), Back: l.wayBack()}
	if v == (variant{}) {
		p.Changes = l.changes(&a, mix.Situation{})
	}
	l.handling(ids)
	title := p.Heading.Text
	if v != (variant{}) {
		p.Main = Link{l.link(recipePath(r.ID)), p.Heading}
		title = l.t("variant.title", "recipe", title, "variant", p.Variant)
	}
	for _, other := range e.variants(r) {
		if other != v {
			p.Beside = append(p.Beside, Link{l.link(other.path(r.ID)), Phrase{Text: capital(l.variantWords(other))}})
		}
	}
	return l.finish("recipe", p, head{title, l.t("recipe.summary", "mix", l.names(ids))})
}

// times are the times at which the office reads its jars.
func (l *leaf) times() []string {
	var all []string
	for _, d := range l.book().Routine.Readings {
		all = append(all, l.duration(d))
	}
	return all
}

// handling adds the hazards of handling the products themselves.
func (l *leaf) handling(products []mix.ID) {
	for _, id := range products {
		for _, c := range l.Index.Classes(id) {
			l.danger(l.Index.Class(c).Hazards...)
		}
	}
}

// Opening is how a jar is turned and opened. There is always a rule: that no gas is
// known is no proof that there is none.
type Opening struct {
	Gas  bool // gas or heat is possible: the jar stays open
	Rule string
	Turn string // how the jar is mixed after each addition
	Kind string // what the rule rests on
}

// opening picks the rule for a mix, as package trial does for its jars: it stays open
// when a hazard asks for it, when anything that bears on it says that gas comes off,
// and when it holds a carbonate beside something else.
func (l *leaf) opening(a *compat.Answer) Opening {
	open := l.staysOpen(a)
	rule := trial.Watched
	if open {
		rule = trial.Vented
	}
	o := Opening{Gas: open, Kind: l.words.SourceKind(mix.CommonPractice), Rule: l.t("opening.rule-" + rule.String()), Turn: l.turn(!open)}
	if n := len(a.Untested); n > 0 && !open {
		o.Rule = l.t("opening.untested", "n", n) + " " + o.Rule
	}
	return o
}

func (l *leaf) staysOpen(a *compat.Answer) bool {
	for _, h := range slices.Concat(a.Hazards, a.Handling) {
		if h != mix.NoHazard && h != mix.Concentrate {
			return true
		}
	}
	for _, s := range a.Symptoms {
		if (s.Symptom == mix.Gas || s.Symptom == mix.Heat) && s.Verdict > mix.Clean {
			return true
		}
	}
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Stated > mix.Clean && slices.Contains(f.Symptoms, mix.Gas) {
			return true
		}
	}
	return len(a.Items) > 1 && slices.ContainsFunc(a.Items, l.holdsCarbonate)
}

func (l *leaf) holdsCarbonate(id mix.ID) bool {
	p := l.Index.Product(id)
	return p != nil && slices.ContainsFunc(p.Actives, func(a mix.Active) bool {
		_, ok := gas.CarbonateOf(a.Name)
		return ok
	})
}

// full is the share of water in a jar that is not crowded.
var full = unit.Int(1)
