package page_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/page"
	"tankleaf.example/templates"
)

// The draft of the client's record/draft.ts.
type (
	draft struct {
		ID            string              `json:"id"`
		Kind          string              `json:"kind"`
		Title         string              `json:"title"`
		Date          string              `json:"date"`
		By            string              `json:"by"`
		Place         string              `json:"place"`
		Investigation string              `json:"investigation"`
		Products      []draftPortion      `json:"products"`
		Order         string              `json:"order"`
		SprayVolume   string              `json:"spray_volume"`
		WaterShare    string              `json:"water_share"`
		Vessel        draftVessel         `json:"vessel"`
		Water         string              `json:"water"`
		Temperature   string              `json:"temperature"`
		PHBefore      string              `json:"ph_before"`
		Inversions    string              `json:"inversions"`
		Readings      []map[string]string `json:"readings"`
		Ratings       []draftRating       `json:"ratings"`
		Note          string              `json:"note"`
	}
	draftPortion struct {
		Product string `json:"product"`
		Rate    string `json:"rate"`
		Batch   string `json:"batch"`
	}
	draftVessel struct {
		Type   string `json:"type"`
		Size   string `json:"size"`
		Liquid string `json:"liquid"`
		Height string `json:"height"`
		Closed string `json:"closed"`
	}
	draftRating struct {
		Symptom   string   `json:"symptom"`
		Target    string   `json:"target"`
		Days      string   `json:"days"`
		Mix       string   `json:"mix"`
		Untreated string   `json:"untreated"`
		Singles   []string `json:"singles"`
	}
	checked struct {
		Problems []struct{ At, Code string }
		YAML     string
	}
)

// texts are what a person may type into a field: what is right by itself, and what is
// wrong or may be wrong beside something else.
var texts = map[string][2][]string{
	"id":           {{"fb-9", "jar-1"}, {"Fb 9", "con", "fb--9", strings.Repeat("x", 65)}},
	"kind":         {{"jar", "field"}, {""}},
	"title":        {{"A jar", "It hissed: \"twice\" # no", "2,4-D \\ with {braces}, [brackets]", "yes", "ñandú 😀", "- 1"}, {"", "A\u200bB", "Cоpper"}},
	"date":         {{"2026-05-12", "2026-06-30", "1999-12-31"}, {"2026-02-30", "", "2026-07-01", "12.5.2026", "1899-01-01"}},
	"by":           {{"grower", "office specialist", "dealer", "applicator", "adviser", "county agent"}, {""}},
	"place":        {{"", "upper", "valley"}, {""}},
	"inquiry":      {{"", "lids"}, {""}},
	"rate":         {{"", "0.5 %w/v", "2 lb/100 gal", "5 lb/ac", "5 kg/ha"}, {"1 qt/100 gal", "0.25 % v/v", "1.5 pt", "a lot", "0 lb/ac"}},
	"wet":          {{"", "1 qt/100 gal", "0.25 % v/v", "1.5 pt/ac"}, {"5 lb/ac", "2 tbsp/ac"}},
	"batch":        {{"", "B2", "007", "no", "a: b", "#4", "1e3", "~"}, {"\u202eB"}},
	"order":        {{"", "recorded", "not-recorded"}, {""}},
	"spray_volume": {{"", "20 gal/ac", "100 L/ha"}, {"20", "0 gal/ac", "900000 gal/ac"}},
	"share":        {{"", "25 %", "100 %"}, {"0 %", "140 %", "25"}},
	"vessel":       {{"jar", "bottle", "cylinder", "tank", "nurse-tank", "inductor"}, {""}},
	"size":         {{"", "1 qt", "1 L"}, {"500 mL", "0 mL", "2 oz"}},
	"liquid":       {{"", "700 mL", "300 mL", "1 pt"}, {"2 L", "x"}},
	"height":       {{"", "90 mm", "9 cm", "3 in"}, {"90"}},
	"closed":       {{"true"}, {"", "false"}},
	"water":        {{"", "well"}, {""}},
	"temperature":  {{"", "15 °C", "59 °F", "-3 °C"}, {"150 °C", "15"}},
	"ph":           {{"", "7.6", "7"}, {"14.5", "-1", "6,5"}},
	"count":        {{"", "10", "0", "200"}, {"201", "ten", "010", "1.5"}},
	"after":        {{"0 min", "15 min", "2 h", "1 day"}, {"", "400 days", "soon", "0 min"}},
	"gas":          {{"", "none", "bubbles", "firm", "vented"}, {""}},
	"rise":         {{"", "0 °C", "0.5 °C", "9 °F", "-1 °C", "90 °F"}, {"hot", "300 °F"}},
	"foam":         {{"", "40 mL", "12 mm", "0 mL", "1/2 in"}, {"2 L", "much"}},
	"extent":       {{"", "none", "trace", "some", "heavy"}, {""}},
	"redispersed":  {{"", "", ""}, {"fully", "partly", "not-at-all"}},
	"screen":       {{"none", "rinses-off", "stays"}, {""}},
	"mesh":         {{"", "50"}, {"3", "600"}},
	"note":         {{"", "Warm to the hand.", "Two lines\nof it", "a\tb"}, {"x\x01y", "\u00ad"}},
	"symptom":      {{"control", "injury"}, {""}},
	"target":       {{"apple leaf", "common lambsquarters"}, {""}},
	"days":         {{"7", "14"}, {"", "401"}},
	"percent":      {{"62 %", "100 %"}, {"", "101 %", "62"}},
}

// dice rolls drafts, one field in forty of them wrong.
type dice struct{ *rand.Rand }

func (d dice) one(kind string) string {
	all := texts[kind][0]
	if d.IntN(40) == 0 {
		all = texts[kind][1]
	}
	return all[d.IntN(len(all))]
}

// product is one of the fixture's four with a rate of its kind.
func (d dice) product(n int) draftPortion {
	names := [4][2]string{{"Fizz 80 SP", "rate"}, {"sour", "rate"}, {" slick ec ", "wet"}, {"dust", "rate"}}
	if d.IntN(40) == 0 {
		return draftPortion{[]string{"", "Nobody's", "fizz", "Slick EC"}[d.IntN(4)], d.one("rate"), "B1"}
	}
	return draftPortion{names[n][0], d.one(names[n][1]), d.one("batch")}
}

func (d dice) draft() draft {
	r := draft{ID: d.one("id"), Kind: d.one("kind"), Title: d.one("title"), Date: d.one("date"), By: d.one("by"), Place: d.one("place"),
		Investigation: d.one("inquiry"), Order: d.one("order"), SprayVolume: d.one("spray_volume"), WaterShare: d.one("share"),
		Vessel: draftVessel{d.one("vessel"), d.one("size"), d.one("liquid"), d.one("height"), d.one("closed")}, Water: d.one("water"),
		Temperature: d.one("temperature"), PHBefore: d.one("ph"), Inversions: d.one("count"), Note: d.one("note"),
		Products: []draftPortion{}, Readings: []map[string]string{}, Ratings: []draftRating{}}
	for _, n := range d.Perm(4)[:1+d.IntN(3)] {
		r.Products = append(r.Products, d.product(n))
	}
	for n := range 1 + d.IntN(3) {
		after := texts["after"][0][n]
		if d.IntN(40) == 0 {
			after = d.one("after")
		}
		r.Readings = append(r.Readings, map[string]string{"after": after, "gas": d.one("gas"), "rise": d.one("rise"), "foam": d.one("foam"),
			"flakes": d.one("extent"), "gel": d.one("extent"), "precipitate": d.one("extent"), "layers": d.one("extent"), "oil_film": d.one("extent"),
			"redispersed": d.one("redispersed"), "inversions": d.one("count"), "screen": d.one("screen"), "mesh": d.one("mesh"), "ph": d.one("ph"), "note": d.one("note")})
	}
	for range d.IntN(2) {
		rating := draftRating{d.one("symptom"), d.one("target"), d.one("days"), d.one("percent"), d.one("percent"), []string{}}
		for range r.Products {
			rating.Singles = append(rating.Singles, d.one("percent"))
		}
		r.Ratings = append(r.Ratings, rating)
	}
	return r
}

// inNode runs the form's own rules on drafts. The records of drafts with problems are
// written too, as far as they can be.
func inNode(t *testing.T, choices json.RawMessage, today string, drafts []draft) []checked {
	t.Helper()
	node := outside.Program(t, "node")
	script, err := client.Module(templates.Client(), "record/record.test.ts")
	if err != nil {
		t.Fatal(err)
	}
	batch, err := json.Marshal(map[string]any{"choices": choices, "today": today, "drafts": drafts})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name, body := range map[string][]byte{"record.mjs": script, "drafts.json": batch} {
		if err := os.WriteFile(filepath.Join(dir, name), body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(node, filepath.Join(dir, "record.mjs"))
	cmd.Env = append(os.Environ(), "DRAFTS="+filepath.Join(dir, "drafts.json"))
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("node: %v\n%s", err, stderr.Bytes())
	}
	var results []checked
	if err := json.Unmarshal(out, &results); err != nil || len(results) != len(drafts) {
		t.Fatalf("%d results for %d drafts, error %v", len(results), len(drafts), err)
	}
	return results
}

// choicesOf returns what the form of an edition is given.
func choicesOf(t *testing.T, files map[string][]byte, folder string) json.RawMessage {
	t.Helper()
	script := string(files[folder+"tool/choices.js"])
	from, to := strings.Index(script, "{"), strings.LastIndex(script, "}")
	if from < 0 || to < from || !json.Valid([]byte(script[from:to+1])) {
		t.Fatalf("no choices in %q", script)
	}
	return json.RawMessage(script[from : to+1])
}

// withRecord is the fixture with one more observation.
func withRecord(t *testing.T, id, record string) fs.FS {
	t.Helper()
	all := fstest.MapFS{"data/observations/2026/" + id + ".yaml": {Data: []byte(record)}}
	root := os.DirFS("testdata/office")
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := fs.ReadFile(root, name)
		all[name] = &fstest.MapFile{Data: body}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestFormAndLoaderAgree: what the form lets pass the loader takes unchanged, and
// what the form refuses the loader would refuse too.
func TestFormAndLoaderAgree(t *testing.T) {
	files := publish(t, office(t))
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	d := dice{rand.New(rand.NewPCG(seed, 1))}
	for _, folder := range []string{"", "es/"} {
		drafts := make([]draft, 250)
		for i := range drafts {
			drafts[i] = d.draft()
		}
		passed := 0
		for i, got := range inNode(t, choicesOf(t, files, folder), "2026-06-30", drafts) {
			if got.YAML == "" || slices.ContainsFunc(got.Problems, stricter) {
				continue
			}
			_, problems := dataset.Load(withRecord(t, drafts[i].ID, got.YAML))
			if len(got.Problems) == 0 {
				passed++
			}
			if (len(got.Problems) == 0) != (len(problems) == 0) {
				t.Errorf("the form says %v, the loader\n%s of\n%s", got.Problems, problems, got.YAML)
			}
		}
		t.Logf("%q: %d of %d drafts passed", folder, passed, len(drafts))
		if passed < 25 || passed > 225 {
			t.Errorf("%s: only %d of %d drafts passed; the test says little", folder, passed, len(drafts))
		}
	}
}

// stricter picks out what the form refuses so that nothing typed is dropped, while the
// record without it would be fine: the size of a vessel of no kind.
func stricter(p struct{ At, Code string }) bool { return p.Code == "vessel" }

func TestFormNamesTheField(t *testing.T) {
	good := func() draft {
		return draft{ID: "fb-9", Kind: "jar", Title: "A jar", Date: "2026-05-12", By: "grower", Order: "recorded",
			Products: []draftPortion{{"Fizz 80 SP", "5 lb/ac", "B2"}, {"sour", "1 qt/100 gal", ""}},
			Vessel:   draftVessel{Type: "jar", Size: "1 qt", Closed: "true"},
			Readings: []map[string]string{blankReading("0 min", "gas", "bubbles"), blankReading("15 min", "gas", "firm")}, Ratings: []draftRating{}}
	}
	cases := []struct {
		why    string
		change func(*draft)
		at     string
		code   string
	}{
		{"all is well", func(*draft) {}, "", ""},
		{"no title", func(d *draft) { d.Title = " " }, "title", "missing"},
		{"tomorrow", func(d *draft) { d.Date = "2026-07-01" }, "date", "future"},
		{"no product of the office", func(d *draft) { d.Products[1].Product = "Sower SL" }, "products.1.product", "product"},
		{"one product twice", func(d *draft) { d.Products[1].Product = "fizz"; d.Products[1].Rate = "" }, "products.1.product", "twice"},
		{"a volume of a powder", func(d *draft) { d.Products[0].Rate = "1 pt/ac" }, "products.0.rate", "wrong-basis"},
		{"a rate without area", func(d *draft) { d.Products[0].Rate = "5 lb" }, "products.0.rate", "no-base"},
		{"firm walls of an open jar", func(d *draft) { d.Vessel.Closed = "false" }, "readings.1.gas", "closed"},
		{"times in disorder", func(d *draft) { d.Readings[1]["after"] = "0 min" }, "readings.1.after", "later"},
		{"nothing settled", func(d *draft) { d.Readings[0]["redispersed"] = "fully" }, "readings.0.redispersed", "settled"},
		{"a mesh without its answer", func(d *draft) { d.Readings[0]["mesh"] = "50" }, "readings.0.screen", "mesh"},
		{"more foam than jar", func(d *draft) { d.Readings[0]["foam"] = "2 qt" }, "readings.0.foam", "foam"},
		{"nothing seen", func(d *draft) { d.Readings = []map[string]string{blankReading("0 min", "gas", "")} }, "readings", "nothing"},
		{"a jar test without a jar", func(d *draft) { d.Vessel = draftVessel{} }, "vessel.type", "vessel"},
	}
	drafts := make([]draft, len(cases))
	for i, c := range cases {
		drafts[i] = good()
		c.change(&drafts[i])
	}
	for i, got := range inNode(t, choicesOf(t, publish(t, office(t)), ""), "2026-06-30", drafts) {
		c := cases[i]
		found := slices.ContainsFunc(got.Problems, func(p struct{ At, Code string }) bool { return p.At == c.at && p.Code == c.code })
		if c.at == "" && len(got.Problems) > 0 || c.at != "" && !found {
			t.Errorf("%s: got %v, want %s at %s", c.why, got.Problems, c.code, c.at)
		}
	}
}

func blankReading(after, key, word string) map[string]string {
	r := map[string]string{"after": after}
	for _, k := range []string{"gas", "rise", "foam", "flakes", "gel", "precipitate", "layers", "oil_film", "redispersed", "inversions", "screen", "mesh", "ph", "note"} {
		r[k] = ""
	}
	r[key] = word
	return r
}

// TestRecordOfAnotherLanguageSaysSo: a text written on a Spanish page stands in the
// record as Spanish, with a line in the office's language that says so.
func TestRecordOfAnotherLanguageSaysSo(t *testing.T) {
	d := draft{ID: "fb-9", Kind: "jar", Title: "Silbó la tapa", Date: "2026-05-12", By: "grower",
		Products: []draftPortion{{"fizz", "", ""}, {"sour", "", ""}}, Vessel: draftVessel{Type: "jar", Closed: "true"},
		Readings: []map[string]string{blankReading("0 min", "note", "Dos veces")}, Ratings: []draftRating{}}
	got := inNode(t, choicesOf(t, publish(t, office(t)), "es/"), "2026-06-30", []draft{d})[0]
	b, problems := dataset.Load(withRecord(t, "fb-9", got.YAML))
	if len(got.Problems) > 0 || len(problems) > 0 {
		t.Fatalf("%v\n%s", got.Problems, problems)
	}
	for _, o := range b.Observations {
		if o.ID != "fb-9" {
			continue
		}
		if o.Title["es"] != "Silbó la tapa" || !strings.Contains(o.Title["en"], "Español") || o.Readings[0].Note["es"] != "Dos veces" {
			t.Errorf("title %v, note %v", o.Title, o.Readings[0].Note)
		}
		return
	}
	t.Error("the record is not read")
}

// TestChoicesMatchTheClient holds the Go structs against the interfaces of the client.
func TestChoicesMatchTheClient(t *testing.T) {
	source, err := fs.ReadFile(templates.Client(), "record/choices.ts")
	if err != nil {
		t.Fatal(err)
	}
	body, err := json.Marshal(page.Choices{Products: []page.ProductChoice{{ID: "a", Name: "A", Dry: true, Dense: true}},
		Places: []page.NamedChoice{{ID: "a", Name: "A", Lang: "en"}}, Signs: []page.SignChoice{{Field: "f", Name: "F", Words: []string{"w"}, Unit: "u"}}})
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]any
	if err := json.Unmarshal(body, &all); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		keys map[string]any
	}{{"Choices", all}, {"ProductChoice", all["products"].([]any)[0].(map[string]any)}, {"Named", all["places"].([]any)[0].(map[string]any)},
		{"Sign", all["signs"].([]any)[0].(map[string]any)}} {
		_, rest, found := strings.Cut(string(source), "export interface "+c.name+" {\n")
		lines, _, closed := strings.Cut(rest, "\n}")
		if !found || !closed {
			t.Fatalf("no interface %s in the client", c.name)
		}
		n := 0
		for line := range strings.Lines(lines + "\n") {
			key, _, _ := strings.Cut(strings.TrimSpace(line), ":")
			if _, ok := c.keys[strings.TrimSuffix(key, "?")]; !ok {
				t.Errorf("%s of the client has %q, which Go does not write", c.name, key)
			}
			n++
		}
		if n != len(c.keys) {
			t.Errorf("%s: %d keys in the client, %d in Go", c.name, n, len(c.keys))
		}
	}
}

// TestRolesAndVesselsAreThoseOfTheData: every word that the form offers is one that
// the loader knows, and it offers all of them.
func TestRolesAndVesselsAreThoseOfTheData(t *testing.T) {
	var c page.Choices
	if err := json.Unmarshal(choicesOf(t, publish(t, office(t)), ""), &c); err != nil {
		t.Fatal(err)
	}
	load := func(by, vessel string) diag.List {
		record := fmt.Sprintf("id: fb-9\nkind: jar\ntitle: T\ndate: 2026-05-12\nby: %s\nproducts: [{product: fizz}]\nvessel: {type: %s}\nreadings: [{after: 0 min, gas: none}]\n", by, vessel)
		_, problems := dataset.Load(withRecord(t, "fb-9", record))
		return problems
	}
	for _, by := range c.Roles {
		if p := load(by, "jar"); len(p) > 0 {
			t.Errorf("role %q: %s", by, p)
		}
	}
	for _, v := range c.Vessels {
		if p := load("grower", v); len(p) > 0 {
			t.Errorf("vessel %q: %s", v, p)
		}
	}
	hint := load("nobody", "no-such").String()
	for _, word := range append(c.Roles, c.Vessels...) {
		if !strings.Contains(hint, word) {
			t.Errorf("the loader does not name %q among %s", word, hint)
		}
	}
}
