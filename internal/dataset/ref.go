package dataset

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/yamlpos"
)

// space is a space of names, within which an ID is used once.
type space string

// items is the space that products and classes share; a timing's space is its
// crop's own, see [timings].
const (
	items          space = "product or class"
	groups         space = "group"
	crops          space = "crop"
	purposes       space = "purpose"
	interactions   space = "interaction"
	notices        space = "notice"
	observations   space = "observation"
	investigations space = "investigation"
	sources        space = "source"
	places         space = "place"
	waters         space = "water"
	tools          space = "tool"
	steps          space = "order step"
	recipes        space = "recipe"
	sequences      space = "sequence"
	trials         space = "trial"
	halfLives      space = "half-life"
	reviews        space = "review"
)

// homes are the kinds of files that define the names of a space, for the spaces
// that are referred to.
var homes = map[space][]string{
	items: {"classes", "products"}, groups: {"classes"},
	crops: {"crops"}, purposes: {"purposes"}, investigations: {"investigations"},
	sources: {"sources"}, places: {"places"}, waters: {"waters"},
	observations: {"observations"},
}

// complete reports whether every file that could define names of a space was
// read: a name that is not known may be in the one that was not.
func (l *loader) complete(in space) bool {
	home := homes[in]
	if strings.HasPrefix(string(in), string(timings(""))) {
		home = homes[crops]
	}
	for _, kind := range home {
		if l.unread[kind] {
			return false
		}
	}
	return true
}

// definition is where an ID was given to a record.
type definition struct {
	at   diag.Pos
	what string // "product"
}

// reference is a use of an ID, looked up once all is read.
type reference struct {
	node yamlpos.Node
	in   space
	what string // what it must be: "class"; or the space's own name
	id   mix.ID
}

// reserved are file names that Windows keeps for devices; each record has a page
// of its name.
var reserved = map[string]bool{"con": true, "prn": true, "aux": true, "nul": true}

func init() {
	for _, d := range "123456789" {
		reserved["com"+string(d)] = true
		reserved["lpt"+string(d)] = true
	}
}

const idPattern = `^[a-z0-9]+(-[a-z0-9]+)*$`

// ident reads an ID.
func ident(what string) yamlpos.Kind[mix.ID] {
	s := yamlpos.Schema{Type: []string{"string", "integer"}, Pattern: idPattern}
	return yamlpos.Scalar(what, s, func(n yamlpos.Node, text string) (mix.ID, bool) {
		if !mix.ValidID(text) {
			n.Problem(fmt.Sprintf("%q is no id", short(text)), idHint(text))
			return "", false
		}
		return mix.ID(text), true
	})
}

// idHint writes the nearest valid ID, or the rule.
func idHint(text string) string {
	id := strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
	if mix.ValidID(id) && len(id) > 1 {
		return fmt.Sprintf("write %q", id)
	}
	return "ids are lower-case letters, digits and single hyphens, 64 at most"
}

func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:59]) + "…"
	}
	return s
}

// newID is the kind of an ID that names a record of a space.
func (l *loader) newID(in space, what string) yamlpos.Kind[mix.ID] {
	k := ident("an id")
	read := k.Read
	k.Read = func(n yamlpos.Node) (mix.ID, bool) {
		id, ok := read(n)
		if ok && reserved[string(id)] {
			n.Problem(fmt.Sprintf("id %q is a name that Windows keeps for itself, and names a page", id), "choose another")
		}
		if ok {
			l.define(n, in, what, id)
		}
		return id, ok
	}
	return k
}

func (l *loader) define(n yamlpos.Node, in space, what string, id mix.ID) {
	if l.defs[in] == nil {
		l.defs[in] = map[mix.ID]definition{}
	}
	if first, again := l.defs[in][id]; again {
		note := "first used at " + first.at.String()
		if first.what != what {
			note += " by a " + first.what
		}
		n.Problem(fmt.Sprintf("duplicate id %q", id), "choose another", note)
		return
	}
	l.defs[in][id] = definition{n.Pos(), what}
}

// ref is the kind of a reference to a record of a space; what narrows the items
// to "class" or "product".
func (l *loader) ref(in space, what string) yamlpos.Kind[mix.Ref] {
	k := ident("the id of a " + what)
	return yamlpos.Kind[mix.Ref]{Schema: k.Schema, Read: func(n yamlpos.Node) (mix.Ref, bool) {
		id, ok := k.Read(n)
		if ok {
			l.refs = append(l.refs, reference{n, in, what, id})
		}
		return mix.Ref{ID: id, At: n.Pos()}, ok
	}}
}

func (l *loader) classRef() yamlpos.Kind[mix.Ref]   { return l.ref(items, "class") }
func (l *loader) productRef() yamlpos.Kind[mix.Ref] { return l.ref(items, "product") }
func (l *loader) itemRef() yamlpos.Kind[mix.Ref]    { return l.ref(items, string(items)) }

// cite is a source's ID, or a mapping with the place in it.
func (l *loader) cite() yamlpos.Kind[mix.Cite] {
	id := l.ref(sources, "source")
	plain := yamlpos.Kind[mix.Cite]{Schema: id.Schema, Read: func(n yamlpos.Node) (mix.Cite, bool) {
		r, ok := id.Read(n)
		return mix.Cite{Ref: r}, ok
	}}
	full := yamlpos.Object[mix.Cite]{Name: "citation", Fields: []yamlpos.Field[mix.Cite]{
		must("id", id, func(c *mix.Cite, r mix.Ref) { c.Ref = r }, "the source's id"),
		must("place", line("a place in the source"), func(c *mix.Cite, s string) { c.Place = s }, "where in the source: table 3"),
	}}
	return yamlpos.Named("citation", yamlpos.Either(plain, full.Kind()))
}

// cites is the list of sources that every row of data has.
func (l *loader) cites() yamlpos.Kind[[]mix.Cite] { return some("sources", l.cite()) }

const citesDoc = "where this is from; a source of kind practice or memory says that there is none"
