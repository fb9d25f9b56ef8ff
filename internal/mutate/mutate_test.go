package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestFaultsIn(t *testing.T) {
	for _, c := range []struct {
		why, body string
		want      []string // what the body is with each fault
	}{
		{"a comparison at its edge", "_ = a < b", []string{"_ = a <= b", "_ = a > b", ""}},
		{"a comparison turned round at its edge", "x := a >= b", []string{"x := a > b", "x := a <= b"}},
		{"equal and not", "_ = a == b", []string{"_ = a != b", ""}},
		{"both or one", "x = a && b", []string{"x = a || b", ""}},
		{"a sum", "x := a + b", []string{"x := a - b"}},
		{"a product of numbers", "x := a * 2", []string{"x := a / 2", "x := a * 3"}},
		{"a condition", "if a { f() }", []string{"if !(a) { f() }", "if a {  }"}},
		{"a record that is forgotten", "x := append(all, one)", []string{"x := append(all)"}},
		{"a source that is forgotten", "x := t{source: a, at: b}", []string{"x := t{ at: b}", "x := t{source: a, }"}},
		{"a list in the wrong order", "x := []t{a, b}", []string{"x := []t{b, a}"}},
		{"rows of a table", "x := []t{{a}, {b}}", nil},
		{"fields by place are no list", "x := t{a, b}", nil},
		{"the first condition that holds", "switch { case a: f(); case b: g(); default: }",
			[]string{"switch { case b: g(); case a: f(); default: }", "switch { case a: ; case b: g(); default: }", "switch { case a: f(); case b: ; default: }"}},
		{"values of which one holds", "switch x { case a: case b: }", nil},
		{"arguments that change places", "x := f(a, b, c)", []string{"x := f(b, a, c)"}},
		{"the same twice is no fault", "x := f(a, a)", nil},
		{"receiver and argument", "x := a.Cmp(b)", []string{"x := b.Cmp(a)"}},
		{"which does not matter in a sum", "x := a.Add(b)", nil},
		{"a truth", "return true", []string{"return false"}},
		{"a loop left too late", "for { break }", []string{"for {  }"}},
		{"a count", "n++", []string{""}},
		{"a panic's words", `panic(fmt.Sprint(1 + 2))`, []string{""}},
		{"printed words", `x := fmt.Sprint(1 + 2)`, nil},
		{"characters beyond ASCII before the fault", `x := f("é", a)`, []string{`x := f(a, "é")`}},
	} {
		const head, tail = "package p\nfunc g() {\n", "\n}\n"
		body := head + c.body + tail
		found, err := faultsIn("p.go", []byte(body))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range found {
			s := string(f.apply([]byte(body)))
			got = append(got, strings.TrimSuffix(strings.TrimPrefix(s, head), tail))
		}
		slices.Sort(got)
		slices.Sort(c.want)
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s\n%s", c.why, c.body, diff)
		}
	}
}

func TestWordsAreLeftAlone(t *testing.T) {
	found, err := faultsIn("p.go", []byte("package p\nfunc (v V) String() string { if v < 2 { return a + b }; return c }\n"))
	if err != nil || len(found) > 0 {
		t.Errorf("%v, %v", found, err)
	}
}

// TestSampleIsStable: code added above does not change which faults are drawn,
// and faults that look the same have names of their own.
func TestSampleIsStable(t *testing.T) {
	draw := func(text string) (names []string) {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "p.go"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		all, err := faultsOf(dir, 1)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range all {
			names = append(names, f.name())
		}
		return names
	}
	const code = "func f(a, b int) bool { return a < b && b < 3 || a < b }\n"
	first := draw("package p\n" + code)
	if diff := cmp.Diff(first, draw("package p\n\n// More.\n\nvar x = 1\n\n"+code)); diff != "" {
		t.Error(diff)
	}
	if unique := slices.Compact(slices.Sorted(slices.Values(first))); len(unique) != len(first) || len(first) != 9 {
		t.Errorf("%d names for faults, want 9: %q", len(unique), first)
	}
}

// specimen is a package of which one function is tested, one is not, and one
// would never end.
const specimen = `package specimen

func Larger(a, b int) bool { return a > b }

func Smaller(a, b int) bool { return a < b }

func Count(n int) (all int) {
	for i := 0; i < n; i++ {
		all++
	}
	return all
}
`

const specimenTest = `package specimen

import "testing"

func TestLarger(t *testing.T) {
	if Larger(2, 1) != true || Larger(1, 1) != false || Count(3) != 3 {
		t.Error("wrong")
	}
}
`

// TestTry seeds faults into a package and sees which its tests notice.
func TestTry(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the compiler")
	}
	dir := t.TempDir()
	for name, text := range map[string]string{"go.mod": "module specimen\n\ngo 1.26\n", "s.go": specimen, "s_test.go": specimenTest} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	all, err := faultsOf(".", 1)
	if err != nil {
		t.Fatal(err)
	}
	// Loops without end go on for a second.
	r := trier{".", t.TempDir(), time.Second, drawsExamples(".")}
	want := map[string]outcome{
		"s.go Larger compare: a > b → a >= b":  caught,
		"s.go Smaller compare: a < b → a <= b": survived,
		"s.go Count drop: i++ → nothing":       caught,
	}
	for _, f := range all {
		expected, ours := want[f.name()]
		if !ours {
			continue
		}
		delete(want, f.name())
		if got, err := r.try(t.Context(), f); err != nil || got != expected {
			t.Errorf("%s: %d, %v; want %d", f.name(), got, err, expected)
		}
	}
	if len(want) > 0 {
		t.Errorf("no such faults: %v, among %v", want, all)
	}
	broken := fault{file: "s.go", from: 0, to: 7, with: "packet"}
	if got, err := r.try(t.Context(), broken); err != nil || got != noFault {
		t.Errorf("what does not compile is %d, %v", got, err)
	}
}

func TestReadExplained(t *testing.T) {
	why, err := readExplained("explained.txt")
	if err != nil {
		t.Fatal(err)
	}
	for name := range why {
		if file, _, _ := strings.Cut(name, " "); !exists(filepath.Join("../..", file)) {
			t.Errorf("%q is of no file of ours", name)
		}
	}
	name := filepath.Join(t.TempDir(), "x")
	if err := os.WriteFile(name, []byte("a fault without a reason\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := readExplained(name); err == nil {
		t.Error("a fault without a reason passes")
	}
}

func exists(name string) bool { _, err := os.Stat(name); return err == nil }
