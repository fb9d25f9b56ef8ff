package compat_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// TestGapInFull holds all that is told of one gap.
func TestGapInFull(t *testing.T) {
	b := fieldBook()
	b.product("s3", "hard-soap")
	b.product("o2", "oil")
	b.used("s2", "apple/bloom/wash", "apple/fruit/wash", "pear/bloom/wash")
	b.used("s3", "apple/bloom/wash")
	b.used("o1", "apple/fruit/mites", "apple/bloom/mites")
	b.used("o2", "plum/bloom/mites")
	g := b.judge().Gaps(1)[0]
	if !slices.Equal(g.Pair[:], items("o1 s2")) {
		t.Errorf("of kin the products that meet most often: %v", g.Pair)
	}
	if !slices.Equal(g.Products[0], items("o1 o2")) || !slices.Equal(g.Products[1], items("s2 s3")) {
		t.Errorf("all products of both signatures, in the order of the pair: %v", g.Products)
	}
	if want := []compat.Slot{{Crop: "apple", Timing: "bloom"}, {Crop: "apple", Timing: "fruit"}}; !slices.Equal(g.Slots, want) {
		t.Errorf("where both are labelled: %v", g.Slots)
	}
	// At fruit o1 and s2 are alone with their purposes; at bloom one of two soaps is
	// chosen, o1 every time: over both products of the signature that is once more.
	if !near(g.Meet, 2, 1e-9) || g.Worst != mix.Apart || !near(g.Score, 6, 1e-9) {
		t.Errorf("meets %v, worst %v, score %v; a day apart weighs three", g.Meet, g.Worst, g.Score)
	}
}

// TestGapWeights: a hazard weighs ten, a day apart three, everything else one.
func TestGapWeights(t *testing.T) {
	for verdict, want := range map[string]float64{"never": 10, "apart": 3, "steps": 1} {
		b := fieldBook()
		b.Interactions = nil
		b.says("kin", verdict+":soft-soap oil:flakes")
		b.used("s2", "apple/bloom/wash")
		b.used("o1", "apple/bloom/mites")
		if g := b.judge().Gaps(1)[0]; !near(g.Score, want, 1e-9) || g.Worst.String() != verdict {
			t.Errorf("%s: score %v, worst %v", verdict, g.Score, g.Worst)
		}
	}
	b := fieldBook()
	b.Interactions = nil
	b.used("s2", "apple/bloom/wash")
	b.used("o1", "apple/bloom/mites")
	if g := b.judge().Gaps(1)[0]; g.Score != 1 || g.Worst != mix.Unknown || g.From != nil {
		t.Errorf("an outcome that nobody can name is taken for a mild one: %+v", g)
	}
}

// TestAnalogies holds what makes an outcome plausible for s2 (a hard soap) and o1 (an
// oil), by what is said of a next of kin.
func TestAnalogies(t *testing.T) {
	for _, c := range []struct {
		why   string
		given func(*book)
		want  string
	}{
		{"a sister class", func(b *book) { b.says("kin", "apart:soft-soap oil:flakes") }, "apart kin"},
		{"of the other side", func(b *book) {
			b.class("fat", "")
			b.Classes[3].KindOf = refs("fat") // oil
			b.class("tallow", "fat")
			b.says("kin", "apart:tallow hard-soap:flakes")
		}, "apart kin"},
		{"not of both sides at once", func(b *book) {
			b.class("fat", "")
			b.Classes[3].KindOf = refs("fat")
			b.class("tallow", "fat")
			b.says("kin", "apart:tallow soft-soap:flakes")
		}, "unknown -"},
		{"the worst of two", func(b *book) {
			b.says("mild", "steps:soft-soap oil:foam")
			b.says("bad", "never:soft-soap oil:gas")
		}, "never bad"},
		{"in whatever order they stand", func(b *book) {
			b.says("a-bad", "never:soft-soap oil:gas")
			b.says("b-mild", "steps:soft-soap oil:foam")
		}, "never a-bad"},
		{"one of three members", func(b *book) {
			b.class("other", "")
			b.says("kin", "apart:soft-soap other oil:flakes")
		}, "apart kin"},
		{"that all is well says nothing of kin", func(b *book) { b.says("kin", "clean:soft-soap oil:flakes") }, "unknown -"},
		{"law is no matter of kinship", func(b *book) {
			b.says("kin", "apart:soft-soap oil:flakes", func(n *mix.Interaction) { n.Kind = mix.Legal })
		}, "unknown -"},
		{"nor is a notice", func(b *book) { b.notice("no", mix.Forbids, "soft-soap oil") }, "unknown -"},
		{"nor a statement on a product", func(b *book) { b.says("kin", "apart:s1 oil:flakes") }, "unknown -"},
		{"a jar of products of their classes", func(b *book) {
			b.product("s9", "hard-soap plain")
			b.product("o9", "oil plain")
			b.jar("j", "2026-05-01", "s9 o9: gas=vented")
		}, "never [o9 s9]"},
		{"one that stayed clean says nothing", func(b *book) {
			b.product("s9", "hard-soap plain")
			b.product("o9", "oil plain")
			b.jar("j", "2026-05-01", "s9 o9: clean")
		}, "unknown -"},
		{"nor one of three", func(b *book) {
			b.product("s9", "hard-soap plain")
			b.product("o9", "oil plain")
			b.jar("j", "2026-05-01", "s9 o9 x2: gas=vented")
		}, "unknown -"},
		{"nor one of products that share a formulation only", func(b *book) {
			for i := range b.Classes {
				b.Classes[i].Axis = mix.Formulation
			}
			b.product("s9", "hard-soap plain")
			b.product("o9", "oil plain")
			b.jar("j", "2026-05-01", "s9 o9: gas=vented")
		}, "unknown -"},
	} {
		b := fieldBook()
		b.Interactions = nil
		b.used("s2", "apple/bloom/wash")
		b.used("o1", "apple/bloom/mites")
		c.given(b)
		g := b.judge().Gaps(1)[0]
		from := "-"
		if g.From != nil {
			from = evidenceName(g.From)
		}
		if got := fmt.Sprint(g.Worst, " ", from); got != c.want {
			t.Errorf("%s: want %s, got %s", c.why, c.want, got)
		}
	}
}

// TestManyAnalogies: more than fit in one word of bits.
func TestManyAnalogies(t *testing.T) {
	b := fieldBook()
	b.Interactions = nil
	for i := range 150 {
		b.class(fmt.Sprint("far", i), "")
		b.says(fmt.Sprintf("far%03d", i), fmt.Sprintf("never:far%d plain:gas", i))
	}
	b.says("kin", "apart:soft-soap oil:flakes")
	b.used("s2", "apple/bloom/wash")
	b.used("o1", "apple/bloom/mites")
	if g := b.judge().Gaps(1)[0]; g.Worst != mix.Apart || g.From == nil || evidenceName(g.From) != "kin" {
		t.Errorf("the last of 151: %+v", g)
	}
}

// TestSuspicions: what reacted in a larger mix is looked for where the very products
// meet, when it is worse than anything their classes say.
func TestSuspicions(t *testing.T) {
	for _, c := range []struct {
		why   string
		given func(*book)
		want  string
	}{
		{"the pair that was in it", func(b *book) { b.jar("j", "2026-05-01", "s2 o1 x1: gas=vented") }, "[o1 s2] never [o1 s2 x1] score 10"},
		{"the worst of two", func(b *book) {
			b.jar("j", "2026-05-01", "s2 o1 x1: gas=vented")
			b.jar("k", "2026-05-01", "s2 o1 x2: flakes=heavy")
		}, "[o1 s2] never [o1 s2 x1] score 10"},
		{"no worse than what the classes say", func(b *book) {
			b.says("kin", "apart:soft-soap oil:flakes")
			b.jar("j", "2026-05-01", "s2 o1 x1: flakes=heavy")
		}, "[o1 s2] apart kin score 3"},
		{"worse than it", func(b *book) {
			b.says("kin", "apart:soft-soap oil:flakes")
			b.jar("j", "2026-05-01", "s2 o1 x1: gas=vented")
		}, "[o1 s2] never [o1 s2 x1] score 10"},
		{"of kin that meet nowhere", func(b *book) {
			b.product("o9", "oil")
			b.jar("j", "2026-05-01", "s2 o9 x1: gas=vented")
		}, "[o1 s2] unknown - score 1"},
		{"one that stayed clean raises none", func(b *book) { b.jar("j", "2026-05-01", "s2 o1 x1: foam=0") }, "[o1 s2] unknown - score 1"},
		{"products that are in no book", func(b *book) { b.jar("j", "2026-05-01", "gone1 gone2 gone3: gas=vented") }, "[o1 s2] unknown - score 1"},
	} {
		b := fieldBook()
		b.Interactions = nil
		b.used("s2", "apple/bloom/wash")
		b.used("o1", "apple/bloom/mites")
		c.given(b)
		got := "none"
		if list := b.judge().Gaps(1); len(list) > 0 {
			g := list[0]
			from := "-"
			if g.From != nil {
				from = evidenceName(g.From)
			}
			got = fmt.Sprintf("%v %v %s score %v", g.Pair, g.Worst, from, g.Score)
		}
		if got != c.want {
			t.Errorf("%s: want %s, got %s", c.why, c.want, got)
		}
	}
	// What is known of the pair itself is no gap, whatever a larger mix did.
	b := fieldBook()
	b.used("s2", "apple/bloom/wash")
	b.used("o1", "apple/bloom/mites")
	b.jar("j", "2026-05-01", "s2 o1 x1: gas=vented")
	b.jar("own", "2026-05-01", "s2 o1: gas=none foam=0 flakes=heavy")
	if list := b.judge().Gaps(1); len(list) != 0 {
		t.Errorf("got %v", gapLines(list))
	}
}

// TestGapJars holds what may join the jar of a gap.
func TestGapJars(t *testing.T) {
	fill := func(b *book, n int) {
		for i := range n {
			id := fmt.Sprint("z", i)
			b.product(id, "")
			b.used(id, fmt.Sprintf("apple/bloom/job%d", i))
		}
	}
	for _, c := range []struct {
		why   string
		given func(*book)
		want  string
	}{
		{"four at most", func(b *book) { fill(b, 6) }, "[s2 x1 z0 z1] settles 6"},
		{"nothing that serves what is served already", func(b *book) {
			b.product("z0", "")
			b.used("z0", "apple/bloom/feed", "pear/bloom/weeds")
		}, "[s2 x1] settles 1"},
		{"one that serves something else as well", func(b *book) {
			b.product("z0", "")
			b.used("z0", "apple/bloom/feed", "apple/bloom/weeds")
		}, "[s2 x1 z0] settles 3"},
		{"nothing known to be clean with both adds no pair", func(b *book) {
			fill(b, 1)
			b.jar("j", "2026-05-01", "s2 z0: clean")
			b.jar("k", "2026-05-01", "x1 z0: clean")
		}, "[s2 x1] settles 1"},
		{"clean with one of them, it adds the other", func(b *book) {
			fill(b, 1)
			b.jar("j", "2026-05-01", "s2 z0: clean")
		}, "[s2 x1 z0] settles 2"},
		{"nothing that reacts with either", func(b *book) {
			fill(b, 1)
			b.jar("j", "2026-05-01", "s2 z0: flakes=heavy")
		}, "[s2 x1] settles 1"},
		{"nothing that may be a hazard with either", func(b *book) {
			fill(b, 1)
			b.jar("j", "2026-05-01", "s2 z0 x2: gas=vented")
		}, "[s2 x1] settles 1"},
		{"a nuisance seen in a larger mix keeps nothing out", func(b *book) {
			fill(b, 1)
			b.jar("j", "2026-05-01", "s2 z0 x2: flakes=heavy")
		}, "[s2 x1 z0] settles 3"},
		{"the one that brings most", func(b *book) {
			fill(b, 3)
			b.jar("j", "2026-05-01", "s2 z0: clean")
			b.jar("k", "2026-05-01", "s2 z1: clean")
		}, "[s2 x1 z0 z2] settles 5"},
		{"nothing that mends what a jar shows: its clean jar would not speak for the rest", func(b *book) {
			fill(b, 1)
			b.class("agent", "")
			b.Products[len(b.Products)-1].Classes = refs("agent")
			b.says("curd", "apart: n8 n9: flakes", func(n *mix.Interaction) { n.Mends = []mix.Mend{{Class: mix.Ref{ID: "agent"}, To: mix.Steps}} })
		}, "[s2 x1] settles 1"},
		{"what mends loss of control may join: no jar shows that anyway", func(b *book) {
			fill(b, 1)
			b.class("agent", "")
			b.Products[len(b.Products)-1].Classes = refs("agent")
			b.says("weak", "apart: n8 n9: control", func(n *mix.Interaction) { n.Mends = []mix.Mend{{Class: mix.Ref{ID: "agent"}, To: mix.Steps}} })
		}, "[s2 x1 z0] settles 3"},
		{"of two slots the fuller", func(b *book) {
			b.used("s2", "pear/bloom/wash")
			b.used("x1", "pear/bloom/feed")
			b.product("z0", "")
			b.used("z0", "pear/bloom/weeds")
		}, "[s2 x1 z0] settles 3"},
	} {
		b := fieldBook()
		b.used("s2", "apple/bloom/wash")
		b.used("x1", "apple/bloom/feed")
		c.given(b)
		got := "none"
		for _, g := range b.judge().Gaps(100) {
			if slices.Equal(g.Pair[:], items("s2 x1")) {
				got = fmt.Sprintf("%v settles %d", g.Jar, g.Settles)
			}
		}
		if got != c.want {
			t.Errorf("%s: want %s, got %s", c.why, c.want, got)
		}
	}
}

// TestGapOrder: all that there are, the most pressing first whatever order they are
// found in, and as many as are asked for.
func TestGapOrder(t *testing.T) {
	b := fieldBook()
	b.Interactions = nil
	b.says("bad", "never:soft-soap oil:gas")
	crops := []string{"apple", "pear", "plum", "cherry", "grape"}
	for i, id := range []string{"z0", "z1", "z2", "z3", "z4"} {
		b.class("k"+id, "")
		b.product(id, "k"+id)
		for _, crop := range crops[:i+1] {
			b.used(id, crop+"/bloom/"+id)
		}
	}
	b.used("s2", "apple/bloom/wash")
	b.used("o1", "apple/bloom/mites")
	j := b.judge()
	all := j.Gaps(1000)
	for i := 1; i < len(all); i++ {
		if all[i-1].Score < all[i].Score {
			t.Errorf("%v before %v", all[i-1].Pair, all[i].Pair)
		}
	}
	if !slices.Equal(all[0].Pair[:], items("o1 s2")) || all[0].Score != 10 || !slices.Equal(all[1].Pair[:], items("z3 z4")) || all[1].Score != 4 {
		t.Errorf("got %v", gapLines(all[:2]))
	}
	if len(all) != 21 { // seven products of seven signatures on one crop
		t.Errorf("%d gaps", len(all))
	}
	for n := range len(all) + 1 {
		if diff := cmp.Diff(gapLines(all[:n]), gapLines(j.Gaps(n))); diff != "" {
			t.Fatalf("the first %d (-of all +asked for)\n%s", n, diff)
		}
	}
}

// TestGapOfUnseenKin: of many kin only the busiest few are looked at, and one pair of
// them that nobody tested is a gap though others were.
func TestGapOfUnseenKin(t *testing.T) {
	b := fieldBook()
	b.product("x3", "plain")
	b.used("x1", "apple/bloom/feed", "apple/fruit/feed", "pear/bloom/feed")
	b.used("x3", "apple/bloom/feed")
	b.used("s2", "apple/bloom/wash", "apple/fruit/wash")
	b.jar("j", "2026-05-01", "x1 s2: clean")
	list := b.judge().Gaps(10)
	if len(list) != 1 || !slices.Equal(list[0].Pair[:], items("s2 x3")) {
		t.Errorf("x1 was tested with s2, x3 was not: %v", gapLines(list))
	}
	b.jar("k", "2026-05-01", "x3 s2: clean")
	if list := b.judge().Gaps(10); len(list) != 0 {
		t.Errorf("now both were: %v", gapLines(list))
	}
}
