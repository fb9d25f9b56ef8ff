package page

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// Band is the answer across the first screen.
type Band struct {
	Verdict mix.Verdict
	Says    Phrase // instead of the verdict's own words; may be empty
	Why     Line
	Steps   []Phrase
	Instead Phrase
	Use     []Link
	Rest    string // grade, and how many doubts
	More    Link   // where evidence and doubts stand, when not on this page
}

// Entry is one line of the ledger: one piece of evidence.
type Entry struct {
	Anchor   string
	Grade    string
	Strength []bool // one of seven: how strong the grade is
	Part     string
	Verdict  mix.Verdict
	What     Line
	Facts    []Fact
	Doubts   []DoubtLine
}

// DoubtLine is a doubt in words.
type DoubtLine struct {
	N     int
	Text  string
	Links []Link
	More  int // links left out: the ledger has them
}

// AnswerView is an answer ready to be shown.
type AnswerView struct {
	Band     Band
	Doubts   []DoubtLine
	Ledger   []Entry
	Untested []Link
}

// answer puts an answer into words. Its hazards become hazards of the page.
func (l *leaf) answer(a *compat.Answer) AnswerView {
	l.danger(a.Hazards...)
	v := AnswerView{Band: l.band(a)}
	for i := range a.Findings {
		v.Ledger = append(v.Ledger, l.entry(&a.Findings[i], i+1))
	}
	v.Doubts = l.doubts(a.Doubts)
	for _, pair := range a.Untested {
		if len(pair) == 2 {
			name := l.pairTitle(pair[0], pair[1])
			v.Untested = append(v.Untested, Link{Name: Phrase{Text: name}})
		}
	}
	return v
}

// band makes the answer's first screen: verdict, why, what to do instead.
func (l *leaf) band(a *compat.Answer) Band {
	b := Band{Verdict: a.Verdict, Why: l.why(a), Rest: l.rest(a)}
	d := a.Deciding()
	if d == nil {
		b.Instead = Phrase{Text: l.t("instead." + a.Verdict.String())}
		return b
	}
	b.Steps = l.steps(a)
	if in := insteadOf(a); in != nil {
		b.Instead = l.phrase(in.Text)
		for _, u := range in.Use {
			b.Use = append(b.Use, l.item(u.ID))
		}
	}
	if b.Instead.Text == "" && len(b.Use) == 0 {
		b.Instead = Phrase{Text: l.t("instead." + a.Verdict.String())}
	}
	return b
}

// steps returns what is to be done: what the deciding finding names and, where the
// answer is to mix with steps, what every other names that asks for them. A mix is
// workable only when all of them are followed. Jars that decide name none.
func (l *leaf) steps(a *compat.Answer) []Phrase {
	var all []Phrase
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Verdict != a.Verdict || a.Verdict < mix.Steps || i > 0 && a.Verdict != mix.Steps {
			continue
		}
		for _, p := range l.stepsOf(f) {
			if !slices.Contains(all, p) {
				all = append(all, p)
			}
		}
	}
	return all
}

// stepsOf returns the steps a finding names, its mend first.
func (l *leaf) stepsOf(f *compat.Finding) []Phrase {
	if f.Mend != nil && !f.Mend.How.IsZero() {
		return append([]Phrase{l.phrase(f.Mend.How)}, l.namedSteps(f)...)
	}
	return l.namedSteps(f)
}

func (l *leaf) namedSteps(f *compat.Finding) []Phrase {
	switch e := f.Evidence.(type) {
	case compat.Statement:
		return l.phrases(e.Steps)
	case compat.Ruling:
		return l.phrases(e.Steps)
	case *compat.JarSet:
		return nil
	default:
		panic(fmt.Sprintf("page: evidence %T", e))
	}
}

// insteadOf returns advice for the answer: that of the statement which asks for as
// much caution and names the very items, or the classes closest to them. Jars and
// notices carry none themselves.
func insteadOf(a *compat.Answer) *mix.Instead {
	var best *mix.Instead
	closest := 0
	for i := range a.Findings {
		f := &a.Findings[i]
		s, ok := f.Evidence.(compat.Statement)
		if !ok || f.Verdict != a.Verdict || s.Instead.Text.IsZero() && len(s.Instead.Use) == 0 {
			continue
		}
		if far := distance(f); best == nil || far < closest {
			best, closest = &s.Instead, far
		}
	}
	return best
}

// distance counts the steps from the items up to the members of a statement.
func distance(f *compat.Finding) int {
	n := 0
	for _, m := range f.Matches {
		n += len(m.Path)
	}
	return n
}

// why is the one line of reason.
func (l *leaf) why(a *compat.Answer) Line {
	if d := a.Deciding(); d != nil {
		return l.what(d)
	}
	return said(l.t("why.unknown"))
}

// rest names the grade and points at the doubts.
func (l *leaf) rest(a *compat.Answer) string {
	if a.Deciding() == nil {
		return l.t("band.no-evidence")
	}
	grade := l.t("band.grade", "grade", l.gradeWords(a.Deciding()))
	if n := len(l.doubts(a.Doubts)); n > 0 {
		return grade + " " + l.t("band.doubts", "n", n)
	}
	return grade
}

// what says in one line what a finding found.
func (l *leaf) what(f *compat.Finding) Line {
	switch e := f.Evidence.(type) {
	case compat.Statement:
		return l.line(e.What, e.Sources)
	case compat.Ruling:
		return l.line(e.Title, e.Sources)
	case *compat.JarSet:
		return said(l.jarWords(e))
	default:
		panic(fmt.Sprintf("page: evidence %T", e))
	}
}

// jarWords says what a set of jars showed: what reacted, or that nothing did.
func (l *leaf) jarWords(s *compat.JarSet) string {
	var reacted []string
	for _, c := range s.Counts {
		if c.Reacted > 0 {
			reacted = append(reacted, l.t("jars.reacted", "symptom", l.words.Symptom(c.Symptom), "k", c.Reacted, "n", c.Recorded))
		}
		if c.Reports > 0 {
			reacted = append(reacted, l.t("jars.reported", "symptom", l.words.Symptom(c.Symptom), "n", c.Reports))
		}
	}
	mixName := l.names(s.Products)
	if len(reacted) > 0 {
		return l.t("jars.saw", "mix", mixName, "what", l.words.List(reacted))
	}
	return l.t("jars.saw-nothing", "n", len(s.Jars), "mix", mixName)
}

func (l *leaf) phrases(all []mix.Text) []Phrase {
	out := make([]Phrase, len(all))
	for i, t := range all {
		out[i] = l.phrase(t)
	}
	return out
}

// entry makes one line of the ledger. n numbers it in its answer.
func (l *leaf) entry(f *compat.Finding, n int) Entry {
	e := Entry{
		Anchor: fmt.Sprintf("evidence-%d", n), Grade: l.gradeWords(f), Strength: strength(f.Grade),
		Part: l.partWords(f), Verdict: f.Verdict, What: l.what(f), Doubts: l.doubts(f.Doubts),
	}
	var fs facts
	l.findingFacts(&fs, f)
	switch ev := f.Evidence.(type) {
	case compat.Statement:
		if tellsAll[f.Part] {
			l.statementFacts(&fs, ev.Interaction)
		}
		l.recordFacts(&fs, ev.Interaction)
	case compat.Ruling:
		l.rulingFacts(&fs, ev.Notice)
	case *compat.JarSet:
		l.jarFacts(&fs, ev)
	default:
		panic(fmt.Sprintf("page: evidence %T", ev))
	}
	e.Facts = fs
	return e
}

// gradeWords names the grade of a finding; what reaches the items only through
// their classes says so beside what it rests on.
func (l *leaf) gradeWords(f *compat.Finding) string {
	if f.Grade == mix.Inference && f.Basis > mix.Inference {
		return l.t("grade.through-class", "basis", l.words.Grade(f.Basis))
	}
	return l.words.Grade(f.Grade)
}

// partWords says what a finding does in the answer. Evidence that proves nothing
// for this mix still says what it says by itself.
func (l *leaf) partWords(f *compat.Finding) string {
	part := l.t("part." + f.Part.String())
	if f.Verdict == mix.Unknown && f.Stated != mix.Unknown {
		return l.t("part.by-itself", "part", part, "verdict", l.words.Verdict(f.Stated))
	}
	return part
}

// tellsAll are the parts whose statements are told in full. What only agrees
// gives its line, who says so and the way to its record, or the evidence that
// decides would drown in it.
var tellsAll = map[compat.Part]bool{compat.Decides: true, compat.Outvoted: true, compat.Relaxed: true, compat.Softened: true}

// strength draws a grade as a scale that fills up.
func strength(g mix.Grade) []bool {
	scale := make([]bool, mix.Rule)
	for i := range scale {
		scale[i] = i < int(g)
	}
	return scale
}

// findingFacts says how the evidence bears on this very mix.
func (l *leaf) findingFacts(fs *facts, f *compat.Finding) {
	var paths []Line
	for _, m := range f.Matches {
		if len(m.Path) > 1 {
			paths = append(paths, Line{Phrase: Phrase{Text: l.pathWords(m)}, Chain: l.items(m.Path)})
		}
	}
	fs.add(l.t("fact.because"), paths...)
	if len(f.Open) > 0 {
		fs.add(l.t("fact.when"), l.gateLines(f.Open)...)
	}
	if len(f.Failed) > 0 {
		fs.add(l.t("fact.not-here"), l.gateLines(f.Failed)...)
	}
	if f.Mend != nil {
		mended := l.line(f.Mend.How, f.Mend.Sources)
		mended.Href = l.link(l.itemPath(f.MendItem))
		fs.add(l.t("fact.mended"), mended)
	}
}

// pathWords spells the chain of classes from an item up to the member of a
// statement.
func (l *leaf) pathWords(m compat.Match) string {
	names := make([]string, len(m.Path))
	for i, id := range m.Path {
		names[i] = l.nameText(id)
	}
	return strings.Join(names, l.t("path.arrow"))
}

func (l *leaf) gateLines(gates []mix.Gate) []Line {
	var lines []Line
	for _, g := range gates {
		lines = append(lines, said(l.words.Gate(g, l.nameText)))
	}
	return lines
}
