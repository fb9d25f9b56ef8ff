package compat_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// argsOf writes the arguments of a doubt: what its words are filled with.
func argsOf(d compat.Doubt) string {
	var all []string
	for _, e := range d.Evidence {
		all = append(all, evidenceName(e))
	}
	all = append(all, gateNames(d.Gates)...)
	for _, s := range d.Symptoms {
		all = append(all, s.String())
	}
	for _, id := range d.Items {
		all = append(all, string(id))
	}
	if d.Count != nil {
		all = append(all, fmt.Sprintf("%v %d/%d independent %d upper %.3f", d.Count.Symptom, d.Count.Reacted, d.Count.Recorded, d.Count.Independent, d.Count.Upper))
	}
	if d.Number != 0 {
		all = append(all, fmt.Sprint(d.Number))
	}
	return strings.Join(all, ", ")
}

// TestDoubtArguments holds for each doubt what it tells the reader, on the finding
// that carries it or, where that is "", on the answer.
func TestDoubtArguments(t *testing.T) {
	jar := func(id, what string, edit ...func(*mix.Observation)) func(*book) {
		return func(b *book) { b.jar(id, "2026-05-01", what, edit...) }
	}
	same := func(o *mix.Observation) { o.Date = date("2026-05-01") }
	for _, c := range []struct {
		code    compat.DoubtCode
		mix     string
		in      mix.Situation
		given   func(*book)
		finding string
		want    string
	}{
		{compat.Conditional, "n1 n2", mix.Situation{}, func(b *book) {
			b.says("said", "apart:n1 n2:gel", gates(over(mix.WaterTemp, 20), ref(mix.VesselFactor, "closed")))
		}, "said", "temperature> 20, vesselclosed"},
		{compat.Conditional, "o1 p2", mix.Situation{}, func(b *book) {
			b.class("brine", "", func(k *mix.Class) { k.Carrier = true })
			b.says("said", "apart:oil powder brine:gel")
		}, "said", "carrierbrinebrine"},
		{compat.ElsewhereOnly, "n1 n2", mix.Situation{}, func(b *book) {
			b.notice("no", mix.Forbids, "n1 n2", func(n *mix.Notice) { n.Place.ID = "lower" })
		}, "no", "placelowerlower"},
		{compat.SomeMembers, "acid carbonate", mix.Situation{}, func(b *book) { b.Interactions[0].Members = refs("phosphite c1") }, "fizz", "phosphite, c1"},
		{compat.SomeMembers, "oil agent", mix.Situation{}, jar("j", "o1 g1: flakes=heavy"), "[g1 o1]", "g1, o1"},
		{compat.SomeMembers, "oil agent", mix.Situation{}, jar("j", "o1 g1: flakes=heavy"), "", "[g1 o1], 1"},
		{compat.Disagree, "o1 p2", mix.Situation{}, jar("j", "o1 p2: clean"), "curds", "[o1 p2]"},
		{compat.Disagree, "oil powder", mix.Situation{}, func(b *book) { b.says("fine", "clean:oil powder:flakes") }, "fine", "curds"},
		{compat.Disagree, "oil powder", mix.Situation{}, func(b *book) { b.says("fine", "clean:oil powder:flakes") }, "curds", "fine"},
		{compat.HazardStands, "a1 c1", mix.Situation{}, jar("j", "a1 c1 n1: clean"), "fizz", "[a1 c1 n1]"},
		{compat.CleanByLarger, "n1 n2", mix.Situation{}, jar("j", "n1 n2 p1: clean"), "[n1 n2 p1]", "[n1 n2 p1]"},
		{compat.Hidden, "n1 n2", mix.Situation{}, jar("j", "n1 n2 d1: clean"), "[d1 n1 n2]", "foam, d1"},
		{compat.Hidden, "n1 n2", mix.Situation{}, func(b *book) {
			b.product("d2", "defoamer")
			b.class("settler", "defoamer", func(k *mix.Class) { k.Suppresses = []mix.Symptom{mix.Flakes} })
			b.product("d3", "settler")
			b.jar("j", "2026-05-01", "n1 n2 d1 d2 d3: clean")
		}, "[d1 d2 d3 n1 n2]", "foam, flakes, d1, d2, d3"},
		{compat.FewJars, "n1 n2", mix.Situation{}, func(b *book) { b.clean3("j", "n1 n2") }, "[n1 n2]", "gas 0/3 independent 3 upper 0.632"},
		{compat.FewJars, "n1 n2", mix.Situation{}, func(b *book) {
			b.clean3("j", "n1 n2")
			b.jar("short", "2026-05-09", "n1 n2: gas=none flakes=none")
		}, "[n1 n2]", "foam 0/3 independent 3 upper 0.632"}, // the symptom that fewest jars recorded
		{compat.OneBatch, "n1 n2", mix.Situation{}, func(b *book) { b.clean3("j", "n1 n2", same) }, "[n1 n2]", "gas 0/3 independent 1 upper 0.632"},
		{compat.OneBatch, "n1 n2", mix.Situation{}, func(b *book) {
			b.clean3("j", "n1 n2", same, func(o *mix.Observation) { o.Readings[0].Flakes = mix.Heavy })
		}, "[n1 n2]", "flakes 3/3 independent 1 upper 1.000"}, // of what reacted, not of what stayed quiet
		{compat.JarBlind, "n1 n2", mix.Situation{}, jar("j", "n1 n2: clean"), "[n1 n2]", "fire, loss, vapor, control, injury"},
		{compat.NotRecorded, "n1 n2", mix.Situation{}, jar("j", "n1 n2: foam=0"), "[n1 n2]", "gas, flakes"},
		{compat.Unjudged, "n1 n2", mix.Situation{}, jar("j", "n1 n2: gas=none foam=40 flakes=none", func(o *mix.Observation) { o.Vessel = mix.Vessel{} }), "[n1 n2]", "foam"},
		{compat.FromClass, "n1 o1 p2", mix.Situation{}, nothing, "curds", "o1, p2"},
		{compat.Disputed, "o1 p2", mix.Situation{}, func(b *book) { b.Interactions[1].Disputes = []mix.Dispute{{}, {}} }, "curds", "2"},
		{compat.Old, "n1 n2", mix.Situation{}, func(b *book) { b.jar("j", "2019-01-01", "n1 n2: clean") }, "[n1 n2]", "7"},
		{compat.Tentative, "n1 n2", mix.Situation{}, jar("j", "n1 n2: flakes=heavy"), "[n1 n2]", "1"},
		{compat.Lenient, "o1 p2", mix.Situation{}, func(b *book) {
			b.clean3("j", "o1 p2")
			gates(over(mix.WaterTemp, 20))(&b.Interactions[1])
		}, "curds", "3"},
		{compat.Beyond, "n1 n2", mix.Situation{Standing: mix.Known(unit.Int(60)), WaterShare: mix.Known(unit.Frac(1, 4))}, jar("j", "n1 n2: clean"),
			"[n1 n2]", "standing5 to 5, water_share1 to 1"},
		{compat.Alone, "n1 n2", mix.Situation{}, func(b *book) {
			b.jar("j1", "2026-05-01", "n1: flakes=heavy")
			b.jar("j2", "2026-05-01", "n2: flakes=heavy")
		}, "", "[n1], [n2]"},
		{compat.Suspect, "n1 n2", mix.Situation{}, func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2 p1: flakes=heavy")
			b.jar("j2", "2026-05-01", "n1 n2 p2: flakes=heavy")
		}, "", "[n1 n2 p1], [n1 n2 p2]"},
		{compat.WaterMatters, "o1 n1", mix.Situation{}, func(b *book) {
			b.class("brine", "", func(k *mix.Class) { k.Carrier = true })
			b.says("salt", "apart:oil brine:gel")
		}, "", "salt"},
		{compat.PairsOnly, "n1 n2 p1", mix.Situation{}, func(b *book) {
			for i, pair := range []string{"n1 n2", "n1 p1", "n2 p1"} {
				b.jar(fmt.Sprint("j", i), "2026-05-01", pair+": clean")
			}
		}, "", ""},
		{compat.NotInForce, "n1 n2", mix.Situation{}, func(b *book) {
			b.notice("no", mix.Forbids, "n1 n2", func(n *mix.Notice) { n.Until = date("2025-01-01") })
		}, "no", ""},
	} {
		b := orchard()
		c.given(b)
		a := b.judge().Mix(items(c.mix), c.in)
		list := a.Doubts
		if c.finding != "" {
			list = finding(t, a, c.finding).Doubts
		}
		var got []string
		for _, d := range list {
			if d.Code == c.code {
				got = append(got, argsOf(d))
			}
		}
		if !slices.Equal(got, []string{c.want}) {
			t.Errorf("%s: doubt %q of %q: want once %q, got %q", c.mix, c.code, c.finding, c.want, got)
		}
	}
}

// TestAge holds full years from the newest record to the day of publication.
func TestAge(t *testing.T) {
	for _, c := range []struct {
		why, published string
		days           []string
		want           string
	}{
		{"five years to the day", "2026-11-20", []string{"2021-11-20"}, "5"},
		{"a day short of it", "2026-11-20", []string{"2021-11-21"}, ""},
		{"a month short of it, later in the month", "2026-11-20", []string{"2021-12-01"}, ""},
		{"a month over, earlier in the month", "2026-11-20", []string{"2021-10-30"}, "5"},
		{"of several the newest counts", "2026-11-20", []string{"2010-01-01", "2025-01-01"}, ""},
		{"in whatever order they stand", "2026-11-20", []string{"2015-01-01", "2010-01-01"}, "11"},
		{"from a leap day", "2025-02-28", []string{"2020-02-29"}, ""},
		{"no day of publication", "", []string{"2010-01-01"}, ""},
	} {
		b := orchard()
		b.Site.Published = mix.Date{}
		if c.published != "" {
			b.Site.Published = date(c.published)
		}
		for i, day := range c.days {
			b.jar(fmt.Sprint("j", i), day, "n1 n2: clean")
		}
		got := ""
		for _, d := range finding(t, mixed(b.judge(), "n1 n2"), "[n1 n2]").Doubts {
			if d.Code == compat.Old {
				got = argsOf(d)
			}
		}
		if got != c.want {
			t.Errorf("%s: want %q, got %q", c.why, c.want, got)
		}
	}
	b := orchard()
	b.jar("j", "2010-01-01", "n1 n2: clean", func(o *mix.Observation) { o.Date = mix.Date{} })
	if hasDoubt(mixed(b.judge(), "n1 n2").Doubts, compat.Old) {
		t.Error("a record without a day has no age")
	}
}
