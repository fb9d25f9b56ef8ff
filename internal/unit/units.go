package unit

// Legal definitions on which every US customary factor below rests, all exact:
//
//	yard 0.9144 m and avoirdupois pound 0.45359237 kg: agreement of 1 July 1959,
//	    as in NIST SP 811 (2008), appendix B [page not checked];
//	US gallon 231 in³: NIST Handbook 44, appendix C, p. 382 of the copy read;
//	acre, the international one, 43,560 ft²: 4046.8564224 m².
var (
	inchMM  = Frac(254, 10)                      // mm
	footM   = Frac(3048, 10000)                  // m
	gallon  = Frac(3785411784, 1000000)          // mL: 231 × 2.54³
	poundG  = Frac(45359237, 100000)             // g
	acreM2  = Frac(40468564224, 10000000)        // m²
	grainMG = Frac(6479891, 100000)              // mg: 1/7000 lb
	mileM   = Frac(1609344, 1000)                // m: 5280 ft
	hectare = Int(10000)                         // m²
	inchM   = inchMM.Quo(Int(1000))              // m
	perGal  = grainMG.Quo(gallon.Quo(Int(1000))) // mg/L: 1 grain per US gallon
)

func unitOf[D dimension](name string, factor Number) Unit[D] {
	return Unit[D]{Name: name, factor: factor}
}

// Units of volume. The spoon is left out on purpose: dry products are weighed,
// and a kitchen spoon is no dosing tool.
var (
	Milliliter = unitOf[volume]("mL", Int(1))
	Liter      = unitOf[volume]("L", Int(1000))
	FluidOunce = unitOf[volume]("fl oz", gallon.Quo(Int(128)))
	Pint       = unitOf[volume]("pt", gallon.Quo(Int(8)))
	Quart      = unitOf[volume]("qt", gallon.Quo(Int(4)))
	Gallon     = unitOf[volume]("gal", gallon)
)

// Units of mass.
var (
	Milligram = unitOf[mass]("mg", Frac(1, 1000))
	Gram      = unitOf[mass]("g", Int(1))
	Kilogram  = unitOf[mass]("kg", Int(1000))
	Ounce     = unitOf[mass]("oz", poundG.Quo(Int(16)))
	Pound     = unitOf[mass]("lb", poundG)
)

// Units of area.
var (
	SquareMeter = unitOf[area]("m²", Int(1))
	SquareFoot  = unitOf[area]("sq ft", footM.Mul(footM))
	Acre        = unitOf[area]("ac", acreM2)
	Hectare     = unitOf[area]("ha", hectare)
)

// Units of length.
var (
	Meter      = unitOf[length]("m", Int(1))
	Centimeter = unitOf[length]("cm", Frac(1, 100))
	Millimeter = unitOf[length]("mm", Frac(1, 1000))
	Inch       = unitOf[length]("in", inchM)
	Foot       = unitOf[length]("ft", footM)
)

// Units of density.
var (
	GramPerMilliliter = unitOf[density]("g/mL", Int(1))
	KilogramPerLiter  = unitOf[density]("kg/L", Int(1))
	GramPerLiter      = unitOf[density]("g/L", Frac(1, 1000))
	PoundPerGallon    = unitOf[density]("lb/gal", poundG.Quo(gallon))
)

// Units of temperature: points on the scale.
var (
	Celsius    = unitOf[temperature]("°C", Int(1))
	Fahrenheit = Unit[temperature]{Name: "°F", factor: Frac(5, 9), offset: Frac(-160, 9)}
)

// Units of duration.
var (
	Second = unitOf[duration]("s", Frac(1, 60))
	Minute = unitOf[duration]("min", Int(1))
	Hour   = unitOf[duration]("h", Int(60))
	Day    = unitOf[duration]("d", Int(1440))
)

// Units of flow.
var (
	MilliliterPerMinute = unitOf[flow]("mL/min", Int(1))
	LiterPerMinute      = unitOf[flow]("L/min", Int(1000))
	FluidOuncePerMinute = unitOf[flow]("fl oz/min", gallon.Quo(Int(128)))
	GallonPerMinute     = unitOf[flow]("gal/min", gallon)
)

// Units of speed.
var (
	MeterPerMinute   = unitOf[speed]("m/min", Int(1))
	KilometerPerHour = unitOf[speed]("km/h", Frac(1000, 60))
	MilePerHour      = unitOf[speed]("mph", mileM.Quo(Int(60)))
	FootPerMinute    = unitOf[speed]("ft/min", footM)
)

// Units of spray volume.
var (
	GallonPerAcre   = unitOf[depth]("gal/ac", gallon.Quo(acreM2))
	LiterPerHectare = unitOf[depth]("L/ha", Int(1000).Quo(hectare))

	GallonPerThousandSquareFeet = unitOf[depth]("gal/1000 sq ft", gallon.Quo(footM.Mul(footM)).Quo(Int(1000)))
	MilliliterPerSquareMeter    = unitOf[depth]("mL/m²", Int(1))
)

// Units of content in water. 1 ppm is taken as 1 mg/L: the solutions are dilute.
var (
	PartPerMillion    = unitOf[content]("ppm", Int(1))
	MilligramPerLiter = unitOf[content]("mg/L", Int(1))
	GrainPerGallon    = unitOf[content]("gpg", perGal)
)
