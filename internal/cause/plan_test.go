package cause_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

// tour walks a whole plan and collects, by the number of causes at each end,
// how long the way to it was.
type tour struct {
	ends        [3]int
	runs        [3]int // summed
	worst       [3]int
	established int // runs until a cause is run by itself, one planted; summed
	whys        map[Why]int
	t           *testing.T
}

func (u *tour) visit(n *Node, way []Run, seen map[Set]bool) {
	if n.Step.Why == None {
		u.end(n, way, seen)
		return
	}
	u.whys[n.Step.Why]++
	q := n.Step.Run
	if seen[q] {
		u.t.Fatalf("%v is run twice after %v", q, way)
	}
	seen[q] = true
	left := 0
	for result, to := range map[bool]*Node{true: n.Reacts, false: n.Clean} {
		if to != nil {
			left += to.Left
			u.visit(to, append(slices.Clip(way), Run{Members: q, Reacted: result}), seen)
		}
	}
	delete(seen, q)
	if left != n.Left || n.Step.IfReacts+n.Step.IfClean != n.Left {
		u.t.Fatalf("%d explanations become %d", n.Left, left)
	}
}

func (u *tour) end(n *Node, way []Run, seen map[Set]bool) {
	if n.Found == nil || n.Left != 1 {
		u.t.Fatalf("after %v: %d explanations left", way, n.Left)
	}
	is := truth(n.Found.Causes)
	for _, r := range way {
		if is.reacts(r.Members) != r.Reacted {
			u.t.Fatalf("%v does not explain %v", is, r)
		}
	}
	for _, c := range is {
		if !seen[c] {
			u.t.Fatalf("%v was never run by itself in %v", c, way)
		}
	}
	k := len(is)
	u.ends[k]++
	u.runs[k] += len(way)
	u.worst[k] = max(u.worst[k], len(way))
	if k == 1 {
		u.established += established(is[0], way)
	}
}

// established returns after how many runs c has reacted by itself and each set
// one element smaller lies inside a clean run.
func established(c Set, way []Run) int {
	open := map[Set]bool{c: true}
	for e := range c.All() {
		open[c&^Of(e)] = c.Len() > 1
	}
	last := 0 // also if c is the whole set, which reacted before
	for i, r := range way {
		for q := range open {
			if open[q] && (r.Reacted && r.Members == c && q == c || !r.Reacted && q != c && r.Members.Contains(q)) {
				open[q], last = false, i+1
			}
		}
	}
	return last
}

func (u *tour) mean(k int) float64 { return float64(u.runs[k]) / float64(u.ends[k]) }

// plan tours the plan from a whole set of n elements that reacted.
func plan(t *testing.T, n, causes int) *tour {
	t.Helper()
	s, err := NewSearch(Question{Runs: []Run{{full(n), true}}, Limits: Limits{Causes: causes}})
	if err != nil {
		t.Fatal(err)
	}
	u := &tour{t: t, whys: map[Why]int{}}
	p := s.Plan(0)
	u.visit(p, nil, map[Set]bool{full(n): true})
	mean, worst := p.Length()
	if worst != max(u.worst[1], u.worst[2]) || mean <= 0 {
		t.Errorf("Length says %.2f and at worst %d", mean, worst)
	}
	return u
}

// TestPlanFigures goes through the whole plan, that is through every planted
// cause and every two, for 2 to 10 elements and in the long run to 12. The
// bound is log2 of the explanations possible at the start, when the whole set
// is known to react.
func TestPlanFigures(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	for n := 2; n <= 10 || soak && n <= 12; n++ {
		one, two := plan(t, n, 1), plan(t, n, 2)
		singles := len(upTo(n, 3))
		if one.ends[1] != singles || two.ends[1] != singles || two.ends[2] != len(pairsOf(upTo(n, 3))) {
			t.Fatalf("%d elements: ends %v and %v; not every planted cause has one", n, one.ends, two.ends)
		}
		b1, b2 := math.Log2(float64(singles)), math.Log2(float64(singles+two.ends[2]))
		established := float64(two.established) / float64(singles)
		t.Logf("%d elements, told one: log2 N %.2f, mean %.2f (%.3f of it), worst %d, all runs %d",
			n, b1, one.mean(1), one.mean(1)/b1, one.worst[1], 1<<n-2)
		t.Logf("%d elements, open to two: log2 N %.2f; one planted: established %.2f (%.3f of told one), "+
			"end %.2f (%.3f), worst %d; two planted: end %.2f (%.3f), worst %d",
			n, b2, established, established/b1, two.mean(1), two.mean(1)/b2, two.worst[1],
			two.mean(2), two.mean(2)/b2, two.worst[2])
		if r := one.mean(1) / b1; r > 1.1 {
			t.Errorf("%d elements, one planted, told one: %.3f times the bound", n, r)
		}
		if r := established / b1; r > 1.1 {
			t.Errorf("%d elements, one planted, open to two: established after %.3f times the bound", n, r)
		}
		if r := two.mean(1) / b2; r > 1.1 {
			t.Errorf("%d elements, one planted, open to two: %.3f times the bound", n, r)
		}
		if r := two.mean(2) / b2; r > 1.5 {
			t.Errorf("%d elements, two planted: %.3f times the bound", n, r)
		}
		if w := int(math.Ceil(b1)) + 2; one.worst[1] > w {
			t.Errorf("%d elements, told one: %d runs, stated worst %d", n, one.worst[1], w)
		}
		if w := int(math.Ceil(b2)) + 5; max(two.worst[1], two.worst[2]) > w {
			t.Errorf("%d elements, open to two: %v runs, stated worst %d", n, two.worst, w)
		}
		line := fmt.Sprintf("//	%5d   %6.2f %6.2f %5d   %6.2f %6.2f %5d   %6.2f %5d\n", n,
			b1, one.mean(1), one.worst[1], b2, two.mean(1), two.worst[1], two.mean(2), two.worst[2])
		if n <= 10 && !strings.Contains(string(doc), line) {
			t.Errorf("doc.go lacks the line\n%s", line)
		}
	}
}

// TestPlanShapes: what people do by rule comes out of the plan by itself.
func TestPlanShapes(t *testing.T) {
	const n = 5
	s, err := NewSearch(Question{Runs: []Run{{full(n), true}}})
	if err != nil {
		t.Fatal(err)
	}
	sizes := map[int]int{}
	var count func(*Node)
	count = func(p *Node) {
		if p == nil || p.Step.Why == None {
			return
		}
		sizes[p.Step.Run.Len()]++
		count(p.Reacts)
		count(p.Clean)
	}
	count(s.Plan(0))
	for size, name := range map[int]string{n - 1: "leave-one-out runs", 2: "pairs", 1: "single elements"} {
		if sizes[size] == 0 {
			t.Errorf("the plan has no %s; runs by size: %v", name, sizes)
		}
	}
	u := plan(t, n, 2)
	for _, w := range []Why{Split, Confirm, Exclude} {
		if u.whys[w] == 0 {
			t.Errorf("the plan has no step to %v: %v", w, u.whys)
		}
	}
	if u.whys[Repeat] > 0 {
		t.Errorf("the plan repeats runs: %v", u.whys)
	}
}

func TestPlanDepth(t *testing.T) {
	s, err := NewSearch(Question{Runs: []Run{{full(4), true}}})
	if err != nil {
		t.Fatal(err)
	}
	whole, cut := s.Plan(0), s.Plan(2)
	if d := cmp.Diff(whole.Step, cut.Step); d != "" {
		t.Errorf("the first step changes with depth:\n%s", d)
	}
	if d := cmp.Diff(whole.Reacts.Step, cut.Reacts.Step); d != "" {
		t.Errorf("the second step changes with depth:\n%s", d)
	}
	if _, worst := cut.Length(); worst != 2 {
		t.Errorf("depth 2 plans %d runs", worst)
	}
	end := cut.Reacts.Reacts
	if end.Left != whole.Reacts.Reacts.Left || end.Found != nil || end.Step.Why != None {
		t.Errorf("the cut end %+v does not say what is left", end)
	}
	rated, err := NewSearch(Question{Runs: []Run{{full(4), true}}, Rates: Rates{0.05, 0.02}})
	if err != nil {
		t.Fatal(err)
	}
	if p := rated.Plan(0); p != nil {
		t.Error("a plan with rates has no end, but Plan returns one")
	}
	if _, worst := rated.Plan(3).Length(); worst != 3 {
		t.Errorf("with rates depth 3 plans %d runs", worst)
	}
}

// walk follows the plan against a truth and checks what holds for every walk.
func walk(t fataler, q Question, is truth) ([]Made, *Search) {
	t.Helper()
	made, s, err := Walk(q, Stop{}, is.reacts)
	if err != nil {
		t.Fatalf("%v: %v", is, err)
	}
	runs := slices.Clone(q.Runs)
	ran := map[Set]bool{}
	for _, r := range runs {
		ran[r.Members] = true
	}
	for _, m := range made {
		if ran[m.Run] {
			t.Fatalf("%v: %v is run twice", is, m.Run)
		}
		ran[m.Run] = true
		if known := truth(Explain(runs).Causes); known.reacts(m.Run) {
			t.Fatalf("%v: %v is run though %v are established", is, m.Run, known)
		}
		runs = append(runs, Run{m.Run, m.Reacted})
	}
	rep := Explain(runs)
	for _, c := range rep.Causes {
		if !slices.Contains(is, c) {
			t.Fatalf("%v: %v is established and wrong", is, c)
		}
	}
	for _, f := range rep.Findings {
		if f.Status != Established {
			t.Fatalf("%v: %v is %v at the end", is, f.Run, f.Status)
		}
	}
	if s.Left() != 1 {
		t.Fatalf("%v: %d explanations at the end", is, s.Left())
	}
	return made, s
}

// TestWalkPlanted runs the plan against planted causes of 1 to 3 elements, one
// and two at once, and compares with the plan as a tree.
func TestWalkPlanted(t *testing.T) {
	for n := 1; n <= 7; n++ {
		start := []Run{{full(n), true}}
		s, err := NewSearch(Question{Runs: start})
		if err != nil {
			t.Fatal(err)
		}
		tree := s.Plan(0)
		planted := pairsOf(upTo(n, 3))
		if len(planted) > 300 {
			planted = slices.DeleteFunc(planted, func(p truth) bool { return (p[0]*7+p[1])%16 != 0 })
		}
		for _, c := range upTo(n, 3) {
			planted = append(planted, truth{c})
		}
		for _, is := range planted {
			made, s := walk(t, Question{Runs: start}, is)
			if got := s.Explanations(1)[0].Causes; !slices.Equal(got, is) || s.Given != nil {
				t.Fatalf("planted %v, found %v", is, got)
			}
			at := tree
			for _, m := range made {
				if d := cmp.Diff(at.Step, m.Step); d != "" {
					t.Fatalf("planted %v: plan and walk part (-plan +walk):\n%s", is, d)
				}
				if m.Reacted {
					at = at.Reacts
				} else {
					at = at.Clean
				}
			}
		}
	}
}

// TestWalkAnything: whatever the truth, also far outside the limits, a walk
// ends with every reaction seen accounted for by established causes that are
// true, from any runs that agree with it.
func TestWalkAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		is := genTruth(n, 5).Draw(t, "truth")
		var runs []Run
		for _, q := range rapid.SliceOfN(genSet(n), 0, 5).Draw(t, "sets") {
			runs = append(runs, is.run(q))
		}
		limits := Limits{Causes: rapid.IntRange(1, 2).Draw(t, "causes"), Size: rapid.IntRange(1, 4).Draw(t, "size")}
		walk(t, Question{Runs: runs, Limits: limits, Within: full(n)}, is)
		walk(t, Question{Runs: runs, Limits: limits}, is)
	})
}
