package intake_test

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/intake"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// small is the small office that the problems of data are shown on.
func small(t testing.TB) fs.FS {
	t.Helper()
	ar, err := txtar.ParseFile("../../testdata/fine/office.txtar")
	if err != nil {
		t.Fatal(err)
	}
	fsys, err := txtar.FS(ar)
	if err != nil {
		t.Fatal(err)
	}
	return fsys
}

const head = "id,kind,title,date,by,product.1,rate.1,product.2,rate.2,order,spray_volume,vessel.type,vessel.size,vessel.closed,after,gas,foam,flakes,note\n"

const first = "jar-1,jar,A jar,2026-05-20,county agent,ashdown,5 lb/ac,sourwell,1 qt/100 gal,recorded,100 gal/ac,jar,1 qt,TRUE,0 min,vented,40 mL,none,\n"

// check reads a table and holds it against the small office.
func check(t testing.TB, table string) string {
	t.Helper()
	records, list := intake.Read("sheet.csv", []byte(table))
	if list.Stops() {
		return list.String()
	}
	return intake.Check(small(t), "sheet", records).String()
}

func TestFineTables(t *testing.T) {
	for _, c := range []struct{ table, why string }{
		{head + first, "one reading"},
		{head + first + ",,,,,,,,,,,,,,15 min,none,0 mL,trace,\n", "a blank id is the one above"},
		{head + first + "jar-1,,,,,,,,,,,,,,15 min,none,,,\njar-1,,,,,,,,,,,,,,2 h,,,,\n", "nobody looked after 2 h"},
		{"\ufeff" + strings.ReplaceAll(head+first, ",", ";"), "semicolons and a mark of the byte order"},
		{strings.ReplaceAll(head+first, ",", "\t"), "tabs"},
		{strings.ReplaceAll(head+first, "\n", "\r\n"), "line ends of Windows"},
		{head + ",,,,,,,,,,,,,,,,,,\n" + first, "a blank row"},
		{head + strings.Replace(first, "A jar", `"A jar, ""quoted"": two`+"\nlines"+`"`, 1), "commas, quotes, a line break"},
	} {
		if got := check(t, c.table); got != "" {
			t.Errorf("%s:\n%s", c.why, got)
		}
	}
}

func TestProblems(t *testing.T) {
	swap := func(s, a, b string) string {
		s = strings.Replace(s, ","+a+",", ",#,", 1)
		s = strings.Replace(s, ","+b+",", ","+a+",", 1)
		return strings.Replace(s, ",#,", ","+b+",", 1)
	}
	for _, c := range []struct{ table, want, why string }{
		{"", "sheet.csv: table without jars\n\tthe first row holds the headings, each further one a reading of a jar\n", "nothing"},
		{head, "sheet.csv: table without jars\n\tthe first row holds the headings, each further one a reading of a jar\n", "headings alone"},
		{swap(head, "gas", "foam") + first,
			"sheet.csv:1:120: row 1, column P: columns P \"foam\" and Q \"gas\" are exchanged\n\twrite \"gas\" over column P and \"foam\" over column Q\n", "exchanged columns"},
		{swap(head, "after", "date") + first,
			"sheet.csv:1:15: row 1, column D: columns D \"after\" and O \"date\" are exchanged\n\twrite \"date\" over column D and \"after\" over column O\n", "exchanged, far apart"},
		{head + strings.Replace(first, "vented", "hissed", 1),
			"sheet.csv:2:119: row 2, column P \"gas\": unknown sign of gas \"hissed\"\n\twrite one of not-recorded, none, bubbles, firm, vented\n", "a wrong word"},
		{head + strings.Replace(first, "vented", "vente", 1),
			"sheet.csv:2:119: row 2, column P \"gas\": unknown sign of gas \"vente\"\n\tdid you mean \"vented\"?\n", "a slip"},
		{head + strings.Replace(first, "ashdown", "ashdwon", 1),
			"sheet.csv:2:41: row 2, column F \"product.1\": unknown product \"ashdwon\"\n\tdid you mean \"ashdown\"?\n", "no such product"},
		{head + strings.Replace(first, "5 lb/ac", "5 lb", 1),
			"sheet.csv:2:49: row 2, column G \"rate.1\": rate \"5 lb\" has no area\n\twrite \"5 lb/ac\", or \"5 lb/100 gal\" for a rate by volume of spray\n", "half a rate"},
		{head + strings.Replace(first, "2026-05-20", "5/20/2026", 1),
			"sheet.csv:2:17: row 2, column D \"date\": \"5/20/2026\" is no date\n\twrite year-month-day, as in \"2026-05-12\"\n", "a date as spreadsheets write it"},
		{strings.Replace(head, "gas", "Gas", 1) + first, "sheet.csv:1:120: row 1, column P: unknown heading \"Gas\"\n\twrite \"gas\"\n", "a capital"},
		{strings.Replace(head, "flakes", "flaks", 1) + first, "sheet.csv:1:129: row 1, column R: unknown heading \"flaks\"\n\tdid you mean \"flakes\"?\n", "a slip in a heading"},
		{strings.Replace(head, "foam", "gas", 1) + first, "sheet.csv:1:124: row 1, column Q: heading \"gas\" stands there twice\n\trename one\n\talso in column P\n", "a heading twice"},
		{strings.Replace(head, ",after", ",when", 1) + first, "sheet.csv:1: row 1: no column \"after\"\n\tadd it: the headings are id, kind, title, date, by, product.1, after, …\n" +
			"sheet.csv:1:114: row 1, column O: unknown heading \"when\"\n\theadings are the keys of an observation: id, kind, title, date, by, …, after, gas, foam, …\n", "a needed heading is missing"},
		{head + strings.Replace(first, "A jar", "A jar, again", 1), "sheet.csv:2:144: row 2, column T: more fields than headings\n\tput a field that holds a comma in quotes, or take the last comma away\n", "a comma without quotes"},
		{head + first + "jar-1,jar,Another,,,,,,,,,,,,15 min,none,,,\n", "sheet.csv:3:11: row 3, column C \"title\": \"Another\", and row 2 of the same jar says \"A jar\"\n\tsay it once, or give this jar an id of its own\n", "two jars of one id"},
		{head + first + "jar-1,,,,,,,,,,,,,,0 min,none,,,\n", "sheet.csv:3:20: row 3, column O \"after\": reading is not later than the one before\n\tput readings in the order of time, one for each time\n", "one time twice"},
		{head + first + "jar-1,,,,,,,,,,,,,,,none,,,\n", "sheet.csv:3:1: row 3, column A \"id\": a reading without its time\n\twrite how long after the last product under \"after\", as in 15 min\n", "no time"},
		{head + strings.Replace(first, "TRUE", "FALSE", 1), "sheet.csv:2:114: row 2, column O \"after\": gas vented in a vessel that was not closed\n\twrite closed: true under vessel, or gas: bubbles\n", "a hiss without a lid"},
		{head + strings.Replace(first, "jar-1", "", 1), "sheet.csv:2:1: row 2, column A \"id\": a jar without an id\n\twrite one such as bench-2026-k7\n", "no id"},
		{head + strings.Replace(first, "jar-1", "../jar", 1), "sheet.csv:2:1: row 2, column A \"id\": \"../jar\" is no id\n\tids are lower-case letters, digits and single hyphens, 64 at most: write \"jar\"\n", "an id that leads elsewhere"},
		{head + strings.Replace(first, "jar-1", "ob-1", 1), "sheet.csv:2:1: row 2, column A \"id\": observation \"ob-1\" is there already\n\tchoose another id; records are never replaced\n\tat data/observations/2026/ob-1.yaml:2:1\n", "a record that is there"},
		{head + "jar-9,jar,No product,2026-05-20,county agent,,,,,,,jar,1 qt,TRUE,0 min,none,,,\n", "sheet.csv:2:1: row 2, column A \"id\": observation without \"products\"\n\tadd products: what was mixed, in order of addition\n", "carrier alone is no observation"},
		{"id,kind\n\"jar", "sheet.csv:2:5: row 2: extraneous or missing \" in quoted-field\n\tput a field with quotes or line breaks in quotes, and write a quote in it twice\n", "an open quote"},
		{"id,kind\njar\xb0,x\n", "sheet.csv:2: not in UTF-8: a sign such as ° cannot be read\n\tsave it as \"CSV UTF-8\" in the spreadsheet\n", "another encoding"},
		{"PK\x03\x04\x00", "sheet.csv: not a table in UTF-8\n\tsave it as \"CSV UTF-8\" in the spreadsheet; a workbook is no table\n", "a workbook"},
	} {
		if got := check(t, c.table); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.why, got, c.want)
		}
	}
}

// TestOfficeFirst holds that nothing is imported into an office with problems.
func TestOfficeFirst(t *testing.T) {
	records, list := intake.Read("sheet.csv", []byte(head+first))
	if list.Stops() {
		t.Fatal(list)
	}
	broken, err := txtar.FS(txtar.Parse([]byte("-- data/site.yaml --\noffice: A\n")))
	if err != nil {
		t.Fatal(err)
	}
	if got := intake.Check(broken, "sheet", records); !got.Stops() || !strings.HasPrefix(got[0].Pos.File, "data/") {
		t.Errorf("got %v", got)
	}
	if got := intake.Check(small(t), "2026", records); !got.Stops() || !strings.Contains(got.String(), "--into NAME") {
		t.Errorf("a folder that is there: %v", got)
	}
}

// TestRoundTrip plans a trial of the demonstration office, fills its record sheet in,
// imports it, and finds in the office what was ticked.
func TestRoundTrip(t *testing.T) {
	office := os.DirFS("../..")
	book, problems := dataset.Load(office)
	if problems.Stops() {
		t.Fatal(problems)
	}
	planner := trial.New(compat.New(mix.NewIndex(book)))
	q := trial.Request{Question: trial.Workshop, Seed: 9, SprayVolume: unit.GallonPerAcre.Of(unit.Int(100)), Share: unit.Frac(1, 2), Waters: []mix.ID{"office-well"}}
	for _, name := range []string{"tartpitcher", "sallowmere", "brimbarrow"} {
		q.Mix = append(q.Mix, planner.Product(name, unit.Rate{}))
	}
	tr, err := planner.Trial(q)
	if err != nil {
		t.Fatal(err)
	}
	var sheet bytes.Buffer
	if err := tr.WriteSheet(&sheet, "bench-9"); err != nil {
		t.Fatal(err)
	}
	ticked := map[string]string{"date": "2026-06-02", "by": "county agent", "place": "upper-quillback", "temperature": "15 °C", "gas": "bubbles",
		"foam": "20 mL", "rise": "1 °C", "flakes": "trace", "gel": "none", "precipitate": "some", "layers": "none", "oil_film": "heavy",
		"redispersed": "partly", "reading.inversions": "5", "screen": "rinses-off", "mesh": "50", "ph": "6.4", "reading.note": "cloudy; slow"}
	table := fillIn(t, sheet.Bytes(), ticked)
	records, list := intake.Read("bench-9.csv", table)
	if list.Stops() {
		t.Fatalf("%s\n%s", list, table)
	}
	if list := intake.Check(office, "bench-9", records); len(list) > 0 {
		t.Fatalf("%s\n%s", list, records[0].Text)
	}
	withProducts := 0
	for _, j := range tr.Jars {
		if len(j.Products) > 0 {
			withProducts++
		}
	}
	if len(records) != withProducts || withProducts == 0 {
		t.Fatalf("%d records of %d jars", len(records), withProducts)
	}
	compareRecords(t, tr, write(t, records))
}

// write imports records into a copy of the office's data and loads it.
func write(t *testing.T, records []intake.Record) *mix.Book {
	t.Helper()
	copied := t.TempDir()
	if err := os.CopyFS(filepath.Join(copied, "data"), os.DirFS("../../data")); err != nil {
		t.Fatal(err)
	}
	if err := intake.Write(copied, "bench-9", records); err != nil {
		t.Fatal(err)
	}
	book, problems := dataset.Load(os.DirFS(copied))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return book
}

func compareRecords(t *testing.T, tr *trial.Trial, book *mix.Book) {
	x := mix.NewIndex(book)
	for _, j := range tr.Jars {
		if len(j.Products) == 0 {
			continue
		}
		o := x.Observation(mix.ID("bench-9-" + strings.ToLower(j.Code)))
		if o == nil {
			t.Fatalf("no record of jar %s", j.Code)
		}
		var products []mix.ID
		for n, p := range o.Products {
			products = append(products, p.ID)
			if !p.Rate.Equal(tr.Products[j.Products[n]].Rate) {
				t.Errorf("%s: rate %v", j.Code, p.Rate)
			}
		}
		var want []mix.ID
		for _, i := range j.Products {
			want = append(want, tr.Products[i].ID)
		}
		if !slices.Equal(products, want) || !o.OrderKnown || o.Vessel.Closed != j.Opening.Closed() || len(o.Readings) != 5 {
			t.Errorf("%s: products %v, closed %v, %d readings", j.Code, products, o.Vessel.Closed, len(o.Readings))
		}
		r := o.Readings[1]
		if r.After.String() != "15 min" || r.Gas != mix.Bubbles || r.Foam.Volume.String() != "20 mL" || r.Flakes != mix.Trace || r.Precipitate != mix.Some ||
			r.OilFilm != mix.Heavy || r.Redisperse != mix.Partly || r.Inversions != 5 || r.Screen != mix.RinsesOff || r.Mesh != 50 || r.Note["en"] != "cloudy; slow" {
			t.Errorf("%s: reading %+v", j.Code, r)
		}
	}
}

// fillIn writes the same answers into every empty cell that has one.
func fillIn(t *testing.T, sheet []byte, answers map[string]string) []byte {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(sheet)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		for i, name := range rows[0] {
			if row[i] == "" && answers[name] != "" {
				row[i] = answers[name]
			}
		}
	}
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestAllOrNothing holds that a failure halfway leaves no trace.
func TestAllOrNothing(t *testing.T) {
	office := t.TempDir()
	records, list := intake.Read("sheet.csv", []byte(head+first+strings.Replace(first, "jar-1", "jar-2", 1)))
	if list.Stops() || len(records) != 2 {
		t.Fatal(list)
	}
	spoiled := slices.Clone(records)
	spoiled[1].ID = mix.ID(strings.Repeat("x", 300)) // no file system takes the name
	if err := intake.Write(office, "sheet", spoiled); err == nil {
		t.Fatal("written all the same")
	}
	if left, err := os.ReadDir(filepath.Join(office, "data", "observations")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
	if err := intake.Write(office, "sheet", records); err != nil {
		t.Fatal(err)
	}
	if err := intake.Write(office, "sheet", records); err == nil {
		t.Error("a folder was replaced")
	}
	text, err := os.ReadFile(filepath.Join(office, "data", "observations", "sheet", "jar-2.yaml"))
	if err != nil || !bytes.Equal(text, records[1].Text) {
		t.Errorf("%v\n%s", err, text)
	}
}

func TestFolder(t *testing.T) {
	for in, want := range map[string]string{"C:\\sheets\\Bench day 3.CSV": "bench-day-3", "/a/b.c/2026_05.csv": "2026-05", "ñ.csv": "imported", ".csv": "csv", "x": "x"} {
		if got := intake.Folder(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// FuzzRead holds that no table makes the reader fail and that every problem lies
// inside the file.
func FuzzRead(f *testing.F) {
	f.Add(head + first)
	f.Add("id;kind\n\"a\nb\";\"c\"\n")
	f.Add("\ufeffid,gas\n°,\"\"\"\n")
	f.Add("id,kind,title,date,by,product.1,after\n,,,,,,\nx,y,z\n")
	f.Fuzz(func(t *testing.T, table string) {
		records, list := intake.Read("t.csv", []byte(table))
		lines := strings.Split(strings.TrimPrefix(table, "\ufeff"), "\n")
		for _, p := range list {
			if p.Pos.Line > len(lines) || p.Pos.Line > 0 && p.Pos.Col > len([]rune(lines[p.Pos.Line-1]))+1 {
				t.Errorf("%v lies outside the table", p)
			}
		}
		for _, r := range records {
			if !mix.ValidID(string(r.ID)) || bytes.Contains(r.Text, []byte("\r")) {
				t.Errorf("record %q\n%q", r.ID, r.Text)
			}
		}
	})
}
