package dataset

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// quantity is a scalar that a parser of the package unit reads.
func quantity[V any](what, example string, parse func(string) (V, error)) yamlpos.Kind[V] {
	s := yamlpos.Schema{Type: "string", Examples: []string{example}}
	return yamlpos.Scalar("a "+what, s, func(n yamlpos.Node, text string) (V, bool) {
		v, err := parse(text)
		if err != nil {
			report(n, 0, err)
		}
		return v, err == nil
	})
}

// report turns an error of the package unit into a problem. Shift is added to
// its offset, when only a part of the scalar was parsed.
func report(n yamlpos.Node, shift int, err error) {
	if e, ok := errors.AsType[*unit.SyntaxError](err); ok {
		n.ProblemAt(e.Offset+shift, e.Msg, e.Hint)
		return
	}
	n.Problem(err.Error(), "")
}

// within refuses values outside a range that nature or good sense sets.
func within[V any](k yamlpos.Kind[V], r span, in func(V) unit.Number) yamlpos.Kind[V] {
	read := k.Read
	k.Read = func(n yamlpos.Node) (V, bool) {
		v, ok := read(n)
		if ok && !r.holds(in(v)) {
			text, _ := n.Text("")
			n.Problem(fmt.Sprintf("%s %q is outside %s", r.what, text, r), "check the number and its unit")
			return v, false
		}
		return v, ok
	}
	return k
}

// known wraps a number that was written.
func known[V any](k yamlpos.Kind[V], in func(V) unit.Number) yamlpos.Kind[mix.Value] {
	return yamlpos.Kind[mix.Value]{Schema: k.Schema, Read: func(n yamlpos.Node) (mix.Value, bool) {
		v, ok := k.Read(n)
		if !ok {
			return mix.Value{}, false
		}
		return mix.Known(in(v)), true
	}}
}

func self(n unit.Number) unit.Number { return n }

func celsius(t unit.Temperature) unit.Number                  { return t.In(unit.Celsius) }
func ppm(c unit.Content) unit.Number                          { return c.In(unit.PartPerMillion) }
func gramsPerML(d unit.Density) unit.Number                   { return d.In(unit.GramPerMilliliter) }
func base[V interface{ Base() unit.Number }](v V) unit.Number { return v.Base() }

func volume() yamlpos.Kind[unit.Volume] { return quantity("volume", "1 qt", unit.ParseVolume) }
func length() yamlpos.Kind[unit.Length] { return quantity("length", "90 mm", unit.ParseLength) }
func rate() yamlpos.Kind[unit.Rate]     { return quantity("rate", "1.5 pt/ac", unit.ParseRate) }

func sprayVolume() yamlpos.Kind[unit.SprayVolume] {
	return within(quantity("spray volume", "15 gal/ac", unit.ParseSprayVolume), sprayVolumes, base[unit.SprayVolume])
}

func duration() yamlpos.Kind[unit.Duration] {
	return within(quantity("time", "30 min", unit.ParseDuration), durations, base[unit.Duration])
}

func density() yamlpos.Kind[unit.Density] {
	return within(quantity("density", "1.2 g/mL", unit.ParseDensity), densities, gramsPerML)
}

func temperature() yamlpos.Kind[mix.Value] {
	return known(within(quantity("temperature", "15 °C", unit.ParseTemperature), temperatures, celsius), celsius)
}

func content(r span) yamlpos.Kind[mix.Value] {
	return known(within(quantity(r.what, "120 ppm", unit.ParseContent), r, ppm), ppm)
}

func ph() yamlpos.Kind[mix.Value] {
	k := quantity("pH", "7.2", unit.ParseNumber)
	k.Schema = yamlpos.Schema{Type: []string{"number", "string"}}
	return known(within(k, phs, self), self)
}

// share is a percentage, kept as a fraction of one.
func share() yamlpos.Kind[unit.Number] { return quantity("percentage", "5 %", unit.ParsePercent) }

// rating is a percentage, kept as it is written: 62 for "62 %".
func rating() yamlpos.Kind[mix.Value] {
	return known(share(), func(n unit.Number) unit.Number { return n.Mul(unit.Int(100)) })
}

// difference is a difference of temperatures in °C, which may be negative. No
// offset is applied: 9 °F are 5 °C.
func difference() yamlpos.Kind[mix.Value] {
	k := quantity("temperature difference", "0.5 °C", parseDifference)
	return known(within(k, differences, self), self)
}

func parseDifference(s string) (unit.Number, error) {
	t, err := unit.ParseTemperature(s)
	if err != nil {
		return unit.Number{}, err
	}
	name := strings.ToLower(strings.TrimRight(strings.TrimSpace(s), "."))
	if strings.HasSuffix(name, "f") || strings.HasSuffix(name, "fahrenheit") {
		return t.In(unit.Fahrenheit).Mul(unit.Frac(5, 9)), nil
	}
	return t.In(unit.Celsius), nil
}

// count is a whole number from low to high.
func count(what string, low, high int) yamlpos.Kind[int] {
	s := yamlpos.Schema{Type: "integer"}
	return yamlpos.Scalar("a whole number", s, func(n yamlpos.Node, text string) (int, bool) {
		i, err := strconv.Atoi(text)
		if err != nil || strconv.Itoa(i) != text {
			n.Problem(fmt.Sprintf("%s %q is no whole number", what, text), "write digits alone")
			return 0, false
		}
		if i < low || i > high {
			n.Problem(fmt.Sprintf("%s %d is outside %d to %d", what, i, low, high), "check the number")
			return 0, false
		}
		return i, true
	})
}

// date is a day not later than the day of publication; anyDate may be later.
func (l *loader) date() yamlpos.Kind[mix.Date] {
	k := anyDate()
	read := k.Read
	k.Read = func(n yamlpos.Node) (mix.Date, bool) {
		d, ok := read(n)
		if ok && !l.today.IsZero() && d.Compare(l.today) > 0 {
			n.Problem(fmt.Sprintf("date %s lies after the day of publication", d), "the site is published "+l.today.String()+
				", says "+siteFile)
		}
		return d, ok
	}
	return k
}

func anyDate() yamlpos.Kind[mix.Date] {
	s := yamlpos.Schema{Type: "string", Pattern: `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`, Examples: []string{"2026-05-12"}}
	return yamlpos.Scalar("a date", s, func(n yamlpos.Node, text string) (mix.Date, bool) {
		d, ok := mix.ParseDate(text)
		if !ok {
			n.Problem(fmt.Sprintf("%q is no date", text), `write year-month-day, as in "2026-05-12"`)
		}
		return d, ok
	})
}

// enum is the kind of an enumeration: all its words that parse.
func enum[T interface {
	~uint8
	String() string
}](what string, parse func(string) (T, bool)) yamlpos.Kind[T] {
	var words []string
	for v := range 256 {
		w := T(v).String()
		if _, ok := parse(w); ok && !strings.Contains(w, "(") {
			words = append(words, w)
		}
	}
	return yamlpos.Words(what, words, parse)
}

// symptom is the kind of a symptom. Editors offer those given; the others are
// read too, so that the reader can say why they do not belong here.
func symptom(offered ...mix.Symptom) yamlpos.Kind[mix.Symptom] {
	k := enum("symptom", mix.ParseSymptom)
	k.Schema.Enum = nil
	for _, s := range offered {
		k.Schema.Enum = append(k.Schema.Enum, s.String())
	}
	return k
}

// word is a string out of a few.
func word(what string, words ...string) yamlpos.Kind[string] {
	return yamlpos.Words(what, words, func(s string) (string, bool) { return s, slices.Contains(words, s) })
}

// line is text that is not translated: a name, an author, a link.
func line(what string) yamlpos.Kind[string] {
	return yamlpos.Scalar(what, yamlpos.Schema{}, func(n yamlpos.Node, s string) (string, bool) {
		return s, prose(n, s)
	})
}

// names is a list of other names. A digit alone is what is left of 2,4-D when a
// list cuts it at its comma.
func names() yamlpos.Kind[[]string] {
	k := line("a name")
	read := k.Read
	k.Read = func(n yamlpos.Node) (string, bool) {
		s, ok := read(n)
		if ok && len(s) == 1 && s[0] >= '0' && s[0] <= '9' {
			n.Problem(fmt.Sprintf("name %q is a digit", s), "a comma starts a new entry: put a name that holds one in quotes")
		}
		return s, ok
	}
	return many("names", k)
}

// prose reports text that is empty or mixes look-alike letters.
func prose(n yamlpos.Node, s string) bool {
	if strings.TrimSpace(s) == "" {
		n.Problem("text is empty", "write the text, or leave the key out")
		return false
	}
	if at, w := mixedWord(s); w != "" {
		n.ProblemAt(at, fmt.Sprintf("word %q mixes letters of two scripts that look alike", w), "write it in one script")
		return false
	}
	return true
}

// languageTag is the part of BCP 47 (RFC 5646, section 2.1) that a site needs:
// language, script, region.
var languageTag = regexp.MustCompile(`^[a-z]{2,3}(-[A-Z][a-z]{3})?(-([A-Z]{2}|[0-9]{3}))?$`)

// text is prose in the office's own language, or a mapping by language.
func (l *loader) text() yamlpos.Kind[mix.Text] {
	plain := yamlpos.Scalar("text", yamlpos.Schema{Type: []string{"string", "number", "boolean"}},
		func(n yamlpos.Node, s string) (mix.Text, bool) {
			return mix.Text{l.lang: s}, prose(n, s)
		})
	many := yamlpos.Kind[mix.Text]{
		Schema: yamlpos.KeysLike(languageTag.String(), yamlpos.Schema{Type: "string"}),
		Read:   l.translations,
	}
	return yamlpos.Named("text", yamlpos.Either(plain, many))
}

func (l *loader) translations(n yamlpos.Node) (mix.Text, bool) {
	entries, _ := n.Entries("text by language")
	t := mix.Text{}
	for _, e := range entries {
		lang := mix.Lang(e.Name)
		switch {
		case e.Stray && !languageTag.MatchString(e.Name):
			e.Key.Problem(fmt.Sprintf("%q is no language code", short(e.Name)), yamlpos.StrayHint)
			continue
		case !languageTag.MatchString(e.Name):
			e.Key.Problem(fmt.Sprintf("%q is no language code", short(e.Name)), `write one as in "en", "es" or "pt-BR"`)
			continue
		case l.langs != nil && !slices.Contains(l.langs, lang) && !slices.Contains(mix.Spoken, lang):
			e.Key.Problem(fmt.Sprintf("language %q is not one of the site's", e.Name),
				"languages are "+joined(l.langs)+", says "+siteFile)
		}
		if s, ok := e.Value.Text("text"); ok && prose(e.Value, s) {
			t[lang] = s
		}
	}
	if _, ok := t[l.lang]; !ok && len(t) > 0 {
		n.Problem(fmt.Sprintf("text without %q, the office's own language", l.lang), "add "+string(l.lang)+": ...")
	}
	return t, len(t) > 0
}

func joined[S ~string](words []S) string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = string(w)
	}
	return strings.Join(all, ", ")
}
