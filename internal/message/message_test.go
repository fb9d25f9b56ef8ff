package message_test

import (
	"slices"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/templates"
)

func TestT(t *testing.T) {
	c := message.New("en", map[string]string{
		"number.group": ",",
		"plain":        "No evidence",
		"places":       "{a} with {b}, {a} again",
		"jars.one":     "{n} jar",
		"jars.other":   "{n} jars",
		"open":         "a { that never closes",
	})
	for _, tc := range []struct {
		key  string
		args []any
		want string
		why  string
	}{
		{"plain", nil, "No evidence", "text alone"},
		{"plain", []any{"a", "unused"}, "No evidence", "an argument without a place is no harm"},
		{"places", []any{"a", "oil", "b", "water"}, "oil with water, oil again", "each place is filled"},
		{"places", []any{"a", "{b}", "b", "x"}, "{b} with x, {b} again", "an argument is text, not a place"},
		{"places", []any{"a", "oil"}, "oil with ⟨b⟩, oil again", "a missing argument is seen"},
		{"jars", []any{"n", 1}, "1 jar", "one"},
		{"jars", []any{"n", 0}, "0 jars", "none is other"},
		{"jars", []any{"n", 12000}, "12,000 jars", "numbers are grouped"},
		{"jars", []any{"n", "1"}, "1 jar", "a number that is written already"},
		{"missing", nil, "⟨missing⟩", "a missing key is seen"},
		{"open", nil, "a { that never closes", "a lone brace stays"},
		{"plain", []any{"a"}, "No evidence", "a name without a value is passed over"},
		{"places", []any{"a", mix.Never, "b", mix.Clean}, "never with clean, never again", "values that name themselves"},
	} {
		if got := c.T(tc.key, tc.args...); got != tc.want {
			t.Errorf("%s: %q, want %q", tc.why, got, tc.want)
		}
	}
}

func TestNumbersDatesAndLists(t *testing.T) {
	set, _ := message.Load(templates.FS)
	en, es := set["en"], set["es"]
	day := mix.Date{Year: 2026, Month: 11, Day: 20}
	for _, c := range []struct{ got, want, why string }{
		{en.Count(0), "0", "nothing"},
		{en.Count(9999), "9999", "four digits need no help"},
		{en.Count(10000), "10,000", "five do"},
		{en.Count(1234567), "1,234,567", "more"},
		{en.Count(-12000), "−12,000", "below zero"},
		{en.Percent(0), "0 %", "nothing is nothing"},
		{en.Percent(0.004), "under 1 %", "a little is not nothing"},
		{en.Percent(0.6316), "63 %", "rounded"},
		{en.Percent(0.999), "over 99 %", "nearly all is not all"},
		{en.Percent(1), "100 %", "all is all"},
		{es.Percent(0.004), "menos del 1 %", "in Spanish"},
		{en.Date(day), "November 20, 2026", "a day"},
		{es.Date(day), "20 de noviembre de 2026", "a day in Spanish"},
		{en.Date(mix.Date{}), "", "no day"},
		{en.List(nil), "", "no terms"},
		{en.List([]string{"gas"}), "gas", "one term"},
		{en.List([]string{"gas", "foam"}), "gas and foam", "two"},
		{es.List([]string{"gas", "espuma", "gel"}), "gas, espuma y gel", "three"},
		{es.List([]string{"Calor", "Insecticida"}), "Calor e Insecticida", "y turns into e before i"},
		{es.List([]string{"aceite", "hidróxido"}), "aceite e hidróxido", "and before hi"},
		{es.List([]string{"cobre", "hierro"}), "cobre y hierro", "not before hie"},
		{en.List([]string{"copper", "iron"}), "copper and iron", "English does not care"},
		{en.Verdict(mix.Unknown), "No evidence", "the zero verdict"},
		{es.Grade(mix.Study), "Estudio publicado", "a grade"},
		{en.Symptoms([]mix.Symptom{mix.Gas, mix.OilFilm}), "gas and oil film", "symptoms"},
		{es.Hazard(mix.ToxicGas), "Gas tóxico", "a hazard"},
		{en.Kind(mix.Chemical), "Chemical", "a kind"},
		{es.SourceKind(mix.Law), "Ley", "a source"},
		{en.Form("WG"), "water-dispersible granule", "a formulation"},
		{en.Form("AE"), "AE", "a code that never meets a tank"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.why, c.got, c.want)
		}
	}
	if en.Lang() != "en" || !en.Has("count.products") || en.Has("count.nothing") {
		t.Error("Lang or Has")
	}
}

func bound(n int64, open bool) mix.Bound { return mix.Bound{Set: true, Open: open, Value: unit.Int(n)} }

func TestGatesInWords(t *testing.T) {
	set, _ := message.Load(templates.FS)
	name := func(id mix.ID) string { return "<" + string(id) + ">" }
	for _, c := range []struct {
		gate   mix.Gate
		en, es string
	}{
		{mix.Gate{Factor: mix.Hardness, Low: bound(300, true), Written: "> 300 ppm"}, "water hardness over 300 ppm", "dureza del agua de más de 300 ppm"},
		{mix.Gate{Factor: mix.PH, High: bound(6, true), Written: "< 6"}, "pH under 6", "pH de menos de 6"},
		{mix.Gate{Factor: mix.WaterTemp, Low: bound(10, false), Written: ">= 10 °C"}, "water temperature 10 °C or more", "temperatura del agua de 10 °C o más"},
		{mix.Gate{Factor: mix.Standing, High: bound(2, false), Written: "<= 2 h"}, "standing 2 h or less", "reposo de 2 h o menos"},
		{mix.Gate{Factor: mix.PH, Low: bound(5, false), High: bound(7, false), Written: "5.5 to 7"}, "pH from 5.5 to 7", "pH de 5.5 a 7"},
		{mix.Gate{Factor: mix.OrderFactor, First: mix.Ref{ID: "a"}, Then: mix.Ref{ID: "b"}}, "<a> in the tank before <b>", "<a> en el tanque antes que <b>"},
		{mix.Gate{Factor: mix.VesselFactor, Ref: mix.Ref{ID: "closed"}}, "a closed vessel", "un recipiente cerrado"},
		{mix.Gate{Factor: mix.PlaceFactor, Ref: mix.Ref{ID: "v"}}, "in <v>", "en <v>"},
		{mix.Gate{Factor: mix.CarrierClass, Ref: mix.Ref{ID: "uan"}}, "<uan> as the carrier", "<uan> como vehículo"},
	} {
		if got := set["en"].Gate(c.gate, name); got != c.en {
			t.Errorf("English: %q, want %q", got, c.en)
		}
		if got := set["es"].Gates([]mix.Gate{c.gate}, name); got != c.es {
			t.Errorf("Spanish: %q, want %q", got, c.es)
		}
	}
}

func TestLoadReportsWhatDiffers(t *testing.T) {
	files := fstest.MapFS{
		"messages/en.yaml": {Data: []byte("a: One\nb: \"{n} jars\"\nc: Three\n")},
		"messages/es.yaml": {Data: []byte("a: Uno\nb: frascos\nd: Cuatro\n")},
	}
	set, problems := message.Load(files)
	want := `templates/messages/es.yaml: message "c" is missing
	add it; in "en" it reads "Three"
templates/messages/es.yaml:2:1: message "b" has the places [], not ["n"]
	keep the words in braces as they are
templates/messages/es.yaml:3:1: message "d" is used nowhere
	remove it
`
	if diff := cmp.Diff(want, problems.String()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if set["es"].T("a") != "Uno" {
		t.Error("a catalogue with problems is not read as far as it goes")
	}
}

// TestLoadJoinsFiles: a catalogue in several files is one, each key stands once in
// it, and what is missing is asked for in the file that goes with the reference's.
func TestLoadJoinsFiles(t *testing.T) {
	files := fstest.MapFS{
		"messages/en.yaml":     {Data: []byte("a: One\n")},
		"messages/en/jar.yaml": {Data: []byte("b: Two\nc: Three\na: Again\n")},
		"messages/es/jar.yaml": {Data: []byte("a: Uno\nb: Dos\n")},
	}
	set, problems := message.Load(files)
	want := `templates/messages/en/jar.yaml:3:1: message "a" is written twice
	it stands at templates/messages/en.yaml:1:1; keep one
templates/messages/es/jar.yaml: message "c" is missing
	add it; in "en" it reads "Three"
`
	if diff := cmp.Diff(want, problems.String()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if set["en"].T("a") != "One" || set["en"].T("c") != "Three" || set["es"].T("b") != "Dos" {
		t.Error("the files of a language are not one catalogue")
	}
}

func TestLoadLaysOfficesOver(t *testing.T) {
	own := fstest.MapFS{
		"messages/en.yaml": {Data: []byte("verdict.unknown: Nobody knows\n")},
		"messages/fr.yaml": {Data: []byte("verdict.unknown: Inconnu\n")},
	}
	set, problems := message.Load(templates.FS, own)
	if got := set["en"].Verdict(mix.Unknown); got != "Nobody knows" {
		t.Errorf("the office's own word is not used: %q", got)
	}
	if got := set["en"].Verdict(mix.Clean); got != "Mixed cleanly" {
		t.Errorf("words the office does not change are lost: %q", got)
	}
	if len(problems) < 100 || set["fr"] == nil {
		t.Errorf("a language with one word of hundreds passes: %d problems", len(problems))
	}
}

func TestLoadRefusesWhatIsNoCatalogue(t *testing.T) {
	for _, text := range []string{"- a\n- b\n", "a: [x]\n", "a: b\na: c\n", "", "a: {b: c}\n"} {
		_, problems := message.Load(fstest.MapFS{"messages/en.yaml": {Data: []byte(text)}})
		if !problems.Stops() {
			t.Errorf("%q passes", text)
		}
	}
}

func TestPlaces(t *testing.T) {
	for text, want := range map[string][]string{"": nil, "a {n} of {m}, {n}": {"m", "n"}, "{open": nil, "}{": nil} {
		if got := message.Places(text); !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func FuzzT(f *testing.F) {
	f.Add("{a} and {b}", "x")
	f.Add("{{a}", "{a}")
	f.Fuzz(func(t *testing.T, text, value string) {
		c := message.New("en", map[string]string{"k": text})
		if got := c.T("k", "a", value); text == "{a}" && got != value {
			t.Errorf("%q filled with %q gives %q", text, value, got)
		}
	})
}
