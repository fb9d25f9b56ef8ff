package yamlpos

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Schema is the part of JSON Schema, draft 7, that kinds need. Draft 7 is what
// the YAML modes of editors know best.
type Schema struct {
	Def         string     `json:"-"` // kept once under this name in definitions
	Title       string     `json:"title,omitempty"`
	Description string     `json:"description,omitempty"`
	Ref         string     `json:"$ref,omitempty"`
	Type        any        `json:"type,omitempty"` // a name or a list of names
	Enum        []string   `json:"enum,omitempty"`
	Pattern     string     `json:"pattern,omitempty"`
	Examples    []string   `json:"examples,omitempty"`
	MinLength   int        `json:"minLength,omitempty"`
	MinItems    int        `json:"minItems,omitempty"`
	MaxItems    int        `json:"maxItems,omitempty"`
	Items       *Schema    `json:"items,omitempty"`
	AnyOf       []Schema   `json:"anyOf,omitempty"`
	Properties  properties `json:"properties,omitempty"`
	Patterns    properties `json:"patternProperties,omitempty"`
	Required    []string   `json:"required,omitempty"`
	MinKeys     int        `json:"minProperties,omitempty"`
	MaxKeys     int        `json:"maxProperties,omitempty"`
	Closed      bool       `json:"-"` // no other keys
}

// properties keep the order of the table, which is the order editors offer.
type properties []property

type property struct {
	name   string
	schema Schema
}

// MarshalJSON writes the properties as one JSON object.
func (ps properties) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, p := range ps {
		if i > 0 {
			b.WriteByte(',')
		}
		key, _ := json.Marshal(p.name)
		value, err := json.Marshal(p.schema)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// bare is Schema without its methods.
type bare Schema

// MarshalJSON adds what Closed means.
func (s Schema) MarshalJSON() ([]byte, error) {
	if !s.Closed {
		return json.Marshal(bare(s))
	}
	return json.Marshal(struct {
		bare
		Additional bool `json:"additionalProperties"`
	}{bare(s), false})
}

// KeysLike is the schema of a mapping whose keys all match a pattern and hold
// one kind of value, one key at least.
func KeysLike(pattern string, value Schema) Schema {
	return Schema{Type: "object", Patterns: properties{{pattern, value}}, MinKeys: 1, Closed: true}
}

func (o Object[T]) schema() Schema {
	s := Schema{Type: "object", Description: o.Doc, Closed: true}
	for _, f := range o.Fields {
		p := f.schema
		p.Description = f.Doc
		s.Properties = append(s.Properties, property{f.Name, p})
		if f.Needed {
			s.Required = append(s.Required, f.Name)
		}
	}
	return s
}

// Print writes the schema of a whole file as indented JSON, its named parts
// under definitions.
func (s Schema) Print(title string) ([]byte, error) {
	defs := map[string]Schema{}
	s.Title = title
	root, err := s.hoist(defs)
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(struct {
		Schema string `json:"$schema"`
		bare
		Additional  bool              `json:"additionalProperties"`
		Definitions map[string]Schema `json:"definitions,omitempty"`
	}{"http://json-schema.org/draft-07/schema#", bare(root), !root.Closed, defs})
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, text, "", "  "); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// hoist moves the named parts below s into defs. Two parts of one name must be
// the same.
func (s Schema) hoist(defs map[string]Schema) (Schema, error) {
	var err error
	s.Properties, err = s.Properties.hoist(defs)
	if err != nil {
		return s, err
	}
	if s.Patterns, err = s.Patterns.hoist(defs); err != nil {
		return s, err
	}
	if s.Items != nil {
		items, err := s.Items.refer(defs)
		if err != nil {
			return s, err
		}
		s.Items = &items
	}
	var all []Schema
	for _, a := range s.AnyOf {
		if a, err = a.refer(defs); err != nil {
			return s, err
		}
		all = append(all, a)
	}
	s.AnyOf = all
	return s, nil
}

func (ps properties) hoist(defs map[string]Schema) (properties, error) {
	var all properties
	for _, p := range ps {
		sub, err := p.schema.refer(defs)
		if err != nil {
			return nil, err
		}
		all = append(all, property{p.name, sub})
	}
	return all, nil
}

// refer returns s itself, or a reference when it has a name.
func (s Schema) refer(defs map[string]Schema) (Schema, error) {
	h, err := s.hoist(defs)
	if err != nil || s.Def == "" {
		return h, err
	}
	h.Description, h.Def = "", ""
	old, known := defs[s.Def]
	if a, b := mustJSON(old), mustJSON(h); known && a != b {
		return h, fmt.Errorf("two schemas are named %q: %s and %s", s.Def, a, b)
	}
	defs[s.Def] = h
	return Schema{Description: s.Description, Ref: "#/definitions/" + s.Def}, nil
}

func mustJSON(s Schema) string {
	b, err := json.Marshal(s)
	if err != nil {
		panic(err)
	}
	return string(b)
}
