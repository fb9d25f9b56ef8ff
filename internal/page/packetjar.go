package page

import (
	"strings"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// JarSheet is the two sides of one jar: its card and its record.
type JarSheet struct {
	Anchor  string
	Code    string
	Run, Of int
	Card    CardView
	Opening Opening
	Times   []string
	Rows    []RecordRow
	Blank   []Shape // an empty jar to draw into
	Closed  bool
}

// stockKey tells stocks apart: one of each product and strength.
type stockKey struct {
	product string
	parts   int
}

// fillStocks lists the stocks that a group makes before the first jar, and returns
// the letter of each.
func (l *leaf) fillStocks(p *PacketPage, t *trial.Trial) map[stockKey]string {
	letters := map[stockKey]string{}
	for _, s := range t.Stocks {
		product := &t.Products[s.Product]
		letter := string(rune('A' + len(letters)))
		letters[stockKey{product.Name, s.Stock.Parts}] = letter
		line := l.stockOf(&s.Stock, Link{Name: l.productName(product)}, letter)
		if s.Times > 1 {
			line.Times = l.t("packet.stock-times", "n", s.Times)
		}
		p.Stocks = append(p.Stocks, line)
	}
	return letters
}

// jarSheet makes the card and the record of the i-th jar.
func (l *leaf) jarSheet(t *trial.Trial, i int, letters map[stockKey]string, record *trial.RecordSheet) JarSheet {
	j := &t.Jars[i]
	s := JarSheet{Anchor: "jar-" + j.Code, Code: j.Code, Run: j.Run, Of: len(t.Jars), Closed: j.Opening.Closed(), Card: l.trialCard(j, letters)}
	s.Opening = Opening{Gas: !s.Closed, Kind: l.words.SourceKind(mix.CommonPractice), Rule: l.t("opening.rule-" + j.Opening.String()),
		Turn: l.turn(s.Closed)}
	for _, d := range record.Times {
		s.Times = append(s.Times, l.duration(d))
	}
	for _, c := range record.Rows {
		s.Rows = append(s.Rows, l.column(&c))
	}
	vessel := mix.Vessel{Type: "jar", Size: t.Vessel.Size, Liquid: j.Card.Recipe.Finished, Closed: s.Closed, Recorded: true}
	s.Blank = drawJar(&vessel, &mix.Reading{})
	return s
}

// turn says how a jar is mixed after each addition.
func (l *leaf) turn(closed bool) string {
	if !closed {
		return l.t("opening.swirl")
	}
	return l.t("opening.turn", "n", l.book().Routine.Inversions)
}

// trialCard is a card whose stocks were made for the whole trial.
func (l *leaf) trialCard(j *trial.Jar, letters map[stockKey]string) CardView {
	v := CardView{Measured: true}
	r := &j.Card.Recipe
	if !r.SprayVolume.IsZero() {
		v.SprayVolume = l.sprayVolume(r.SprayVolume)
	}
	if j.Water != "" {
		v.Water = Line{Phrase: l.name(j.Water)}
	}
	l.fillCard(&v, &j.Card, func(line *jar.Line) string { return letters[stockKey{line.Dose.Product.Name, line.Stock.Parts}] })
	v.Stocks, v.Vessel = nil, ""
	return v
}

// besideSigns are the messages that name what a record sheet asks for beside signs.
var besideSigns = map[string]string{"inversions": "record.after-turns", "mesh": "record.mesh", "note": "record.note"}

// column puts a heading of a record sheet into words.
func (l *leaf) column(c *trial.Column) RecordRow {
	field := strings.TrimPrefix(c.Name, "reading.")
	row := RecordRow{Field: field, Note: field == "note"}
	key := besideSigns[field]
	for _, s := range signs {
		if s.field == field {
			key, row.Unit = s.name, s.unit
		}
	}
	row.Name = capital(l.t(key))
	for _, w := range c.Words {
		row.Ticks = append(row.Ticks, l.tick(w))
	}
	return row
}

// LookView is one thing to look for.
type LookView struct {
	Name   string
	What   string
	Danger bool
	Alt    string
	Shapes []Shape
}

// look puts one thing to look for into words and, where glass shows it, a drawing.
func (l *leaf) look(k *trial.Look) LookView {
	v := LookView{Name: capital(l.words.Symptom(k.Symptom)), What: l.t("look." + k.Symptom.String()), Danger: k.Danger}
	if k.Drawn {
		v.Shapes = drawJar(&k.Vessel, &k.Reading)
		v.Alt = l.t("look.alt", "symptom", l.words.Symptom(k.Symptom))
	}
	return v
}

// LabelsPage is the labels of a packet on sheets of one size, to be printed as they
// are.
type LabelsPage struct {
	Frame
	Heading Phrase
	Stock   Phrase
	Paper   string // "letter" or "a4"
	Main    Link
	Sheets  []LabelSheet
}

// LabelSheet is one sheet, drawn in millimeters.
type LabelSheet struct {
	N             int
	Width, Height string
	Labels        []LabelView
}

// LabelView is one label.
type LabelView struct {
	X, Y, W, H string
	Code       string // large
	Line, Rule string // under it
	Open       bool
	CodeSize   string
	LineSize   string
	Left       string // of the text
	CodeY      string
	LineY      string
	RuleY      string
}

// papers are the sizes of sheets in mm: letter is 8.5 by 11 in, A4 by ISO 216.
var papers = map[string][2]string{"letter": {"215.9", "279.4"}, "a4": {"210", "297"}}

func (e *edition) labelsPage(t *mix.Trial, stock *mix.LabelStock) ([]byte, error) {
	l := e.newLeaf(packetLabelsPath(t.ID, stock.ID))
	p := &LabelsPage{Heading: l.phrase(t.Title), Stock: l.phrase(stock.Name), Paper: stock.Paper, Main: Link{l.link(packetPath(t.ID)), l.phrase(t.Title)}}
	if w := l.packet(t); w.err == nil {
		l.danger(w.packet.Cautions...)
		sheets, err := trial.New(l.Judge).LabelSheets(w.packet.Trial, &w.packet.Kit, stock.ID)
		if err != nil {
			return nil, err
		}
		for i := range sheets {
			p.Sheets = append(p.Sheets, l.labelSheet(&sheets[i], i+1))
		}
	}
	return l.finish("labels", p, head{title: l.t("labels.title", "packet", p.Heading.Text, "stock", p.Stock.Text), summary: l.t("labels.summary")})
}

func (l *leaf) labelSheet(s *trial.LabelSheet, n int) LabelSheet {
	v := LabelSheet{N: n, Width: papers[s.Stock.Paper][0], Height: papers[s.Stock.Paper][1]}
	for i := range s.Labels {
		v.Labels = append(v.Labels, l.label(&s.Labels[i], s.Stock))
	}
	return v
}

// mm writes a length for a drawing in millimeters.
func mm(d unit.Length) string { return d.In(unit.Millimeter).Short(2) }

// label lays one label out: a large code, a line, the rule for opening.
func (l *leaf) label(b *trial.Label, stock *mix.LabelStock) LabelView {
	h := stock.Height
	at := func(share unit.Number) string { return mm(b.Y.Add(h.Times(share))) }
	v := LabelView{X: mm(b.X), Y: mm(b.Y), W: mm(stock.Width), H: mm(h), Code: b.Code, Open: b.Opening == trial.Vented && b.Stock == "",
		Left: mm(b.X.Add(unit.Millimeter.Of(unit.Int(5)))), CodeY: at(unit.Frac(50, 100)), LineY: at(unit.Frac(70, 100)), RuleY: at(unit.Frac(86, 100)),
		CodeSize: mm(h.Times(unit.Frac(42, 100))), LineSize: mm(h.Times(unit.Frac(13, 100)))}
	if b.Stock == "" {
		v.Line = l.t("labels.jar", "group", b.Group, "run", b.Run)
		v.Rule = l.t("labels." + b.Opening.String())
		return v
	}
	v.Code = l.t("labels.stock", "parts", b.Parts)
	v.Line = l.t("labels.stock-of", "product", b.Stock, "group", b.Group)
	if b.Shake {
		v.Rule = l.t("card.shake")
	}
	return v
}
