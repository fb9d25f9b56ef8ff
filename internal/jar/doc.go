// Package jar turns field rates into what is poured: the doses of one jar, the
// loads of a sprayer, and the order in which products go in. Beside them stand the
// sums of a sprayer and its water, and what is left of an active after a wait. It is arithmetic on values; it reads no file
// and judges no mix.
//
// # Words
//
// The jar is the volume that the finished mix would have at full water; rates are
// scaled to it. A dose is the amount of one product in the jar, measured by volume
// when the product is a liquid and always by weight when it is dry. What a dose
// takes up is the volume it adds. Carrier is the liquid of the tank, water unless
// said otherwise. A load is one fill of the sprayer; the heel is what stays in the
// tank because the pump cannot reach it.
//
// # A jar
//
//	       full water                  crowded fill, a quarter of the water
//	jar ── ┬──────────┐ ─┐
//	       │  top up  │  │ water
//	       ├──────────┤ ─┘
//	       │ dose 3   │ ─┐                       ┬──────────┐ finished
//	       │ dose 2   │  │ doses                 │ top up   │
//	       │ dose 1   │  │ in order              │ dose 3   │
//	       ├──────────┤ ─┘                       │ dose 2   │
//	       │          │ ─┐                       │ dose 1   │
//	       │  first   │  │ water                 ├──────────┤
//	       │  water   │  │                       │  first   │
//	       └──────────┘ ─┘                       └──────────┘
//
// dose = rate × jar ÷ spray volume for a rate by area, rate × jar for a rate by
// volume of spray. The finished volume includes the products: water = jar − what
// the doses take up. The first water is a share of the finished volume, as a tank
// is filled to a mark before the first product goes in (GRDC Spray Application
// Manual, module 7.5), and never more than all the water; the rest tops up.
//
// A crowded fill holds the same doses as the full jar and only a share of its
// water, as products meet in an induction bowl or in a tank that was hardly
// filled. The doses do not change, neither those by area nor those by volume of
// spray: the tank they stand for gets all its water later. What changes is the
// finished volume = share × water + what the doses take up.
//
// A liquid takes up its own volume. A dry product takes up weight ÷ density when a
// density is given and is counted as nothing when none is; a heaped density counts
// too much, none too little, so a jar is always topped up to its mark.
//
// # Loads
//
//	fill ── ┬────────┐     ┬────────┐
//	        │ sprays │     │ sprays │     ┬────────┐
//	        │        │     │        │     │ sprays │
//	heel ── ├────────┤     ├────────┤     ├────────┤
//	        │ mixed  │     │ stays  │     │ stays  │ ── left over
//	        └────────┘     └────────┘     └────────┘
//	          load 1         load 2        last, part
//
// Each load but the last sprays a full tank less the heel. The heel is mixed once,
// with the first load, and is left over at the end. When the last part load would
// be below the sprayer's minimum, the last two loads share their area evenly.
//
// # Order of addition
//
// Each product goes into the first step of the table that claims it: by its
// water-soluble bag, by a class of its own, by its formulation code, in this order
// of strength. The label's own position overrides the table. What no step claims
// goes last and says so: its label decides. Products of one step keep the order
// they were given in.
//
// # Standing time
//
//	half-life, log scale
//	  10 h ─●                  ● published by this source
//	        │ ╲
//	   1 h ─│   ○              ○ interpolated between two of its points
//	        │     ╲
//	 6 min ─│       ●  ?       ? beyond them nothing is known
//	        └──┬───┬───┬────
//	          pH 5 6   7
//
// What is left of an active after a wait is one half to the power of time over
// half-life. Sources are laid side by side, and their spread is shown, never a mean.
// It says which waits cost a dose and gives no permission to wait.
//
// # Invariants
//
//   - A dose is linear in rate and in jar.
//   - More spray volume per area never means more product by area.
//   - A smaller share of water changes no dose.
//   - First water and top-up sum to the water; water and doses to the finished
//     volume.
//   - The areas of all loads sum to the area exactly, and the amounts of all loads
//     to the total exactly.
//   - A half-life is never extrapolated, nor taken from two sources at once; what is
//     left never grows with time, and one more source never narrows the spread.
//   - Nothing is rounded before it is printed; what is printed is rounded once, by
//     [unit.Number.Round], to three decimals of mL or g.
package jar
