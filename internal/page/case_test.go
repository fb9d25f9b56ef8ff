package page

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
)

// demo is a page of the demonstration office.
func demo(t *testing.T) *leaf {
	t.Helper()
	b, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	return leafOf(t, b, 0, "investigation/x.html")
}

// caseFor returns the case of a symptom in an investigation of the demo.
func caseFor(t *testing.T, l *leaf, inv mix.ID, s mix.Symptom) (*compat.Case, CaseView) {
	t.Helper()
	list := l.Judge.Investigate(inv)
	for i := range list {
		if list[i].Symptom == s {
			return &list[i], l.caseView(&list[i])
		}
	}
	t.Fatalf("no case of %v in %s", s, inv)
	return nil, CaseView{}
}

// TestFoamAndFirmWalls is a pattern of common practice, from the records of the
// demo to what its page says. A carbonate buffer with dicamba is quiet; dicamba with
// glyphosate foams and builds no pressure; all three build pressure; an acetate
// buffer with both does not; another salt of glyphosate behaves as the first; order
// and water volume change nothing; a defoamer takes the foam and leaves the
// pressure. So pressure comes from glyphosate with the carbonate buffer or needs all
// three, the next jar is that pair alone, and foam is a separate matter.
func TestFoamAndFirmWalls(t *testing.T) {
	l := demo(t)
	const (
		pair  = "Ploverdown 4.5 SL with Stillvane SL"
		three = "Knotwimble 4 SL, Ploverdown 4.5 SL and Stillvane SL together"
	)
	_, gas := caseFor(t, l, "foam-and-firm-walls", mix.Gas)
	if gas.Stamp != stampNarrowed || gas.StampWords != "Narrowed to 2" {
		t.Errorf("pressure is stamped %q (%s)", gas.StampWords, gas.Stamp)
	}
	if want := "From " + pair + ", or from " + three + ". Which, the records do not tell yet."; gas.Says[0] != want {
		t.Errorf("pressure: got %q, want %q", gas.Says[0], want)
	}
	if diff := cmp.Diff([]string{pair, three}, gas.Mixes[0].Causes); diff != "" {
		t.Errorf("possible causes of pressure (-want +got)\n%s", diff)
	}
	if gas.Next == nil || names(gas.Next.Items) != "Ploverdown 4.5 SL + Stillvane SL" || !gas.Next.Careful {
		t.Fatalf("the next jar is the pair alone, with care: %+v", gas.Next)
	}
	if gas.Next.IfReacts != "If it reacts, it comes from "+pair+"." || gas.Next.IfQuiet != "If it stays quiet, it comes from "+three+"." {
		t.Errorf("its results lead to %q and %q", gas.Next.IfReacts, gas.Next.IfQuiet)
	}
	for _, want := range []string{"Knotwimble 4 SL with Stillvane SL", "Knotwimble 4 SL with Ploverdown 4.5 SL"} {
		if !ruledOut(gas.Mixes[0].Ruled, want) {
			t.Errorf("%s is not ruled out as a cause of pressure: %+v", want, gas.Mixes[0].Ruled)
		}
	}
	if len(gas.Classes) != 1 || !strings.HasPrefix(gas.Classes[0], "Every mix that reacted held Glyphosate") || !strings.Contains(gas.Classes[0], "and Potassium carbonate") ||
		!strings.Contains(gas.Classes[0], "something that was there every time may be needed too") {
		t.Errorf("at the level of classes: %q", gas.Classes)
	}
	for _, c := range []struct{ name, why string }{
		{"The order", "either order"},
		{"The spray volume", "at 10, 15 and 20 gallons"},
		{"A defoamer or the like", "the pressure stays under a defoamer"},
		{"Harrowbent 4 SL in place of Ploverdown 4.5 SL", "the other salt of glyphosate"},
	} {
		if !named(gas.Factors.Same, c.name) || named(gas.Factors.Differ, c.name) {
			t.Errorf("%q made no difference to pressure: %s", c.name, c.why)
		}
	}
	if !named(gas.Factors.Differ, "Calmstaff SL in place of Stillvane SL") {
		t.Errorf("the acetate buffer made the difference: %+v", gas.Factors.Differ)
	}
}

func TestFoamIsASeparateMatter(t *testing.T) {
	l := demo(t)
	views, parted := l.cases(l.Judge.Investigate("foam-and-firm-walls"))
	if len(views) != 2 || views[0].Anchor != "case-gas" || views[1].Anchor != "case-foam" {
		t.Fatalf("cases %d", len(views))
	}
	if len(parted) != 1 || parted[0].Text != "Gas and foam are two matters." {
		t.Fatalf("got %+v", parted)
	}
	if parted[0].Ways[0].Text != "Gas without foam in 1 observation:" || names(parted[0].Ways[0].Jars) != "qv-2026-067" || len(parted[0].Ways[1].Jars) < 3 {
		t.Errorf("got %+v", parted[0].Ways)
	}
	foam := views[1]
	if !named(foam.Factors.Differ, "A defoamer or the like") || named(foam.Factors.Differ, "The order") {
		t.Errorf("a defoamer took the foam, the order did not: %+v", foam.Factors.Differ)
	}
	if strings.Contains(foam.Says[0], "Stillvane") || !strings.Contains(foam.Says[0], "Knotwimble 4 SL with Ploverdown 4.5 SL") {
		t.Errorf("foam needs no buffer: %q", foam.Says[0])
	}
}

func names(links []Link) string {
	var all []string
	for _, l := range links {
		all = append(all, l.Name.Text)
	}
	return strings.Join(all, " + ")
}

func named(list []FactorLine, name string) bool {
	for _, f := range list {
		if f.Name == name {
			return true
		}
	}
	return false
}

func ruledOut(list []RuledLine, part string) bool {
	for _, r := range list {
		if r.Part == part && len(r.Jars) > 0 {
			return true
		}
	}
	return false
}

// TestEstablishedIsLifted: the hissing lids end in a pair, with classes that say
// which members were tested and which were not.
func TestEstablishedIsLifted(t *testing.T) {
	_, v := caseFor(t, demo(t), "hissing-lids", mix.Gas)
	if v.Stamp != stampEstablished || !strings.HasPrefix(v.Says[0], "From Sallowmere 80 SP with Tartpitcher SL. It reacted with nothing else in the jar") {
		t.Errorf("got %q: %q", v.Stamp, v.Says)
	}
	if len(v.Lifts) != 1 || len(v.Lifts[0].Places) != 2 {
		t.Fatalf("lifts %+v", v.Lifts)
	}
	for _, p := range v.Lifts[0].Places {
		if len(p.Tested) < 3 || len(p.Untested) == 0 {
			t.Errorf("%s: tested %s, untested %s", p.Class.Name.Text, names(p.Tested), names(p.Untested))
		}
	}
}

// TestOrderExplainsTheCurd: the same onion mix curdled in one order and not in the
// other, which is no contradiction once records show that order matters.
func TestOrderExplainsTheCurd(t *testing.T) {
	_, v := caseFor(t, demo(t), "curd-in-the-onion-tank", mix.Flakes)
	if !named(v.Factors.Differ, "The order") {
		t.Errorf("the order made a difference: %+v", v.Factors.Differ)
	}
	said := strings.Join(v.Says, " ")
	if !strings.Contains(said, "What decides: the order.") || v.Stamp == stampContradicted {
		t.Errorf("stamp %s, says %q", v.Stamp, said)
	}
	for _, k := range v.Clashes {
		if len(k.Reacted) == 0 || len(k.Clear) == 0 || k.Differ == "" {
			t.Errorf("a clash shows both sides and what differs: %+v", k)
		}
	}
}

// TestShrinking: possibilities never grow, rows that bring no news stand together,
// and bars are no longer than what they stand for.
func TestShrinking(t *testing.T) {
	l := demo(t)
	c, v := caseFor(t, l, "foam-and-firm-walls", mix.Gas)
	jars := 0
	for _, r := range v.Shrink {
		jars += len(r.Jars)
		if (r.Mix == "") != (len(r.Jars) > 1) || r.News && len(r.Jars) > 1 {
			t.Errorf("row %+v", r)
		}
	}
	if steps := c.Shrinking(); jars != len(steps) || v.Start != "70" {
		t.Errorf("%d jars in rows, %d in the case, %s possibilities at the start", jars, len(steps), v.Start)
	}
	if first, last := v.Shrink[0].Left, v.Shrink[len(v.Shrink)-1].Left; first != "53" || last != "15" {
		t.Errorf("from %s to %s left", first, last)
	}
	for _, b := range []struct {
		n, total int
		want     string
	}{{0, 70, "0"}, {1, 1, "100.0"}, {1, 3, "50.0"}, {70, 70, "100.0"}, {90, 70, "100.0"}, {5, 0, "0"}} {
		if got := bar(b.n, b.total); got != b.want {
			t.Errorf("%d of %d: got %s, want %s", b.n, b.total, got, b.want)
		}
	}
}

// TestEveryCaseOfTheDemo: each has a stamp with words, a conclusion, and only links
// that lead somewhere.
func TestEveryCaseOfTheDemo(t *testing.T) {
	l := demo(t)
	n := 0
	for _, inv := range l.book().Investigations {
		views, _ := l.cases(l.Judge.Investigate(inv.ID))
		for i := range views {
			v := &views[i]
			n++
			if len(v.Brief()) == 0 || v.StampWords == "" || strings.Contains(strings.Join(v.Says, ""), "⟨") {
				t.Errorf("%s, %s: %q, %q", inv.ID, v.Symptom, v.StampWords, v.Says)
			}
			if v.Stamp == stampNarrowed && (len(v.Mixes) == 0 || v.Next == nil) {
				t.Errorf("%s, %s: narrowed, with nothing that can be or no jar to run", inv.ID, v.Symptom)
			}
			if v.Next != nil && len(v.Next.Items) == 0 {
				t.Errorf("%s, %s: a next jar of nothing", inv.ID, v.Symptom)
			}
		}
	}
	if n < 20 {
		t.Errorf("only %d cases", n)
	}
}

// TestWhatNoJarShows: control is rated in plots, so no jar is proposed for it.
func TestWhatNoJarShows(t *testing.T) {
	_, v := caseFor(t, demo(t), "the-oats-that-stayed-green", mix.Control)
	if v.Next == nil || v.Next.Head != "Next plot, for no jar can show it" {
		t.Errorf("got %+v", v.Next)
	}
	if !strings.Contains(v.Says[0], "causes are possible") || len(v.Mixes) < 2 {
		t.Errorf("many causes stand mix by mix: %q, %d mixes", v.Says[0], len(v.Mixes))
	}
}

func TestTooManySuspectsAreNotGuessedAt(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	v := l.caseView(&compat.Case{Symptom: mix.Foam, Suspects: make([]mix.ID, 70), TooMany: true})
	if v.Stamp != stampOpen || v.Next != nil || len(v.Mixes) > 0 || !strings.Contains(v.Says[0], "70 products") {
		t.Errorf("got %+v", v)
	}
}

func TestCausesInWords(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	one, two, three := []mix.ID{"fizz"}, []mix.ID{"fizz", "sour"}, []mix.ID{"fizz", "sour", "acid"}
	for _, c := range []struct {
		sets [][]mix.ID
		key  string
		want string
	}{
		{nil, "list.or", ""},
		{[][]mix.ID{one}, "list.or", "Fizz SP by itself"},
		{[][]mix.ID{one, two}, "list.or", "Fizz SP by itself, or from Fizz SP with Sour SL"},
		{[][]mix.ID{one, two, three}, "list.and-from", "Fizz SP by itself, Fizz SP with Sour SL, and from Fizz SP, Sour SL and Acid together"},
		{[][]mix.ID{one, one, one, one, one, one, one, one}, "list.or", strings.Repeat("Fizz SP by itself, ", 5) + "Fizz SP by itself, or from 2 more"},
	} {
		if got := l.either(c.sets, c.key); got != c.want {
			t.Errorf("%v: got %q, want %q", c.sets, got, c.want)
		}
	}
}

// TestDecided: a jar inside an open mix leaves the causes inside it when it reacts
// and the others when it stays quiet; one that leaves none on a side decides nothing.
func TestDecided(t *testing.T) {
	open := compat.CaseMix{Products: []mix.ID{"a", "b", "c"}, Status: compat.Narrowed, Possible: [][]mix.ID{{"b", "c"}, {"a", "b", "c"}}}
	for _, c := range []struct {
		jar           []mix.ID
		mixes         []compat.CaseMix
		reacts, quiet int
		why           string
	}{
		{[]mix.ID{"b", "c"}, []compat.CaseMix{open}, 1, 1, "the pair tells it from all three"},
		{[]mix.ID{"a", "b"}, []compat.CaseMix{open}, 0, 0, "none of the causes lies inside"},
		{[]mix.ID{"a", "b", "c"}, []compat.CaseMix{open}, 0, 0, "all of them do"},
		{[]mix.ID{"b", "z"}, []compat.CaseMix{open}, 0, 0, "it is no part of the mix"},
		{[]mix.ID{"b", "c"}, []compat.CaseMix{{Products: open.Products, Status: compat.Established, Possible: open.Possible}}, 0, 0, "nothing is open"},
		{[]mix.ID{"b", "c"}, []compat.CaseMix{{Products: open.Products, Status: compat.Narrowed, Possible: open.Possible, Partial: true}}, 0, 0, "not all causes are listed"},
	} {
		if reacts, quiet := decided(c.jar, c.mixes); len(reacts) != c.reacts || len(quiet) != c.quiet {
			t.Errorf("%s: got %v and %v", c.why, reacts, quiet)
		}
	}
}

func TestIsolateWithoutAPage(t *testing.T) {
	l := demo(t)
	in := l.Inputs
	inv := l.Index.Investigation("foam-and-firm-walls")
	list := Isolate(in, "es", inv, nil, l.Judge.Investigate(inv.ID))
	if list.Title != "Espuma y paredes duras" || len(list.Cases) != 2 || list.Cases[0].StampWords != "Reducida a 2" || list.Cases[0].Next.Head != "El próximo frasco" {
		t.Errorf("got %s, %+v", list.Title, list.Heads)
	}
	cases := l.Judge.Investigate(inv.ID)
	plan := Plan(in, "en", &cases[1], 2)
	want := []PlanLine{
		{0, "run Ploverdown 4.5 SL"},
		{1, "reacts: from Ploverdown 4.5 SL by itself"},
		{1, "quiet: run Ploverdown 4.5 SL + Stillvane SL"},
		{2, "reacts: 1 left"},
		{2, "quiet: 1 left"},
	}
	if diff := cmp.Diff(want, plan); diff != "" {
		t.Errorf("plan of the foam (-want +got)\n%s", diff)
	}
	if Plan(in, "en", &compat.Case{}, 3) != nil {
		t.Error("a case without a search has no plan")
	}
}
