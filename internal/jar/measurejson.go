package jar

import (
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// The JSON of cards. Amounts are decimal strings with three decimals in mL or g as
// everywhere; errors are per cent with two decimals and a sign when negative.

// PourJSON is one amount as it is measured.
type PourJSON struct {
	Exact  string   `json:"exact"`
	Poured string   `json:"poured"`
	Unit   string   `json:"unit"`
	Error  string   `json:"error"` // per cent
	Tool   mix.ID   `json:"tool,omitempty"`
	Draws  []string `json:"draws,omitempty"`
}

// StockJSON is a pre-dilution.
type StockJSON struct {
	Parts   int        `json:"parts"` // 1 in so many
	Product PourJSON   `json:"product"`
	Volume  VolumeJSON `json:"volume"`
	Carrier VolumeJSON `json:"carrier"`
	MadeIn  mix.ID     `json:"made_in"`
	Shake   bool       `json:"shake"`
}

// LineJSON is one product of a card.
type LineJSON struct {
	Name   string     `json:"name"`
	ID     mix.ID     `json:"id,omitempty"`
	Exact  string     `json:"exact"`  // of product
	Poured string     `json:"poured"` // of product
	Unit   string     `json:"unit"`
	Error  string     `json:"error"`           // per cent, of the dose
	Rate   string     `json:"rate_error"`      // per cent, of the rate in the finished jar
	Stock  *StockJSON `json:"stock,omitempty"` // the pour is then of the stock
	Pour   PourJSON   `json:"pour"`
	Shake  bool       `json:"shake"`
	Passes bool       `json:"passes"`
}

// CardJSON is a recipe as it is poured.
type CardJSON struct {
	Recipe RecipeJSON `json:"recipe"`
	First  PourJSON   `json:"first_water"`
	Lines  []LineJSON `json:"lines"`
	TopUp  PourJSON   `json:"top_up"`
	Filled VolumeJSON `json:"filled"`
	Passes bool       `json:"passes"`
}

// percent writes a share as per cent with two decimals.
func percent(n unit.Number) string { return n.Mul(unit.Int(100)).Fixed(2) }

func (p *Pour) json() PourJSON {
	j := PourJSON{Exact: p.Exact.Base().Fixed(decimals), Poured: p.Poured.Base().Fixed(decimals), Unit: p.Exact.BaseUnit(),
		Error: percent(p.Error)}
	if p.Tool != nil {
		j.Tool = p.Tool.ID
	}
	for _, d := range p.Draws {
		j.Draws = append(j.Draws, d.Base().Fixed(decimals))
	}
	return j
}

// JSON returns the stock in the form of its JSON.
func (s *Stock) JSON() StockJSON {
	return StockJSON{Parts: s.Parts, Product: s.Product.json(), Volume: volumeJSON(s.Volume), Carrier: volumeJSON(s.Carrier()),
		MadeIn: s.MadeIn.ID, Shake: s.Shake}
}

// JSON returns the card in the form of its JSON.
func (c *Card) JSON() CardJSON {
	j := CardJSON{Recipe: c.Recipe.JSON(), First: c.First.json(), Lines: []LineJSON{}, TopUp: c.TopUp.json(),
		Filled: volumeJSON(c.Filled), Passes: c.Passes()}
	for i := range c.Doses {
		l := &c.Doses[i]
		one := LineJSON{Name: l.Dose.Product.Name, ID: l.Dose.Product.ID, Exact: l.Dose.Amount.Base().Fixed(decimals),
			Poured: l.Poured.Base().Fixed(decimals), Unit: l.Dose.Amount.BaseUnit(), Error: percent(l.Error), Rate: percent(l.Rate),
			Pour: l.Pour.json(), Shake: l.Shake, Passes: l.Passes}
		if l.Stock != nil {
			s := l.Stock.JSON()
			one.Stock = &s
		}
		j.Lines = append(j.Lines, one)
	}
	return j
}

// ProposalJSON is how a recipe can be poured: as asked when that passes, else the
// cards that stand in for it, with what is wrong.
type ProposalJSON struct {
	Passes   bool          `json:"passes"` // as asked
	Asked    *CardJSON     `json:"asked,omitempty"`
	Diluted  *CardJSON     `json:"diluted,omitempty"` // in the jar asked for, with stocks
	Larger   *CardJSON     `json:"larger,omitempty"`  // in a larger jar
	Problems []ProblemJSON `json:"problems,omitempty"`
}

// JSON returns the proposal in the form of its JSON.
func (p *Proposal) JSON() ProposalJSON {
	of := func(c *Card) *CardJSON {
		if c == nil || len(c.Doses) == 0 {
			return nil
		}
		j := c.JSON()
		return &j
	}
	return ProposalJSON{Passes: p.Passes(), Asked: of(&p.Asked), Diluted: of(p.Diluted), Larger: of(p.Larger), Problems: p.Trouble.JSON()}
}
