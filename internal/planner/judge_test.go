package planner_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/office"
	"tankleaf.example/internal/planner"
	"tankleaf.example/internal/unit"
)

// demo is the book of the demonstration office.
func demo(t testing.TB) *mix.Book {
	t.Helper()
	b, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	return b
}

// TestJudgeInBrowser holds the client's judgement of random mixes in random
// situations to Go's: verdict, every finding with its part, doubts, hazards and
// untested pairs, over made offices and the demonstration.
func TestJudgeInBrowser(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	ctx := openTab(t, 3*time.Minute)
	script := filepath.Join(t.TempDir(), "differential.js")
	bundle(t, client.Bundle, "differential.ts", script)
	openScript(t, ctx, script)
	books := []*mix.Book{demo(t)}
	offices := uint64(6)
	if soak() {
		offices = 40
	}
	for seed := range offices {
		books = append(books, office.Make(office.Small, seed))
	}
	seen := map[string]int{}
	for n, b := range books {
		addOrders(b)
		differ := judgeBoth(t, ctx, b, uint64(n), func(a *compat.Answer) { tally(seen, a) })
		if len(differ) > 0 {
			t.Errorf("book %d: %d of %d answers differ, the first:\n%s", n, len(differ), judgeQuestions, differ[0])
		}
	}
	t.Logf("met %v", seen)
	for _, what := range []string{"unknown", "clean", "steps", "apart", "never", "decides", "agrees", "outvoted", "relaxed", "softened",
		"off-gate", "informative", "conditional", "elsewhere", "disagree", "clean-by-larger", "hazard-stands", "from-class", "suspect",
		"pairs-only", "lenient", "beyond", "alone", "water-matters", "hidden", "not-in-force", "other-order"} {
		if seen[what] == 0 {
			t.Errorf("no answer held %q", what)
		}
	}
}

// judgeQuestions is how many mixes of a book are judged.
const judgeQuestions = 1200

// judgeBoth has Go and the browser judge random mixes of a book, and tells where they
// differ.
func judgeBoth(t *testing.T, ctx context.Context, b *mix.Book, seed uint64, see func(*compat.Answer)) (differ []string) {
	t.Helper()
	j := compat.New(mix.NewIndex(b))
	pack := planner.New(j)
	if _, err := chromedp.Run(ctx, chromedp.Evaluate[int]("takeBook("+asJSON(pack.Core)+","+asJSON(pack.Shards)+","+asJSON(pack.Uses)+")")); err != nil {
		t.Fatal(err)
	}
	d := &mixDrawer{Rand: rand.New(rand.NewPCG(seed, 3)), book: b}
	questions := make([]mixQuestion, judgeQuestions)
	for i := range questions {
		questions[i] = d.question()
		questions[i].Change = i%20 == 0
	}
	answers, err := chromedp.Run(ctx, chromedp.Evaluate[[]string]("judgeAll("+asJSON(questions)+")"))
	if err != nil || len(answers) != len(questions) {
		t.Fatalf("%d answers to %d questions, %v", len(answers), len(questions), err)
	}
	for i, q := range questions {
		a := j.Mix(q.Items, q.situation)
		see(&a)
		told := tell(&a)
		if q.Change {
			told.Change = tellChanges(j.WhatIf(q.Items, q.situation))
		}
		if want := asJSON(told); answers[i] != want {
			differ = append(differ, fmt.Sprintf("%s\nGo      %s\nbrowser %s", asJSON(q), want, answers[i]))
		}
	}
	return differ
}

// addOrders adds to a book jars of pairs that stayed clean in one order and left
// flakes in the other, a tenth as many as it has records.
func addOrders(b *mix.Book) {
	at := unit.Hour.Of(unit.Int(24))
	nothing := mix.Reading{After: at, Foam: mix.Head{Recorded: true}, Gas: mix.NoGas, Rise: mix.Known(unit.Int(0)), Flakes: mix.None,
		Gel: mix.None, Precipitate: mix.None, Layers: mix.None, OilFilm: mix.None, Redisperse: mix.Fully, Screen: mix.NoResidue}
	flakes := nothing
	flakes.Flakes, flakes.Redisperse = mix.Heavy, mix.NotAtAll
	records := len(b.Observations)
	for n := range records / 10 {
		one, two := b.Products[2*n%len(b.Products)].ID, b.Products[(2*n+1)%len(b.Products)].ID
		for day := range 4 {
			o := mix.Observation{ID: mix.ID(fmt.Sprintf("ordered-%d-%d", n, day)), Date: mix.Date{Year: 2026, Month: 5, Day: 1 + day},
				OrderKnown: true, Products: []mix.Portion{{Ref: mix.Ref{ID: one}}, {Ref: mix.Ref{ID: two}}}, Readings: []mix.Reading{nothing}}
			if day == 3 {
				slices.Reverse(o.Products)
				o.Readings = []mix.Reading{flakes}
			}
			b.Observations = append(b.Observations, o)
		}
	}
}

// tally counts what the answers held, so that a test over nothing is seen.
func tally(seen map[string]int, a *compat.Answer) {
	seen[a.Verdict.String()]++
	for _, f := range a.Findings {
		seen[f.Part.String()]++
		for _, d := range f.Doubts {
			seen[string(d.Code)]++
		}
	}
	for _, d := range a.Doubts {
		seen[string(d.Code)]++
	}
}

type mixQuestion struct {
	Items     []mix.ID          `json:"items"`
	Numbers   map[string]string `json:"numbers"`
	Order     []mix.ID          `json:"order,omitempty"`
	Vessel    string            `json:"vessel,omitempty"`
	Place     mix.ID            `json:"place,omitempty"`
	Crop      mix.ID            `json:"crop,omitempty"`
	Carrier   []mix.ID          `json:"carrier,omitempty"`
	Change    bool              `json:"change,omitempty"` // asks what changes of one item would do as well
	situation mix.Situation
}

type mixDrawer struct {
	*rand.Rand
	book *mix.Book
}

// question draws a mix, every other time from the products of records, and what is
// known of it.
func (d *mixDrawer) question() mixQuestion {
	q := mixQuestion{Numbers: map[string]string{}}
	list := d.Perm(len(d.book.Products))
	for range 1 + d.IntN(6) {
		q.Items = append(q.Items, d.book.Products[list[len(q.Items)]].ID)
	}
	if o := d.book.Observations[d.IntN(len(d.book.Observations))]; d.IntN(2) == 0 {
		q.Items = q.Items[:d.IntN(min(3, len(q.Items)+1))]
		for _, p := range o.Products {
			q.Items = append(q.Items, p.ID)
		}
		if len(q.Items) > 2 && d.IntN(3) == 0 {
			q.Items = q.Items[:2]
		}
	}
	if d.IntN(20) == 0 {
		q.Items = append(q.Items, "not-in-this-book")
	}
	d.situation(&q)
	return q
}

// situation draws what is known, and writes it down for the browser.
func (d *mixDrawer) situation(q *mixQuestion) {
	s := &q.situation
	know := func(f mix.Factor, to *mix.Value, choices ...unit.Number) {
		if d.IntN(3) > 0 {
			return
		}
		*to = mix.Known(choices[d.IntN(len(choices))])
		q.Numbers[f.String()] = to.N.Rat().RatString()
	}
	know(mix.Hardness, &s.Hardness, unit.Int(5), unit.Int(120), unit.Int(150), unit.Frac(801, 2))
	know(mix.PH, &s.PH, unit.Frac(11, 2), unit.Int(7), unit.Frac(17, 2))
	know(mix.Bicarbonate, &s.Bicarbonate, unit.Int(0), unit.Int(200), unit.Int(400))
	know(mix.WaterTemp, &s.WaterTemp, unit.Int(-1), unit.Int(15), unit.Int(30))
	know(mix.CarrierRate, &s.CarrierRate, unit.GallonPerAcre.Of(unit.Int(8)).Base(), unit.GallonPerAcre.Of(unit.Int(20)).Base())
	know(mix.Standing, &s.Standing, unit.Int(1), unit.Int(60), unit.Int(600))
	know(mix.WaterShare, &s.WaterShare, unit.Frac(1, 4), unit.Int(1))
	if d.IntN(3) == 0 {
		q.Order = slices.Clone(q.Items)
		d.Shuffle(len(q.Order), func(i, j int) { q.Order[i], q.Order[j] = q.Order[j], q.Order[i] })
	}
	q.Vessel = []string{"", "", "open", "closed"}[d.IntN(4)]
	if d.IntN(2) == 0 {
		q.Place = d.book.Places[d.IntN(len(d.book.Places))].ID
		q.Crop = d.book.Crops[d.IntN(len(d.book.Crops))].ID
	}
	if d.IntN(2) == 0 {
		q.Carrier = []mix.ID{d.carrier()}
	}
	s.Order, s.Vessel, s.Place, s.Crop, s.Carrier = q.Order, q.Vessel, q.Place, q.Crop, q.Carrier
}

func (d *mixDrawer) carrier() mix.ID {
	var list []mix.ID
	for _, c := range d.book.Classes {
		if c.Carrier {
			list = append(list, c.ID)
		}
	}
	return list[d.IntN(len(list))]
}

// The whole of an answer, as differential.ts tells it.
type toldAnswer struct {
	Items    []mix.ID      `json:"items"`
	Verdict  string        `json:"verdict"`
	Grade    string        `json:"grade"`
	Kind     string        `json:"kind"`
	Hazards  []string      `json:"hazards"`
	Handling []string      `json:"handling"`
	Findings []toldFinding `json:"findings"`
	Doubts   []string      `json:"doubts"`
	Untested [][]mix.ID    `json:"untested"`
	Symptoms []string      `json:"symptoms"`
	Change   *toldChanges  `json:"change,omitempty"`
}

type toldFinding struct {
	Evidence string   `json:"evidence"`
	Part     string   `json:"part"`
	Verdict  string   `json:"verdict"`
	Stated   string   `json:"stated"`
	Grade    string   `json:"grade"`
	Basis    string   `json:"basis"`
	Symptoms []string `json:"symptoms"`
	Hazards  []string `json:"hazards"`
	Matches  []string `json:"matches"`
	Open     []string `json:"open"`
	Failed   []string `json:"failed"`
	Mend     int      `json:"mend"`
	MendItem string   `json:"mend_item"`
	Doubts   []string `json:"doubts"`
}

func words[T fmt.Stringer](list []T) []string {
	out := []string{}
	for _, v := range list {
		out = append(out, v.String())
	}
	return out
}

func tell(a *compat.Answer) toldAnswer {
	out := toldAnswer{Items: a.Items, Verdict: a.Verdict.String(), Grade: a.Grade.String(), Kind: a.Kind.String(),
		Hazards: words(a.Hazards), Handling: words(a.Handling), Findings: []toldFinding{}, Doubts: tellDoubts(a.Doubts),
		Untested: [][]mix.ID{}, Symptoms: []string{}}
	out.Untested = append(out.Untested, a.Untested...)
	for _, s := range a.Symptoms {
		out.Symptoms = append(out.Symptoms, s.Symptom.String()+":"+s.Verdict.String())
	}
	for i := range a.Findings {
		f := &a.Findings[i]
		one := toldFinding{Evidence: evidenceName(f.Evidence), Part: f.Part.String(), Verdict: f.Verdict.String(), Stated: f.Stated.String(),
			Grade: f.Grade.String(), Basis: f.Basis.String(), Symptoms: words(f.Symptoms), Hazards: words(f.Hazards), Matches: []string{},
			Open: gateNames(f.Open), Failed: gateNames(f.Failed), Mend: -1, MendItem: string(f.MendItem), Doubts: tellDoubts(f.Doubts)}
		for _, m := range f.Matches {
			one.Matches = append(one.Matches, string(m.Item)+">"+string(m.Member))
		}
		if s, ok := f.Evidence.(compat.Statement); ok && f.Mend != nil {
			one.Mend = slices.IndexFunc(s.Mends, func(m mix.Mend) bool { return m.Class == f.Mend.Class && m.To == f.Mend.To })
		}
		out.Findings = append(out.Findings, one)
	}
	return out
}

func evidenceName(e compat.Evidence) string {
	switch e := e.(type) {
	case compat.Statement:
		return "interaction:" + string(e.ID)
	case compat.Ruling:
		return "notice:" + string(e.ID)
	case *compat.JarSet:
		var ids []string
		for _, o := range e.Jars {
			ids = append(ids, string(o.ID))
		}
		return "jars:" + strings.Join(ids, ",")
	}
	panic(fmt.Sprintf("%T", e))
}

func gateNames(list []mix.Gate) []string {
	out := []string{}
	for _, g := range list {
		out = append(out, strings.TrimSpace(g.Factor.String()+" "+string(g.Ref.ID)+" "+string(g.First.ID)+" "+string(g.Then.ID)))
	}
	return out
}

func tellDoubts(list []compat.Doubt) []string {
	out := []string{}
	for _, d := range list {
		s := []string{string(d.Code)}
		for _, e := range d.Evidence {
			s = append(s, evidenceName(e))
		}
		s = append(append(s, gateNames(d.Gates)...), words(d.Symptoms)...)
		for _, id := range d.Items {
			s = append(s, string(id))
		}
		if d.Number != 0 {
			s = append(s, strconv.Itoa(d.Number))
		}
		if d.Count != nil {
			s = append(s, d.Count.Symptom.String(), strconv.Itoa(d.Count.Recorded))
		}
		out = append(out, strings.Join(s, " "))
	}
	return out
}
