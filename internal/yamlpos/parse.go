package yamlpos

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"gopkg.in/yaml.v3"
	"tankleaf.example/internal/diag"
)

// Parse reads a text that holds one YAML document and adds what is wrong to
// problems. It returns false when there is no tree to go on with.
func Parse(src Source, problems *diag.List) (Node, bool) {
	if len(src.Text) > MaxBytes {
		problems.Add(diag.Pos{File: src.File}, fmt.Sprintf("larger than %d MiB", MaxBytes>>20), "split it into several files")
		return Node{}, false
	}
	d := newDocument(src, problems)
	if !d.scan() {
		return Node{}, false
	}
	root, ok := d.decode()
	if !ok {
		return Node{}, false
	}
	n := Node{root, d}
	return n, n.sound(0)
}

// decode runs the YAML library.
func (d *document) decode() (*yaml.Node, bool) {
	dec := yaml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(d.Text, []byte("\ufeff"))))
	var first, second yaml.Node
	err := decodeOne(dec, &first)
	switch {
	case errors.Is(err, io.EOF):
		d.report(diag.Problem{Pos: d.place(1, 1), Msg: "nothing is written here", Hint: "write keys and values, or remove it"})
		return nil, false
	case err != nil:
		d.report(d.syntax(err))
		return nil, false
	}
	switch err := decodeOne(dec, &second); {
	case err == nil:
		d.report(diag.Problem{Pos: d.place(second.Line, 1), Msg: "a second YAML document starts here",
			Hint: `remove the line "---", or put the rest into its own file`})
		return nil, false
	case !errors.Is(err, io.EOF):
		d.report(d.syntax(err))
		return nil, false
	}
	if len(first.Content) != 1 {
		d.report(diag.Problem{Pos: d.place(1, 1), Msg: "nothing is written here"})
		return nil, false
	}
	return first.Content[0], true
}

// decodeOne turns a panic of the library, which reads what strangers wrote, into
// an error: one bad file must not take the others' problems with it.
func decodeOne(dec *yaml.Decoder, n *yaml.Node) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("yaml: %v", r)
		}
	}()
	return dec.Decode(n)
}

// sound reports what the node and all below it hold that is refused everywhere,
// and whether the tree may be read on.
func (n Node) sound(depth int) bool {
	ok := true
	switch y := n.y; {
	case depth > MaxDepth:
		n.Problem(fmt.Sprintf("nested more than %d deep", MaxDepth), "")
		return false
	case y.Kind == yaml.AliasNode:
		n.Problem(fmt.Sprintf("alias %q: aliases are not read", "*"+y.Value), "write the value out")
		return false
	case y.Anchor != "":
		n.Problem(fmt.Sprintf("anchor %q: anchors are not read", "&"+y.Anchor), "remove it and write the value out where it is needed")
		ok = false
	case y.Style&yaml.TaggedStyle != 0 || n.first() == '!':
		n.Problem("a tag: tags are not read", `write the value alone, or put text that starts with "!" in quotes`)
		ok = false
	case y.Kind == yaml.ScalarNode:
		ok = n.soundText()
	}
	for _, c := range n.y.Content {
		ok = Node{c, n.d}.sound(depth+1) && ok
	}
	return ok
}

// first returns the author's first character of the node, 0 when there is none.
func (n Node) first() rune {
	if n.y.Line < 1 || n.y.Line > len(n.d.lines) {
		return 0
	}
	chars := n.d.line(n.y.Line)
	if n.y.Column < 1 || n.y.Column > len(chars) {
		return 0
	}
	return chars[n.y.Column-1]
}

// soundText looks at a scalar's value, which an escape in double quotes can fill
// with what the text itself does not hold.
func (n Node) soundText() bool {
	chars := 0
	for i, r := range n.y.Value {
		if r == '\n' {
			chars++
			continue
		}
		if why := refused(r, n.y.Value[i:]); why != "" {
			n.ProblemAt(chars, why, "remove it")
			return false
		}
		chars++
	}
	if chars > MaxScalar {
		n.Problem(fmt.Sprintf("text of %d characters: more than %d", chars, MaxScalar), "shorten it")
		return false
	}
	return true
}
