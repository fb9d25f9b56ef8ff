package page

import (
	"io/fs"
	"strings"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/templates"
)

func ref(id mix.ID) mix.Ref { return mix.Ref{ID: id} }

func cites(ids ...mix.ID) []mix.Cite {
	var all []mix.Cite
	for _, id := range ids {
		all = append(all, mix.Cite{Ref: ref(id)})
	}
	return all
}

func en(s string) mix.Text { return mix.Text{"en": s} }

// shed is a small book for answers made by hand.
func shed() *mix.Book {
	return &mix.Book{
		Site:    mix.Site{Languages: []mix.Lang{"en", "es"}, Title: en("Shed"), Published: mix.Date{Year: 2026, Month: 6, Day: 30}},
		Classes: []mix.Class{{ID: "acid", Name: en("Acid")}, {ID: "carbonate", Name: en("Carbonate")}, {ID: "agent", Name: en("Agent")}},
		Products: []mix.Product{{ID: "sour", Name: "Sour SL", Form: "SL", Classes: []mix.Ref{ref("acid")}},
			{ID: "fizz", Name: "Fizz SP", Form: "SP", Classes: []mix.Ref{ref("carbonate")}}},
		Interactions: []mix.Interaction{{ID: "clash", Members: []mix.Ref{ref("acid"), ref("carbonate")}, Verdict: mix.Never,
			What: en("They clash."), Instead: mix.Instead{Text: en("Leave one out.")}, Sources: cites("paper")}},
		Notices: []mix.Notice{{ID: "rule", Law: true, Members: []mix.Ref{ref("acid")}, Effect: mix.Forbids, Title: en("A rule"), Sources: cites("law")}},
		Sources: []mix.Source{{ID: "paper", Kind: mix.Paper, Title: "On clashing.", Authors: "Reed and Marsh", Year: 2020, Link: "10.1000/x"},
			{ID: "law", Kind: mix.Law, Title: "The code"}, {ID: "custom", Kind: mix.CommonPractice, Title: "Custom"}},
	}
}

// leafOf begins a page of an edition of a book, n counting its languages.
func leafOf(t *testing.T, b *mix.Book, n int, path string) *leaf {
	t.Helper()
	words, problems := message.Load(templates.FS)
	if problems.Stops() {
		t.Fatal(problems)
	}
	x := mix.NewIndex(b)
	in := Inputs{Index: x, Judge: compat.New(x), Messages: words, Templates: []fs.FS{templates.FS}}
	p := newPress(in, readTemplates(in.Templates, &problems))
	return p.newEdition(n).newLeaf(path)
}

func statement(b *mix.Book, part compat.Part, v mix.Verdict) compat.Finding {
	return compat.Finding{Evidence: compat.Statement{Interaction: &b.Interactions[0]}, Part: part, Verdict: v, Stated: v,
		Grade: mix.Study, Basis: mix.Study}
}

func TestBandOfNoEvidence(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	got := l.band(&compat.Answer{})
	if got.Verdict != mix.Unknown || !strings.Contains(got.Why.Text, "Nobody has told us") || !strings.Contains(got.Instead.Text, "jar test first") {
		t.Errorf("%+v", got)
	}
	if len(got.Steps)+len(got.Use) > 0 || got.Rest != l.t("band.no-evidence") {
		t.Errorf("no evidence has advice of its own: %+v", got)
	}
}

func TestBandTakesStepsAndMendsFromWhatDecides(t *testing.T) {
	b := shed()
	l := leafOf(t, b, 0, "index.html")
	b.Interactions[0].Steps = []mix.Text{en("Dilute first.")}
	f := statement(b, compat.Decides, mix.Steps)
	f.Mend, f.MendItem = &mix.Mend{How: en("The agent keeps them apart.")}, "agent"
	got := l.band(&compat.Answer{Verdict: mix.Steps, Grade: mix.Study, Findings: []compat.Finding{f}})
	if len(got.Steps) != 2 || got.Steps[0].Text != "The agent keeps them apart." || got.Steps[1].Text != "Dilute first." {
		t.Errorf("steps %+v", got.Steps)
	}
	f.Verdict = mix.Clean
	if clean := l.band(&compat.Answer{Verdict: mix.Clean, Findings: []compat.Finding{f}}); clean.Steps != nil {
		t.Error("a clean answer lists steps")
	}
}

// TestBandTakesStepsFromAllThatAskForThem: a mix is workable only when every step
// is followed, whoever asks for it and whatever decides.
func TestBandTakesStepsFromAllThatAskForThem(t *testing.T) {
	asks := func(v mix.Verdict, steps ...string) compat.Finding {
		n := &mix.Interaction{}
		for _, s := range steps {
			n.Steps = append(n.Steps, en(s))
		}
		return compat.Finding{Evidence: compat.Statement{Interaction: n}, Verdict: v}
	}
	jars := compat.Finding{Evidence: &compat.JarSet{}, Part: compat.Decides, Verdict: mix.Steps}
	l := leafOf(t, shed(), 0, "index.html")
	for _, c := range []struct {
		why      string
		verdict  mix.Verdict
		findings []compat.Finding
		want     string
	}{
		{"jars decide and name none", mix.Steps, []compat.Finding{jars, asks(mix.Steps, "Dilute.")}, "Dilute."},
		{"each once", mix.Steps, []compat.Finding{asks(mix.Steps, "Dilute.", "Stir."), asks(mix.Steps, "Stir.", "Wait.")}, "Dilute. Stir. Wait."},
		{"not what proves nothing here", mix.Steps, []compat.Finding{asks(mix.Steps, "Dilute."), asks(mix.Unknown, "Wait.")}, "Dilute."},
		{"apart: no step makes it workable, so only those of what decides", mix.Apart,
			[]compat.Finding{asks(mix.Apart, "Rinse."), asks(mix.Apart, "Wait."), asks(mix.Steps, "Dilute.")}, "Rinse."},
	} {
		var got []string
		c.findings[0].Part = compat.Decides
		for _, s := range l.band(&compat.Answer{Verdict: c.verdict, Findings: c.findings}).Steps {
			got = append(got, s.Text)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: want %q, got %q", c.why, c.want, got)
		}
	}
}

func TestInsteadComesFromTheNearestStatement(t *testing.T) {
	far, near, soft := &mix.Interaction{Instead: mix.Instead{Text: en("far")}}, &mix.Interaction{Instead: mix.Instead{Text: en("near")}},
		&mix.Interaction{Instead: mix.Instead{Text: en("soft")}}
	path := func(n int) []compat.Match { return []compat.Match{{Path: make([]mix.ID, n)}} }
	a := &compat.Answer{Verdict: mix.Never, Findings: []compat.Finding{
		{Evidence: &compat.JarSet{}, Part: compat.Decides, Verdict: mix.Never},
		{Evidence: compat.Statement{Interaction: far}, Verdict: mix.Never, Matches: path(4)},
		{Evidence: compat.Statement{Interaction: near}, Verdict: mix.Never, Matches: path(2)},
		{Evidence: compat.Statement{Interaction: soft}, Verdict: mix.Steps, Matches: path(1)},
		{Evidence: compat.Statement{Interaction: &mix.Interaction{}}, Verdict: mix.Never, Matches: path(1)},
	}}
	if got := insteadOf(a); got != &near.Instead {
		t.Errorf("got %+v", got)
	}
	if got := insteadOf(&compat.Answer{}); got != nil {
		t.Errorf("no evidence gives advice %+v", got)
	}
}

func TestEntryTellsItsPart(t *testing.T) {
	b := shed()
	l := leafOf(t, b, 0, "together/acid--carbonate.html")
	full := l.entry(ptr(statement(b, compat.Decides, mix.Never)), 1)
	if full.Part != "Decides" || full.Grade != "Published study" || full.Anchor != "evidence-1" || full.What.Text != "They clash." {
		t.Errorf("%+v", full)
	}
	through := statement(b, compat.Agrees, mix.Never)
	through.Grade = mix.Inference
	through.Matches = []compat.Match{{Item: "sour", Member: "acid", Path: []mix.ID{"sour", "acid"}}, {Item: "carbonate", Member: "carbonate", Path: []mix.ID{"carbonate"}}}
	entry := l.entry(&through, 2)
	if entry.Grade != "Published study, through their classes" {
		t.Errorf("grade %q", entry.Grade)
	}
	if got := factLines(entry.Facts, "How it reaches them"); len(got) != 1 || got[0] != "Sour SL → Acid" {
		t.Errorf("paths %q: a member that is named itself needs none", got)
	}
	silent := statement(b, compat.Informative, mix.Unknown)
	silent.Stated = mix.Never
	if got := l.entry(&silent, 3).Part; got != "For information; by itself: Never together" {
		t.Errorf("part %q", got)
	}
}

func ptr[T any](v T) *T { return &v }

func factLines(all []Fact, label string) []string {
	var lines []string
	for _, f := range all {
		if f.Label == label {
			for _, l := range f.Lines {
				lines = append(lines, l.Text)
			}
		}
	}
	return lines
}

func TestEntryOfAgreementIsShort(t *testing.T) {
	b := shed()
	b.Interactions[0].Mechanism, b.Interactions[0].Worse = en("Because."), []mix.Text{en("Heat")}
	l := leafOf(t, b, 0, "index.html")
	long, short := l.entry(ptr(statement(b, compat.Decides, mix.Never)), 1), l.entry(ptr(statement(b, compat.Agrees, mix.Never)), 2)
	if len(factLines(long.Facts, "Why")) != 1 || len(factLines(short.Facts, "Why")) != 0 {
		t.Error("what agrees is told as fully as what decides")
	}
	for _, e := range []Entry{long, short} {
		if len(factLines(e.Facts, "Who says so")) != 1 || len(factLines(e.Facts, "Record")) != 1 {
			t.Error("an entry without who says so, or without the way to its record")
		}
	}
}

func TestRulingTellsPlaceAndDates(t *testing.T) {
	b := shed()
	b.Notices[0].From = mix.Date{Year: 2026, Month: 1, Day: 1}
	l := leafOf(t, b, 0, "index.html")
	e := l.entry(&compat.Finding{Evidence: compat.Ruling{Notice: &b.Notices[0]}, Part: compat.Decides, Verdict: mix.Never, Grade: mix.Rule, Basis: mix.Rule}, 1)
	if got := factLines(e.Facts, "Place"); len(got) != 1 || got[0] != "Everywhere" {
		t.Errorf("place %q", got)
	}
	if got := factLines(e.Facts, "In force"); len(got) != 1 || got[0] != "since January 1, 2026" {
		t.Errorf("dates %q", got)
	}
	for _, c := range []struct {
		from, until mix.Date
		want        string
	}{
		{mix.Date{}, mix.Date{}, ""},
		{mix.Date{}, mix.Date{Year: 2027, Month: 2, Day: 3}, "until February 3, 2027"},
		{mix.Date{Year: 2026, Month: 1, Day: 1}, mix.Date{Year: 2027, Month: 2, Day: 3}, "January 1, 2026 to February 3, 2027"},
	} {
		if got := l.term(c.from, c.until); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestJarsInWords(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	jars := func(n int) []*mix.Observation {
		var all []*mix.Observation
		for i := range n {
			all = append(all, &mix.Observation{ID: mix.ID("jar-" + atoi(i)), Date: mix.Date{Year: 2026, Month: 5, Day: 1 + i}})
		}
		return all
	}
	for _, c := range []struct {
		set  compat.JarSet
		want string
	}{
		{compat.JarSet{Products: []mix.ID{"fizz", "sour"}, Jars: jars(3), Counts: []compat.Count{{Symptom: mix.Gas, Reacted: 2, Recorded: 3}}},
			"Fizz SP and Sour SL together: gas in 2 of 3 jars."},
		{compat.JarSet{Products: []mix.ID{"fizz", "sour"}, Jars: jars(1), Counts: []compat.Count{{Symptom: mix.Gas, Recorded: 1}}},
			"Fizz SP and Sour SL together: nothing seen in 1 jar."},
		{compat.JarSet{Products: []mix.ID{"fizz", "sour"}, Jars: jars(2), Counts: []compat.Count{{Symptom: mix.Foam, Reports: 2}}},
			"Fizz SP and Sour SL together: foam in 2 field reports."},
	} {
		if got := l.jarWords(&c.set); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	for _, c := range []struct {
		count compat.Count
		want  string
	}{
		{compat.Count{Symptom: mix.Gas, Recorded: 3, Upper: 0.6316}, "gas: none in 3 jars. That still allows up to 63 %."},
		{compat.Count{Symptom: mix.Gas, Reacted: 1, Recorded: 3, Low: 0.0084, High: 0.9057}, "gas: 1 of 3 jars, which allows 1 % to 91 %"},
	} {
		if got := l.countWords(c.count); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// TestDoubtsInWords: every doubt reads as a sentence with its arguments in it.
func TestDoubtsInWords(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	gate := mix.Gate{Factor: mix.PH, High: mix.Bound{Set: true, Open: true, Value: unit.Int(6)}, Written: "< 6"}
	count := &compat.Count{Symptom: mix.Foam, Recorded: 3, Independent: 2, Upper: 0.6316}
	for _, c := range []struct {
		d    compat.Doubt
		want string
	}{
		{compat.Doubt{Code: compat.Conditional, Gates: []mix.Gate{gate}}, "Depends on a condition: pH under 6. When that is not known, take it to hold."},
		{compat.Doubt{Code: compat.FewJars, Count: count}, "No foam in so few jars still allows up to 63 % of such mixes to react."},
		{compat.Doubt{Code: compat.OneBatch, Count: count}, "Only 2 of 3 jars differ in water, batch or day. The rest are not independent."},
		{compat.Doubt{Code: compat.JarBlind, Symptoms: []mix.Symptom{mix.Loss, mix.Injury}}, "A jar cannot show loss of active ingredient and crop injury."},
		{compat.Doubt{Code: compat.Old, Number: 7}, "The newest jar is 7 years old."},
		{compat.Doubt{Code: compat.Old, Number: 1}, "The newest jar is 1 year old."},
		{compat.Doubt{Code: compat.Lenient, Number: 2}, "2 clean jars were run under easier conditions than the statement names."},
		{compat.Doubt{Code: compat.Hidden, Items: []mix.ID{"agent"}, Symptoms: []mix.Symptom{mix.Foam}}, "Agent can hide or mend foam, so the larger mix does not speak for this one."},
		{compat.Doubt{Code: compat.FromClass}, "These very products were never tested together; this follows from their classes."},
	} {
		if got := l.doubtWords(&c.d); got != c.want {
			t.Errorf("%s: got %q, want %q", c.d.Code, got, c.want)
		}
	}
}

func TestDoubtsAreNumberedOnceAndKeepTheirLinksShort(t *testing.T) {
	b := shed()
	l := leafOf(t, b, 0, "together/acid--carbonate.html")
	set := &compat.JarSet{}
	for i := range 9 {
		set.Jars = append(set.Jars, &mix.Observation{ID: mix.ID("jar-" + atoi(i))})
	}
	got := l.doubts([]compat.Doubt{
		{Code: compat.Disagree, Evidence: []compat.Evidence{set}},
		{Code: compat.Disputed}, {Code: compat.Disputed},
		{Code: compat.HazardStands, Evidence: []compat.Evidence{compat.Statement{Interaction: &b.Interactions[0]}, compat.Ruling{Notice: &b.Notices[0]}}},
	})
	if len(got) != 3 || got[2].N != 3 {
		t.Fatalf("%d doubts, want three, each kind once", len(got))
	}
	if len(got[0].Links) != 4 || got[0].More != 5 || got[0].Links[0].Href != "../observation/jar-0.html" {
		t.Errorf("links %+v and %d more", got[0].Links, got[0].More)
	}
	if links := got[2].Links; len(links) != 2 || links[0].Href != "../interactions.html#clash" || links[1].Href != "../notices.html#rule" {
		t.Errorf("links %+v", links)
	}
}

func TestSourcesAreNumberedInOrderOfMention(t *testing.T) {
	l := leafOf(t, shed(), 0, "together/a--b.html")
	first := l.cites([]mix.Cite{{Ref: ref("law"), Place: "section 2"}, {Ref: ref("gone")}})
	again := l.cites([]mix.Cite{{Ref: ref("paper")}, {Ref: ref("law"), Place: "section 9"}, {Ref: ref("law")}})
	if len(first) != 1 || first[0].N != 1 || len(again) != 2 || again[0].N != 2 || again[1] != first[0] {
		t.Errorf("%+v, %+v", first, again)
	}
	if law := l.sources[0]; len(law.Places) != 2 || law.Entry != "../sources.html#law" {
		t.Errorf("places %q, entry %q", law.Places, law.Entry)
	}
	if paper := l.sources[1]; paper.Link != "https://doi.org/10.1000/x" || paper.Title != "On clashing" {
		t.Errorf("a bare doi or a title's own full stop is left: %+v", paper.SourceView)
	}
}

func TestWhoSaysSo(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	for id, want := range map[mix.ID]string{"paper": "Reed and Marsh 2020 (Paper)", "law": "The code (Law)", "custom": "Common practice, no source"} {
		if got := l.who(l.Index.Source(id)); got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
}

func TestPhraseSaysItsLanguage(t *testing.T) {
	own, other := leafOf(t, shed(), 0, "index.html"), leafOf(t, shed(), 1, "index.html")
	text := mix.Text{"en": "Acid", "es": "Ácido"}
	for _, c := range []struct {
		got  Phrase
		want Phrase
		why  string
	}{
		{own.phrase(text), Phrase{Text: "Acid"}, "the page's language needs no mark"},
		{other.phrase(text), Phrase{Text: "Ácido"}, "so in the other edition"},
		{other.phrase(en("Acid")), Phrase{"Acid", "en"}, "a text not translated says what it is in"},
		{own.phrase(mix.Text{"es": "Ácido"}), Phrase{"Ácido", "es"}, "and the other way round"},
		{own.phrase(nil), Phrase{}, "no text"},
		{own.name("sour"), Phrase{Text: "Sour SL"}, "a product's name is the same everywhere"},
		{own.name("nowhere"), Phrase{Text: "nowhere"}, "an unknown id stands for itself"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %+v, want %+v", c.why, c.got, c.want)
		}
	}
	if got := say(Phrase{`<b>"`, "en"}); got != `<span lang="en">&lt;b&gt;&#34;</span>` {
		t.Errorf("say: %s", got)
	}
}

func TestHazardsOfThePage(t *testing.T) {
	b := shed()
	b.Cautions = []mix.Caution{{Title: en("Always"), Lines: []mix.Text{en("Read.")}}, {Hazard: mix.HotMix, Title: en("It gets hot"), Lines: []mix.Text{en("Slowly.")}}}
	l := leafOf(t, b, 0, "index.html")
	l.danger(mix.HotMix, mix.NoHazard, mix.Pressure, mix.HotMix)
	lines := l.hazardLines()
	if len(lines) != 2 || lines[0].Name != "Pressure" || lines[1].Name != "Heat" {
		t.Fatalf("lines %+v, want each hazard once in the order of the vocabulary", lines)
	}
	if c := lines[1].Caution; c.Title.Text != "It gets hot" || c.Hazard != "heat" || lines[1].Anchor != "caution-heat" {
		t.Errorf("the office's own caution is not used: %+v", c)
	}
	if c := lines[0].Caution; c.Title.Text != "Pressure" || len(c.Lines) == 0 {
		t.Errorf("a hazard without the office's caution has none of ours: %+v", c)
	}
	if g := l.caution(mix.NoHazard); g.Hazard != "general" || g.Title.Text != "Always" {
		t.Errorf("general %+v", g)
	}
}

func TestWorseForTheBand(t *testing.T) {
	partner := func(id mix.ID, v mix.Verdict, g mix.Grade, hazards ...mix.Hazard) compat.Partner {
		return compat.Partner{Item: id, Answer: &compat.Answer{Verdict: v, Grade: g, Hazards: hazards}}
	}
	for _, c := range []struct {
		a, b compat.Partner
		why  string
	}{
		{partner("z", mix.Never, mix.Inference), partner("a", mix.Apart, mix.Rule), "verdict first"},
		{partner("z", mix.Never, mix.Inference, mix.Pressure), partner("a", mix.Never, mix.Rule), "then hazards"},
		{partner("z", mix.Never, mix.Study), partner("a", mix.Never, mix.Report), "then evidence"},
		{partner("a", mix.Never, mix.Study), partner("z", mix.Never, mix.Study), "then names"},
		{partner("z", mix.Clean, mix.Report), partner("a", mix.Unknown, mix.Rule), "unknown comes last"},
	} {
		if !worse(c.a, c.b) || worse(c.b, c.a) {
			t.Errorf("%s: %s does not come before %s alone", c.why, c.a.Item, c.b.Item)
		}
	}
}

func TestReasonsOfOrderAndFit(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	if got := l.sprayRange([2]unit.SprayVolume{}); got != "" {
		t.Errorf("no spray volume reads %q", got)
	}
	v, err := unit.ParseSprayVolume("20 gal/ac")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		r    [2]unit.SprayVolume
		want string
	}{
		{[2]unit.SprayVolume{v, {}}, "20 gal/ac (187 L/ha) or more"},
		{[2]unit.SprayVolume{{}, v}, "20 gal/ac (187 L/ha) or less"},
		{[2]unit.SprayVolume{v, v.Times(unit.Int(2))}, "20 gal/ac (187 L/ha) to 40 gal/ac (374 L/ha)"},
	} {
		if got := l.sprayRange(c.r); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestSituationInWords(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	s := mix.Situation{Hardness: mix.Known(unit.Int(310)), PH: mix.Known(unit.Frac(78, 10)), WaterTemp: mix.Known(unit.Int(15)),
		Standing: mix.Known(unit.Int(120)), WaterShare: mix.Known(unit.Frac(1, 4)), Order: []mix.ID{"fizz", "sour"}, Vessel: "closed", Carrier: []mix.ID{"agent"}}
	want := "hardness 310 ppm, pH 7.8, water at 59 °F (15 °C), standing 2 h, 25 % of the water, in the order Fizz SP → Sour SL, a closed vessel and Agent"
	if got := l.situationWords(&s); got != want {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if got := l.situationWords(&mix.Situation{}); got != "" {
		t.Errorf("a situation of which nothing is known reads %q", got)
	}
}

func TestMatrixFootnotes(t *testing.T) {
	l := leafOf(t, shed(), 0, "matrix.html")
	gate := mix.Gate{Factor: mix.PH, High: mix.Bound{Set: true, Open: true, Value: unit.Int(6)}, Written: "< 6"}
	open := compat.Finding{Part: compat.Decides, Open: []mix.Gate{gate}}
	for _, c := range []struct {
		a    compat.Answer
		want string
		why  string
	}{
		{compat.Answer{}, "", "no evidence has no footnote"},
		{compat.Answer{Findings: []compat.Finding{open}, Doubts: []compat.Doubt{{Code: compat.Disputed}}}, "Condition: pH under 6.", "the condition comes first"},
		{compat.Answer{Findings: []compat.Finding{{Part: compat.Decides}}, Doubts: []compat.Doubt{{Code: compat.FromClass}, {Code: compat.Disputed}}},
			"Published sources disagree. Both sides are below.", "else the first doubt that a cell shows"},
		{compat.Answer{Findings: []compat.Finding{{Part: compat.Decides}}, Doubts: []compat.Doubt{{Code: compat.FromClass}}}, "", "the rest is left to the pair's page"},
	} {
		if got := l.cellNote(&c.a); got != c.want {
			t.Errorf("%s: %q, want %q", c.why, got, c.want)
		}
	}
	var n notes
	if a, b, c, none := n.number("x"), n.number("y"), n.number("x"), n.number(""); a != 1 || b != 2 || c != 1 || none != 0 || len(n.list) != 2 {
		t.Errorf("numbers %d %d %d %d", a, b, c, none)
	}
	for columns, want := range map[int]string{3: "chart-46", 46: "chart-46", 47: "chart-60", 80: "chart-80", 81: "chart-many"} {
		if got := (&Matrix{Columns: columns}).Size(); got != want {
			t.Errorf("%d columns: %s, want %s", columns, got, want)
		}
	}
}

func TestPairsLeadToWhatExplainsThem(t *testing.T) {
	b := shed()
	l := leafOf(t, b, 0, "product/sour.html")
	through := statement(b, compat.Decides, mix.Never)
	through.Matches = []compat.Match{{Item: "sour", Member: "acid"}, {Item: "fizz", Member: "carbonate"}}
	single := through
	single.Matches = through.Matches[:1]
	for _, c := range []struct {
		a    compat.Answer
		want string
		why  string
	}{
		{compat.Answer{Items: []mix.ID{"acid", "carbonate"}}, "../together/acid--carbonate.html", "a pair with a page of its own"},
		{compat.Answer{Items: []mix.ID{"fizz", "sour"}, Findings: []compat.Finding{through}}, "../together/acid--carbonate.html", "through classes: the page of the two classes"},
		{compat.Answer{Items: []mix.ID{"agent", "sour"}, Findings: []compat.Finding{single}}, "../interactions.html#clash", "else the record"},
		{compat.Answer{Items: []mix.ID{"agent", "sour"}}, "", "no evidence leads nowhere"},
	} {
		if got := l.pairHref(&c.a); got != c.want {
			t.Errorf("%s: %q, want %q", c.why, got, c.want)
		}
	}
}

func TestObservationsAreSplitIntoParts(t *testing.T) {
	b := shed()
	for i := range 1203 {
		year := 2025
		if i < 3 {
			year = 2026
		}
		b.Observations = append(b.Observations, mix.Observation{ID: mix.ID("o-" + atoi(10000+i)), Date: mix.Date{Year: year, Month: 5, Day: 1 + i%28}})
	}
	l := leafOf(t, b, 0, "index.html")
	var paths []string
	total := 0
	for i, p := range l.parts() {
		paths = append(paths, partPath(i, p)+" "+l.partName(p))
		total += len(p.list)
		if len(p.list) > mostOnPage {
			t.Errorf("%d on one page", len(p.list))
		}
	}
	want := "observations.html 2026, observations-2025.html 2025, part 1, observations-2025-2.html 2025, part 2, observations-2025-3.html 2025, part 3"
	if got := strings.Join(paths, ", "); got != want || total != 1203 {
		t.Errorf("%d observations in %s", total, got)
	}
	if empty := leafOf(t, shed(), 0, "index.html").parts(); len(empty) != 1 || partPath(0, empty[0]) != "observations.html" {
		t.Error("an office without observations has no page for them")
	}
}
