package sheet

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

const idHint = "ids are lower-case letters, digits and single hyphens, 64 at most"

// idKind reads an id with its place. Whether there is such a record is asked
// later, when it is known which kind of record it should be.
var idKind = yamlpos.Scalar("an id", yamlpos.Schema{}, func(n yamlpos.Node, s string) (mix.Ref, bool) {
	if !mix.ValidID(s) {
		n.Problem(fmt.Sprintf("%q is no id", clip(s)), idHint)
		return mix.Ref{}, false
	}
	return mix.Ref{ID: mix.ID(s), At: n.Pos()}, true
})

var idsKind = yamlpos.List("ids", idKind)

var alsoKind = yamlpos.List("names", line("a name", 60))

// line returns the kind of a text on one line of at most n characters.
func line(what string, n int) yamlpos.Kind[string] {
	return yamlpos.Scalar(what, yamlpos.Schema{}, func(node yamlpos.Node, s string) (string, bool) {
		switch {
		case strings.TrimSpace(s) == "":
			node.Problem("expected "+what+", found nothing", "write some words")
			return "", false
		case strings.ContainsRune(strings.TrimSpace(s), '\n'):
			node.Problem(what+" runs over several lines", "write it on one line, or start it with >-")
			return "", false
		case utf8.RuneCountInString(s) > n:
			node.Problem(fmt.Sprintf("%s of %d characters is over the limit of %d", what, utf8.RuneCountInString(s), n), "shorten it")
			return "", false
		}
		return strings.TrimSpace(s), true
	})
}

var noteKind = line("a note", 600)

// roleKind reads who wrote a sheet. It starts in lower case, as a name would not.
var roleKind = yamlpos.Scalar("a role", yamlpos.Schema{}, func(n yamlpos.Node, s string) (string, bool) {
	if r, _ := utf8.DecodeRuneInString(s); !unicode.IsLower(r) || len(s) > 80 || strings.ContainsRune(s, '@') {
		n.Problem(fmt.Sprintf("%q is not a role", clip(s)), `write what the author does, in lower case and without a name, such as "office specialist"`)
		return "", false
	}
	return s, true
})

var dateKind = yamlpos.Scalar("a date", yamlpos.Schema{}, func(n yamlpos.Node, s string) (mix.Date, bool) {
	d, ok := mix.ParseDate(s)
	if !ok {
		n.Problem(fmt.Sprintf("%q is not a date", clip(s)), "write year-month-day, such as 2026-05-12")
	}
	return d, ok
})

// quantity returns the kind of something the unit package parses.
func quantity[T any](what string, parse func(string) (T, error)) yamlpos.Kind[T] {
	return yamlpos.Scalar(what, yamlpos.Schema{}, func(n yamlpos.Node, s string) (T, bool) {
		v, err := parse(s)
		if err == nil {
			return v, true
		}
		var bad *unit.SyntaxError
		if errors.As(err, &bad) {
			n.ProblemAt(bad.Offset, bad.Msg, bad.Hint)
		} else {
			n.Problem(err.Error(), "")
		}
		return v, false
	})
}

// value returns the kind of a quantity that is kept as a plain number.
func value[T interface{ Base() unit.Number }](what string, parse func(string) (T, error)) yamlpos.Kind[mix.Value] {
	k := quantity(what, parse)
	return yamlpos.Kind[mix.Value]{Schema: k.Schema, Read: func(n yamlpos.Node) (mix.Value, bool) {
		q, ok := k.Read(n)
		return mix.Known(q.Base()), ok
	}}
}

// number returns the kind of a plain number between two bounds.
func number(what string, parse func(string) (unit.Number, error), low, high int64) yamlpos.Kind[mix.Value] {
	k := quantity(what, parse)
	return yamlpos.Kind[mix.Value]{Schema: k.Schema, Read: func(n yamlpos.Node) (mix.Value, bool) {
		v, ok := k.Read(n)
		if ok && (v.Cmp(unit.Int(low)) < 0 || v.Cmp(unit.Int(high)) > 0) {
			n.Problem(fmt.Sprintf("%s is outside of %d to %d", strings.TrimPrefix(what, "a "), low, high), "")
			return mix.Value{}, false
		}
		return mix.Known(v), ok
	}}
}

// clip shortens text that is quoted in a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:59]) + "…"
	}
	return s
}
