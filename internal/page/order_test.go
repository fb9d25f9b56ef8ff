package page_test

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
)

// TestOrderPageReproducesEachSource: each published order of the demonstration stands
// with its own steps, in its own sequence, with its codes and who says so; so does the
// office's table, with all positions on which sources disagree.
func TestOrderPageReproducesEachSource(t *testing.T) {
	pub, book := demonstration(t)
	doc := published(t, pub, "order.html")
	lists := find(doc, class("sequence"))
	if len(lists) != len(book.Sequences) || len(lists) < 9 {
		t.Fatalf("%d orders, want %d", len(lists), len(book.Sequences))
	}
	for i, box := range lists {
		s := &book.Sequences[i]
		got := steps(box, "b")
		if want := names(s.Steps); !slices.Equal(got, want) {
			t.Errorf("%s goes %q, want %q", s.ID, got, want)
		}
		if partial := len(find(box, class("note"))) > 0; partial != s.Partial {
			t.Errorf("%s: that only a part was read is told %v, want %v", s.ID, partial, s.Partial)
		}
		if len(find(box, class("cite"))) == 0 {
			t.Errorf("%s names no source", s.ID)
		}
	}
	office := find(doc, class("order-steps"))[0]
	if got, want := steps(office, "h3"), names(book.Order); !slices.Equal(got, want) {
		t.Errorf("the office's order goes %q, want %q", got, want)
	}
	for _, li := range find(office, tag("li")) {
		if len(find(li, class("cite"))) == 0 {
			t.Errorf("the step %q names no source", text(li))
		}
	}
	for _, d := range book.Disputes {
		question, _ := d.Question.In("en", "en")
		for _, p := range d.Positions {
			says, _ := p.Says.In("en", "en")
			if got := text(doc); !strings.Contains(got, question) || !strings.Contains(got, says) {
				t.Errorf("%q is not answered with %q", question, says)
			}
		}
	}
}

// TestOrderPageTellsWhereOrdersDisagree: solutions and emulsifiable concentrates, on
// which the published ones part three ways, are a line of the table with each side.
func TestOrderPageTellsWhereOrdersDisagree(t *testing.T) {
	pub, _ := demonstration(t)
	doc := published(t, pub, "order.html")
	for _, row := range find(find(doc, class("apart"))[0], tag("tr")) {
		if head := find(row, tag("th"))[0]; text(head) != "SL, soluble concentrate · EC, emulsifiable concentrate" && text(head) != "EC, emulsifiable concentrate · SL, soluble concentrate" {
			continue
		}
		cells := find(row, tag("td"))
		first, second := text(cells[0]), text(cells[1])
		if strings.HasPrefix(text(row), "EC") {
			first, second = second, first
		}
		if !strings.Contains(first, "Manitoba") || !strings.Contains(second, "North Dakota") || !strings.Contains(text(cells[2]), "Sports turf") {
			t.Errorf("solutions first: %q; concentrates first: %q; together: %q", first, second, text(cells[2]))
		}
		return
	}
	t.Error("nothing is said of solutions against emulsifiable concentrates")
}

// TestRecipeTellsWhichOrdersDisagree about its own products, and leads to the table.
func TestRecipeTellsWhichOrdersDisagree(t *testing.T) {
	pub, _ := demonstration(t)
	for _, c := range []struct {
		path  string
		apart bool
		why   string
	}{
		{"recipe/drift-sized-dose.html", true, "an EC and a surfactant"},
		{"recipe/bicarbonate-left-alone.html", false, "two solids of which no order says different things"},
	} {
		doc := published(t, pub, c.path)
		if got := len(find(doc, class("apart"))) > 0; got != c.apart {
			t.Errorf("%s: disagreement %v, want %v: %s", c.path, got, c.apart, c.why)
		}
		if len(find(doc, func(n *html.Node) bool { return attr(n, "href") == "../order.html" })) < 1 {
			t.Errorf("%s does not lead to the order of addition", c.path)
		}
	}
}

func published(t *testing.T, pub *page.Publication, path string) *html.Node {
	t.Helper()
	f, ok, err := pub.File(path)
	if !ok || err != nil {
		t.Fatalf("%s: published %v, error %v", path, ok, err)
	}
	doc, err := html.Parse(strings.NewReader(string(f.Body)))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// steps reads what stands in an element of each item of a list.
func steps(of *html.Node, element string) []string {
	var all []string
	for _, li := range find(of, tag("li")) {
		all = append(all, text(find(li, tag(element))[0]))
	}
	return all
}

func names(steps []mix.OrderStep) []string {
	var all []string
	for i := range steps {
		name, _ := steps[i].Name.In("en", "en")
		all = append(all, name)
	}
	return all
}
