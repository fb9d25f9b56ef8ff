package page_test

import (
	"cmp"
	"encoding/xml"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"golang.org/x/net/html"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/trial"
)

// printed is a PDF as it is read back.
type printed struct {
	Pages []printedPage `xml:"body>doc>page"`
}

// printedPage is one sheet; lengths are points, from its upper left corner.
type printedPage struct {
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Words  []struct {
		XMin float64 `xml:"xMin,attr"`
		YMin float64 `xml:"yMin,attr"`
		XMax float64 `xml:"xMax,attr"`
		YMax float64 `xml:"yMax,attr"`
		Text string  `xml:",chardata"`
	} `xml:"word"`
}

func (p *printedPage) text() string {
	var words []string
	for _, w := range p.Words {
		words = append(words, w.Text)
	}
	return strings.Join(words, " ")
}

// lowest is how far down the page anything is written above its last line, which is
// the page's number.
func (p *printedPage) lowest() float64 {
	low := 0.0
	for _, w := range p.Words {
		if w.YMax < p.Height-40 {
			low = max(low, w.YMax)
		}
	}
	return low
}

// readBack reads words and their places out of a PDF with another program.
func readBack(t *testing.T, pdf []byte) *printed {
	t.Helper()
	reader := outside.Program(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "page.pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(reader, "-bbox", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(strings.NewReader(string(out)))
	d.Strict, d.Entity = false, xml.HTMLEntity
	var p printed
	if err := d.Decode(&p); err != nil || len(p.Pages) == 0 {
		t.Fatalf("%d pages, error %v", len(p.Pages), err)
	}
	return &p
}

type paper struct {
	name string
	size chromedp.PaperSize
}

// papers are the sheets that packets are printed on.
var papers = []paper{{"Letter", chromedp.PaperLetter}, {"A4", chromedp.PaperA4}}

// lay writes files of a publication into the browser's folder.
func (b *browser) lay(t *testing.T, pub *page.Publication, paths ...string) {
	t.Helper()
	for _, p := range paths {
		f, ok, err := pub.File(p)
		if !ok || err != nil {
			t.Fatalf("%s: published %v, error %v", p, ok, err)
		}
		name := filepath.Join(b.root, filepath.FromSlash(p))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, f.Body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func (b *browser) prints(t *testing.T, path string, opts ...chromedp.PDFOption) *printed {
	t.Helper()
	b.open(t, path, 1280, 800)
	return readBack(t, do(t, b, chromedp.PrintToPDF(opts...)))
}

// unprintable is the border that common printers leave white, in points: 5 mm.
const unprintable = 14

// inside holds every word of a print against the margins: those of the text at the
// sides, and what a printer can reach at the ends, where running heads stand.
func inside(t *testing.T, what string, p *printed, side float64) {
	t.Helper()
	for n := range p.Pages {
		s := &p.Pages[n]
		for _, w := range s.Words {
			if w.XMin < side || w.XMax > s.Width-side+1 || side > 0 && (w.YMin < unprintable || w.YMax > s.Height-unprintable) {
				t.Errorf("%s, page %d: %q at %.0f, %.0f to %.0f, %.0f leaves the margins", what, n+1, w.Text, w.XMin, w.YMin, w.XMax, w.YMax)
				break
			}
		}
		if len(s.Words) < 10 {
			t.Errorf("%s, page %d is all but empty: %q", what, n+1, s.text())
		}
	}
}

// parts are how the sheets of a packet before its cards begin, by language.
var parts = map[string][]string{
	"":    {"", "Kit list", "For the leader alone", "What to look for", "Clean-up and disposal"},
	"es/": {"", "Lista de materiales", "Solo para quien dirige", "Qué buscar", "Limpieza y desecho"},
}

// soak asks for every page of the demonstration instead of those that fill the most.
var soak = os.Getenv("TANKLEAF_SOAK") != ""

// TestPrints prints with one browser and reads the PDF back with another program.
func TestPrints(t *testing.T) {
	outside.Program(t, "pdftotext")
	b := newBrowser(t)
	pub, book := demonstration(t)
	b.lay(t, pub, "style.css", "print-en.css", "print-es.css")
	t.Run("packets", func(t *testing.T) { packetsPrintClean(t, b, pub, book) })
	t.Run("recipes", func(t *testing.T) { recipesPrintOnOnePage(t, b, pub) })
	t.Run("labels", func(t *testing.T) { labelsPrintOnTheirSheets(t, b, pub, book) })
	t.Run("wall chart", func(t *testing.T) { wallChartPrintsOnOneSheet(t, b, pub, book) })
	t.Run("grey", func(t *testing.T) { printIsBlackOnWhite(t, b) })
}

// packetsPrintClean prints the packet for 24 people in 6 groups over 8 jars on both
// papers in both languages, the others where they are fullest: each part fills its own
// sheet, each card lies before its record, nothing is cut and nothing leaves the
// margins.
func packetsPrintClean(t *testing.T, b *browser, pub *page.Publication, book *mix.Book) {
	room := false
	for i := range book.Trials {
		tr := &book.Trials[i]
		plan, kit := planOf(t, book, tr)
		large := kit.Persons == 24 && kit.Groups == 6 && len(plan.Jars) == 8
		room = room || large
		for lang := range parts {
			for _, paper := range papers {
				if fullest := lang == "es/" && paper.name == "Letter"; large || fullest || soak {
					packetPrintsClean(t, b, pub, plan, lang+"packet/"+string(tr.ID)+".html", paper)
				}
			}
		}
	}
	if !room {
		t.Error("the demonstration has no packet for 24 people in 6 groups over 8 jars")
	}
}

func packetPrintsClean(t *testing.T, b *browser, pub *page.Publication, plan *trial.Trial, path string, on paper) {
	b.lay(t, pub, path)
	what := path + " on " + on.name
	p := b.prints(t, path, chromedp.PDFPaper(on.size))
	inside(t, what, p, 22)
	heads := parts[strings.TrimSuffix(path[:strings.Index(path, "packet/")], "packet/")]
	first := len(heads)
	if len(plan.Stocks) > 0 {
		first++
	}
	if want := first + 2*len(plan.Jars); len(p.Pages) != want {
		t.Errorf("%s: %d pages, want %d", what, len(p.Pages), want)
		return
	}
	pages := strconv.Itoa(first+1) + " to " + strconv.Itoa(len(p.Pages))
	if got := p.Pages[0].text(); !strings.Contains(strings.ReplaceAll(got, " a ", " to "), pages) {
		t.Errorf("%s: the cover does not say that cards are pages %s", what, pages)
	}
	for n, head := range heads {
		if got := p.Pages[n].text(); !strings.Contains(got, head) {
			t.Errorf("%s: page %d is not %q", what, n+1, head)
		}
	}
	for n := range plan.Jars {
		cardAndRecord(t, what, &p.Pages[first+2*n], &p.Pages[first+2*n+1], plan.Jars[n].Code)
	}
}

// cardAndRecord looks at the two sheets of a jar: both name it, the table of doses and
// the boxes are whole, and the record fills its sheet.
func cardAndRecord(t *testing.T, what string, card, record *printedPage, code string) {
	t.Helper()
	for _, s := range []*printedPage{card, record} {
		if !slices.Contains(strings.Fields(s.text()), code) {
			t.Errorf("%s: a sheet of jar %s does not name it", what, code)
		}
	}
	if got := card.text(); !strings.Contains(got, "First water") && !strings.Contains(got, "Primera agua") || !strings.Contains(got, "Top up") && !strings.Contains(got, "Completar") {
		t.Errorf("%s: the card of %s is cut", what, code)
	}
	if got := record.text(); !strings.Contains(got, "16 h") || !strings.Contains(got, "pH") || !strings.Contains(got, "Draw it") && !strings.Contains(got, "Dibújelo") {
		t.Errorf("%s: the record of %s is cut", what, code)
	}
	if low := record.lowest(); low < record.Height*0.82 {
		t.Errorf("%s: the record of %s ends at %.0f of %.0f points", what, code, low, record.Height)
	}
}

// recipesPrintOnOnePage prints the recipes and the jars to run beside them that hold
// the most text, and those that tell of gas.
func recipesPrintOnOnePage(t *testing.T, b *browser, pub *page.Publication) {
	type sized struct {
		path string
		size int
	}
	var all []sized
	for _, path := range pub.Paths() {
		if !strings.Contains(path, "recipe/") {
			continue
		}
		doc := published(t, pub, path)
		size := 0
		for _, part := range []string{"known", "cautions", "card", "opening-rule"} {
			for _, n := range find(doc, class(part)) {
				size += len(text(n))
			}
		}
		if len(find(doc, class("gas-bound"))) > 0 {
			size += 10000
		}
		all = append(all, sized{path, size})
	}
	if len(all) < 40 {
		t.Fatalf("only %d recipes", len(all))
	}
	slices.SortFunc(all, func(a, b sized) int { return cmp.Or(cmp.Compare(b.size, a.size), cmp.Compare(a.path, b.path)) })
	for n, r := range all {
		for _, on := range papers {
			if most := n < 12 && on.name == "Letter" || n < 2; !most && !soak {
				continue
			}
			b.lay(t, pub, r.path)
			p := b.prints(t, r.path, chromedp.PDFPaper(on.size))
			inside(t, r.path+" on "+on.name, p, 22)
			if len(p.Pages) != 1 {
				t.Errorf("%s on %s: %d pages", r.path, on.name, len(p.Pages))
			}
		}
	}
}

// labelsPrintOnTheirSheets, at full size and without margins.
func labelsPrintOnTheirSheets(t *testing.T, b *browser, pub *page.Publication, book *mix.Book) {
	tr := &book.Trials[0]
	plan, kit := planOf(t, book, tr)
	for i := range book.Routine.Labels {
		s := &book.Routine.Labels[i]
		if s.ID != "letter-30" && s.ID != "a4-21" && !soak {
			continue
		}
		path := "packet/" + string(tr.ID) + "--labels-" + string(s.ID) + ".html"
		b.lay(t, pub, path)
		p := b.prints(t, path, chromedp.PDFPreferCSSPageSize())
		labels, each := (len(plan.Jars)+len(plan.Stocks))*kit.Groups, s.Across*s.Down
		if want := (labels + each - 1) / each; len(p.Pages) != want {
			t.Errorf("%s: %d sheets, want %d", path, len(p.Pages), want)
		}
		inside(t, path, p, 0)
		if want := map[string]float64{"letter": 612, "a4": 595}[s.Paper]; p.Pages[0].Width < want-1 || p.Pages[0].Width > want+2 {
			t.Errorf("%s is %g points wide, want %g", path, p.Pages[0].Width, want)
		}
		said := strings.Fields(p.Pages[0].text() + " " + p.Pages[len(p.Pages)-1].text())
		for _, j := range plan.Jars {
			if !slices.Contains(said, j.Code) {
				t.Errorf("%s: no label of %s can be read", path, j.Code)
			}
		}
	}
}

// wallChartPrintsOnOneSheet of ISO A2, with every class of the matrix on it.
func wallChartPrintsOnOneSheet(t *testing.T, b *browser, pub *page.Publication, book *mix.Book) {
	for _, path := range []string{"matrix.html", "es/matrix.html"} {
		b.lay(t, pub, path)
		p := b.prints(t, path, chromedp.PDFPreferCSSPageSize())
		if len(p.Pages) != 1 {
			t.Errorf("%s: %d sheets", path, len(p.Pages))
		}
		inside(t, path, p, 14)
		if s := &p.Pages[0]; s.Width < 1190 || s.Width > 1192 || s.Height < 1683 || s.Height > 1685 {
			t.Errorf("%s is %g by %g points, want ISO A2, 1191 by 1684", path, s.Width, s.Height)
		}
		rows := find(published(t, pub, path), func(n *html.Node) bool { return attr(n, "scope") == "row" || attr(n, "scope") == "col" })
		said := map[string]int{}
		for _, w := range p.Pages[0].Words {
			said[w.Text]++
		}
		if len(rows) < 40 {
			t.Errorf("%s has %d rows and columns", path, len(rows))
		}
		for _, r := range rows {
			for _, word := range strings.Fields(text(r)) { // a long name stands in two lines
				if said[word]--; said[word] < 0 {
					t.Errorf("%s: %q is not on the sheet as row and as column", path, text(r))
				}
			}
		}
	}
}

// printIsBlackOnWhite: on paper every word stands out in grey, those on verdict
// tones too.
func printIsBlackOnWhite(t *testing.T, b *browser) {
	do(t, b, call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	for _, path := range []string{"recipe/pinch.html", "packet/lid-room.html", "together/acid--carbonate.html", "matrix.html"} {
		b.open(t, path, 1280, 800)
		worst := do(t, b, chromedp.Evaluate[[]any](contrast))
		if ratio, ok := worst[0].(float64); !ok || ratio < 7 {
			t.Errorf("%s in print: contrast %v at %v", path, worst[0], worst[1])
		}
	}
}
