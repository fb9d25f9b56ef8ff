package unit

import "strings"

// ParseVolume reads a volume of liquid: "1 qt", "10 fl oz", "500 mL". A bare
// "oz" is a weight and is refused. Errors are [*SyntaxError], here and in every
// parser of this package.
func ParseVolume(s string) (Volume, error) { return parse(s, volumes) }

// ParseMass reads a weight: "2 lb", "8 oz", "250 g".
func ParseMass(s string) (Mass, error) { return parse(s, masses) }

// ParseArea reads an area: "80 ac", "12.5 ha", "5000 sq ft". The acre is the
// international one.
func ParseArea(s string) (Area, error) { return parse(s, areas) }

// ParseLength reads a length: "20 in", "50 cm".
func ParseLength(s string) (Length, error) { return parse(s, lengths) }

// ParseDensity reads a density above 0: "1.28 g/mL", "10.7 lb/gal".
func ParseDensity(s string) (Density, error) { return above0(s, densities) }

// ParseDuration reads a time: "15 min", "2 h", "3 days".
func ParseDuration(s string) (Duration, error) { return parse(s, durations) }

// ParseFlow reads the flow of a nozzle: "0.5 gal/min", "0.4 GPM", "64 fl oz/min".
func ParseFlow(s string) (Flow, error) { return parse(s, flows) }

// ParseSpeed reads a speed over the ground: "5 mph", "8 km/h".
func ParseSpeed(s string) (Speed, error) { return parse(s, speeds) }

// ParseSprayVolume reads a volume of spray per area, above 0: "15 gal/ac",
// "15 GPA", "140 L/ha".
func ParseSprayVolume(s string) (SprayVolume, error) { return above0(s, sprayVolumes) }

// ParseContent reads what is dissolved in water: "342 ppm", "20 gpg". 1 ppm is
// taken as 1 mg/L.
func ParseContent(s string) (Content, error) { return parse(s, contents) }

// ParseTemperature reads a temperature, which alone may be below zero: "50 °F",
// "-2 °C". The degree sign may be left out. Not below absolute zero, -273.15 °C.
func ParseTemperature(s string) (Temperature, error) {
	t, err := newText(s, temperatures.noun, temperatures.example)
	if err != nil {
		return Temperature{}, err
	}
	sign := Int(1)
	if t.peek() == '-' || t.peek() == '−' {
		t.pos++
		sign = Int(-1)
	}
	n, err := t.number()
	if err != nil {
		return Temperature{}, err
	}
	u, err := unitIn(t, temperatures)
	if err != nil {
		return Temperature{}, err
	}
	q := u.Of(n.Mul(sign))
	if q.Cmp(Celsius.Of(Frac(-27315, 100))) < 0 {
		return Temperature{}, t.bad(OutOfRange, 0, " is below absolute zero", t.write(t.example))
	}
	return q, nil
}

// ParseRise reads a difference of temperature that is not negative, "0.5 °C" or
// "1 °F", and returns it in °C. No offset is applied: 9 °F is 5 °C.
func ParseRise(s string) (Number, error) {
	t, err := newText(s, "temperature rise", "2 °C")
	if err != nil {
		return Number{}, err
	}
	n, err := t.number()
	if err != nil {
		return Number{}, err
	}
	u, err := unitIn(t, temperatures)
	return n.Mul(u.factor), err
}

// ParseAmount reads an amount of product, a volume or a weight: "2.5 gal",
// "8 oz".
func ParseAmount(s string) (Amount, error) {
	t, err := newText(s, "amount", "2.5 gal")
	if err != nil {
		return Amount{}, err
	}
	n, err := t.number()
	if err != nil {
		return Amount{}, err
	}
	mark := t.pos
	if u, ok := masses.find(t.rest()); ok {
		return Amount{Dry: true, Mass: u.Of(n)}, nil
	}
	t.pos = mark
	if u, ok := volumes.find(t.rest()); ok {
		return Amount{Volume: u.Of(n)}, nil
	}
	t.pos = mark
	return Amount{}, t.unknownUnit(t.rest(), mark, amountWords)
}

// ParsePercent reads a percentage from 0 to 100 and returns the fraction it
// stands for: "5 %" is 1/20.
func ParsePercent(s string) (Number, error) {
	t, err := newText(s, "percentage", "5 %")
	if err != nil {
		return Number{}, err
	}
	n, err := t.number()
	if err != nil {
		return Number{}, err
	}
	at := t.pos
	switch r := t.rest(); {
	case r == "":
		return Number{}, t.bad(NoUnit, at, " has no %", t.write(t.whole()+" %"))
	case r != "%" && foldName(r) != "percent":
		return Number{}, t.bad(Trailing, at, " has more than a number and %", t.write(t.example))
	case n.Cmp(Int(100)) > 0:
		return Number{}, t.bad(OutOfRange, 0, " is above 100 %", "write 0 to 100 %")
	}
	return n.Quo(Int(100)), nil
}

// ParseNumber reads a plain number that is not negative: "0.25", "1/2", "1 1/2".
func ParseNumber(s string) (Number, error) {
	t, err := newText(s, "number", "0.25")
	if err != nil {
		return Number{}, err
	}
	n, err := t.number()
	if err != nil {
		return Number{}, err
	}
	at := t.pos
	if r := t.rest(); r != "" {
		return Number{}, t.bad(Trailing, at, ` is followed by "`+r+`"`, "write the number alone")
	}
	return n, nil
}

// parse reads a number and a unit of one dimension.
func parse[D dimension](s string, v *vocabulary[D]) (Quantity[D], error) {
	t, err := newText(s, v.noun, v.example)
	if err != nil {
		return Quantity[D]{}, err
	}
	n, err := t.number()
	if err != nil {
		return Quantity[D]{}, err
	}
	u, err := unitIn(t, v)
	if err != nil {
		return Quantity[D]{}, err
	}
	return u.Of(n), nil
}

// above0 is parse for what must not be nothing, because we divide by it.
func above0[D dimension](s string, v *vocabulary[D]) (Quantity[D], error) {
	q, err := parse(s, v)
	if err == nil && q.Sign() == 0 {
		err = &SyntaxError{Code: Zero, Msg: v.noun + ` "` + strings.TrimSpace(s) + `" is zero`, Hint: `write "` + v.example + `"`}
	}
	return q, err
}

// unitIn takes the rest of t as a unit of v.
func unitIn[D dimension](t *text, v *vocabulary[D]) (Unit[D], error) {
	t.skipSpace()
	at := t.pos
	r := t.rest()
	if u, ok := v.find(r); ok {
		return u, nil
	}
	if c, ok := compound(r); ok {
		if u, ok := v.find(c); ok {
			return u, nil
		}
	}
	return Unit[D]{}, t.unknownUnit(r, at, v.words())
}

// compound brings "gallons per acre" to the form "gal/ac".
func compound(s string) (string, bool) {
	above, below, ok := cutPer(s)
	if !ok {
		return "", false
	}
	count, name := splitCount(below)
	a, ok1 := simple(above)
	b, ok2 := simple(name)
	return a + "/" + count + b, ok1 && ok2
}

// cutPer cuts at the bar, or at the word "per".
func cutPer(s string) (above, below string, ok bool) {
	if above, below, ok = strings.Cut(s, "/"); !ok {
		above, below, ok = strings.Cut(s, " per ")
	}
	return strings.TrimSpace(above), strings.TrimSpace(below), ok
}

// splitCount takes the leading digits of "1000 sq ft", with one space after them.
func splitCount(s string) (count, name string) {
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	if i == 0 {
		return "", s
	}
	return s[:i] + " ", strings.TrimSpace(s[i:])
}

// simple returns the symbol of a unit that is not compound.
func simple(s string) (string, bool) {
	for _, symbol := range []func(string) (string, bool){
		volumes.symbol, masses.symbol, areas.symbol, lengths.symbol, durations.symbol,
	} {
		if c, ok := symbol(s); ok {
			return c, true
		}
	}
	return "", false
}
