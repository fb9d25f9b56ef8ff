package mix_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/mix"
)

// words is one enumeration as data files write it: what a forgotten field holds
// first, the safe answer. Where that may not be written, only the rest is read.
type words struct {
	typ       string
	written   string // all words, from zero up
	zeroReads bool   // whether the first word may be written
	word      func(uint8) fmt.Stringer
	parse     func(string) (uint8, bool) // nil: computed, never written
}

func parser[T ~uint8](parse func(string) (T, bool)) func(string) (uint8, bool) {
	return func(s string) (uint8, bool) { v, ok := parse(s); return uint8(v), ok }
}

func word[T interface {
	~uint8
	fmt.Stringer
}](v uint8) fmt.Stringer {
	return T(v)
}

var vocabulary = []words{
	{"Verdict", "unknown clean steps apart never", true, word[mix.Verdict], parser(mix.ParseVerdict)},
	{"Grade", "none inference practice report single-jar jars study rule", false, word[mix.Grade], nil},
	{"Kind", "none physical chemical biological legal", false, word[mix.Kind], parser(mix.ParseKind)},
	{"Symptom", "none gas heat fire foam flakes gel precipitate layers oil-film residue loss vapor control injury", false, word[mix.Symptom], parser(mix.ParseSymptom)},
	{"Hazard", "none pressure toxic-gas heat fire concentrate", false, word[mix.Hazard], parser(mix.ParseHazard)},
	{"Extent", "not-recorded none trace some heavy", true, word[mix.Extent], parser(mix.ParseExtent)},
	{"GasSign", "not-recorded none bubbles firm vented", true, word[mix.GasSign], parser(mix.ParseGasSign)},
	{"ResidueSign", "not-recorded none rinses-off stays", true, word[mix.ResidueSign], parser(mix.ParseResidueSign)},
	{"Redispersed", "not-recorded fully partly not-at-all", true, word[mix.Redispersed], parser(mix.ParseRedispersed)},
	{"SourceKind", "none law label standard paper bulletin handbook press practice memory", false, word[mix.SourceKind], parser(mix.ParseSourceKind)},
	{"Effect", "none forbids requires allows informs", false, word[mix.Effect], parser(mix.ParseEffect)},
	{"Factor", "none hardness ph bicarbonate temperature spray_volume standing water_share order vessel place crop carrier", false, word[mix.Factor], parser(mix.ParseFactor)},
	{"Truth", "not-known holds fails", false, word[mix.Truth], nil},
	{"Axis", "none chemistry salt role formulation water", false, word[mix.Axis], parser(mix.ParseAxis)},
	{"ToolKind", "none syringe pipette cylinder scale", false, word[mix.ToolKind], parser(mix.ParseToolKind)},
	{"Per", "none person group jar room", false, word[mix.Per], parser(mix.ParsePer)},
	{"Question", "none cause order water substitute workshop", false, word[mix.Question], parser(mix.ParseQuestion)},
}

// TestVocabulary: each value has its word, in this order, and each word its value.
func TestVocabulary(t *testing.T) {
	for _, e := range vocabulary {
		all := strings.Fields(e.written)
		for i, w := range all {
			if got := e.word(uint8(i)).String(); got != w {
				t.Errorf("%s(%d) is %q, want %q", e.typ, i, got, w)
			}
		}
		if got, want := e.word(uint8(len(all))).String(), fmt.Sprintf("%s(%d)", e.typ, len(all)); got != want {
			t.Errorf("past the last word: %q, want %q", got, want)
		}
		if e.parse == nil {
			continue
		}
		for i, w := range all {
			v, ok := e.parse(w)
			if want := i > 0 || e.zeroReads; ok != want || ok && v != uint8(i) {
				t.Errorf("%s %q is read as %d, %v", e.typ, w, v, ok)
			}
		}
		for _, w := range []string{"", "fine", all[1] + " ", strings.ToUpper(all[1])} {
			if v, ok := e.parse(w); ok || v != 0 {
				t.Errorf("%s %q is read as %d, %v", e.typ, w, v, ok)
			}
		}
	}
}

// TestJSONHoldsWords: an enumeration goes out as its word, never as a number.
func TestJSONHoldsWords(t *testing.T) {
	for _, e := range vocabulary {
		m, ok := e.word(1).(interface{ MarshalText() ([]byte, error) })
		if !ok {
			if e.typ != "Truth" { // which is not written anywhere
				t.Errorf("%s has no text", e.typ)
			}
			continue
		}
		if text, err := m.MarshalText(); err != nil || string(text) != strings.Fields(e.written)[1] {
			t.Errorf("%s is written as %q, %v", e.typ, text, err)
		}
	}
}

// TestLists: what is listed is every value but "none", in order of severity or of the
// record sheet.
func TestLists(t *testing.T) {
	for _, c := range []struct{ what, got, want string }{
		{"verdicts", fmt.Sprint(mix.Verdicts()), "[unknown clean steps apart never]"},
		{"symptoms", fmt.Sprint(mix.Symptoms()), "[gas heat fire foam flakes gel precipitate layers oil-film residue loss vapor control injury]"},
		{"hazards", fmt.Sprint(mix.Hazards()), "[pressure toxic-gas heat fire concentrate]"},
		{"questions", fmt.Sprint(mix.Questions()), "[cause order water substitute workshop]"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %s", c.what, c.got)
		}
	}
}

// TestWhatAJarShows: nobody watches for fire in a jar, and what happens in the field
// is not seen in one.
func TestWhatAJarShows(t *testing.T) {
	shown := "gas heat foam flakes gel precipitate layers oil-film residue"
	var got []string
	for s := mix.NoSymptom; s <= mix.Injury+1; s++ {
		if s.ShowsInJar() {
			got = append(got, s.String())
		}
	}
	if strings.Join(got, " ") != shown {
		t.Errorf("got %v", got)
	}
}

// TestGradeOfSources: law and label above all, then what was studied, and what is
// taught or remembered below every record; a grade is worth more than the one below.
func TestGradeOfSources(t *testing.T) {
	want := map[string]mix.Grade{"none": mix.NoGrade, "law": mix.Rule, "label": mix.Rule, "standard": mix.Study, "paper": mix.Study, "bulletin": mix.Study,
		"handbook": mix.Study, "press": mix.Practice, "practice": mix.Practice, "memory": mix.Practice}
	for k := mix.NoSource; k <= mix.Memory; k++ {
		if got := k.Grade(); got != want[k.String()] {
			t.Errorf("%v has grade %v", k, got)
		}
	}
	if !(mix.NoGrade < mix.Inference && mix.Inference < mix.Practice && mix.Practice < mix.Report && mix.Report < mix.SingleJar &&
		mix.SingleJar < mix.Jars && mix.Jars < mix.Study && mix.Study < mix.Rule) {
		t.Error("grades are out of order")
	}
}

func TestValidID(t *testing.T) {
	for _, c := range []struct {
		id   string
		want bool
		why  string
	}{
		{"", false, "nothing names nothing"},
		{"a", true, "the first letter"}, {"z", true, "the last"}, {"0", true, "the first digit"}, {"9", true, "the last"},
		{"2-4-d", true, "single hyphens"}, {"a-b-c9", true, "letters, digits, hyphens"},
		{"-a", false, "a hyphen first"}, {"a-", false, "a hyphen last"}, {"a--b", false, "two hyphens"}, {"-", false, "a hyphen alone"},
		{"A", false, "upper case"}, {"a_b", false, "another sign"}, {"a b", false, "a blank"}, {"a.b", false, "a dot"}, {"a/b", false, "a slash"},
		{"`", false, "the sign before a"}, {"{", false, "the sign after z"}, {"/", false, "the sign before 0"}, {":", false, "the sign after 9"},
		{"é", false, "a letter beyond ASCII"}, {"a\x00", false, "a NUL"},
		{strings.Repeat("a", 64), true, "as long as may be"}, {strings.Repeat("a", 65), false, "a sign more"},
	} {
		if got := mix.ValidID(c.id); got != c.want {
			t.Errorf("%q (%s): %v", c.id, c.why, got)
		}
	}
}

func TestTextIn(t *testing.T) {
	both := mix.Text{"en": "water", "es": "agua"}
	for _, c := range []struct {
		text           mix.Text
		want, fallback mix.Lang
		says           string
		in             mix.Lang
		why            string
	}{
		{both, "es", "en", "agua", "es", "the wanted language"},
		{both, "fr", "es", "agua", "es", "then the fallback"},
		{both, "fr", "de", "water", "en", "then the first by name"},
		{mix.Text{"nl": "w", "it": "a"}, "fr", "de", "a", "it", "and that for any languages"},
		{nil, "es", "en", "", "es", "no text is no text in the wanted language"},
	} {
		if says, in := c.text.In(c.want, c.fallback); says != c.says || in != c.in {
			t.Errorf("%s: %q in %q", c.why, says, in)
		}
	}
	if both.IsZero() || !(mix.Text{}).IsZero() {
		t.Error("a text with words is not zero, one without is")
	}
	if !slices.Equal(mix.Spoken, []mix.Lang{"en", "es"}) {
		t.Errorf("spoken: %v", mix.Spoken)
	}
}

// TestUsualRoutine holds the figures that its comment promises: at once, 15 and 30
// minutes, 2 hours, overnight; ten turns; a quarter free.
func TestUsualRoutine(t *testing.T) {
	r := mix.UsualRoutine()
	var minutes []string
	for _, d := range r.Readings {
		minutes = append(minutes, d.Base().Short(2))
	}
	if strings.Join(minutes, " ") != "0 15 30 120 960" || r.Inversions != 10 {
		t.Errorf("read after %v minutes, %d turns", minutes, r.Inversions)
	}
	if r.Headspace.Short(3) != "0.25" || r.Crowded.Short(3) != "0.25" || r.Spare.Short(3) != "0.1" {
		t.Errorf("%s free, %s of the water, %s to spare", r.Headspace.Short(3), r.Crowded.Short(3), r.Spare.Short(3))
	}
	var work []string
	for _, d := range []interface{ String() string }{r.Work.Setup, r.Work.Addition, r.Work.Stock, r.Work.Reading, r.Work.Wash} {
		work = append(work, d.String())
	}
	if strings.Join(work, ", ") != "3 min, 2 min, 4 min, 1 min, 4 min" {
		t.Errorf("work: %v", work)
	}
}
