package page_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/trial"
)

// plan is a trial of the fixture with its kit, worked out beside the pages.
func plan(t *testing.T, id mix.ID) (*trial.Trial, trial.Kit) {
	t.Helper()
	b := book(t)
	return planOf(t, b, mix.NewIndex(b).Trial(id))
}

func planOf(t *testing.T, b *mix.Book, of *mix.Trial) (*trial.Trial, trial.Kit) {
	t.Helper()
	p := trial.New(compat.New(mix.NewIndex(b)))
	tr, err := p.Trial(p.FromBook(of))
	if err != nil {
		t.Fatal(err)
	}
	k, err := p.Kit(tr, trial.PeopleOf(of))
	if err != nil {
		t.Fatal(err)
	}
	return tr, k
}

// TestPacketHasACardAndARecordForEachJar, in the order of runs, and the cards do not
// say which jar is which.
func TestPacketHasACardAndARecordForEachJar(t *testing.T) {
	tr, _ := plan(t, "lid-room")
	doc := site(t)["packet/lid-room.html"]
	cards, records := find(doc, class("jar-card")), find(doc, class("record-sheet"))
	if len(cards) != len(tr.Jars) || len(records) != len(tr.Jars) || len(cards) < 5 {
		t.Fatalf("%d cards and %d records for %d jars", len(cards), len(records), len(tr.Jars))
	}
	for i, card := range cards {
		j := &tr.Jars[i]
		if got := first(t, card, "code", class("jar-code")); got != j.Code {
			t.Errorf("card %d is of jar %s, want %s", i+1, got, j.Code)
		}
		if got := first(t, records[i], "code", class("jar-code")); got != j.Code {
			t.Errorf("record %d is of jar %s, want %s", i+1, got, j.Code)
		}
		if tells := regexp.MustCompile(`\balone\b|as it is|Another order|turned round`).FindString(text(card)); tells != "" {
			t.Errorf("the card of %s gives it away: %q", j.Code, tells)
		}
		opening := find(card, class("opening-rule"))
		if len(opening) != 1 || hasClass(opening[0], "hazard") == j.Opening.Closed() {
			t.Errorf("the card of %s does not carry its rule for opening", j.Code)
		}
		if rows := len(find(find(card, class("doses"))[0], tag("tr"))); rows != len(j.Products)+3 {
			t.Errorf("the card of %s has %d rows, want %d products, two waters and the head", j.Code, rows, len(j.Products))
		}
	}
	key := find(doc, class("key-list"))[0]
	for i := range tr.Jars {
		if !strings.Contains(text(key), tr.Jars[i].Code) {
			t.Errorf("the leader's key leaves %s out", tr.Jars[i].Code)
		}
	}
}

// TestRecordSheetTicksTheWordsOfTheData: a row for each thing to look for, a column
// for each time, boxes in the words of the data files; an open jar has no box for firm
// walls.
func TestRecordSheetTicksTheWordsOfTheData(t *testing.T) {
	tr, _ := plan(t, "lid-room")
	pages := site(t)
	for i, sheet := range tr.RecordSheets() {
		table := find(find(pages["packet/lid-room.html"], class("record-sheet"))[i], class("ticks"))[0]
		heads := find(table, func(n *html.Node) bool { return attr(n, "scope") == "col" })
		if len(heads) != len(sheet.Times)+1 {
			t.Errorf("%d columns, want one a time of %d", len(heads), len(sheet.Times))
		}
		rows := find(table, func(n *html.Node) bool { return n.Data == "tr" })[2:]
		for n, want := range sheet.Rows {
			cells := find(rows[n], tag("td"))
			if len(cells) != len(sheet.Times) || text(cells[0]) != strings.Join(want.Words, " ") && want.Words != nil {
				t.Errorf("%s of %s: %d cells, the first with %q, want %q", want.Name, sheet.Code, len(cells), text(cells[0]), want.Words)
			}
			if boxes := len(find(cells[0], class("tick-box"))); boxes != len(want.Words) {
				t.Errorf("%s: %d boxes for %q", want.Name, boxes, want.Words)
			}
		}
	}
	spanish := find(find(pages["es/packet/lid-room.html"], class("record-sheet"))[0], class("data-words"))
	if len(spanish) < 7 || !strings.HasPrefix(text(spanish[0]), "none · bubbles") {
		t.Error("the Spanish sheet does not give the words that go into the record")
	}
}

// TestKitIsThatOfTheTrial: what stands on the page is what was counted.
func TestKitIsThatOfTheTrial(t *testing.T) {
	tr, k := plan(t, "lid-room")
	doc := site(t)["packet/lid-room.html"]
	got := text(find(doc, class("kit"))[0])
	for _, p := range k.Products {
		if want := fmt.Sprintf("%s %s %s %s", tr.Products[p.Product].Name, p.Cards.Base().Short(1), p.Cards.BaseUnit(), p.Bring.Base().Short(1)); !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
	for _, want := range []string{"For 8 people in 2 groups: " + strconv.Itoa(k.Jars) + " jars to pour.", "With 10 % to spare.",
		"Everybody wears", fmt.Sprintf("Pairs of gloves 8 %d", 8+1), "Clock 2 2", fmt.Sprintf("%d %d", k.Vessels.Needed, k.Vessels.Total())} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
}

// TestPacketTellsWhatIsDangerousFirst: the caution blocks stand on the cover, before
// the kit, and what endangers people leads the list of things to look for.
func TestPacketTellsWhatIsDangerousFirst(t *testing.T) {
	doc := site(t)["packet/lid-room.html"]
	cover := find(doc, class("cover"))[0]
	var blocks []string
	for _, n := range find(cover, func(n *html.Node) bool { return attr(n, "data-caution") != "" }) {
		blocks = append(blocks, attr(n, "data-caution"))
	}
	if !slices.Equal(blocks, []string{"pressure", "concentrate", "general"}) {
		t.Errorf("cautions on the cover: %q", blocks)
	}
	if n := len(find(doc, func(n *html.Node) bool { return attr(n, "data-caution") == "general" })); n != 1 {
		t.Errorf("the general caution stands %d times", n)
	}
	looks := find(find(doc, class("look-list"))[0], tag("li"))
	calm := false
	for _, li := range looks {
		if danger := hasClass(li, "danger"); danger && calm {
			t.Errorf("%q comes after what is harmless", text(li))
		} else if !danger {
			calm = true
		}
	}
	if drawn := len(find(find(doc, class("look-list"))[0], tag("svg"))); drawn < 7 || len(looks) < 9 {
		t.Errorf("%d things to look for, %d drawn", len(looks), drawn)
	}
}

// TestLegendHasWordsForItsDrawings: each drawn thing to look for is a drawing of a jar
// with its name as text, no two alike; what glass does not show is not drawn.
func TestLegendHasWordsForItsDrawings(t *testing.T) {
	seen := map[string]string{}
	for _, li := range find(find(site(t)["packet/lid-room.html"], class("look-list"))[0], tag("li")) {
		name := strings.ToLower(text(find(li, tag("h3"))[0]))
		drawn := find(li, tag("svg"))
		if hidden := name == "heat" || strings.HasPrefix(name, "residue"); hidden == (len(drawn) > 0) {
			t.Errorf("%s: drawn %v", name, len(drawn) > 0)
		}
		if len(drawn) == 0 {
			continue
		}
		if alt := strings.ToLower(attr(drawn[0], "aria-label")); attr(drawn[0], "role") != "img" || !strings.Contains(alt, name) {
			t.Errorf("%s is drawn as %q", name, alt)
		}
		shapes := ""
		for _, p := range find(drawn[0], tag("path")) {
			shapes += attr(p, "class") + attr(p, "d")
		}
		if other := seen[shapes]; other != "" {
			t.Errorf("%s is drawn as %s is", name, other)
		}
		seen[shapes] = name
	}
	if len(seen) < 6 {
		t.Errorf("only %d are drawn", len(seen))
	}
}

// TestLabelsLieOnTheirSheets: a label for each jar of each group, inside the sheet.
func TestLabelsLieOnTheirSheets(t *testing.T) {
	tr, k := plan(t, "lid-room")
	pages := site(t)
	for page, size := range map[string][2]float64{"packet/lid-room--labels-letter-10.html": {215.9, 279.4}, "es/packet/lid-room--labels-a4-21.html": {210, 297}} {
		edges := find(pages[page], class("label-edge"))
		if want := len(tr.Jars)*k.Groups + len(tr.Stocks)*k.Groups; len(edges) != want {
			t.Errorf("%s: %d labels, want %d", page, len(edges), want)
		}
		for _, e := range edges {
			x, y, w, h := number(t, e, "x"), number(t, e, "y"), number(t, e, "width"), number(t, e, "height")
			if x < 0 || y < 0 || x+w > size[0]+0.01 || y+h > size[1]+0.01 {
				t.Errorf("%s: a label at %g, %g leaves the sheet", page, x, y)
			}
		}
		for _, j := range tr.Jars {
			if n := strings.Count(text(pages[page]), " "+j.Code+" "); n != k.Groups {
				t.Errorf("%s: %d labels of %s for %d groups", page, n, j.Code, k.Groups)
			}
		}
	}
}

func number(t *testing.T, n *html.Node, key string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(attr(n, key), 64)
	if err != nil {
		t.Fatalf("%s is %q", key, attr(n, key))
	}
	return f
}

// TestPacketSheetIsATable that a spreadsheet opens, with a line for each jar that
// holds a product and each time.
func TestPacketSheetIsATable(t *testing.T) {
	tr, _ := plan(t, "lid-room")
	rows, err := csv.NewReader(bytes.NewReader(publish(t, office(t))["packet/lid-room.csv"])).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := 1
	for i := range tr.Jars {
		if len(tr.Jars[i].Products) > 0 {
			want += len(tr.Routine.Readings)
		}
	}
	if len(rows) != want || rows[0][0] != "id" {
		t.Errorf("%d lines under %q, want %d", len(rows), rows[0], want)
	}
}

// TestCodeLeadsBack: another program reads the code on the cover, and finds the
// address of the page in the reader's language. Without an address there is no code.
func TestCodeLeadsBack(t *testing.T) {
	if codes := find(site(t)["packet/lid-room.html"], class("qr")); len(codes) != 0 {
		t.Error("a code although nobody knows where the site will lie")
	}
	reader := outside.Program(t, "zbarimg")
	in := office(t)
	in.BaseURL = "https://example.org/tank/"
	pages := parsed(t, publish(t, in))
	for _, page := range []string{"packet/lid-room.html", "es/packet/powder-first.html", "recipe/pinch.html"} {
		svg := find(pages[page], class("qr"))
		if len(svg) != 1 {
			t.Errorf("%s: %d codes", page, len(svg))
			continue
		}
		file := filepath.Join(t.TempDir(), "code.pbm")
		if err := os.WriteFile(file, modules(t, svg[0]), 0o644); err != nil {
			t.Fatal(err)
		}
		got, err := exec.Command(reader, "--raw", "-q", file).Output()
		if want := in.BaseURL + page; err != nil || strings.TrimSpace(string(got)) != want {
			t.Errorf("the code on %s reads %q, error %v", page, got, err)
		}
	}
}

var darkRun = regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-\d+z`)

// modules draws a code of a page as a bitmap, 6 dots a module.
func modules(t *testing.T, svg *html.Node) []byte {
	t.Helper()
	box := strings.Fields(attr(svg, "viewbox") + attr(svg, "viewBox"))
	side, err := strconv.Atoi(box[len(box)-1])
	if err != nil {
		t.Fatal(err)
	}
	const dots = 6
	dark := make([]bool, side*side)
	for _, m := range darkRun.FindAllStringSubmatch(attr(find(svg, class("qr-dark"))[0], "d"), -1) {
		x, _ := strconv.Atoi(m[1])
		y, _ := strconv.Atoi(m[2])
		run, _ := strconv.Atoi(m[3])
		for i := range run {
			dark[y*side+x+i] = true
		}
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, "P1\n%d %d\n", side*dots, side*dots)
	for y := range side * dots {
		for x := range side * dots {
			bit := byte('0')
			if dark[y/dots*side+x/dots] {
				bit = '1'
			}
			out.WriteByte(bit)
		}
		out.WriteByte('\n')
	}
	return out.Bytes()
}

// TestTrialThatCannotBePouredSaysWhy, and prints no sheet.
func TestTrialThatCannotBePouredSaysWhy(t *testing.T) {
	b := book(t)
	b.Site.Jars = nil
	pages := parsed(t, publish(t, inputs(t, b)))
	doc := pages["packet/lid-room.html"]
	if len(find(doc, class("sheet"))) != 0 || len(find(doc, class("note"))) != 1 {
		t.Error("a packet without jars prints sheets, or does not say why not")
	}
	if n := len(find(doc, func(n *html.Node) bool { return attr(n, "data-caution") == "general" })); n != 1 {
		t.Errorf("the general caution stands %d times", n)
	}
}
