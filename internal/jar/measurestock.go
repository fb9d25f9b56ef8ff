package jar

import (
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Stock is a pre-dilution from which a dose too small for the tools is drawn: one
// part of product made up with carrier to Parts parts. A liquid goes in by volume; a
// dry product by weight, 1 g to Parts mL.
type Stock struct {
	Parts   int         // 10 or 100
	Product Pour        // of the product itself, without error
	Volume  unit.Volume // made up to this mark
	MadeIn  *mix.Tool   // the cylinder that has the mark
	Takes   unit.Volume // what the product takes up of the volume; the rest is carrier
	Shake   bool        // something settles or creams: shake before drawing
}

// Carrier returns the water, or other carrier, that the stock is made up with.
func (s *Stock) Carrier() unit.Volume { return s.Volume.Sub(s.Takes) }

// stockParts are the strengths of stock in the order in which they are tried.
var stockParts = []int{10, 100}

// stockSpare is what a stock holds beyond what is drawn from it: what wets the glass
// and stays below the needle. Common practice, no source.
var stockSpare = unit.Frac(11, 10)

// stockDoses are the amounts of product a stock may be made from, in mL or g: such
// that the same figures stand on syringe, scale and cylinder.
var stockDoses = []unit.Number{unit.Frac(1, 10), unit.Frac(1, 5), unit.Frac(1, 2), unit.Int(1), unit.Int(2), unit.Int(5),
	unit.Int(10), unit.Int(20), unit.Int(25), unit.Int(50), unit.Int(100), unit.Int(200)}

// Stock returns the smallest stock of a product from which a volume can be drawn;
// ok is false when no tool of the bench makes one. Nothing in a stock is rounded:
// the product stands on a mark of its tool and the whole on one of the cylinder.
func (b *Bench) Stock(p *Product, parts int, drawn unit.Volume) (s Stock, ok bool) {
	least := drawn.Times(stockSpare)
	for _, n := range stockDoses {
		made := unit.Milliliter.Of(n.Mul(unit.Int(int64(parts))))
		if made.Cmp(least) < 0 {
			continue
		}
		pour := b.Pour(amount(p.dry(), n))
		in := b.cylinder(made)
		if pour.Tool == nil || pour.Error.Sign() != 0 || in == nil {
			continue
		}
		s = Stock{Parts: parts, Product: pour, Volume: made, MadeIn: in, Shake: p.settlesInStock()}
		s.Takes, _ = p.takes(pour.Exact)
		if s.Takes.Cmp(made) < 0 {
			return s, true
		}
	}
	return Stock{}, false
}

// cylinder returns the finest cylinder with a mark at v, nil when there is none.
func (b *Bench) cylinder(v unit.Volume) *mix.Tool {
	var best *mix.Tool
	for i := range b.Tools {
		t := &b.Tools[i]
		if t.Kind != mix.Cylinder || v.Cmp(t.Low.Volume) < 0 || v.Cmp(t.High.Volume) > 0 ||
			t.Graduation.Base().Sign() <= 0 || !v.Base().Quo(t.Graduation.Base()).IsInt() {
			continue
		}
		if best == nil || t.Graduation.Base().Cmp(best.Graduation.Base()) < 0 {
			best = t
		}
	}
	return best
}

// settlesInStock reports whether a stock is shaken before each draw: dry products
// and all liquids but true solutions. An emulsion creams, an oil floats.
func (p *Product) settlesInStock() bool { return p.dry() || p.Form != "SL" }
