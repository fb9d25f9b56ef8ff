package unit

// dimension is a kind of quantity. Each has one base unit, named here, in which
// its values are kept.
type dimension interface {
	volume | mass | area | length | density | temperature | duration | flow | speed | depth | content
}

type (
	volume      struct{} // base mL
	mass        struct{} // base g
	area        struct{} // base m²
	length      struct{} // base m
	density     struct{} // base g/mL
	temperature struct{} // base °C; a point on the scale, not a difference
	duration    struct{} // base minute
	flow        struct{} // base mL/min
	speed       struct{} // base m/min
	depth       struct{} // base mL/m², volume of spray on an area
	content     struct{} // base mg/L, what is dissolved in water
)

// Quantity is an exact amount of one dimension. The zero Quantity is none of it.
// Quantities of different dimensions do not mix: adding a Mass to a Volume does
// not compile.
type Quantity[D dimension] struct{ n Number }

// The quantities of the field.
type (
	Volume      = Quantity[volume]      // of liquid
	Mass        = Quantity[mass]        // weight, as the trade says
	Area        = Quantity[area]        // of land
	Length      = Quantity[length]      // spacing, swath
	Density     = Quantity[density]     // of a liquid product or a carrier
	Temperature = Quantity[temperature] // of water or a jar
	Duration    = Quantity[duration]    // standing time
	Flow        = Quantity[flow]        // of a nozzle
	Speed       = Quantity[speed]       // over the ground
	SprayVolume = Quantity[depth]       // carrier per area: gal/ac, L/ha
	Content     = Quantity[content]     // hardness, bicarbonate: ppm = mg/L
)

// Unit is a named multiple of a dimension's base unit.
type Unit[D dimension] struct {
	Name   string // as written after the number: "fl oz"
	factor Number // base units in one of it
	offset Number // added after the factor; only temperature scales have one
}

// Of returns n of unit u.
func (u Unit[D]) Of(n Number) Quantity[D] { return Quantity[D]{n.Mul(u.factor).Add(u.offset)} }

// In returns how many of unit u the quantity is.
func (q Quantity[D]) In(u Unit[D]) Number { return q.n.Sub(u.offset).Quo(u.factor) }

// Base returns the amount in the dimension's base unit.
func (q Quantity[D]) Base() Number { return q.n }

// Add returns q + p.
func (q Quantity[D]) Add(p Quantity[D]) Quantity[D] { return Quantity[D]{q.n.Add(p.n)} }

// Sub returns q - p.
func (q Quantity[D]) Sub(p Quantity[D]) Quantity[D] { return Quantity[D]{q.n.Sub(p.n)} }

// Times returns q × n.
func (q Quantity[D]) Times(n Number) Quantity[D] { return Quantity[D]{q.n.Mul(n)} }

// Over returns q ÷ n; n must not be 0.
func (q Quantity[D]) Over(n Number) Quantity[D] { return Quantity[D]{q.n.Quo(n)} }

// Per returns the plain number q ÷ p; p must not be 0.
func (q Quantity[D]) Per(p Quantity[D]) Number { return q.n.Quo(p.n) }

// Cmp returns -1, 0 or +1 as q is less than, equal to or more than p.
func (q Quantity[D]) Cmp(p Quantity[D]) int { return q.n.Cmp(p.n) }

// Sign returns -1, 0 or +1.
func (q Quantity[D]) Sign() int { return q.n.Sign() }

// IsZero reports whether there is none of it.
func (q Quantity[D]) IsZero() bool { return q.n.Sign() == 0 }
