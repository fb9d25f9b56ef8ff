package yamlpos

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
)

// Kind is how a node is read into a T, and the schema of what may be written.
// Read returns false when nothing usable was there; it has then said why.
type Kind[T any] struct {
	Read   func(Node) (T, bool)
	Schema Schema
}

// Scalar is a kind of one value. What names it in messages: "a rate". Parse gets
// the node, to report what is wrong, and its text.
func Scalar[T any](what string, schema Schema, parse func(Node, string) (T, bool)) Kind[T] {
	if schema.Type == nil && schema.Enum == nil {
		schema.Type = []string{"string", "number"}
	}
	return Kind[T]{Schema: schema, Read: func(n Node) (T, bool) {
		text, ok := n.Text(what)
		if !ok {
			return *new(T), false
		}
		return parse(n, text)
	}}
}

// Words is a kind of one word out of a few. What names it: "verdict".
func Words[T any](what string, words []string, parse func(string) (T, bool)) Kind[T] {
	return Scalar("one of "+strings.Join(words, ", "), Schema{Enum: words}, func(n Node, s string) (T, bool) {
		v, ok := parse(s)
		if !ok {
			n.Problem(fmt.Sprintf("unknown %s %q", what, clip(s)), n.oneOf(s, words))
		}
		return v, ok
	})
}

// oneOf is the hint that names the nearest word, or all.
func (n Node) oneOf(got string, words []string) string {
	if n.Full() {
		return ""
	}
	lower := strings.ToLower(got)
	if slices.Contains(words, lower) {
		return fmt.Sprintf("write %q", lower)
	}
	if w := diag.Nearest(lower, words); w != "" && len(got) < 100 {
		return fmt.Sprintf("did you mean %q?", w)
	}
	return "write one of " + strings.Join(words, ", ")
}

// Bool is true or false, without quotes.
func Bool() Kind[bool] {
	return Scalar("true or false", Schema{Type: "boolean"}, func(n Node, s string) (bool, bool) {
		if s != "true" && s != "false" || !n.plain() {
			n.Problem(fmt.Sprintf("expected true or false, found %q", clip(s)), "write true or false, without quotes")
			return false, false
		}
		return s == "true", true
	})
}

// List is a list of items of one kind, named in the plural: "classes". Items
// that could not be read are left out.
func List[T any](what string, item Kind[T]) Kind[[]T] {
	return Kind[[]T]{Schema: Schema{Type: "array", Items: &item.Schema}, Read: func(n Node) ([]T, bool) {
		nodes, ok := n.Items(what)
		if !ok {
			return nil, false
		}
		var all []T
		for _, in := range nodes {
			if v, ok := item.Read(in); ok {
				all = append(all, v)
			}
		}
		return all, true
	}}
}

// AtLeast refuses a list with fewer than n entries.
func AtLeast[T any](n int, what string, list Kind[[]T]) Kind[[]T] {
	read := list.Read
	list.Schema.MinItems = n
	list.Read = func(node Node) ([]T, bool) {
		if len(node.y.Content) < n && !node.IsScalar() {
			node.Problem(fmt.Sprintf("%s: at least %d needed, found %d", what, n, len(node.y.Content)), "")
		}
		return read(node)
	}
	return list
}

// Either reads a mapping by one kind and everything else by the other.
func Either[T any](scalar, mapping Kind[T]) Kind[T] {
	return Kind[T]{Schema: Schema{AnyOf: []Schema{scalar.Schema, mapping.Schema}}, Read: func(n Node) (T, bool) {
		if n.IsMapping() {
			return mapping.Read(n)
		}
		return scalar.Read(n)
	}}
}

// Any hands the node itself to the caller, for a value whose kind depends on
// another key.
func Any(schema Schema) Kind[Node] {
	return Kind[Node]{Schema: schema, Read: func(n Node) (Node, bool) { return n, true }}
}

// Named gives a kind's schema a name under which a file's schema holds it once.
func Named[T any](def string, k Kind[T]) Kind[T] {
	k.Schema.Def = def
	return k
}
