package page_test

import (
	"encoding/json"
	"encoding/xml"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"tankleaf.example/internal/ledger"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
)

// changed is the fixture with a history: a softer verdict that a review answers
// for, one that none does, one that is more careful, and things that are gone.
func changed(t *testing.T) page.Inputs {
	t.Helper()
	b := book(t)
	b.Reviews = []mix.Review{{ID: "why", Date: b.Site.Published, By: "office specialist",
		Because: mix.Text{"en": "The new jars", "es": "Los frascos nuevos"}, Sources: []mix.Cite{{Ref: mix.Ref{ID: "bench"}, Place: "jar 7"}}}}
	in := inputs(t, b)
	say := func(v mix.Verdict, h ...mix.Hazard) ledger.Said { return ledger.Said{Verdict: v, Hazards: h} }
	in.History = ledger.History{
		{Published: mix.Date{Year: 2026, Month: 6, Day: 30}, Since: mix.Date{Year: 2026, Month: 5, Day: 1}, Withdrawn: []mix.ID{"gone"}, Shifts: []ledger.Shift{
			{Items: []mix.ID{"fizz", "sour"}, From: say(mix.Never, mix.Pressure), To: say(mix.Apart), Softer: true, Review: "why", DecidedBy: []string{"observation:fb-1", "observation:lost"}},
			{Items: []mix.ID{"oil", "powder"}, From: say(mix.Never), To: say(mix.Steps), Softer: true, DecidedBy: []string{"interaction:oil-with-powder"}},
			{Items: []mix.ID{"acid", "oil"}, From: say(mix.Unknown), To: say(mix.Never), DecidedBy: []string{"notice:upper-no-oil"}},
		}},
		{Published: mix.Date{Year: 2026, Month: 4, Day: 1}, Since: mix.Date{Year: 2026, Month: 3, Day: 1}, Shifts: []ledger.Shift{
			{Items: []mix.ID{"old-class"}, From: say(mix.Clean), To: say(mix.Unknown)},
		}},
	}
	return in
}

func TestChangesPage(t *testing.T) {
	files := publish(t, changed(t))
	pages := parsed(t, files)
	for _, c := range []struct{ page, why, want string }{
		{"changes.html", "softer comes first, with its verdicts in words", "Softer than before Was Never together Is now Keep apart Fizz 80 SP and Sour SL"},
		{"changes.html", "a hazard that went is named", "No longer named: Pressure."},
		{"changes.html", "who answers for it, and why", "Why it is softer: The new jars1 (office specialist, June 30, 2026)"},
		{"changes.html", "nobody does", "No review says why it is softer."},
		{"changes.html", "what decides now", "Rests on: No oil with acid in the upper end"},
		{"changes.html", "more careful comes after", "More careful than before, or newly known Was No evidence Is now Never together Acid and Oil"},
		{"changes.html", "what is gone since keeps its id", "Is now No evidence old-class"},
		{"changes.html", "what is withdrawn", "No longer listed gone"},
		{"es/changes.html", "in Spanish too", "Por qué es más suave: Los frascos nuevos"},
	} {
		if got := strings.Join(strings.Fields(spaced(find(pages[c.page], tag("main"))[0])), " "); !strings.Contains(got, c.want) {
			t.Errorf("%s: %q is not on %s:\n%s", c.why, c.want, c.page, got)
		}
	}
	if n := len(find(pages["changes.html"], func(n *html.Node) bool { return n.Data == "a" && attr(n, "href") == "together/fizz--sour.html" })); n != 1 {
		t.Errorf("%d links to the pair's page", n)
	}
	if len(find(pages["changes.html"], func(n *html.Node) bool { return attr(n, "data-caution") == "pressure" })) != 1 {
		t.Error("the hazard that the page names has no caution")
	}
	checkLinks(t, files, pages)
}

// spaced returns the words of a node with a blank between elements that stand
// apart.
func spaced(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var b strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		b.WriteString(spaced(c))
		if strings.Contains("p li div h1 h2 h3 span svg ul", c.Data) && c.Type == html.ElementNode {
			b.WriteString(" ")
		}
	}
	return b.String()
}

func TestChangesAreEmptyAtFirst(t *testing.T) {
	files := publish(t, office(t))
	if got := text(find(parsed(t, files)["changes.html"], tag("main"))[0]); !strings.Contains(got, "No publication has changed a verdict so far.") {
		t.Error(got)
	}
	if h, err := ledger.ReadHistory(files["data/changes.json"]); err != nil || len(h) != 0 {
		t.Errorf("%v, %v", h, err)
	}
	if a, err := ledger.ReadAdvice(files["data/advice.json"]); err != nil || len(a.Mixes) == 0 {
		t.Errorf("%v, %v", a, err)
	}
}

// TestFeed reads the feed as a reader of feeds does.
func TestFeed(t *testing.T) {
	type entry struct {
		ID   string `xml:"id"`
		Link struct {
			Href string `xml:"href,attr"`
		} `xml:"link"`
		Updated string   `xml:"updated"`
		Items   []string `xml:"content>div>ul>li"`
	}
	var plain, served struct {
		ID      string  `xml:"id"`
		Updated string  `xml:"updated"`
		Entry   []entry `xml:"entry"`
	}
	in := changed(t)
	read := func(into any, name string) {
		if err := xml.Unmarshal(publish(t, in)[name], into); err != nil {
			t.Fatal(err)
		}
	}
	read(&plain, "es/feed.xml")
	in.BaseURL = "https://mixes.example.org/"
	read(&served, "es/feed.xml")
	if len(plain.Entry) != 2 || plain.Updated != "2026-06-30T00:00:00Z" || plain.Entry[1].Updated != "2026-04-01T00:00:00Z" {
		t.Fatalf("got %+v", plain)
	}
	if got := plain.Entry[0].Link.Href; got != "changes.html#on-2026-06-30" {
		t.Errorf("without an address: link %q", got)
	}
	if got := served.Entry[0].Link.Href; got != "https://mixes.example.org/es/changes.html#on-2026-06-30" {
		t.Errorf("with an address: link %q", got)
	}
	if plain.ID != served.ID || plain.Entry[0].ID != served.Entry[0].ID || plain.Entry[0].ID == plain.Entry[1].ID {
		t.Error("ids must stay with the entry wherever the site is served")
	}
	if got := plain.Entry[0].Items[0]; got != "Más suave. Fizz 80 SP y Sour SL: era «Nunca juntos», ahora es «Mantener aparte»." {
		t.Errorf("first line %q", got)
	}
	if n := len(plain.Entry[0].Items); n != 4 {
		t.Errorf("%d lines, want three shifts and what is withdrawn", n)
	}
	var v struct{ Publications []json.RawMessage }
	if err := json.Unmarshal(publish(t, in)["data/changes.json"], &v); err != nil || len(v.Publications) != 2 {
		t.Errorf("changes.json: %v, %d publications", err, len(v.Publications))
	}
}
