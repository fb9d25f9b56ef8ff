package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// isolated runs isolate --json on the demonstration office and returns the one
// inquiry asked for.
func isolated(t *testing.T, args ...string) map[string]any {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(append([]string{"isolate", "-C", "../..", "--json"}, args...), strings.NewReader(""), &out, &errs); code != exitFine {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	var all struct{ Inquiries []map[string]any }
	if err := json.Unmarshal(out.Bytes(), &all); err != nil {
		t.Fatal(err)
	}
	if len(all.Inquiries) != 1 {
		t.Fatalf("%d inquiries", len(all.Inquiries))
	}
	return all.Inquiries[0]
}

// part follows keys and list places into JSON.
func part(t *testing.T, v any, path ...any) any {
	t.Helper()
	for _, p := range path {
		switch k := p.(type) {
		case string:
			v = v.(map[string]any)[k]
		case int:
			list := v.([]any)
			if k >= len(list) {
				t.Fatalf("no %d of %d in %v", k, len(list), path)
			}
			v = list[k]
		}
	}
	return v
}

// caseOf returns the case of a symptom.
func caseOf(t *testing.T, inquiry map[string]any, symptom string) any {
	t.Helper()
	for _, c := range part(t, inquiry, "cases").([]any) {
		if part(t, c, "symptom") == symptom {
			return c
		}
	}
	t.Fatalf("no case of %s", symptom)
	return nil
}

// The products of the burndown, by what they are.
const (
	dicamba    = "knotwimble"
	glyphosate = "ploverdown" // the potassium salt
	otherSalt  = "harrowbent"
	carbonate  = "stillvane" // the buffer that presses
	acetate    = "calmstaff"
	defoamer   = "foamwren"
)

// TestKnownPattern holds isolate to a pattern of common practice in the records of
// the demo; what its page says of it is tested in internal/page.
func TestKnownPattern(t *testing.T) {
	q := isolated(t, "foam-and-firm-walls")
	gas, foam := caseOf(t, q, "gas"), caseOf(t, q, "foam")
	for _, c := range []struct {
		got  any
		want string
		why  string
	}{
		{part(t, gas, "status"), "narrowed", "pressure is not established: the pair was never run alone"},
		{part(t, gas, "causes"), "[]", "and nothing else is"},
		{part(t, gas, "by_class", 0, "possible"), "[[ploverdown stillvane] [knotwimble ploverdown stillvane]]", "it comes from glyphosate with the carbonate buffer, or needs all three"},
		{part(t, gas, "next", "products"), "[ploverdown stillvane]", "the next jar is that pair alone"},
		{part(t, gas, "next", "why"), "split", "because it divides what is possible"},
		{part(t, gas, "alike"), "[[ploverdown harrowbent]]", "the other salt behaves as the first"},
		{part(t, gas, "classes", 0, "places", 0, 0), "glyphosate", "at the level of classes: glyphosate"},
		{part(t, gas, "classes", 0, "places", 1, 0), "potassium-carbonate", "with the carbonate"},
		{part(t, gas, "classes", 0, "alone"), "false", "which were never run by themselves"},
		{part(t, q, "separate", 0, "symptoms"), "[gas foam]", "foam is a separate matter"},
		{part(t, q, "separate", 0, "only_first"), "[qv-2026-067]", "pressure without foam, under the defoamer"},
		{part(t, foam, "by_class", 0, "possible"), "[[ploverdown] [knotwimble ploverdown]]", "foam needs no buffer"},
		{part(t, foam, "next", "products"), "[ploverdown]", "and its next jar is another"},
	} {
		if got := fmt.Sprint(c.got); got != c.want {
			t.Errorf("%s: got %s, want %s", c.why, got, c.want)
		}
	}
}

// TestKnownPatternFactors: order and water volume change nothing, a defoamer takes
// the foam and leaves the pressure, and another buffer takes the pressure.
func TestKnownPatternFactors(t *testing.T) {
	q := isolated(t, "foam-and-firm-walls")
	gas, foam := caseOf(t, q, "gas"), caseOf(t, q, "foam")
	for _, c := range []struct {
		of           any
		circumstance string
		same, differ bool
		why          string
	}{
		{gas, "order", true, false, "either order presses"},
		{gas, "spray-volume", true, false, "at any water volume"},
		{gas, "hides", true, false, "a defoamer does not take the pressure"},
		{foam, "order", true, false, "either order foams"},
		{foam, "spray-volume", true, false, "at any water volume"},
		{foam, "hides", false, true, "a defoamer takes the foam"},
	} {
		same, differ := factor(t, c.of, c.circumstance)
		if (same > 0) != c.same || (differ > 0) != c.differ {
			t.Errorf("%s: %d comparisons came out the same, %d did not", c.why, same, differ)
		}
	}
	swaps := part(t, gas, "swaps").([]any)
	i := slices.IndexFunc(swaps, func(s any) bool { return fmt.Sprint(part(t, s, "products")) == "["+acetate+" "+carbonate+"]" })
	if i < 0 || len(part(t, swaps[i], "same").([]any)) > 0 || len(part(t, swaps[i], "differ").([]any)) == 0 {
		t.Errorf("the acetate buffer in place of the carbonate one does not press: %v", swaps)
	}
	for _, c := range []struct {
		products []string
		in       string
		why      string
	}{
		{[]string{carbonate, dicamba}, "clear", "the carbonate buffer with dicamba is quiet"},
		{[]string{dicamba, glyphosate}, "clear", "dicamba with glyphosate builds no pressure"},
		{[]string{carbonate, dicamba, glyphosate}, "reacted", "all three do"},
		{[]string{carbonate, dicamba, otherSalt}, "reacted", "with the other salt too"},
		{[]string{acetate, dicamba, glyphosate}, "clear", "with the acetate buffer they do not"},
		{[]string{carbonate, defoamer, dicamba, glyphosate}, "reacted", "under a defoamer they still do"},
	} {
		if !recorded(t, gas, c.in, c.products) {
			t.Errorf("no record of %v is %s: %s", c.products, c.in, c.why)
		}
	}
}

// factor counts the comparisons of a circumstance.
func factor(t *testing.T, of any, name string) (same, differ int) {
	t.Helper()
	for _, f := range part(t, of, "factors").([]any) {
		if part(t, f, "circumstance") == name {
			return len(part(t, f, "same").([]any)), len(part(t, f, "differ").([]any))
		}
	}
	return 0, 0
}

// recorded reports whether a list of a case holds an observation of just these
// products.
func recorded(t *testing.T, of any, list string, products []string) bool {
	t.Helper()
	c := &call{dir: "../.."}
	office, _, err := c.read()
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(products)
	for _, id := range part(t, of, list).([]any) {
		var held []string
		for i := range office.Book.Observations {
			if o := &office.Book.Observations[i]; string(o.ID) == id {
				for _, p := range o.Products {
					held = append(held, string(p.ID))
				}
			}
		}
		slices.Sort(held)
		if slices.Equal(held, products) {
			return true
		}
	}
	return false
}
