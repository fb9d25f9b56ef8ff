package yamlpos

import (
	"fmt"

	"gopkg.in/yaml.v3"
	"tankleaf.example/internal/diag"
)

// Node is a piece of YAML with its place. Nodes come from [Parse].
type Node struct {
	y *yaml.Node
	d *document
}

// IsScalar reports whether the node is one value and neither list nor mapping.
func (n Node) IsScalar() bool { return n.y.Kind == yaml.ScalarNode }

// IsMapping reports whether the node is a mapping.
func (n Node) IsMapping() bool { return n.y.Kind == yaml.MappingNode }

// Pos returns the place of the node's first character.
func (n Node) Pos() diag.Pos { return n.d.place(n.y.Line, n.y.Column) }

// Problem reports what is wrong with the node.
func (n Node) Problem(msg, hint string, notes ...string) {
	n.d.report(diag.Problem{Pos: n.Pos(), Msg: msg, Hint: hint, Notes: notes})
}

// ProblemAt is Problem at a character of a scalar's text, counted from 0.
func (n Node) ProblemAt(offset int, msg, hint string, notes ...string) {
	p := diag.Problem{Msg: msg, Hint: hint, Notes: notes}
	if !n.Full() {
		p.Pos = n.PosAt(offset)
	}
	n.d.report(p)
}

// Full reports whether no further problem of this text would be shown, so that a
// costly hint need not be worked out.
func (n Node) Full() bool { return n.d.full() }

// Text returns the text of a scalar. Anything else, and a key without a value,
// is reported as not being what was expected: "a rate".
func (n Node) Text(what string) (string, bool) {
	switch {
	case n.y.Kind != yaml.ScalarNode:
		n.Problem(fmt.Sprintf("expected %s, found %s", what, n.noun()), "")
		return "", false
	case n.isNull():
		n.Problem("expected "+what+", found nothing", "leave the key out, or write a value after it")
		return "", false
	}
	return n.y.Value, true
}

// isNull reports whether YAML's words for no value, or none at all, are written.
func (n Node) isNull() bool {
	if n.y.Kind != yaml.ScalarNode || n.y.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return false
	}
	switch n.y.Value {
	case "", "~", "null", "Null", "NULL":
		return true
	}
	return false
}

// plain reports whether the node is a scalar without quotes.
func (n Node) plain() bool { return n.y.Kind == yaml.ScalarNode && n.y.Style == 0 }

func (n Node) noun() string {
	switch n.y.Kind {
	case yaml.SequenceNode:
		return "a list"
	case yaml.MappingNode:
		return "a mapping"
	case yaml.ScalarNode:
		if n.isNull() {
			return "nothing"
		}
		return fmt.Sprintf("%q", clip(n.y.Value))
	}
	return "something else"
}

// clip shortens text that is quoted in a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:59]) + "…"
	}
	return s
}

// Items returns the entries of a list. Anything else is reported.
func (n Node) Items(what string) ([]Node, bool) {
	if n.y.Kind != yaml.SequenceNode {
		hint := ""
		switch {
		case n.isNull():
			hint = "write [] for none, or leave the key out"
		case n.IsScalar():
			hint = "write [" + clip(n.y.Value) + "]"
		}
		n.Problem(fmt.Sprintf("expected a list of %s, found %s", what, n.noun()), hint)
		return nil, false
	}
	items := make([]Node, len(n.y.Content))
	for i, c := range n.y.Content {
		items[i] = Node{c, n.d}
	}
	return items, true
}

// Entry is one key of a mapping with its value.
type Entry struct {
	Name       string
	Key, Value Node
	Stray      bool // a key without a value between braces: mostly text cut by its comma
}

// StrayHint is what to do about a stray entry.
const StrayHint = "inside { } a comma starts a new entry: put text that holds one in quotes"

// Entries returns the keys of a mapping in the order they are written, each name
// once; what is no mapping, keys that are not words, merge keys and duplicates
// are reported.
func (n Node) Entries(what string) ([]Entry, bool) {
	if n.y.Kind != yaml.MappingNode {
		n.Problem(fmt.Sprintf("expected %s as a mapping, found %s", what, n.noun()), "write key: value lines")
		return nil, false
	}
	first := map[string]Node{}
	var entries []Entry
	for i := 0; i+1 < len(n.y.Content); i += 2 {
		key, value := Node{n.y.Content[i], n.d}, Node{n.y.Content[i+1], n.d}
		name := key.y.Value
		old, again := first[name]
		switch {
		case key.y.Kind != yaml.ScalarNode:
			key.Problem("a key must be a word, found "+key.noun(), "")
		case name == "<<" && key.plain():
			key.Problem(`merge key "<<" is not read`, "write the keys out")
		case again:
			key.Problem(fmt.Sprintf("duplicate key %q", clip(name)), "remove one of the two", "first used at "+old.Pos().String())
		default:
			first[name] = key
			stray := n.y.Style&yaml.FlowStyle != 0 && value.isNull() && value.y.Value == ""
			entries = append(entries, Entry{name, key, value, stray})
		}
	}
	return entries, true
}

// Value returns the text of a scalar as it is, "" for a list or a mapping, and
// reports nothing.
func (n Node) Value() string {
	if n.y.Kind != yaml.ScalarNode {
		return ""
	}
	return n.y.Value
}

// Child returns the value of a mapping's key, and reports nothing.
func (n Node) Child(name string) (Node, bool) {
	if n.y.Kind != yaml.MappingNode {
		return Node{}, false
	}
	for i := 0; i+1 < len(n.y.Content); i += 2 {
		if n.y.Content[i].Value == name {
			return Node{n.y.Content[i+1], n.d}, true
		}
	}
	return Node{}, false
}

// Children returns the entries of a list, none for anything else, and reports
// nothing.
func (n Node) Children() []Node {
	if n.y.Kind != yaml.SequenceNode {
		return nil
	}
	all := make([]Node, len(n.y.Content))
	for i, c := range n.y.Content {
		all[i] = Node{c, n.d}
	}
	return all
}
