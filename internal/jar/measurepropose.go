package jar

import (
	"errors"
	"fmt"

	"tankleaf.example/internal/unit"
)

// NoTool is a dose that no tool measures within the tolerance.
const NoTool Code = "no-tool"

// Proposal is how a recipe can be poured with the tools at hand. As asked comes
// first; when it does not pass, a larger jar and a pre-dilution stand beside it for
// the reader to choose, as far as they pass.
type Proposal struct {
	Asked   Card  // as asked, no stock; zero when even paper has no dose for it
	Larger  *Card // in the smallest jar on the shelf that is larger and passes without a stock
	Diluted *Card // in the jar asked for, with stocks
	Trouble Problems
}

// Passes reports whether the recipe can be poured as asked.
func (p *Proposal) Passes() bool { return len(p.Trouble) == 0 }

// Best returns what to print: as asked when it passes, else with stocks in the jar
// asked for, else the larger jar, and nil when nothing passes.
func (p *Proposal) Best() *Card {
	switch {
	case p.Passes():
		return &p.Asked
	case p.Diluted != nil:
		return p.Diluted
	}
	return p.Larger
}

// Propose measures a recipe and, where a dose cannot be measured within the
// tolerance, looks for the smallest jar on the shelf and for stocks that help. A
// request that cannot be worked out at all gives [Problems]; doses that are too
// small for the tools are no error: Trouble names each with what to do instead.
func (b *Bench) Propose(q Request) (Proposal, error) {
	var p Proposal
	asked, err := b.Direct(q)
	if err != nil && !tooSmall(err) {
		return p, err
	}
	p.Asked = asked
	if err == nil && asked.Passes() {
		return p, nil
	}
	p.Larger = b.larger(q)
	if c, err := b.Diluted(q); err == nil && c.Passes() {
		p.Diluted = &c
	}
	if err != nil {
		errors.As(err, &p.Trouble)
		for i := range p.Trouble {
			p.Trouble[i].Hint = p.remedy("take a larger jar, or check the rate and its unit")
		}
		return p, nil
	}
	for i := range asked.Doses {
		if l := &asked.Doses[i]; !l.Passes {
			p.Trouble.add(NoTool, l.Dose.Product.Name, b.says(l), p.remedy(b.last(q, l)))
		}
	}
	return p, nil
}

// tooSmall reports whether all that is wrong is doses below what is printed.
func tooSmall(err error) bool {
	var ps Problems
	if !errors.As(err, &ps) {
		return false
	}
	for _, one := range ps {
		if one.Code != TooSmall {
			return false
		}
	}
	return len(ps) > 0
}

// larger tries the jars on the shelf that are larger than the one asked for.
func (b *Bench) larger(q Request) *Card {
	for _, v := range b.Jars {
		if v.Cmp(q.Jar) <= 0 {
			continue
		}
		q.Jar = v
		if c, err := b.Direct(q); err == nil && c.Passes() {
			return &c
		}
	}
	return nil
}

// says is what is wrong with one dose.
func (b *Bench) says(l *Line) string {
	name, a := l.Dose.Product.Name, l.Dose.Amount
	if l.Pour.Tool == nil {
		return fmt.Sprintf("no tool at hand measures the dose of %s, %s %s", name, a.Base().Short(decimals), a.BaseUnit())
	}
	off := l.Error
	if b.Within(off) {
		off = l.Rate
	}
	return fmt.Sprintf("the dose of %s, %s %s, can be poured as %s %s, %s %% off; the tolerance is %s %%", name,
		a.Base().Short(decimals), a.BaseUnit(), l.Poured.Base().Short(decimals), a.BaseUnit(),
		size(off).Mul(unit.Int(100)).Short(1), b.tolerance().Mul(unit.Int(100)).Short(1))
}

// remedy says what to do in words: the larger jar, a stock, or what is left.
func (p *Proposal) remedy(otherwise string) string {
	switch {
	case p.Larger != nil && p.Diluted != nil:
		return fmt.Sprintf("take the %v jar, or draw from a stock", p.Larger.Recipe.Jar)
	case p.Larger != nil:
		return fmt.Sprintf("take the %v jar", p.Larger.Recipe.Jar)
	case p.Diluted != nil:
		return "draw it from a stock; its steps are on the card"
	}
	return otherwise
}

// last is what to do when neither jar nor stock helps: the jar from which on the
// smallest tool reaches down to the dose.
func (b *Bench) last(q Request, l *Line) string {
	var low unit.Number
	for i := range b.Tools {
		if t := &b.Tools[i]; t.Low.Dry == l.Dose.Amount.Dry && t.High.Dry == l.Dose.Amount.Dry &&
			(low.Sign() == 0 || t.Low.Base().Cmp(low) < 0) {
			low = t.Low.Base()
		}
	}
	dose := l.Dose.Amount.Base()
	switch {
	case low.Sign() == 0 && l.Dose.Amount.Dry:
		return "get a scale: a dry product is weighed"
	case low.Sign() == 0:
		return "get a syringe or a pipette"
	case dose.Cmp(low) < 0:
		return fmt.Sprintf("get a finer tool; the smallest jar that the finest at hand serves is %s mL",
			ceil(q.Jar.Base().Mul(low).Quo(dose)).Short(0))
	}
	return "get a tool with finer marks, or a larger cylinder"
}

// ceil returns the smallest whole number that is not below n.
func ceil(n unit.Number) unit.Number { return n.Neg().Floor().Neg() }
