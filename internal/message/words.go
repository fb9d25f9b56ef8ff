package message

import (
	"strings"

	"tankleaf.example/internal/mix"
)

// Words for the values of the vocabulary. Each has a text for every value; a
// test holds the catalogues to that.

// Verdict returns what a verdict is shown as: "No evidence".
func (c *Catalogue) Verdict(v mix.Verdict) string { return c.T("verdict." + v.String()) }

// Grade returns the name of a grade of evidence.
func (c *Catalogue) Grade(g mix.Grade) string { return c.T("grade." + g.String()) }

// Kind returns the name of a kind of interaction.
func (c *Catalogue) Kind(k mix.Kind) string { return c.T("kind." + k.String()) }

// Symptom returns the name of a symptom.
func (c *Catalogue) Symptom(s mix.Symptom) string { return c.T("symptom." + s.String()) }

// Hazard returns the name of a hazard.
func (c *Catalogue) Hazard(h mix.Hazard) string { return c.T("hazard." + h.String()) }

// SourceKind returns what a source is.
func (c *Catalogue) SourceKind(k mix.SourceKind) string { return c.T("source-kind." + k.String()) }

// Form returns the meaning of a formulation code that is used in a tank: "water
// dispersible granule"; the code itself for any other.
func (c *Catalogue) Form(f mix.Form) string {
	if key := "form." + strings.ToLower(string(f)); c.Has(key) {
		return c.T(key)
	}
	return string(f)
}

// Symptoms returns the names of symptoms as a list in a sentence.
func (c *Catalogue) Symptoms(all []mix.Symptom) string {
	var names []string
	for _, s := range all {
		names = append(names, c.Symptom(s))
	}
	return c.List(names)
}

// Gate returns a condition in words: "water harder than 300 ppm". Names of
// records (places, crops, products) come from name.
func (c *Catalogue) Gate(g mix.Gate, name func(mix.ID) string) string {
	key := "gate." + strings.ReplaceAll(g.Factor.String(), "_", "-")
	switch {
	case g.Factor.Numeric():
		return c.T(key, "bound", c.bound(g))
	case g.Factor == mix.OrderFactor:
		return c.T(key, "first", name(g.First.ID), "then", name(g.Then.ID))
	case g.Factor == mix.VesselFactor:
		return c.T(key + "-" + string(g.Ref.ID))
	}
	return c.T(key, "name", name(g.Ref.ID))
}

// bound puts the range an author wrote into words: "over 300 ppm".
func (c *Catalogue) bound(g mix.Gate) string {
	value := strings.TrimSpace(strings.TrimLeft(g.Written, "<>= "))
	switch {
	case g.Low.Set && g.High.Set:
		low, high, _ := strings.Cut(value, " to ")
		return c.T("bound.range", "low", low, "high", high)
	case g.Low.Set && g.Low.Open:
		return c.T("bound.over", "value", value)
	case g.Low.Set:
		return c.T("bound.from", "value", value)
	case g.High.Open:
		return c.T("bound.under", "value", value)
	}
	return c.T("bound.up-to", "value", value)
}

// Gates returns conditions as a list in a sentence.
func (c *Catalogue) Gates(all []mix.Gate, name func(mix.ID) string) string {
	var words []string
	for _, g := range all {
		words = append(words, c.Gate(g, name))
	}
	return c.List(words)
}
