package hostile_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"tankleaf.example/internal/dataset"
)

// schema is a node of the JSON Schema of a kind of file.
type schema struct {
	Ref         string            `json:"$ref"`
	Type        any               `json:"type"`
	Pattern     string            `json:"pattern"`
	Enum        []any             `json:"enum"`
	Examples    []any             `json:"examples"`
	AnyOf       []schema          `json:"anyOf"`
	Properties  map[string]schema `json:"properties"`
	Items       *schema           `json:"items"`
	Definitions map[string]schema `json:"definitions"`
}

// leaf is what a scalar of a record is to us.
type leaf uint8

const (
	fixed leaf = iota // a word, a quantity, a date: not free to choose
	words             // free text
	ident             // an id or a reference to one
)

// idPattern is that of records' ids, which no two copies may share.
const idPattern = `^[a-z0-9]+(-[a-z0-9]+)*$`

func (s schema) leaf() leaf {
	switch first := fmt.Sprint(s.Type); {
	case s.Ref == "#/definitions/text":
		return words
	case s.Pattern == idPattern:
		return ident
	case s.Pattern == "" && s.Enum == nil && s.Examples == nil && strings.HasPrefix(first, "[string number"):
		return words
	}
	return fixed
}

// schemas returns the schema of every kind of file, by the name it has in
// data/schema.
func schemas(t testing.TB) map[string]schema {
	t.Helper()
	texts, err := dataset.Schemas()
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]schema{}
	for name, text := range texts {
		var s schema
		if err := json.Unmarshal(text, &s); err != nil {
			t.Fatal(err)
		}
		all[name] = s
	}
	return all
}

// walker goes through a record and its schema side by side.
type walker struct {
	definitions map[string]schema
	put         func(k leaf, path, value string) string
}

// walk replaces the scalars of a tree by what put returns.
func (w walker) walk(s schema, n *yaml.Node, at string) {
	if n.Kind == yaml.ScalarNode {
		w.scalar(s, n, at)
		return
	}
	s = w.choose(s, n.Kind)
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			key := n.Content[i].Value
			w.walk(s.Properties[key], n.Content[i+1], at+"."+key)
		}
	case yaml.SequenceNode:
		for _, c := range n.Content {
			w.walk(*s.Items, c, at+"[]")
		}
	}
}

func (w walker) scalar(s schema, n *yaml.Node, at string) {
	if s.leaf() == fixed {
		s = w.choose(s, n.Kind)
	}
	k := s.leaf()
	if k == fixed {
		return
	}
	n.Value, n.Tag, n.Style = w.put(k, at, n.Value), "!!str", yaml.DoubleQuotedStyle
}

// choose follows references, and of several forms takes the one for this kind of
// node.
func (w walker) choose(s schema, kind yaml.Kind) schema {
	if s.Ref != "" {
		return w.choose(w.definitions[path.Base(s.Ref)], kind)
	}
	for _, one := range s.AnyOf {
		one = w.choose(one, kind)
		if isObject := one.Properties != nil; isObject == (kind == yaml.MappingNode) {
			return one
		}
	}
	return s
}

// freeTexts lists the places of a schema where text may stand, as walk names
// them.
func freeTexts(s schema, definitions map[string]schema, at string) []string {
	if s.leaf() == words {
		return []string{at}
	}
	if s.Ref != "" {
		return freeTexts(definitions[path.Base(s.Ref)], definitions, at)
	}
	var all []string
	for _, one := range s.AnyOf {
		all = append(all, freeTexts(one, definitions, at)...)
	}
	for key, p := range s.Properties {
		all = append(all, freeTexts(p, definitions, at+"."+key)...)
	}
	if s.Items != nil {
		all = append(all, freeTexts(*s.Items, definitions, at+"[]")...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// singles are the files that hold what an office has once.
var singles = []string{"site", "cautions", "criteria", "routine"}

// texts makes the text of one field: of copy number k of its record, or, with k
// negative, of a record that there is once.
type texts func(k int, field string) string

// makeOffice returns the fixture with n copies of each of its records, all text
// in it made by say.
func makeOffice(t testing.TB, n int, say texts) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	kinds := schemas(t)
	eachFile(t, func(name string, body []byte) {
		kind := strings.TrimSuffix(path.Base(name), ".yaml")
		if path.Base(path.Dir(name)) == "observations" {
			for k := range n {
				out[fmt.Sprintf("data/observations/%s-%d.yaml", kind, k)] = &fstest.MapFile{Data: copyOf(t, kinds["observation"], "observation", body, k, say)}
			}
			return
		}
		if slices.Contains(singles, kind) {
			out[name] = &fstest.MapFile{Data: single(t, kinds[kind], kind, body, say)}
			return
		}
		for k := range n {
			out[fmt.Sprintf("data/%s/%d.yaml", kind, k)] = &fstest.MapFile{Data: copyOf(t, kinds[kind], kind, body, k, say)}
		}
	})
	return out
}

func eachFile(t testing.TB, do func(name string, body []byte)) {
	t.Helper()
	office := os.DirFS("testdata/office")
	err := fs.WalkDir(office, "data", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := fs.ReadFile(office, name)
		do(name, body)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// copyOf returns a file whose ids all end in k, so that it goes with the other
// files of that number and no others.
func copyOf(t testing.TB, s schema, kind string, body []byte, k int, say texts) []byte {
	t.Helper()
	return rewrite(t, s, kind, body, func(l leaf, at, value string) string {
		if l == ident {
			return fmt.Sprintf("%s-%d", value, k)
		}
		return say(k, at)
	})
}

// single returns a file that refers to the records of number 0.
func single(t testing.TB, s schema, kind string, body []byte, say texts) []byte {
	t.Helper()
	return rewrite(t, s, kind, body, func(l leaf, at, value string) string {
		switch {
		case l == words:
			return say(-1, at)
		case strings.HasSuffix(at, "sources[]") || strings.HasSuffix(at, "sources[].id"):
			return value + "-0"
		}
		return value
	})
}

func rewrite(t testing.TB, s schema, kind string, body []byte, put func(leaf, string, string) string) []byte {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal(body, &doc); err != nil {
		t.Fatal(err)
	}
	walker{s.Definitions, put}.walk(s, doc.Content[0], kind)
	var out bytes.Buffer
	enc := yaml.NewEncoder(&out)
	enc.SetIndent(2)
	if err := enc.Encode(&doc); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestEveryTextFieldIsThere fails when the data gains a place for text that the
// fixture lacks: give a record of testdata/office that key.
func TestEveryTextFieldIsThere(t *testing.T) {
	there := map[string]bool{}
	makeOffice(t, 1, func(_ int, field string) string {
		there[field] = true
		return "x"
	})
	for kind, s := range schemas(t) {
		for _, field := range freeTexts(s, s.Definitions, kind) {
			if !there[field] {
				t.Errorf("no record of the fixture has %s", field)
			}
		}
	}
	if len(there) < 60 {
		t.Errorf("only %d fields of text", len(there))
	}
}
