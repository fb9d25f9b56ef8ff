package trial_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
)

// holds writes what a jar is, in the first words of its products: "whole T S K @rain".
func holds(tr *trial.Trial, j *trial.Jar) string {
	text := j.Role.String()
	for _, name := range tr.Names(j.Products) {
		first, _, _ := strings.Cut(name, " ")
		text += " " + strings.ToLower(first)
	}
	if j.Water != "" {
		text += " @" + string(j.Water)
	}
	if j.Order != "" {
		text += " (" + j.Order + ")"
	}
	return text
}

// TestProposals holds the very jars of each question, by what the question needs; jars
// that are left out are told from the most to the least needed.
func TestProposals(t *testing.T) {
	onion := []string{"thatchmoor=3 lb/ac", "skeinlow=6 fl oz/ac", "sapwhittle=5 fl oz/ac"}
	for _, c := range []struct {
		why     string
		q       func() trial.Request
		jars    []string // in any order: the day's order is drawn
		leftOut []string
	}{
		{"order: ours, its reverse, neighbors exchanged, each alone; published orders that come to one of these are not poured twice", func() trial.Request {
			q := ask(t, trial.Order, "20 gal/ac", onion...)
			q.Jars = 20
			return q
		}, []string{"carrier", "whole thatchmoor sapwhittle skeinlow", "other-order skeinlow sapwhittle thatchmoor (reversed)",
			"other-order sapwhittle thatchmoor skeinlow (Sapwhittle 2 SC before Thatchmoor 75 WG)",
			"other-order thatchmoor skeinlow sapwhittle (Skeinlow 2.1 EC before Sapwhittle 2 SC)",
			"alone thatchmoor", "alone skeinlow", "alone sapwhittle"}, nil},
		{"four jars: the reverse is needed, then what was next", func() trial.Request {
			q := ask(t, trial.Order, "20 gal/ac", onion...)
			q.Jars = 4
			return q
		}, []string{"carrier", "whole thatchmoor sapwhittle skeinlow", "other-order skeinlow sapwhittle thatchmoor (reversed)",
			"other-order sapwhittle thatchmoor skeinlow (Sapwhittle 2 SC before Thatchmoor 75 WG)"},
			[]string{"other-order thatchmoor skeinlow sapwhittle (Skeinlow 2.1 EC before Sapwhittle 2 SC)", "alone thatchmoor", "alone skeinlow", "alone sapwhittle"}},
		{"water: the softest and the hardest that were measured, products alone in the hardest", func() trial.Request {
			q := ask(t, trial.Water, "100 gal/ac", orchard...)
			q.Jars = 6
			return q
		}, []string{"carrier @rain-tank", "whole larkstile wrenbasket firkinlow @rain-tank", "carrier @standard-hard", "other-water larkstile wrenbasket firkinlow @standard-hard",
			"alone larkstile @standard-hard", "alone firkinlow @standard-hard"}, []string{"alone wrenbasket @standard-hard"}},
		{"named waters, all of them, the first for all jars", func() trial.Request {
			q := ask(t, trial.Water, "100 gal/ac", orchard...)
			q.Waters, q.Jars = []mix.ID{"office-well", "rain-tank", "standard-hard"}, 6
			return q
		}, []string{"carrier @office-well", "whole larkstile wrenbasket firkinlow @office-well", "carrier @rain-tank", "other-water larkstile wrenbasket firkinlow @rain-tank",
			"carrier @standard-hard", "other-water larkstile wrenbasket firkinlow @standard-hard"},
			[]string{"alone larkstile @standard-hard", "alone firkinlow @standard-hard", "alone wrenbasket @standard-hard"}},
		{"substitutes that were named are all needed; by the product's name as well as its id", func() trial.Request {
			q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "larkstile=4 oz/ac", "firkinlow=5.5 fl oz/ac")
			q.For, q.Jars = "Tartpitcher SL", 5
			q.Substitutes = []jar.Product{product(t, "mellowbeck"), product(t, "evenweir")}
			return q
		}, []string{"carrier", "whole tartpitcher larkstile firkinlow", "in-place mellowbeck larkstile firkinlow", "in-place evenweir larkstile firkinlow", "without larkstile firkinlow"},
			[]string{"alone mellowbeck", "alone evenweir"}},
		{"substitutes that were found: one is needed", func() trial.Request {
			q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "sallowmere=5 lb/ac")
			q.Jars = 3
			return q
		}, []string{"carrier", "whole tartpitcher sallowmere", "in-place tartpitcher brimbarrow"}, []string{
			"in-place tartpitcher gorseladle", "in-place tartpitcher brightlaver", "in-place tartpitcher churnwick", "in-place tartpitcher duskbarrel",
			"in-place fardelwick tartpitcher", "without tartpitcher", "alone brimbarrow",
			"alone gorseladle", "alone brightlaver", "alone churnwick", "alone duskbarrel", "alone fardelwick"}},
		{"a workshop with a second water", func() trial.Request {
			q := ask(t, trial.Workshop, "100 gal/ac", orchard...)
			q.Jars, q.Waters = 20, []mix.ID{"standard-hard", "rain-tank"}
			return q
		}, []string{"carrier @standard-hard", "whole larkstile wrenbasket firkinlow @standard-hard", "alone larkstile @standard-hard", "alone firkinlow @standard-hard",
			"alone wrenbasket @standard-hard", "other-order firkinlow wrenbasket larkstile @standard-hard (reversed)",
			"crowded larkstile wrenbasket firkinlow @standard-hard", "other-water larkstile wrenbasket firkinlow @rain-tank"}, nil},
	} {
		tr := plan(t, c.q())
		var jars, left []string
		for i := range tr.Jars {
			jars = append(jars, holds(tr, &tr.Jars[i]))
		}
		for i := range tr.LeftOut {
			left = append(left, holds(tr, &tr.LeftOut[i]))
		}
		slices.Sort(jars)
		if diff := cmp.Diff(slices.Sorted(slices.Values(c.jars)), jars); diff != "" {
			t.Errorf("%s: jars (-want +got)\n%s", c.why, diff)
		}
		if diff := cmp.Diff(c.leftOut, left); diff != "" {
			t.Errorf("%s: left out (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestFewerThatFit: what does not fit is told with how many would.
func TestFewerThatFit(t *testing.T) {
	waters := []mix.ID{"standard-hard", "rain-tank", "office-well"}
	for _, c := range []struct {
		why              string
		jars, replicates int
		want             string
	}{
		{"three waters take six jars; five are room for two", 5, 1, "the trial needs 6 jars; allowed are 5|allow 6 jars, or compare 2"},
		{"four are too", 4, 1, "the trial needs 6 jars; allowed are 4|allow 6 jars, or compare 2"},
		{"three are not enough to compare", 3, 1, "the trial needs 6 jars; allowed are 3|allow 6 jars"},
		{"replicates multiply", 13, 3, "the trial needs 6 jars in each of 3 replicates, 18 in all; allowed are 13|allow 18 jars, or make 2 replicates, or compare 2"},
		{"and may leave too little for any", 5, 2, "the trial needs 6 jars in each of 2 replicates, 12 in all; allowed are 5|allow 12 jars"},
	} {
		q := ask(t, trial.Water, "100 gal/ac", orchard...)
		q.Waters, q.Jars, q.Replicates = waters, c.jars, c.replicates
		_, err := planner().Trial(q)
		if err == nil {
			t.Errorf("%s: planned", c.why)
			continue
		}
		if p := trouble(t, err)[0]; p.Code != trial.TooFewJars || p.Msg+"|"+p.Hint != c.want {
			t.Errorf("%s: %q, hint %q", c.why, p.Msg, p.Hint)
		}
	}
}
