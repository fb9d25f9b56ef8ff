package unit_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"testing"

	"tankleaf.example/internal/unit"
)

var update = flag.Bool("update", false, "rewrite the wants of the vectors")

// The file of texts that the browser's parser reads too.
const vectorFile = "../../testdata/vectors/unit.json"

type vectorSet struct {
	Schema int      `json:"schema"`
	Cases  []vector `json:"cases"`
}

type vector struct {
	Name string     `json:"name"`
	Why  string     `json:"why"`
	In   vectorIn   `json:"in"`
	Want vectorWant `json:"want"`
}

// vectorIn is a text and what it should be, by the noun of its parser.
type vectorIn struct {
	Noun string `json:"noun"`
	Text string `json:"text"`
}

// vectorWant is what the text prints as, with the number in base units to twelve
// decimals, or why and where it is refused.
type vectorWant struct {
	Text   string    `json:"text,omitempty"`
	Base   string    `json:"base,omitempty"`
	Code   unit.Code `json:"code,omitempty"`
	Offset int       `json:"offset,omitempty"`
}

func readVectorSet(data []byte) (vectorSet, error) {
	var v vectorSet
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		return v, err
	}
	if v.Schema != 1 || len(v.Cases) == 0 {
		return v, errors.New("unknown schema, or no cases")
	}
	seen := map[string]bool{}
	for _, c := range v.Cases {
		if c.Name == "" || c.Why == "" || seen[c.Name] {
			return v, errors.New("case without name or reason, or named twice: " + c.Name)
		}
		seen[c.Name] = true
	}
	return v, nil
}

// answer parses one text.
func answer(t *testing.T, in vectorIn) vectorWant {
	t.Helper()
	s, err := read(in.Noun, in.Text)
	if err != nil {
		var se *unit.SyntaxError
		if !errors.As(err, &se) {
			t.Fatal(err)
		}
		return vectorWant{Code: se.Code, Offset: se.Offset}
	}
	return vectorWant{Text: s, Base: base(t, in).Fixed(12)}
}

// base returns the parsed number in base units.
func base(t *testing.T, in vectorIn) unit.Number {
	t.Helper()
	based := func(v interface{ Base() unit.Number }, _ error) unit.Number { return v.Base() }
	plain := func(n unit.Number, _ error) unit.Number { return n }
	switch in.Noun {
	case "volume":
		return based(unit.ParseVolume(in.Text))
	case "weight":
		return based(unit.ParseMass(in.Text))
	case "area":
		return based(unit.ParseArea(in.Text))
	case "length":
		return based(unit.ParseLength(in.Text))
	case "density":
		return based(unit.ParseDensity(in.Text))
	case "temperature":
		return based(unit.ParseTemperature(in.Text))
	case "time":
		return based(unit.ParseDuration(in.Text))
	case "flow":
		return based(unit.ParseFlow(in.Text))
	case "speed":
		return based(unit.ParseSpeed(in.Text))
	case "spray volume":
		return based(unit.ParseSprayVolume(in.Text))
	case "content":
		return based(unit.ParseContent(in.Text))
	case "rate":
		return based(unit.ParseRate(in.Text))
	case "amount":
		return based(unit.ParseAmount(in.Text))
	case "percentage":
		return plain(unit.ParsePercent(in.Text))
	case "number":
		return plain(unit.ParseNumber(in.Text))
	case "temperature rise":
		return plain(unit.ParseRise(in.Text))
	}
	t.Fatalf("no base of a %s", in.Noun)
	return unit.Number{}
}

func TestUnitVectors(t *testing.T) {
	data, err := os.ReadFile(vectorFile)
	if err != nil {
		t.Fatal(err)
	}
	v, err := readVectorSet(data)
	if err != nil {
		t.Fatalf("%s: %v", vectorFile, err)
	}
	for i := range v.Cases {
		c := &v.Cases[i]
		got := answer(t, c.In)
		if *update {
			c.Want = got
		} else if got != c.Want {
			t.Errorf("%s: %s %q\ngot  %+v\nwant %+v", c.Name, c.In.Noun, c.In.Text, got, c.Want)
		}
	}
	if *update {
		writeVectorSet(t, v)
	}
}

func writeVectorSet(t *testing.T, v vectorSet) {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(vectorFile, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Every kind of refusal that a text can meet has a vector, so that the browser's
// parser is held to each.
func TestUnitVectorsCoverAllCodes(t *testing.T) {
	data, err := os.ReadFile(vectorFile)
	if err != nil {
		t.Fatal(err)
	}
	v, err := readVectorSet(data)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[unit.Code]bool{}
	for _, c := range v.Cases {
		seen[c.Want.Code] = true
	}
	for _, c := range []unit.Code{"", unit.Empty, unit.TooLong, unit.NotText, unit.NoNumber, unit.Negative, unit.Sign, unit.Zero,
		unit.Comma, unit.Thousands, unit.Mark, unit.Gap, unit.Exponent, unit.BadPoint, unit.LeadingZero, unit.TooLarge,
		unit.TooPrecise, unit.BadFraction, unit.TwoNumbers, unit.Range, unit.NoUnit, unit.UnknownUnit, unit.WrongUnit,
		unit.AmbiguousUnit, unit.KitchenUnit, unit.Trailing, unit.NoBase, unit.BadCount, unit.OfActive, unit.OutOfRange} {
		if !seen[c] {
			t.Errorf("no vector for %q", c)
		}
	}
}

func TestUnitVectorsAreReadStrictly(t *testing.T) {
	for _, in := range []string{
		`{"schema":1,"cases":[]}`, `{"schema":2,"cases":[{"name":"n","why":"w"}]}`, `{"schema":1,"case":[]}`,
		`{"schema":1,"cases":[{"name":"n","why":"w","in":{"txt":""}}]}`, `{"schema":1,"cases":[{"name":"n"}]}`, `[]`,
	} {
		if _, err := readVectorSet([]byte(in)); err == nil {
			t.Errorf("%s must be refused", in)
		}
	}
}
