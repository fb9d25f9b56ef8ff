package trial_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
)

// TestHazardsOfEachJar: what the judge knows of the very products of a jar stands at
// the jar and on the cover, once, in order; so does what the whole mix can do.
func TestHazardsOfEachJar(t *testing.T) {
	beside := 0 // hazards of a jar that the whole mix is not known for
	check := func(tr *trial.Trial) {
		whole := demo().Mix(ids(tr, tr.Mix), mix.Situation{}).Hazards
		for _, j := range tr.Jars {
			if len(j.Products) == 0 {
				continue
			}
			a := demo().Mix(ids(tr, j.Products), mix.Situation{})
			want := slices.Concat(a.Hazards, a.Handling)
			if len(j.Products) > 1 {
				want = append(want, whole...)
			}
			for _, h := range want {
				if !slices.Contains(j.Hazards, h) || !slices.Contains(tr.Hazards, h) {
					t.Errorf("%v of %v: at the jar %v, on the cover %v", h, tr.Names(j.Products), j.Hazards, tr.Hazards)
				}
			}
			for _, h := range j.Hazards {
				if !slices.Contains(whole, h) {
					beside++
				}
			}
			if !slices.IsSorted(j.Hazards) || len(slices.Compact(slices.Clone(j.Hazards))) != len(j.Hazards) {
				t.Errorf("hazards of a jar %v", j.Hazards)
			}
		}
		if !slices.IsSorted(tr.Hazards) || len(slices.Compact(slices.Clone(tr.Hazards))) != len(tr.Hazards) {
			t.Errorf("hazards %v", tr.Hazards)
		}
	}
	for i := range demo().Index().Book().Trials {
		check(plan(t, planner().FromBook(&demo().Index().Book().Trials[i])))
	}
	handled := ask(t, trial.Order, "100 gal/ac", handle(t), "larkstile=4 oz/ac")
	handled.AsUsed = true
	check(plan(t, handled))
	if beside == 0 {
		t.Error("no jar has a hazard of its own: the test shows nothing")
	}
}

func ids(tr *trial.Trial, list []int) (all []mix.ID) {
	for _, i := range list {
		all = append(all, tr.Products[i].ID)
	}
	return all
}

// handle is a product that is dangerous to handle by itself and safe to pour.
func handle(t *testing.T) string {
	t.Helper()
	for _, p := range demo().Index().Book().Products {
		a := demo().Mix([]mix.ID{p.ID}, mix.Situation{})
		if len(a.Hazards) == 0 && slices.Equal(a.Handling, []mix.Hazard{mix.Concentrate}) {
			return string(p.ID)
		}
	}
	t.Fatal("the data holds no concentrate that is dangerous to handle")
	return ""
}

// TestTooManyProducts: a search takes 16 products, a judge's mix leaves room for the
// helper.
func TestTooManyProducts(t *testing.T) {
	var names []string
	for _, p := range demo().Index().Book().Products {
		names = append(names, string(p.ID))
	}
	aid := product(t, "foamwren")
	for _, c := range []struct {
		question trial.Question
		aid      *jar.Product
		most     int
	}{{trial.Cause, nil, 16}, {trial.Order, nil, compat.MaxItems}, {trial.Order, &aid, compat.MaxItems - 1}} {
		for _, n := range []int{c.most, c.most + 1} {
			q := ask(t, c.question, "100 gal/ac", names[:n]...)
			q.Aid, q.AsUsed = c.aid, true
			_, err := planner().Trial(q)
			var told []string
			var ps jar.Problems
			if errors.As(err, &ps) {
				for _, p := range ps {
					if p.Code == trial.TooManyItems {
						told = append(told, p.Msg+"; "+p.Hint)
					}
				}
			}
			var want []string
			if n > c.most {
				want = []string{fmt.Sprintf("a mix of %d products; name %d or fewer", n, c.most)}
			}
			if diff := cmp.Diff(want, told); diff != "" {
				t.Errorf("%v of %d products (-want +got)\n%s", c.question, n, diff)
			}
		}
	}
}

// TestSheetSaysWhatWasPoured: the table that is filled in knows of a jar what its card
// does, in the words of the data.
func TestSheetSaysWhatWasPoured(t *testing.T) {
	said := func(tr *trial.Trial, role trial.Role) map[string]string {
		t.Helper()
		var b bytes.Buffer
		if err := tr.WriteSheet(&b, "bench"); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(tr.Jars, func(j trial.Jar) bool { return j.Role == role })
		got := map[string]string{}
		for _, row := range rows[1:] {
			if row[0] != "bench-"+strings.ToLower(tr.Jars[i].Code) {
				continue
			}
			for n, cell := range row {
				if name := rows[0][n]; name != "id" || got[name] == "" {
					got[name] += cell // further lines of a jar say the time and no more
				}
			}
			for name, text := range got {
				if text == "" {
					delete(got, name)
				}
			}
		}
		return got
	}
	q := ask(t, trial.Workshop, "100 gal/ac", orchard...)
	q.Jars, q.Waters = 12, []mix.ID{"office-well"}
	tr := plan(t, q)
	whole := said(tr, trial.Whole)
	code := tr.Jars[slices.IndexFunc(tr.Jars, func(j trial.Jar) bool { return j.Role == trial.Whole })].Code
	want := map[string]string{"id": "bench-" + strings.ToLower(code), "kind": "jar", "title": "Jar " + code + ", the mix as it is: Larkstile 35 WG, Wrenbasket 30 SG, Firkinlow 2.5 SC",
		"product.1": "larkstile", "rate.1": "4 oz/ac", "product.2": "wrenbasket", "rate.2": "4 oz/ac", "product.3": "firkinlow", "rate.3": "5.5 fl oz/ac",
		"order": "recorded", "spray_volume": "100 gal/ac", "vessel.type": "jar", "vessel.size": tr.Vessel.Size.String(),
		"vessel.liquid": tr.Vessel.Fill.Base().Short(1) + " mL", "vessel.closed": "true", "water": "office-well", "inversions": "10",
		"after": "0 min15 min30 min2 h16 h"}
	if diff := cmp.Diff(want, whole); diff != "" {
		t.Errorf("the whole mix (-want +got)\n%s", diff)
	}
	crowded := said(tr, trial.Crowded)
	if crowded["water_share"] != "25 %" || whole["water_share"] != "" {
		t.Errorf("shares of the water %q and %q", crowded["water_share"], whole["water_share"])
	}
	open := said(plan(t, ask(t, trial.Order, "100 gal/ac", "sallowmere=5 lb/ac", "firkinlow=5.5 fl oz/ac")), trial.Whole)
	if open["vessel.closed"] != "false" || open["inversions"] != "0" {
		t.Errorf("a jar that stays open is closed %q and turned %q times", open["vessel.closed"], open["inversions"])
	}
}
