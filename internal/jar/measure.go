package jar

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Bench is what an office measures with: its tools, how far a rate may be off, and
// the jars that stand on the shelf. A dose that exists on paper alone is no dose:
//
//	exact dose ──▶ a tool that holds it ──▶ nearest mark ──▶ poured dose, error
//	                     │ none, or error past the tolerance
//	                     ├──▶ the smallest jar on the shelf that passes
//	                     └──▶ a stock of 1 in 10 or 1 in 100, drawn in its place
//
// The low end of a tool's range is where the office stops trusting it; the error
// shown is that of rounding to its marks and no more.
type Bench struct {
	Tools     []mix.Tool
	Tolerance unit.Number   // largest relative error of a rate in the jar, 0 to 1; zero: 5 %
	Jars      []unit.Volume // finished volumes to try when a dose cannot be measured, ascending
}

// usualTolerance is the error that is let pass where an office says nothing. Common
// practice, no source; declared contents of products themselves may be off by 5 to
// 6 % (FAO specification 435/EW, 1997).
var usualTolerance = unit.Frac(5, 100)

// mostDraws is how often one tool is filled for one dose. With more a person loses
// count. Common practice, no source.
const mostDraws = 10

// BenchOf returns the bench of an office.
func BenchOf(b *mix.Book) *Bench {
	return &Bench{Tools: b.Tools, Tolerance: b.Site.Tolerance, Jars: b.Site.Jars}
}

func (b *Bench) tolerance() unit.Number {
	if b.Tolerance.Sign() == 0 {
		return usualTolerance
	}
	return b.Tolerance
}

// Within reports whether a relative error is inside the bench's tolerance.
func (b *Bench) Within(relative unit.Number) bool { return size(relative).Cmp(b.tolerance()) <= 0 }

// size is n without its sign.
func size(n unit.Number) unit.Number { return n.Max(n.Neg()) }

// Pour is one amount as it is measured. The zero Pour is nothing poured.
type Pour struct {
	Tool   *mix.Tool     // nil: no tool measures it
	Draws  []unit.Amount // what each fill of the tool holds, a whole number of its graduations
	Exact  unit.Amount   // wanted
	Poured unit.Amount   // what the draws sum to
	Error  unit.Number   // poured ÷ exact − 1; zero when nothing was wanted or no tool measures it
}

// toMark is the one rounding of what is poured: to the nearest mark of a tool, from
// half a graduation up to the next ([unit.Number.Round]). It returns the number of
// graduations.
func toMark(n, graduation unit.Number) int64 {
	k, _ := n.Quo(graduation).Round(0).Int64()
	return k
}

// amount returns n mL, or n g when dry.
func amount(dry bool, n unit.Number) unit.Amount {
	if dry {
		return unit.Amount{Dry: true, Mass: unit.Gram.Of(n)}
	}
	return unit.Amount{Volume: unit.Milliliter.Of(n)}
}

// Pour measures an amount: by the tools whose error passes before those whose
// error does not, then in the fewest draws, then by the finest graduation, then by
// kind and ID. Without a tool that holds it the pour has none.
func (b *Bench) Pour(exact unit.Amount) Pour {
	var best Pour
	for i := range b.Tools {
		p, ok := draw(&b.Tools[i], exact)
		if ok && (best.Tool == nil || b.comparePours(&p, &best) < 0) {
			best = p
		}
	}
	best.Exact = exact
	if best.Tool == nil {
		best.Poured = amount(exact.Dry, unit.Number{})
	}
	return best
}

func (b *Bench) comparePours(p, q *Pour) int {
	switch pass, other := b.Within(p.Error), b.Within(q.Error); {
	case pass && !other:
		return -1
	case other && !pass:
		return 1
	case !pass:
		if c := size(p.Error).Cmp(size(q.Error)); c != 0 {
			return c
		}
	}
	return cmp.Or(cmp.Compare(len(p.Draws), len(q.Draws)), p.Tool.Graduation.Base().Cmp(q.Tool.Graduation.Base()),
		cmp.Compare(p.Tool.Kind, q.Tool.Kind), cmp.Compare(p.Tool.ID, q.Tool.ID))
}

// draw measures an amount with one tool in the fewest draws that keep each inside
// its range; draws differ by one graduation at most.
func draw(t *mix.Tool, exact unit.Amount) (Pour, bool) {
	grade := t.Graduation.Base()
	if (t.Kind == mix.Scale) != exact.Dry || grade.Sign() <= 0 || exact.Base().Sign() <= 0 {
		return Pour{}, false
	}
	marks := toMark(exact.Base(), grade)
	for n := int64(1); n <= mostDraws && n <= marks; n++ {
		small, large := marks/n, (marks+n-1)/n
		if grade.Mul(unit.Int(large)).Cmp(t.High.Base()) > 0 {
			continue
		}
		if grade.Mul(unit.Int(small)).Cmp(t.Low.Base()) < 0 {
			return Pour{}, false
		}
		return drawn(t, exact, marks, n), true
	}
	return Pour{}, false
}

// drawn spreads a number of graduations over n draws.
func drawn(t *mix.Tool, exact unit.Amount, marks, n int64) Pour {
	grade := t.Graduation.Base()
	p := Pour{Tool: t, Exact: exact, Poured: amount(exact.Dry, grade.Mul(unit.Int(marks)))}
	for i := range n {
		each := marks / n
		if i < marks%n {
			each++
		}
		p.Draws = append(p.Draws, amount(exact.Dry, grade.Mul(unit.Int(each))))
	}
	p.Error = p.Poured.Base().Quo(exact.Base()).Sub(unit.Int(1))
	return p
}

// suspensions are the codes of liquids in which something settles or creams, so
// that the container is shaken before anything is drawn from it: what their names
// in the international list say (see [mix.Form.Meaning]).
var suspensions = []mix.Form{"CS", "EO", "EW", "OD", "SC", "SE", "ZC", "ZE", "ZW"}

// Settles reports whether a product's concentrate is shaken before it is drawn.
func (p *Product) Settles() bool { return !p.dry() && slices.Contains(suspensions, p.Form) }
