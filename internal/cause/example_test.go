package cause_test

import (
	"fmt"

	"tankleaf.example/internal/cause"
)

// Three elements reacted together; two pairs of them were clean.
func ExampleExplain() {
	runs := []cause.Run{
		{Members: cause.Of(0, 1, 2), Reacted: true},
		{Members: cause.Of(0, 1)},
		{Members: cause.Of(0, 2)},
	}
	for _, f := range cause.Explain(runs).Findings {
		fmt.Println(f.Run, "is", f.Status, "to", f.Possible)
	}
	// Output:
	// {0 1 2} is narrowed to [{1 2} {0 1 2}]
}

// A plan is followed until it ends. Here {1 2} is the cause, which the plan
// does not know.
func ExampleWalk() {
	complaint := cause.Run{Members: cause.Of(0, 1, 2), Reacted: true}
	made, s, err := cause.Walk(cause.Question{Runs: []cause.Run{complaint}}, cause.Stop{},
		func(q cause.Set) bool { return q.Contains(cause.Of(1, 2)) })
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range made {
		fmt.Printf("%v to %v: reacted %v, %d or %d left\n", m.Run, m.Why, m.Reacted, m.IfReacts, m.IfClean)
	}
	fmt.Println("causes", s.Explanations(1)[0].Causes)
	// Output:
	// {0 1} to split: reacted false, 11 or 5 left
	// {0 2} to split: reacted false, 3 or 2 left
	// {1 2} to split: reacted true, 1 or 1 left
	// causes [{1 2}]
}

// One element of a cause is one of a group; no clean run holds the other
// member of the group with the second element.
func ExampleGeneralize() {
	order, err := cause.NewOrder(3, [][]int{{3}, nil, {3}, nil}) // group 3 is 0 and 2
	if err != nil {
		fmt.Println(err)
		return
	}
	runs := []cause.Run{
		{Members: cause.Of(0, 1), Reacted: true},
		{Members: cause.Of(0)},
		{Members: cause.Of(1)},
	}
	for _, l := range cause.Generalize(cause.Of(0, 1), order, runs) {
		for _, p := range l.Places {
			fmt.Printf("%d stands for %d, tested %v, untested %v\n", p.Element, p.Group, p.Tested, p.Untested)
		}
	}
	// Output:
	// 0 stands for 3, tested {0}, untested {2}
	// 1 stands for 1, tested {1}, untested {}
}
