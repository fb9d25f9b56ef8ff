package unit_test

import (
	"errors"
	"testing"
	"unicode/utf8"

	"tankleaf.example/internal/unit"
)

// seed feeds the tables of the parsers to a fuzz target.
func seed(f *testing.F) {
	for _, c := range accepted {
		f.Add(c.in)
	}
	for _, c := range refused {
		f.Add(c.in)
	}
}

// sound checks what holds for every refusal.
func sound(t *testing.T, in string, err error) {
	t.Helper()
	var se *unit.SyntaxError
	if !errors.As(err, &se) {
		t.Fatalf("%q: %T is no SyntaxError", in, err)
	}
	if se.Code == "" || se.Msg == "" || se.Hint == "" || !utf8.ValidString(se.Msg+se.Hint) {
		t.Fatalf("%q: message %q, hint %q", in, se.Msg, se.Hint)
	}
	if n := utf8.RuneCountInString(in); se.Offset < 0 || se.Offset > n {
		t.Fatalf("%q: offset %d outside %d characters", in, se.Offset, n)
	}
}

func FuzzRate(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, in string) {
		r, err := unit.ParseRate(in)
		if err != nil {
			sound(t, in, err)
			return
		}
		if back, err := unit.ParseRate(r.String()); err != nil || !back.Equal(r) || r.Base().Sign() <= 0 {
			t.Fatalf("%q prints as %q, which reads as %v, %v", in, r, back, err)
		}
	})
}

// FuzzQuantity runs every other parser on the same input.
func FuzzQuantity(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, in string) {
		for _, noun := range nouns {
			s, err := read(noun, in)
			if err != nil {
				sound(t, in, err)
				continue
			}
			switch noun {
			case "percentage", "number", "temperature rise":
				continue // printed without its unit
			}
			if again, err := read(noun, s); err != nil || again != s {
				t.Fatalf("%s %q prints as %q, which prints as %q, %v", noun, in, s, again, err)
			}
		}
	})
}
