package yamlpos_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/yamlpos"
)

// drum is a record with one field of each kind.
type drum struct {
	At     diag.Pos
	Name   string
	Color  string
	Closed bool
	Tags   []string
	Label  string
}

func text() yamlpos.Kind[string] {
	return yamlpos.Scalar("text", yamlpos.Schema{}, func(_ yamlpos.Node, s string) (string, bool) { return s, true })
}

func drums() yamlpos.Kind[drum] {
	colors := []string{"red", "green"}
	label := yamlpos.Object[string]{Name: "label", Fields: []yamlpos.Field[string]{
		yamlpos.Must("says", text(), func(s *string, v string) { *s = v }, "its text"),
	}}
	return yamlpos.Object[drum]{
		Name:  "drum",
		Start: func(d *drum, at diag.Pos) { d.At = at },
		Check: func(d *drum, f yamlpos.Found) {
			if d.Closed && !f.Has("label") {
				f.At("closed").Problem("closed drum without a label", "add label:")
			}
		},
		Fields: []yamlpos.Field[drum]{
			yamlpos.Must("name", text(), func(d *drum, v string) { d.Name = v }, "what it is called"),
			yamlpos.May("color", yamlpos.Words("color", colors, func(s string) (string, bool) { return s, s == "red" || s == "green" }),
				func(d *drum, v string) { d.Color = v }, "red or green"),
			yamlpos.May("closed", yamlpos.Bool(), func(d *drum, v bool) { d.Closed = v }, "true: with its lid on"),
			yamlpos.May("tags", yamlpos.AtLeast(1, "tags", yamlpos.List("tags", text())), func(d *drum, v []string) { d.Tags = v }, "words"),
			yamlpos.May("label", yamlpos.Named("label", yamlpos.Either(text(), label.Kind())), func(d *drum, v string) { d.Label = v }, "on its side"),
		},
	}.Kind()
}

func readDrum(in string) (drum, string) {
	var problems diag.List
	n, ok := yamlpos.Parse(yamlpos.Source{File: "f", Text: []byte(in)}, &problems)
	if !ok {
		return drum{}, problems.String()
	}
	d, _ := drums().Read(n)
	return d, problems.String()
}

func TestScalarsAreText(t *testing.T) {
	for _, s := range []string{"010", "1_000", "yes", "0x1F", "1e3", "2026-05-12", ".5", "+1", "12:30:45", "true", "'null'", "\"~\""} {
		d, problems := readDrum("name: " + s + "\n")
		if want := strings.Trim(s, `'"`); d.Name != want || problems != "" {
			t.Errorf("%s was read as %q %s", s, d.Name, problems)
		}
	}
}

func TestObject(t *testing.T) {
	for _, c := range []struct {
		text, problems string
		want           drum
		why            string
	}{
		{"name: a\ncolor: red\nclosed: true\ntags: [x, y]\nlabel: {says: hi}\n", "",
			drum{Name: "a", Color: "red", Closed: true, Tags: []string{"x", "y"}, Label: "hi"}, "all of it"},
		{"name: a\nlabel: hi\n", "", drum{Name: "a", Label: "hi"}, "the short form of a label"},
		{"color: red\n", "f:1:1: drum without \"name\"\n\tadd name: what it is called\n", drum{Color: "red"}, "a key is missing"},
		{"name: a\ncolr: red\n", "f:2:1: unknown key \"colr\" in drum\n\tdid you mean \"color\"?\n", drum{Name: "a"}, "a near key"},
		{"name: a\nsize: 3\n", "f:2:1: unknown key \"size\" in drum\n\tkeys of drum are name, color, closed, tags, label\n", drum{Name: "a"}, "no key is near"},
		{"name: a\nname: b\n", "f:2:1: duplicate key \"name\"\n\tremove one of the two\n\tfirst used at f:1:1\n", drum{Name: "a"}, "the first counts"},
		{"name: a\ncolor: Red\n", "f:2:8: unknown color \"Red\"\n\twrite \"red\"\n", drum{Name: "a"}, "words are exact"},
		{"name: a\ncolor: gren\n", "f:2:8: unknown color \"gren\"\n\tdid you mean \"green\"?\n", drum{Name: "a"}, "a near word"},
		{"name: a\ncolor: blue\n", "f:2:8: unknown color \"blue\"\n\twrite one of red, green\n", drum{Name: "a"}, "no word is near"},
		{"name: a\ncolor: [red]\n", "f:2:8: expected one of red, green, found a list\n", drum{Name: "a"}, "a list for a word"},
		{"name:\n", "f:1:6: expected text, found nothing\n\tleave the key out, or write a value after it\n", drum{}, "a key without a value"},
		{"name: ~\n", "f:1:7: expected text, found nothing\n\tleave the key out, or write a value after it\n", drum{}, "YAML's word for nothing"},
		{"name: a\nclosed: yes\n", "f:2:9: expected true or false, found \"yes\"\n\twrite true or false, without quotes\n", drum{Name: "a"}, "yes is a word"},
		{"name: a\nlabel: x\nclosed: \"true\"\n", "f:3:9: expected true or false, found \"true\"\n\twrite true or false, without quotes\n", drum{Name: "a", Label: "x"}, "quoted is text, here and in the schema"},
		{"name: a\nclosed: true\n", "f:2:9: closed drum without a label\n\tadd label:\n", drum{Name: "a", Closed: true}, "a rule over two keys"},
		{"name: a\ntags: x\n", "f:2:7: expected a list of tags, found \"x\"\n\twrite [x]\n", drum{Name: "a"}, "a word for a list"},
		{"name: a\ntags:\n", "f:2:6: expected a list of tags, found nothing\n\twrite [] for none, or leave the key out\n", drum{Name: "a"}, "nothing for a list"},
		{"name: a\ntags: []\n", "f:2:7: tags: at least 1 needed, found 0\n", drum{Name: "a"}, "an empty list"},
		{"name: a\ntags: [x, [y]]\n", "f:2:11: expected text, found a list\n", drum{Name: "a", Tags: []string{"x"}}, "what could be read is kept"},
		{"{name: red, green: }\n", "f:1:13: unknown key \"green\" in drum\n\tinside { } a comma starts a new entry: put text that holds one in quotes\n", drum{Name: "red"}, "text cut by its comma"},
		{"name: a\n<<: {color: red}\n", "f:2:1: merge key \"<<\" is not read\n\twrite the keys out\n", drum{Name: "a"}, "merge key"},
		{"name: a\n? [x]\n: y\n", "f:2:3: a key must be a word, found a list\n", drum{Name: "a"}, "a list for a key"},
		{"- name: a\n", "f:1:1: expected a drum as a mapping, found a list\n\twrite key: value lines\n", drum{}, "a list for a mapping"},
	} {
		got, problems := readDrum(c.text)
		got.At = diag.Pos{}
		if problems != c.problems {
			t.Errorf("%s: %q\ngot\n%swant\n%s", c.why, c.text, problems, c.problems)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.why, diff)
		}
	}
}

func TestProblemsAreCut(t *testing.T) {
	var b strings.Builder
	b.WriteString("name: a\n")
	for i := range 10_000 {
		b.WriteString("k" + strings.Repeat("i", i%7) + string(rune('a'+i%26)) + strings.Repeat("z", i%11) + ": 1\n")
	}
	_, problems := readDrum(b.String())
	if n := strings.Count(problems, "\nf:") + 1; n != yamlpos.MaxProblems+1 {
		t.Errorf("%d problems are listed, want %d and a last word", n, yamlpos.MaxProblems)
	}
}

func TestSchema(t *testing.T) {
	got, err := drums().Schema.Print("Drum")
	if err != nil {
		t.Fatal(err)
	}
	want := `{
  "$schema": "http://json-schema.org/draft-07/schema#",
  "title": "Drum",
  "type": "object",
  "properties": {
    "name": {
      "description": "what it is called",
      "type": [
        "string",
        "number"
      ]
    },
    "color": {
      "description": "red or green",
      "enum": [
        "red",
        "green"
      ]
    },
    "closed": {
      "description": "true: with its lid on",
      "type": "boolean"
    },
    "tags": {
      "description": "words",
      "type": "array",
      "minItems": 1,
      "items": {
        "type": [
          "string",
          "number"
        ]
      }
    },
    "label": {
      "description": "on its side",
      "$ref": "#/definitions/label"
    }
  },
  "required": [
    "name"
  ],
  "additionalProperties": false,
  "definitions": {
    "label": {
      "anyOf": [
        {
          "type": [
            "string",
            "number"
          ]
        },
        {
          "type": "object",
          "properties": {
            "says": {
              "description": "its text",
              "type": [
                "string",
                "number"
              ]
            }
          },
          "required": [
            "says"
          ],
          "additionalProperties": false
        }
      ]
    }
  }
}
`
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestSchemaNamesOnePart(t *testing.T) {
	a := yamlpos.Named("part", text())
	b := yamlpos.Named("part", yamlpos.Bool())
	o := yamlpos.Object[string]{Name: "thing", Fields: []yamlpos.Field[string]{
		yamlpos.May("a", a, func(*string, string) {}, ""), yamlpos.May("b", b, func(*string, bool) {}, ""),
	}}
	if _, err := o.Kind().Schema.Print("Thing"); err == nil {
		t.Error("two different parts of one name were printed as one")
	}
}
