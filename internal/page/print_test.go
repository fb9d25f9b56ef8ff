package page_test

import (
	"encoding/xml"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/templates"
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

// needs returns the path of a program; without it the test is skipped, but fails in
// CI.
func needs(t *testing.T, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed", program)
	} else if err != nil {
		t.Skipf("%s is not installed", program)
	}
	return path
}

// readBack reads words and their places out of a PDF with another program.
func readBack(t *testing.T, pdf []byte) *printed {
	t.Helper()
	reader := needs(t, "pdftotext")
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

// papers are the sheets that packets are printed on.
var papers = []struct {
	name string
	size chromedp.PaperSize
}{{"Letter", chromedp.PaperLetter}, {"A4", chromedp.PaperA4}}

// demonstration makes up the demonstration office as it is published, without its sheets.
func demonstration(t *testing.T) (*page.Publication, *mix.Book) {
	t.Helper()
	b, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatalf("the demonstration has problems:\n%s", problems)
	}
	x := mix.NewIndex(b)
	pub, problems := page.New(page.Inputs{Index: x, Judge: compat.New(x), Messages: catalogues(t), Templates: []fs.FS{templates.FS},
		Files: os.DirFS("../../data"), BaseURL: "https://example.org/tank/"})
	if problems.Stops() {
		t.Fatalf("the demonstration cannot be published:\n%s", problems)
	}
	return pub, b
}

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

// TestPacketsPrintClean prints every packet of the demonstration, the one for 24
// people in 6 groups over 8 jars among them, on both papers in both languages: each
// part fills its own sheet, each card lies before its record, nothing is cut and
// nothing leaves the margins.
func TestPacketsPrintClean(t *testing.T) {
	needs(t, "pdftotext")
	b := newBrowser(t)
	pub, book := demonstration(t)
	b.lay(t, pub, "style.css", "print-en.css", "print-es.css")
	room := false
	for i := range book.Trials {
		tr := &book.Trials[i]
		plan, kit := planOf(t, book, tr)
		room = room || kit.Persons == 24 && kit.Groups == 6 && len(plan.Jars) == 8
		for lang, heads := range parts {
			path := lang + "packet/" + string(tr.ID) + ".html"
			b.lay(t, pub, path)
			for _, paper := range papers {
				what := path + " on " + paper.name
				p := b.prints(t, path, chromedp.PDFPaper(paper.size))
				inside(t, what, p, 22)
				first := len(heads)
				if len(plan.Stocks) > 0 {
					first++
				}
				if want := first + 2*len(plan.Jars); len(p.Pages) != want {
					t.Errorf("%s: %d pages, want %d", what, len(p.Pages), want)
					continue
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
		}
	}
	if !room {
		t.Error("the demonstration has no packet for 24 people in 6 groups over 8 jars")
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

// TestRecipesPrintOnOnePage prints every recipe of the demonstration and all jars to
// run beside them.
func TestRecipesPrintOnOnePage(t *testing.T) {
	needs(t, "pdftotext")
	b := newBrowser(t)
	pub, _ := demonstration(t)
	b.lay(t, pub, "style.css", "print-en.css", "print-es.css")
	n := 0
	for _, path := range pub.Paths() {
		if !strings.Contains(path, "recipe/") {
			continue
		}
		n++
		b.lay(t, pub, path)
		for _, paper := range papers {
			p := b.prints(t, path, chromedp.PDFPaper(paper.size))
			inside(t, path+" on "+paper.name, p, 22)
			if len(p.Pages) != 1 {
				t.Errorf("%s on %s: %d pages", path, paper.name, len(p.Pages))
			}
		}
	}
	if n < 40 {
		t.Errorf("only %d recipes", n)
	}
}

// TestLabelsPrintOnTheirSheets, at full size and without margins.
func TestLabelsPrintOnTheirSheets(t *testing.T) {
	needs(t, "pdftotext")
	b := newBrowser(t)
	pub, book := demonstration(t)
	b.lay(t, pub, "style.css", "print-en.css")
	for i := range book.Routine.Labels {
		s := &book.Routine.Labels[i]
		tr := &book.Trials[0]
		plan, kit := planOf(t, book, tr)
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
	}
}

// TestPrintIsBlackOnWhite: on paper every word stands out in grey, those on verdict
// tones too.
func TestPrintIsBlackOnWhite(t *testing.T) {
	b := newBrowser(t)
	do(t, b, call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	for _, path := range []string{"recipe/pinch.html", "packet/lid-room.html", "together/acid--carbonate.html", "matrix.html"} {
		b.open(t, path, 1280, 800)
		worst := do(t, b, chromedp.Evaluate[[]any](contrast))
		if ratio, ok := worst[0].(float64); !ok || ratio < 7 {
			t.Errorf("%s in print: contrast %v at %v", path, worst[0], worst[1])
		}
	}
}
