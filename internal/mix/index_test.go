package mix_test

import (
	"fmt"
	"testing"

	"tankleaf.example/internal/mix"
)

// TestIndexFindsEveryKind: a record of each kind is found by its own id, as the very
// record of the book, and by no other way.
func TestIndexFindsEveryKind(t *testing.T) {
	b := &mix.Book{
		Groups: []mix.Group{{ID: "group"}}, Classes: []mix.Class{{ID: "class"}}, Products: []mix.Product{{ID: "product"}},
		Crops: []mix.Crop{{ID: "crop"}}, Purposes: []mix.Purpose{{ID: "purpose"}}, Interactions: []mix.Interaction{{ID: "interaction"}},
		Notices: []mix.Notice{{ID: "notice"}}, Observations: []mix.Observation{{ID: "observation"}},
		Investigations: []mix.Investigation{{ID: "investigation"}}, Sources: []mix.Source{{ID: "source"}}, Places: []mix.Place{{ID: "place"}},
		Waters: []mix.WaterSource{{ID: "water"}}, Tools: []mix.Tool{{ID: "tool"}}, Order: []mix.OrderStep{{ID: "step"}},
		Recipes: []mix.Recipe{{ID: "recipe"}}, Trials: []mix.Trial{{ID: "trial"}},
	}
	x := mix.NewIndex(b)
	found := map[mix.ID]func(mix.ID) bool{
		"group":         func(id mix.ID) bool { return x.Group(id) == &b.Groups[0] },
		"class":         func(id mix.ID) bool { return x.Class(id) == &b.Classes[0] },
		"product":       func(id mix.ID) bool { return x.Product(id) == &b.Products[0] },
		"crop":          func(id mix.ID) bool { return x.Crop(id) == &b.Crops[0] },
		"purpose":       func(id mix.ID) bool { return x.Purpose(id) == &b.Purposes[0] },
		"interaction":   func(id mix.ID) bool { return x.Interaction(id) == &b.Interactions[0] },
		"notice":        func(id mix.ID) bool { return x.Notice(id) == &b.Notices[0] },
		"observation":   func(id mix.ID) bool { return x.Observation(id) == &b.Observations[0] },
		"investigation": func(id mix.ID) bool { return x.Investigation(id) == &b.Investigations[0] },
		"source":        func(id mix.ID) bool { return x.Source(id) == &b.Sources[0] },
		"place":         func(id mix.ID) bool { return x.Place(id) == &b.Places[0] },
		"water":         func(id mix.ID) bool { return x.Water(id) == &b.Waters[0] },
		"tool":          func(id mix.ID) bool { return x.Tool(id) == &b.Tools[0] },
		"step":          func(id mix.ID) bool { return x.OrderStep(id) == &b.Order[0] },
		"recipe":        func(id mix.ID) bool { return x.Recipe(id) == &b.Recipes[0] },
		"trial":         func(id mix.ID) bool { return x.Trial(id) == &b.Trials[0] },
	}
	for kind, is := range found {
		for id := range found {
			if is(id) != (id == kind) {
				t.Errorf("%s %q is found: %v", kind, id, is(id))
			}
		}
	}
	if x.Book() != b {
		t.Error("the book is another")
	}
}

// TestClassesOfAClass: a class counts itself among its classes, a product does not;
// an id that is both, which data must not have, is taken for a class.
func TestClassesOfAClass(t *testing.T) {
	b := &mix.Book{
		Classes:  []mix.Class{{ID: "acid"}, {ID: "strong-acid", KindOf: refs("acid")}, {ID: "both", KindOf: refs("acid")}},
		Products: []mix.Product{{ID: "p", Classes: refs("strong-acid")}, {ID: "both", Classes: refs("acid")}},
	}
	x := mix.NewIndex(b)
	for id, want := range map[mix.ID]int{"acid": 1, "strong-acid": 2, "p": 2, "both": 2, "nothing": 0} {
		if got := x.Classes(id); len(got) != want {
			t.Errorf("%s has the classes %v", id, got)
		}
	}
}

// TestProductOfALoop: a product whose classes are kinds of each other, which data must
// not have, has each of them once.
func TestProductOfALoop(t *testing.T) {
	x := mix.NewIndex(&mix.Book{
		Classes:  []mix.Class{{ID: "a", KindOf: refs("b")}, {ID: "b", KindOf: refs("c")}, {ID: "c", KindOf: refs("b", "a")}},
		Products: []mix.Product{{ID: "p", Classes: refs("a")}},
	})
	if got := fmt.Sprint(x.Ancestors("p")); got != "[a b c p]" {
		t.Errorf("got %s", got)
	}
}
