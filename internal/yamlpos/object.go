package yamlpos

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/diag"
)

// Field is one key of an object: its name, what it means, and how its value is
// put into a T.
type Field[T any] struct {
	Name   string
	Doc    string // one line, for editors
	Needed bool
	read   func(*T, Node)
	schema Schema
}

// Must is a key that has to be there.
func Must[T, V any](name string, k Kind[V], set func(*T, V), doc string) Field[T] {
	f := May(name, k, set, doc)
	f.Needed = true
	return f
}

// May is a key that may be left out.
func May[T, V any](name string, k Kind[V], set func(*T, V), doc string) Field[T] {
	return Field[T]{Name: name, Doc: doc, schema: k.Schema, read: func(into *T, n Node) {
		if v, ok := k.Read(n); ok {
			set(into, v)
		}
	}}
}

// Object is a mapping read by a table of fields.
type Object[T any] struct {
	Name   string // in messages: "product"
	Doc    string
	Fields []Field[T]
	Start  func(*T, diag.Pos) // gets the mapping's place first; may be nil
	Check  func(*T, Found)    // rules over several keys, last; may be nil
}

// Found is what was written in one mapping.
type Found struct {
	Node
	values map[string]Node
}

// Has reports whether a key was written.
func (f Found) Has(key string) bool { _, ok := f.values[key]; return ok }

// At returns the value of a key, or the whole mapping when it was left out.
func (f Found) At(key string) Node {
	if n, ok := f.values[key]; ok {
		return n
	}
	return f.Node
}

// Kind returns the kind that reads the object. A mapping with problems is still
// returned, as far as it could be read.
func (o Object[T]) Kind() Kind[T] {
	fields := map[string]Field[T]{}
	var names []string
	for _, f := range o.Fields {
		fields[f.Name] = f
		names = append(names, f.Name)
	}
	return Kind[T]{Schema: o.schema(), Read: func(n Node) (T, bool) {
		var v T
		entries, ok := n.Entries("a " + o.Name)
		if !ok {
			return v, false
		}
		if o.Start != nil {
			o.Start(&v, n.Pos())
		}
		found := Found{n, map[string]Node{}}
		for _, e := range entries {
			f, known := fields[e.Name]
			if !known {
				e.unknown(o.Name, names)
				continue
			}
			found.values[e.Name] = e.Value
			f.read(&v, e.Value)
		}
		o.missing(found)
		if o.Check != nil {
			o.Check(&v, found)
		}
		return v, true
	}}
}

// missing reports the keys that have to be there and are not.
func (o Object[T]) missing(found Found) {
	for _, f := range o.Fields {
		if f.Needed && !found.Has(f.Name) {
			found.Problem(fmt.Sprintf("%s without %q", o.Name, f.Name), "add "+f.Name+": "+f.Doc)
		}
	}
}

func (e Entry) unknown(in string, names []string) {
	hint := "keys of " + in + " are " + strings.Join(names, ", ")
	if e.Stray {
		hint = StrayHint
	} else if len(e.Name) < 100 && !e.Key.Full() {
		if near := diag.Nearest(e.Name, names); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
	}
	e.Key.Problem(fmt.Sprintf("unknown key %q in %s", clip(e.Name), in), hint)
}
