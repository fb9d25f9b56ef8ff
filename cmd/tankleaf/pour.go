package main

import (
	"fmt"

	"tankleaf.example/internal/jar"
)

// How a recipe is poured with the tools of the office.

// offer measures a recipe; nil where no office lists any tool.
func (s *setting) offer(q jar.Request) (*jar.Proposal, error) {
	if s.office == nil || len(s.office.Book.Tools) == 0 {
		return nil, nil
	}
	bench := jar.BenchOf(s.office.Book)
	p, err := bench.Propose(q)
	return &p, err
}

func offerJSON(p *jar.Proposal) *jar.ProposalJSON {
	if p == nil {
		return nil
	}
	j := p.JSON()
	return &j
}

// printOffer prints the card as asked, or what is wrong with it and the cards that
// stand in for it.
func (c *call) printOffer(p *jar.Proposal) {
	if p.Passes() {
		c.printCard("Poured with the office's tools", &p.Asked)
		return
	}
	fmt.Fprintln(c.out)
	for _, t := range p.Trouble {
		fmt.Fprintf(c.out, "%s\n\t%s\n", t.Msg, t.Hint)
	}
	if p.Diluted != nil {
		c.printCard("In this jar, with stocks", p.Diluted)
	}
	if p.Larger != nil {
		c.printCard("In a jar of "+p.Larger.Recipe.Jar.String(), p.Larger)
	}
}

// printCard prints one card: stocks first, then what goes in, in order.
func (c *call) printCard(title string, card *jar.Card) {
	fmt.Fprintf(c.out, "\n%s\n\n", title)
	for i := range card.Doses {
		if s := card.Doses[i].Stock; s != nil {
			in, _ := s.MadeIn.Name.In("en", "en")
			fmt.Fprintf(c.out, "stock of %s, 1 in %d: %s, made up with the jar's water to %s mL in %s; shake before every draw\n",
				card.Doses[i].Dose.Product.Name, s.Parts, s.Product.Says(), s.Volume.Base().Short(1), in)
		}
	}
	w := width(card.Recipe.Doses, "first water")
	fmt.Fprintf(c.out, "%3s  %-*s  %s\n", "", w, "first water", card.First.Says())
	for i := range card.Doses {
		fmt.Fprintf(c.out, "%3d  %-*s  %s\n", i+1, w, card.Doses[i].Dose.Product.Name, poured(&card.Doses[i]))
	}
	fmt.Fprintf(c.out, "%3s  %-*s  %s\n", "", w, "top up", card.TopUp.Says())
}

// poured tells one line of a card, with what its dose and its rate in the finished
// jar are off by.
func poured(l *jar.Line) string {
	text := l.Pour.Says()
	if l.Stock != nil {
		text += fmt.Sprintf(" of its stock, %s %s of product", l.Poured.Base().Short(4), l.Poured.BaseUnit())
	}
	text += fmt.Sprintf(", dose off by %s, rate by %s", l.ErrorSays(), l.RateSays())
	if l.Shake {
		text += "; shake before drawing"
	}
	return text
}
