package compat_test

import (
	"slices"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

func gates(list ...mix.Gate) func(*mix.Interaction) {
	return func(n *mix.Interaction) { n.When = list }
}

func ref(f mix.Factor, id string) mix.Gate { return mix.Gate{Factor: f, Ref: mix.Ref{ID: mix.ID(id)}} }

func order(first, then string) mix.Gate {
	return mix.Gate{Factor: mix.OrderFactor, First: mix.Ref{ID: mix.ID(first)}, Then: mix.Ref{ID: mix.ID(then)}}
}

// TestGates holds rule 5 over one statement of n1 and o1 (an oil).
func TestGates(t *testing.T) {
	known := func(n int64) mix.Value { return mix.Known(unit.Int(n)) }
	for _, c := range []struct {
		why   string
		gate  mix.Gate
		given mix.Situation
		want  mix.Truth
	}{
		{"a number over its bound", over(mix.Hardness, 300), mix.Situation{Hardness: known(400)}, mix.Holds},
		{"a number under it", over(mix.Hardness, 300), mix.Situation{Hardness: known(100)}, mix.Fails},
		{"a number not known", over(mix.Hardness, 300), mix.Situation{}, mix.NotKnown},
		{"another number known", over(mix.Hardness, 300), mix.Situation{WaterTemp: known(30)}, mix.NotKnown},
		{"every numeric factor has its value", over(mix.Standing, 120), mix.Situation{Standing: known(180)}, mix.Holds},
		{"a closed vessel", ref(mix.VesselFactor, "closed"), mix.Situation{Vessel: "closed"}, mix.Holds},
		{"an open one", ref(mix.VesselFactor, "closed"), mix.Situation{Vessel: "open"}, mix.Fails},
		{"a crop", ref(mix.CropFactor, "apple"), mix.Situation{Crop: "pear"}, mix.Fails},
		{"the place itself", ref(mix.PlaceFactor, "valley"), mix.Situation{Place: "valley"}, mix.Holds},
		{"a part of the place", ref(mix.PlaceFactor, "valley"), mix.Situation{Place: "lower"}, mix.Holds},
		{"a whole that holds the place", ref(mix.PlaceFactor, "lower"), mix.Situation{Place: "valley"}, mix.NotKnown},
		{"a neighbor", ref(mix.PlaceFactor, "lower"), mix.Situation{Place: "upper"}, mix.Fails},
		{"places in a circle end", ref(mix.PlaceFactor, "lower"), mix.Situation{Place: "round"}, mix.Fails},
		{"the first went in first", order("oil", "n1"), mix.Situation{Order: items("o1 n1")}, mix.Holds},
		{"the first went in last", order("oil", "n1"), mix.Situation{Order: items("n1 o1")}, mix.Fails},
		{"order not known", order("oil", "n1"), mix.Situation{}, mix.NotKnown},
		{"order of others known", order("oil", "n1"), mix.Situation{Order: items("n1 n2")}, mix.NotKnown},
		{"order of what is not among the members", order("powder", "n1"), mix.Situation{Order: items("n1 o1")}, mix.NotKnown},
		{"the carrier is named", ref(mix.CarrierClass, "water"), mix.Situation{Carrier: items("hard")}, mix.Holds},
		{"another carrier is named", ref(mix.CarrierClass, "water"), mix.Situation{Carrier: items("uan")}, mix.Fails},
		{"the carrier follows from the water", ref(mix.CarrierClass, "hard"), mix.Situation{Hardness: known(400)}, mix.Holds},
		{"and so does what it is not", ref(mix.CarrierClass, "hard"), mix.Situation{Hardness: known(40)}, mix.Fails},
		{"and its parents", ref(mix.CarrierClass, "water"), mix.Situation{Hardness: known(400)}, mix.Holds},
		{"the carrier is not known", ref(mix.CarrierClass, "hard"), mix.Situation{}, mix.NotKnown},
	} {
		b := orchard()
		b.class("water", "", func(c *mix.Class) { c.Carrier = true })
		b.class("uan", "", func(c *mix.Class) { c.Carrier = true })
		b.class("hard", "water", func(c *mix.Class) { c.Carrier = true; c.When = []mix.Gate{over(mix.Hardness, 300)} })
		b.Places = []mix.Place{{ID: "valley"}, {ID: "lower", PartOf: mix.Ref{ID: "valley"}}, {ID: "upper", PartOf: mix.Ref{ID: "valley"}},
			{ID: "round", PartOf: mix.Ref{ID: "circle"}}, {ID: "circle", PartOf: mix.Ref{ID: "round"}}}
		b.says("gated", "apart:n1 o1:flakes", gates(c.gate))
		a := b.judge().Mix(items("n1 o1"), c.given)
		f := finding(t, a, "gated")
		got := mix.Holds
		switch {
		case len(f.Failed) > 0:
			got = mix.Fails
		case len(f.Open) > 0:
			got = mix.NotKnown
		}
		if got != c.want {
			t.Errorf("%s: want %v, got %v", c.why, c.want, got)
		}
		if applies := a.Verdict == mix.Apart; applies != (c.want != mix.Fails) {
			t.Errorf("%s: %v gate gives %s", c.why, c.want, tell(a))
		}
		doubted := hasDoubt(f.Doubts, compat.Conditional) || hasDoubt(f.Doubts, compat.ElsewhereOnly)
		if doubted != (c.want == mix.NotKnown) {
			t.Errorf("%s: a doubt says which condition is not known, and only then: %v", c.why, f.Doubts)
		}
		if c.want == mix.Fails && (f.Part != compat.OffGate || len(a.Untested) != 1) {
			t.Errorf("%s: what does not apply is shown off, and leaves the pair untested: %s", c.why, tell(a))
		}
	}
}

// TestCarriers holds how the liquid of the tank stands for a member.
func TestCarriers(t *testing.T) {
	b := orchard()
	b.class("water", "", func(c *mix.Class) { c.Carrier = true })
	b.class("hard", "water", func(c *mix.Class) { c.Carrier = true; c.When = []mix.Gate{over(mix.Hardness, 300)} })
	b.says("scum", "steps:oil hard:flakes")
	b.says("both", "apart:oil powder hard:gel")
	j := b.judge()
	hard := mix.Situation{Hardness: mix.Known(unit.Int(400))}
	soft := mix.Situation{Hardness: mix.Known(unit.Int(20))}
	for _, c := range []struct {
		why  string
		mix  string
		in   mix.Situation
		want mix.Verdict
	}{
		{"the water is known to be hard", "o1 n1", hard, mix.Steps},
		{"the water is known to be soft", "o1 n1", soft, mix.Unknown},
		{"the water is not known", "o1 n1", mix.Situation{}, mix.Unknown},
		{"the water is an item of the mix", "o1 hard", mix.Situation{}, mix.Steps},
		{"the carrier is named", "o1 n1", mix.Situation{Carrier: items("hard")}, mix.Steps},
		{"the liquid alone is no mix", "n1 n2", hard, mix.Unknown},
		{"two products and the water", "o1 p2", hard, mix.Apart},
	} {
		if a := j.Mix(items(c.mix), c.in); a.Verdict != c.want {
			t.Errorf("%s: want %v, got %s", c.why, c.want, tell(a))
		}
	}
	if a := j.Mix(items("o1 n1"), mix.Situation{}); !hasDoubt(a.Doubts, compat.WaterMatters) {
		t.Errorf("that the water matters is a doubt: %s", tell(a))
	}
	f := finding(t, *j.Solo("o1"), "scum")
	if f.Part != compat.Informative || len(f.Open) != 1 || f.Stated != mix.Steps {
		t.Errorf("by itself the product shows what it does in hard water: %+v", f)
	}
}

// TestDemandingJars holds that only jars under a statement's own conditions relax
// it (rule 3).
func TestDemandingJars(t *testing.T) {
	hot := over(mix.WaterTemp, 20)
	at := func(degrees int64) func(*mix.Observation) {
		return func(o *mix.Observation) { o.Temperature = mix.Known(unit.Int(degrees)) }
	}
	for _, c := range []struct {
		why  string
		gate mix.Gate
		jar  func(*mix.Observation)
		want mix.Verdict
	}{
		{"jars as warm as it says", hot, at(30), mix.Clean},
		{"cold jars", hot, at(10), mix.Apart},
		{"jars of unknown temperature", hot, func(*mix.Observation) {}, mix.Apart},
		{"added in the order it says", order("oil", "powder"), func(*mix.Observation) {}, mix.Clean},
		{"added in the other order", order("powder", "oil"), func(*mix.Observation) {}, mix.Apart},
		{"order not recorded", order("oil", "powder"), func(o *mix.Observation) { o.OrderKnown = false }, mix.Apart},
		{"closed as it says", ref(mix.VesselFactor, "closed"), func(*mix.Observation) {}, mix.Clean},
		{"open", ref(mix.VesselFactor, "closed"), func(o *mix.Observation) { o.Vessel.Closed = false }, mix.Apart},
		{"hard water by its source", over(mix.Hardness, 300), func(o *mix.Observation) { o.Water = mix.Ref{ID: "hard-well"} }, mix.Clean},
		{"watched long enough", over(mix.Standing, 4), func(*mix.Observation) {}, mix.Clean},
		{"not watched long enough", over(mix.Standing, 60), func(*mix.Observation) {}, mix.Apart},
		{"rates not recorded", order("oil", "powder"), func(o *mix.Observation) { o.Products[0].Rate = unit.Rate{} }, mix.Apart},
	} {
		b := orchard()
		b.Waters = []mix.WaterSource{{ID: "hard-well", Hardness: mix.Known(unit.Int(400))}}
		gates(c.gate)(&b.Interactions[1])
		b.clean3("j", "o1 p2", c.jar)
		a := mixed(b.judge(), "o1 p2")
		if a.Verdict != c.want {
			t.Errorf("%s: want %v, got %s", c.why, c.want, tell(a))
		}
		if c.want == mix.Apart && !hasDoubt(a.Doubts, compat.Lenient) {
			t.Errorf("%s: jars that do not answer it are a doubt: %s", c.why, tell(a))
		}
	}
}

func TestNoticeDates(t *testing.T) {
	for _, c := range []struct {
		why         string
		from, until string
		today       mix.Date
		want        mix.Verdict
	}{
		{"always", "", "", date("2026-11-20"), mix.Never},
		{"begins today", "2026-11-20", "", date("2026-11-20"), mix.Never},
		{"begins tomorrow", "2026-11-21", "", date("2026-11-20"), mix.Unknown},
		{"ends today", "", "2026-11-20", date("2026-11-20"), mix.Never},
		{"ended yesterday", "", "2026-11-19", date("2026-11-20"), mix.Unknown},
		{"no day of publication: taken to hold", "", "2026-11-19", mix.Date{}, mix.Never},
	} {
		b := orchard()
		b.Site.Published = c.today
		b.notice("no", mix.Forbids, "n1 n2", func(n *mix.Notice) {
			if c.from != "" {
				n.From = date(c.from)
			}
			if c.until != "" {
				n.Until = date(c.until)
			}
		})
		a := mixed(b.judge(), "n1 n2")
		if a.Verdict != c.want {
			t.Errorf("%s: want %v, got %s", c.why, c.want, tell(a))
		}
		if f := finding(t, a, "no"); (c.want == mix.Unknown) != hasDoubt(f.Doubts, compat.NotInForce) {
			t.Errorf("%s: the reader is told that it is not in force: %s", c.why, tell(a))
		}
	}
}

func TestNoticePlace(t *testing.T) {
	b := orchard()
	b.Places = []mix.Place{{ID: "lower"}, {ID: "upper"}}
	b.notice("no", mix.Forbids, "n1", func(n *mix.Notice) { n.Place = mix.Ref{ID: "lower"} })
	j := b.judge()
	if a := j.Mix(items("n1 n2"), mix.Situation{Place: "upper"}); a.Verdict != mix.Unknown {
		t.Errorf("a rule of another place: %s", tell(a))
	}
	a := j.Mix(items("n1 n2"), mix.Situation{})
	if a.Verdict != mix.Never || !hasDoubt(a.Doubts, compat.ElsewhereOnly) {
		t.Errorf("place not known: the worst case, with its place: %s", tell(a))
	}
}

// TestReach holds what clean jars say of a mix outside what they were run at.
func TestReach(t *testing.T) {
	known := func(n int64) mix.Value { return mix.Known(unit.Int(n)) }
	b := orchard()
	b.Waters = []mix.WaterSource{{ID: "well", Hardness: known(100)}, {ID: "deep", Hardness: known(300)}}
	warm := func(o *mix.Observation) { o.Temperature = known(20) }
	b.jar("j1", "2026-05-01", "n1 n2: clean", warm)
	b.jar("j2", "2026-05-02", "n1 n2: clean", warm, func(o *mix.Observation) { o.Water.ID = "deep" })
	j := b.judge()
	for _, c := range []struct {
		why  string
		in   mix.Situation
		want []string
	}{
		{"nothing known of the mix", mix.Situation{}, nil},
		{"between the waters of the jars", mix.Situation{Hardness: known(200)}, nil},
		{"at the edge", mix.Situation{Hardness: known(300), WaterTemp: known(20)}, nil},
		{"harder than any jar", mix.Situation{Hardness: known(301)}, []string{"hardness100 to 300"}},
		{"softer", mix.Situation{Hardness: known(10)}, []string{"hardness100 to 300"}},
		{"stands longer than the jars were watched", mix.Situation{Standing: known(60)}, []string{"standing5 to 5"}},
		{"stands shorter", mix.Situation{Standing: known(1)}, nil},
		{"in a quarter of the water", mix.Situation{WaterShare: mix.Known(unit.Frac(1, 4))}, []string{"water_share1 to 1"}},
		{"of what the jars did not record they say nothing", mix.Situation{Bicarbonate: known(500)}, nil},
	} {
		a := j.Mix(items("n1 n2"), c.in)
		if a.Verdict != mix.Clean {
			t.Errorf("%s: the jars stand, with a doubt: %s", c.why, tell(a))
		}
		var got []string
		for _, d := range a.Doubts {
			if d.Code == compat.Beyond {
				got = gateNames(d.Gates)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: want %v, got %v", c.why, c.want, got)
		}
	}
}
