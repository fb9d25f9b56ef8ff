package ledger_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/ledger"
	"tankleaf.example/internal/mix"
)

// told prints shifts one a line.
func told(shifts []ledger.Shift, withdrawn []mix.ID) string {
	var b strings.Builder
	for _, s := range shifts {
		words := []string{}
		for _, id := range s.Items {
			words = append(words, string(id))
		}
		soft := ""
		if s.Softer {
			soft = " softer"
		}
		fmt.Fprintf(&b, "%s: %s > %s%s\n", strings.Join(words, "+"), s.From, s.To, soft)
	}
	for _, id := range withdrawn {
		fmt.Fprintf(&b, "%s withdrawn\n", id)
	}
	return b.String()
}

func TestCompare(t *testing.T) {
	for _, c := range []struct {
		why   string
		edits []string
		want  string
	}{
		{"the same book", nil, ""},
		{"another order of records", []string{"products", `  - {id: sour, name: Sour, form: SL, classes: [mild-acid], sources: [s]}
  - {id: fizz, name: Fizz, form: SP, classes: [carbonate], sources: [s]}
`, `  - {id: fizz, name: Fizz, form: SP, classes: [carbonate], sources: [s]}
  - {id: sour, name: Sour, form: SL, classes: [mild-acid], sources: [s]}
`}, ""},
		{"a name is no advice", []string{"products", "Sour", "Sourer"}, ""},
		{"a statement softens: its members tell it once, for all products of theirs",
			[]string{"interactions", "verdict: apart, what: Clots", "verdict: steps, steps: [Slowly], what: Clots"},
			"oil+powder: apart > steps softer\n"},
		{"a statement hardens", []string{"interactions", "verdict: apart, what: Clots", "verdict: never, what: Clots"},
			"oil+powder: apart > never\noil+powder+salt: apart > never\n"},
		{"a mix of three that its pairs do not show is forgotten",
			[]string{"interactions", "members: [oil, powder, salt]", "members: [oil, powder, acid]", "interactions", "members: [oil, powder]", "members: [oil, acid]"},
			"oil+powder: apart > unknown softer\noil+powder+salt: apart > unknown softer\nacid+oil: unknown > apart\n"},
		{"a statement is dropped: no evidence is softer than never",
			[]string{"interactions", "members: [acid, carbonate]", "members: [salt, carbonate]"},
			"acid+carbonate: never pressure > unknown softer\ncarbonate+salt: unknown > never pressure\n"},
		{"a hazard is no longer named, and the verdict stays",
			[]string{"interactions", "hazards: [pressure], what: Gas", "hazards: [heat], what: Gas"},
			"acid+carbonate: never pressure > never heat softer\n"},
		{"a statement of three is dropped, and two of them still keep apart",
			[]string{"interactions", "  - {id: three, members: [oil, powder, salt], kind: physical, symptoms: [gel], verdict: apart, what: Gels, sources: [s]}\n", ""}, ""},
		{"a statement about a narrower class, for which the wider one spoke",
			[]string{"interactions", "members: [oil, powder], kind: physical, symptoms: [flakes], verdict: apart", "members: [mild-acid, powder], kind: physical, symptoms: [flakes], verdict: apart"},
			"oil+powder: apart > unknown softer\nmild-acid+powder: unknown > apart\n"},
		{"a product leaves a class, and no statement has changed",
			[]string{"products", "classes: [mild-acid]", "classes: [salt]"},
			"carbonate+sour: never pressure > unknown softer\n"},
		{"a class leaves another",
			[]string{"classes", ", kind_of: [acid]", ""},
			"carbonate+mild-acid: never pressure > unknown softer\n"},
		{"a product joins a class", []string{"products", "classes: [powder]", "classes: [powder, acid]"},
			"carbonate+dust: unknown > never pressure\n"},
		{"a product is withdrawn; another comes",
			[]string{"products", "id: slick", "id: slicker"}, "slick withdrawn\n"},
		{"a source says that they mix", []string{"interactions", "verdict: apart, what: Clots", "verdict: clean, what: Nothing"},
			"oil+powder: apart > clean softer\n"},
	} {
		last, now := judge(t, with(t)), judge(t, with(t, c.edits...))
		shifts, withdrawn := ledger.Compare(ledger.Of(last), ledger.Of(now), now)
		if diff := cmp.Diff(c.want, told(shifts, withdrawn)); diff != "" {
			t.Errorf("%s:\n%s", c.why, diff)
		}
		nothingInSilence(t, c.why, last, now, shifts)
	}
}

// TestDemonstrationAgainstItself: the same book says the same, however its records
// are spread over classes.
func TestDemonstrationAgainstItself(t *testing.T) {
	book, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	j := compat.New(mix.NewIndex(book))
	a := ledger.Of(j)
	if got := told(ledger.Compare(a, a, j)); got != "" || len(a.Rows) < 300 {
		t.Errorf("%d items, and\n%s", len(a.Rows), got)
	}
}

// nothingInSilence asks both judges about each two items of both books: where the
// answers differ, a shift of the two, of their classes, or of the members for
// which a class speaks, must say so, and in the same direction.
func nothingInSilence(t *testing.T, why string, last, now *compat.Judge, shifts []ledger.Shift) {
	t.Helper()
	x := now.Index()
	near := func(a, b mix.ID) bool { return x.IsA(a, b) || x.IsA(b, a) }
	var both []mix.ID
	for id := range ledger.Of(now).Rows {
		if last.Index().Ancestors(id) != nil {
			both = append(both, id)
		}
	}
	for _, a := range both {
		for _, b := range both {
			if a >= b {
				continue
			}
			from, to := last.Pair(a, b), now.Pair(a, b)
			soft := ledger.Said{Verdict: to.Verdict, Hazards: to.Hazards}.SofterThan(ledger.Said{Verdict: from.Verdict, Hazards: from.Hazards})
			told := slices.ContainsFunc(shifts, func(s ledger.Shift) bool {
				return len(s.Items) == 2 && s.Softer == soft &&
					(near(a, s.Items[0]) && near(b, s.Items[1]) || near(b, s.Items[0]) && near(a, s.Items[1]))
			})
			if (from.Verdict != to.Verdict || !slices.Equal(from.Hazards, to.Hazards)) && !told {
				t.Errorf("%s: %s and %s went from %s to %s in silence", why, a, b, from.Verdict, to.Verdict)
			}
		}
	}
}

// TestCompareWithJars is about verdicts that rest on observations of the very
// products, which no row of classes tells.
func TestCompareWithJars(t *testing.T) {
	const jar = "id: jar-%d\nkind: jar\ntitle: J\ndate: 2026-05-0%[1]d\nby: grower\nplace: p\n" +
		"products: [{product: dust, rate: 1 lb/ac}, {product: sour, rate: 1 pt/ac}]\norder: recorded\nspray_volume: 20 gal/ac\n" +
		"vessel: {type: jar, size: 1 qt}\nreadings: [{after: 2 h, flakes: %s}]\n"
	office := func(flakes ...string) map[string]string {
		files := with(t)
		files["places"] = "places:\n  - {id: p, name: P}\n"
		for n, f := range flakes {
			files[fmt.Sprintf("observations/jar-%d", n+1)] = fmt.Sprintf(jar, n+1, f)
		}
		return files
	}
	for _, c := range []struct {
		why       string
		last, now []string
		want      string
	}{
		{"a first jar reacts", nil, []string{"some"}, "dust+sour: unknown > apart\n"},
		{"a first jar stays clean", nil, []string{"none"}, "dust+sour: unknown > clean softer\n"},
		{"the jar that reacted is taken away", []string{"some"}, nil, "dust+sour: apart > unknown softer\n"},
		{"the clean jar is taken away", []string{"none"}, nil, "dust+sour: clean > unknown\n"},
		{"a clean jar more", []string{"none"}, []string{"none", "none"}, ""},
		{"a jar that reacts after a clean one", []string{"none"}, []string{"none", "some"}, "dust+sour: clean > apart\n"},
	} {
		last := ledger.Of(judge(t, office(c.last...)))
		now := judge(t, office(c.now...))
		got := told(ledger.Compare(last, ledger.Of(now), now))
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s:\n%s", c.why, diff)
		}
	}
}

func day(d int) mix.Date { return mix.Date{Year: 2026, Month: 11, Day: d} }

func shift(from, to mix.Verdict, items ...mix.ID) ledger.Shift {
	f, t := ledger.Said{Verdict: from}, ledger.Said{Verdict: to}
	return ledger.Shift{Items: items, From: f, To: t, Softer: t.SofterThan(f)}
}

// history prints entries one after another.
func history(h ledger.History) string {
	var b strings.Builder
	for _, e := range h {
		fmt.Fprintf(&b, "%s since %s\n%s", e.Published, e.Since, told(e.Shifts, e.Withdrawn))
	}
	return b.String()
}

func TestNext(t *testing.T) {
	var h ledger.History
	for _, step := range []struct {
		why        string
		day, since int
		shifts     []ledger.Shift
		withdrawn  []mix.ID
		want       string
	}{
		{"the first publication", 1, 1, nil, nil, ""},
		{"one that changed nothing", 2, 1, nil, nil, ""},
		{"one that softened a verdict", 3, 2, []ledger.Shift{shift(mix.Never, mix.Apart, "a", "b")}, nil,
			"2026-11-03 since 2026-11-02\na+b: never > apart softer\n"},
		{"built again", 3, 3, nil, nil, "2026-11-03 since 2026-11-02\na+b: never > apart softer\n"},
		{"built again that day with more", 3, 3, []ledger.Shift{shift(mix.Apart, mix.Steps, "a", "b"), shift(mix.Unknown, mix.Apart, "c")}, []mix.ID{"d"},
			"2026-11-03 since 2026-11-02\na+b: never > steps softer\nc: unknown > apart\nd withdrawn\n"},
		{"one of them taken back the same day", 3, 3, []ledger.Shift{shift(mix.Steps, mix.Never, "a", "b")}, nil,
			"2026-11-03 since 2026-11-02\nc: unknown > apart\nd withdrawn\n"},
		{"a later one comes first", 9, 3, []ledger.Shift{shift(mix.Never, mix.Unknown, "a", "b")}, nil,
			"2026-11-09 since 2026-11-03\na+b: never > unknown softer\n2026-11-03 since 2026-11-02\nc: unknown > apart\nd withdrawn\n"},
		{"all of its changes taken back", 9, 9, []ledger.Shift{shift(mix.Unknown, mix.Never, "a", "b")}, nil,
			"2026-11-03 since 2026-11-02\nc: unknown > apart\nd withdrawn\n"},
		{"one that softened much", 12, 9, []ledger.Shift{shift(mix.Never, mix.Steps, "a", "b")}, nil,
			"2026-11-12 since 2026-11-09\na+b: never > steps softer\n2026-11-03 since 2026-11-02\nc: unknown > apart\nd withdrawn\n"},
		{"made harder that day, and softer than before it all the same", 12, 12, []ledger.Shift{shift(mix.Steps, mix.Apart, "a", "b")}, nil,
			"2026-11-12 since 2026-11-09\na+b: never > apart softer\n2026-11-03 since 2026-11-02\nc: unknown > apart\nd withdrawn\n"},
	} {
		h = h.Next(day(step.day), day(step.since), step.shifts, step.withdrawn)
		if diff := cmp.Diff(step.want, history(h)); diff != "" {
			t.Errorf("%s:\n%s", step.why, diff)
		}
	}
}

func TestExplain(t *testing.T) {
	j := judge(t, with(t))
	review := func(d int, softens ...[]mix.ID) mix.Review {
		r := mix.Review{ID: "r", Date: day(d)}
		for _, items := range softens {
			var refs []mix.Ref
			for _, id := range items {
				refs = append(refs, mix.Ref{ID: id})
			}
			r.Softens = append(r.Softens, refs)
		}
		return r
	}
	softer := shift(mix.Never, mix.Apart, "carbonate", "sour")
	for _, c := range []struct {
		why    string
		shift  ledger.Shift
		review mix.Review
		open   bool
	}{
		{"the pair by name", softer, review(5, []mix.ID{"sour", "carbonate"}), false},
		{"the pair by its classes", softer, review(5, []mix.ID{"acid", "carbonate"}), false},
		{"one of them stands for all its mixes", softer, review(5, []mix.ID{"acid"}), false},
		{"the second of two that it names", softer, review(5, []mix.ID{"oil"}, []mix.ID{"carbonate"}), false},
		{"another pair", softer, review(5, []mix.ID{"acid", "oil"}), true},
		{"a member answers for no class", shift(mix.Never, mix.Apart, "acid", "carbonate"), review(5, []mix.ID{"mild-acid", "carbonate"}), true},
		{"one item is not two", softer, review(5, []mix.ID{"acid", "acid"}), true},
		{"two members of one class are", shift(mix.Never, mix.Apart, "acid", "acid"), review(5, []mix.ID{"acid", "acid"}), false},
		{"more items than the mix has", softer, review(5, []mix.ID{"acid", "carbonate", "oil"}), true},
		{"of the day of the last publication", softer, review(3, []mix.ID{"acid"}), false},
		{"from before it: what it answered for is published", softer, review(2, []mix.ID{"acid"}), true},
		{"from after this one", softer, review(10, []mix.ID{"acid"}), true},
		{"a harder verdict needs none", shift(mix.Apart, mix.Never, "carbonate", "sour"), review(5, []mix.ID{"oil"}), false},
	} {
		h := ledger.History{}.Next(day(9), day(3), []ledger.Shift{c.shift}, nil)
		open := h.Explain(day(9), []mix.Review{c.review}, j.Index().IsA)
		if (len(open) > 0) != c.open {
			t.Errorf("%s: open %v, want %v", c.why, open, c.open)
		}
		if named := h[0].Shifts[0].Review != ""; named != (!c.open && c.shift.Softer) {
			t.Errorf("%s: the review is named: %v", c.why, named)
		}
		if later := h.Explain(day(12), []mix.Review{c.review}, j.Index().IsA); later != nil {
			t.Errorf("%s: asked again after a publication that changed nothing: %v", c.why, later)
		}
	}
}

func TestFilesReadBack(t *testing.T) {
	a := ledger.Of(judge(t, with(t)))
	text, err := a.Write()
	if err != nil {
		t.Fatal(err)
	}
	b, err := ledger.ReadAdvice(text)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(a, b); diff != "" {
		t.Error(diff)
	}
	h := ledger.History{}.Next(day(3), day(2), []ledger.Shift{shift(mix.Never, mix.Clean, "a", "b"), shift(mix.Unknown, mix.Never, "c")}, []mix.ID{"d"})
	text, err = h.Write()
	if err != nil {
		t.Fatal(err)
	}
	back, err := ledger.ReadHistory(text)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(history(h), history(back)); diff != "" {
		t.Error(diff)
	}
}

func TestDamagedFilesAreRefused(t *testing.T) {
	advice := `{"schema":1,"published":"2026-06-30","mixes":{"acid carbonate":"never pressure"},"rows":[{"ids":["acid"],"of":[],"with":{"oil":"apart"}}]}`
	changes := `{"schema":1,"publications":[{"published":"2026-06-30","since":"2026-05-30","withdrawn":["dust"],"shifts":[{"items":["acid"],"from":"never","to":"apart","softer":true}]}]}`
	readAdvice := func(s string) error { _, err := ledger.ReadAdvice([]byte(s)); return err }
	readHistory := func(s string) error { _, err := ledger.ReadHistory([]byte(s)); return err }
	for _, c := range []struct {
		read     func(string) error
		good     string
		old, new string
	}{
		{readAdvice, advice, `"schema":1`, `"schema":2`},
		{readAdvice, advice, `2026-06-30`, `2026-06-31`},
		{readAdvice, advice, `never pressure`, `pressure never`},
		{readAdvice, advice, `never pressure`, `maybe`},
		{readAdvice, advice, `never pressure`, ``},
		{readAdvice, advice, `"acid carbonate"`, `"Acid carbonate"`},
		{readAdvice, advice, `"acid carbonate"`, `""`},
		{readAdvice, advice, `["acid"]`, `["../acid"]`},
		{readAdvice, advice, `"oil"`, `"o<i>l"`},
		{readAdvice, advice, `}]}`, ``},
		{readHistory, changes, `"schema":1`, `"schema":0`},
		{readHistory, changes, `2026-05-30`, ``},
		{readHistory, changes, `["dust"]`, `["du st"]`},
		{readHistory, changes, `["acid"]`, `[]`},
		{readHistory, changes, `["acid"]`, `["a\"b"]`},
		{readHistory, changes, `"to":"apart"`, `"to":"fine"`},
		{readHistory, changes, `}]}]}`, ``},
	} {
		if err := c.read(c.good); err != nil {
			t.Fatalf("the good file: %v", err)
		}
		if !strings.Contains(c.good, c.old) {
			t.Fatalf("no %q", c.old)
		}
		if err := c.read(strings.Replace(c.good, c.old, c.new, 1)); err == nil {
			t.Errorf("%q for %q is read", c.new, c.old)
		}
	}
}

func TestSofterThan(t *testing.T) {
	order := []string{"clean", "unknown", "steps", "apart", "never", "never pressure", "never pressure heat"}
	for i, a := range order {
		for k, b := range order {
			var s, u ledger.Said
			if s.UnmarshalText([]byte(a)) != nil || u.UnmarshalText([]byte(b)) != nil {
				t.Fatalf("%q or %q cannot be read", a, b)
			}
			if got := s.SofterThan(u); got != (i < k) {
				t.Errorf("%q softer than %q: %v", a, b, got)
			}
		}
	}
}
