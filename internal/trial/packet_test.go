package trial_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

func packet(t testing.TB, tr *trial.Trial) *trial.Packet {
	t.Helper()
	p, err := planner().Packet(tr, trial.People{Persons: 24, Groups: 6}, "https://spray.example.org/trial/k.html")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPacket(t *testing.T) {
	tr := workshop(t)
	p := packet(t, tr)
	if len(p.Records) != len(tr.Jars) || len(p.Wash) == 0 || p.Address == "" || p.Kit.Jars != 48 {
		t.Errorf("%d records, %d lines on washing, %d jars", len(p.Records), len(p.Wash), p.Kit.Jars)
	}
	if p.Cautions[0] != mix.NoHazard || !slices.Contains(p.Cautions, mix.Concentrate) {
		t.Errorf("cautions %v: the general block first, concentrates always", p.Cautions)
	}
	open := packet(t, plan(t, ask(t, trial.Order, "100 gal/ac", "sallowmere=5 lb/ac", "firkinlow=5.5 fl oz/ac")))
	if !slices.Contains(open.Cautions, mix.Pressure) {
		t.Errorf("cautions %v of a trial with open jars", open.Cautions)
	}
	if _, err := planner().Packet(tr, trial.People{}, ""); err == nil {
		t.Error("a packet for nobody")
	}
}

// TestLooks holds that every symptom of a jar is explained, and that its example
// reacts by the office's own criteria.
func TestLooks(t *testing.T) {
	looks := packet(t, workshop(t)).Looks
	var seen []mix.Symptom
	for _, l := range looks {
		seen = append(seen, l.Symptom)
		if l.Danger != (l.Symptom == mix.Gas || l.Symptom == mix.Heat) {
			t.Errorf("%v: danger %v", l.Symptom, l.Danger)
		}
		if l.Drawn == (l.Symptom == mix.Heat || l.Symptom == mix.Residue) {
			t.Errorf("%v: drawn %v", l.Symptom, l.Drawn)
		}
	}
	for _, s := range mix.Symptoms() {
		if s.ShowsInJar() != slices.Contains(seen, s) {
			t.Errorf("%v: looked for %v", s, slices.Contains(seen, s))
		}
	}
	v := workshop(t).Vessel
	for _, l := range looks {
		if l.Vessel.Size.Cmp(v.Size) != 0 || l.Vessel.Liquid.Cmp(v.Fill) != 0 || l.Vessel.Type != "jar" || !l.Vessel.Closed || !l.Vessel.Recorded ||
			l.Reading.After.String() != "15 min" {
			t.Errorf("%v is drawn in %+v after %v", l.Symptom, l.Vessel, l.Reading.After)
		}
		r := l.Reading
		shows := map[mix.Symptom]bool{mix.Gas: r.Gas > mix.NoGas, mix.Heat: r.Rise.Known, mix.Foam: r.Foam.Recorded, mix.Flakes: r.Flakes > mix.None,
			mix.Gel: r.Gel > mix.None, mix.Precipitate: r.Precipitate > mix.None, mix.Layers: r.Layers > mix.None, mix.OilFilm: r.OilFilm > mix.None,
			mix.Residue: r.Screen > mix.RinsesOff}
		for s, is := range shows {
			if is != (s == l.Symptom) {
				t.Errorf("the example of %v shows %v: %v", l.Symptom, s, is)
			}
		}
	}
}

// TestLabelSheets holds every label inside its sheet and none on another, and every
// jar of every group labeled once.
func TestLabelSheets(t *testing.T) {
	tr := workshop(t)
	k := kit(t, tr, trial.People{Persons: 24, Groups: 6})
	paper := map[string][2]unit.Length{"letter": {must(t, unit.ParseLength, "8.5 in"), must(t, unit.ParseLength, "11 in")},
		"a4": {must(t, unit.ParseLength, "210 mm"), must(t, unit.ParseLength, "297 mm")}}
	for _, s := range demo().Index().Book().Routine.Labels {
		sheets, err := planner().LabelSheets(tr, &k, s.ID)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]int{}
		for _, sheet := range sheets {
			if len(sheet.Labels) > s.Across*s.Down {
				t.Errorf("%s: %d labels on a sheet of %d", s.ID, len(sheet.Labels), s.Across*s.Down)
			}
			places := map[string]bool{}
			for _, l := range sheet.Labels {
				place := l.X.String() + " " + l.Y.String()
				if places[place] || l.X.Add(s.Width).Cmp(paper[s.Paper][0]) > 0 || l.Y.Add(s.Height).Cmp(paper[s.Paper][1]) > 0 {
					t.Errorf("%s: a label at %s", s.ID, place)
				}
				places[place] = true
				if l.Code != "" {
					seen[l.Code]++
				}
			}
		}
		for _, j := range tr.Jars {
			if seen[j.Code] != 6 {
				t.Errorf("%s: jar %s has %d labels for 6 groups", s.ID, j.Code, seen[j.Code])
			}
		}
	}
	_, err := planner().LabelSheets(tr, &k, "gold")
	if err == nil {
		t.Fatal("labels that the office does not list")
	}
	if p := trouble(t, err)[0]; p.Code != trial.BadCount || p.Msg != `no sheet of labels "gold"` || !strings.Contains(p.Hint, "letter-30") {
		t.Errorf("unknown labels: %+v", p)
	}
}

// TestPlacesOfLabels puts the first labels of a sheet of thirty by hand: three across,
// from the sheet's edges, in the steps of the stock; for each group stocks first, then
// jars in the order of runs.
func TestPlacesOfLabels(t *testing.T) {
	q := ask(t, trial.Order, "100 gal/ac", "larkstile=0.5 oz/ac", "firkinlow=5.5 fl oz/ac")
	q.AsUsed = true
	tr := plan(t, q)
	k := kit(t, tr, trial.People{Groups: 2})
	sheets, err := planner().LabelSheets(tr, &k, "letter-30")
	if err != nil || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	s := sheets[0].Stock
	if s.ID != "letter-30" || s.Across != 3 || s.Down != 10 {
		t.Fatalf("%+v", s)
	}
	stocks := tr.Stocks[0].Times
	for i, l := range sheets[0].Labels {
		group, at := i/(stocks+len(tr.Jars))+1, i%(stocks+len(tr.Jars))
		if l.Group != group || (l.Code == "") != (at < stocks) || (l.Run == 0) != (at < stocks) {
			t.Errorf("label %d: %+v", i, l)
		}
		if at >= stocks {
			if j := tr.Jars[at-stocks]; l.Code != j.Code || l.Run != j.Run || l.Opening != j.Opening || l.Stock != "" || l.Parts != 0 {
				t.Errorf("label %d: %+v, jar %s", i, l, j.Code)
			}
		}
		x, y := s.Left, s.Top
		for range i % 3 {
			x = x.Add(s.StepX)
		}
		for range i / 3 {
			y = y.Add(s.StepY)
		}
		if l.X.Cmp(x) != 0 || l.Y.Cmp(y) != 0 {
			t.Errorf("label %d lies at %v, %v", i, l.X, l.Y)
		}
	}
	if want := 2 * (stocks + len(tr.Jars)); len(sheets[0].Labels) != want {
		t.Errorf("%d labels, want %d", len(sheets[0].Labels), want)
	}
}

// TestSharedLabels deals the jars out: each has one label.
func TestSharedLabels(t *testing.T) {
	tr := workshop(t)
	k := kit(t, tr, trial.People{Persons: 12, Groups: 3, Shared: true})
	sheets, err := planner().LabelSheets(tr, &k, "letter-30")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for _, s := range sheets {
		for _, l := range s.Labels {
			seen[l.Code]++
		}
	}
	for _, j := range tr.Jars {
		if seen[j.Code] != 1 {
			t.Errorf("jar %s has %d labels", j.Code, seen[j.Code])
		}
	}
}

// TestWordsOfTheData holds headings and tick boxes of the record sheet to the schema
// of observations: every heading is a key there, every word one that it takes, and
// none is missing but "not-recorded", which is an empty box.
func TestWordsOfTheData(t *testing.T) {
	schemas, err := dataset.Schemas()
	if err != nil {
		t.Fatal(err)
	}
	type node struct {
		Properties map[string]*node
		Items      *node
		Enum       []string
		Ref        string `json:"$ref"`
	}
	var root node
	if err := json.Unmarshal(schemas["observation"], &root); err != nil {
		t.Fatal(err)
	}
	find := func(c trial.Column) *node {
		at := &root
		name := c.Name
		if c.Reading {
			at = root.Properties["readings"].Items
			name = strings.TrimPrefix(name, "reading.")
		}
		if k, n, ok := strings.Cut(name, "."); ok && k == "vessel" {
			at, name = root.Properties["vessel"], n
		} else if ok { // product.1, rate.1, batch.1
			at, name = root.Properties["products"].Items, k
		}
		return at.Properties[name]
	}
	for _, c := range slices.Concat(trial.JarColumns(2), trial.ReadingColumns(false)) {
		n := find(c)
		if n == nil {
			t.Errorf("column %q is no key of an observation", c.Name)
			continue
		}
		words := slices.DeleteFunc(slices.Clone(n.Enum), func(w string) bool { return w == "not-recorded" && c.Name != "order" })
		if c.Words != nil && len(n.Enum) > 0 && !slices.Equal(words, c.Words) {
			t.Errorf("%s: tick boxes %v, the data knows %v", c.Name, c.Words, words)
		}
		if c.Reading && len(n.Enum) > 0 && c.Words == nil {
			t.Errorf("%s: no tick boxes for %v", c.Name, words)
		}
	}
	for name := range root.Properties["readings"].Items.Properties {
		if !slices.ContainsFunc(trial.ReadingColumns(false), func(c trial.Column) bool { return strings.TrimPrefix(c.Name, "reading.") == name }) {
			t.Errorf("the record sheet has no column for %q", name)
		}
	}
}

// TestOpenJarsHaveNoHiss holds that the sheet of an open jar offers no sign that only
// a closed one shows.
func TestOpenJarsHaveNoHiss(t *testing.T) {
	for _, s := range plan(t, ask(t, trial.Order, "100 gal/ac", "sallowmere=5 lb/ac", "firkinlow=5.5 fl oz/ac")).RecordSheets() {
		for _, row := range s.Rows {
			if row.Name == "gas" && slices.Contains(row.Words, "vented") == (s.Opening == trial.Vented) {
				t.Errorf("jar %s is %v and offers %v", s.Code, s.Opening, row.Words)
			}
		}
		if len(s.Times) != 5 {
			t.Errorf("%d columns for readings", len(s.Times))
		}
	}
}

// TestWriteSheet holds that the table has one line for each jar with products and
// reading, and says once what is said once.
func TestWriteSheet(t *testing.T) {
	tr := workshop(t)
	var b bytes.Buffer
	if err := tr.WriteSheet(&b, "x"); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := 1 + 5*(len(tr.Jars)-1); len(rows) != want { // carrier alone is left out
		t.Errorf("%d rows, want %d", len(rows), want)
	}
	title := slices.Index(rows[0], "title")
	for i, row := range rows[1:] {
		if (row[title] != "") != (i%5 == 0) {
			t.Errorf("row %d: title %q", i+2, row[title])
		}
	}
}

// TestJSON holds that the JSON of a trial agrees with it and has no null lists.
func TestJSON(t *testing.T) {
	tr := workshop(t)
	k := kit(t, tr, trial.People{Persons: 24, Groups: 6})
	text, err := json.Marshal(tr.JSON(&k))
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(text), ":null") {
		t.Errorf("null in %s", text)
	}
	var back struct {
		Question, Seed string
		Jars           []struct {
			Code, Role, Opening string
			Products            []string
			Card                struct{ Passes bool }
		}
		Kit struct {
			Jars     int
			Products []struct{ Name, Bring, Unit string }
		}
	}
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if back.Question != "workshop" || back.Seed != "1" || len(back.Jars) != len(tr.Jars) || back.Kit.Jars != 48 || len(back.Kit.Products) != 4 {
		t.Errorf("%+v", back)
	}
	for i, j := range back.Jars {
		if j.Code != tr.Jars[i].Code || j.Role != tr.Jars[i].Role.String() || !j.Card.Passes || !slices.Equal(j.Products, tr.Names(tr.Jars[i].Products)) &&
			len(j.Products) > 0 {
			t.Errorf("jar %+v", j)
		}
	}
}
