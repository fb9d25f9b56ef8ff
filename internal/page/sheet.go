package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
)

// SheetsPage lists all sheets by topic.
type SheetsPage struct {
	Frame
	Topics []TopicGroup
}

// TopicGroup is the sheets of one topic.
type TopicGroup struct {
	Name, Anchor string
	Sheets       []SheetCard
}

// SheetCard is one sheet in a list.
type SheetCard struct {
	Link
	Summary Phrase
	Topic   string
	Overdue bool
}

func (l *leaf) sheetCard(s *sheet.Sheet) SheetCard {
	lang := s.Lang
	if lang == l.lang {
		lang = ""
	}
	return SheetCard{Link{l.link(sheetPath(s.Slug)), Phrase{s.Title, lang}}, Phrase{s.Summary, lang},
		l.t("topic." + s.Topic.String()), s.Overdue(l.book().Site.Published)}
}

// sheetCards returns cards for slugs, in the order of the index of sheets.
func (l *leaf) sheetCards(slugs []mix.ID) []SheetCard {
	var cards []SheetCard
	for _, s := range l.sheetOrder() {
		if slices.Contains(slugs, s.Slug) {
			cards = append(cards, l.sheetCard(s))
		}
	}
	return cards
}

// sheetOrder returns the edition's sheets by topic, place within it, and title.
func (e *edition) sheetOrder() []*sheet.Sheet {
	var all []*sheet.Sheet
	for _, s := range e.sheets {
		all = append(all, s)
	}
	place := func(s *sheet.Sheet) int {
		if s.Order == 0 {
			return 1 << 30
		}
		return s.Order
	}
	slices.SortFunc(all, func(a, b *sheet.Sheet) int {
		return cmp.Or(cmp.Compare(a.Topic, b.Topic), cmp.Compare(place(a), place(b)), e.compare(a.Title, b.Title), cmp.Compare(a.Slug, b.Slug))
	})
	return all
}

func (e *edition) sheetsPage() ([]byte, error) {
	l := e.newLeaf("sheets.html")
	p := &SheetsPage{}
	for _, s := range e.sheetOrder() {
		name := l.t("topic." + s.Topic.String())
		if n := len(p.Topics); n == 0 || p.Topics[n-1].Name != name {
			p.Topics = append(p.Topics, TopicGroup{Name: name, Anchor: "topic-" + s.Topic.String()})
		}
		last := &p.Topics[len(p.Topics)-1]
		card := l.sheetCard(s)
		card.Topic = "" // the heading says it
		last.Sheets = append(last.Sheets, card)
	}
	return l.finish("sheets", p, head{l.t("sheets.title"), l.t("sheets.summary")})
}

// SheetPage is one fact sheet.
type SheetPage struct {
	Frame
	Card     SheetCard
	SheetIn  mix.Lang // the sheet's language when it is not the page's
	Other    Link     // the original, when this is not it
	Author   string
	Reviewed string
	ReviewBy string
	Contents []Link
	Pieces   []Piece
	Classes  []Link
}

// Piece is a part of a sheet: prose or one of the blocks. One field is set.
type Piece struct {
	Prose       template.HTML
	Matrix      *Matrix
	Verdict     *VerdictPiece
	Recipe      *RecipePiece
	Observation *ObservationPiece
	Source      *Line
	Caution     *CautionView
	Note        Phrase
}

// VerdictPiece is the verdict of a mix inside a sheet.
type VerdictPiece struct {
	Title  string
	Given  string // the situation it is judged in
	Answer AnswerView
	Href   string
	Rests  []Link // the records that bear on it, what decides first
	More   int    // how many of them are left out
}

// mostRests is how many records a verdict in a sheet names.
const mostRests = 8

// RecipePiece is a recipe inside a sheet.
type RecipePiece struct {
	Title Phrase
	Href  string
	Card  CardView
}

// ObservationPiece is an observation inside a sheet.
type ObservationPiece struct {
	Line   ObservationLine
	Jars   []JarDrawing
	Record template.HTML
}

func (e *edition) sheetPage(s *sheet.Sheet) ([]byte, error) {
	l := e.newLeaf(sheetPath(s.Slug))
	p := &SheetPage{Card: l.sheetCard(s), Author: l.by(s.Author),
		Reviewed: l.words.Date(s.Reviewed), ReviewBy: l.words.Date(s.ReviewBy)}
	if s.Lang != l.lang {
		p.SheetIn = s.Lang
	}
	l.danger(s.Hazards()...)
	for _, h := range s.Headings {
		if h.Level == 2 {
			p.Contents = append(p.Contents, Link{"#" + h.Anchor, Phrase{h.Text, p.SheetIn}})
		}
	}
	body, err := s.Body(sheet.View{Href: l.target, Back: l.t("sheet.back")})
	if err != nil {
		return nil, err
	}
	for _, b := range body {
		piece, err := l.piece(s, b)
		if err != nil {
			return nil, err
		}
		p.Pieces = append(p.Pieces, piece)
	}
	p.Classes = l.items(refIDs(s.Classes))
	return l.finish("sheet", p, head{s.Title, s.Summary})
}

func refIDs(refs []mix.Ref) []mix.ID {
	ids := make([]mix.ID, len(refs))
	for i, r := range refs {
		ids[i] = r.ID
	}
	return ids
}

// target returns the address of what a sheet points at.
func (l *leaf) target(t sheet.Target) string {
	switch t.To {
	case sheet.ToClass:
		return l.link(classPath(t.ID))
	case sheet.ToProduct:
		return l.link(productPath(t.ID))
	case sheet.ToSheet:
		return l.link(sheetPath(t.ID))
	case sheet.ToSource:
		return l.link(sourcePath(t.ID))
	case sheet.ToObservation:
		return l.link(observationPath(t.ID))
	case sheet.ToRecipe:
		return l.link(recipePath(t.ID))
	case sheet.ToInvestigation:
		return l.link(investigationPath(t.ID))
	case sheet.ToNotice:
		return l.link(noticePath(t.ID))
	case sheet.ToPlace:
		return l.link("notices.html#" + placeAnchor(t.ID))
	case sheet.ToWater:
		return l.link("data.html#water-" + string(t.ID))
	case sheet.ToCrop:
		return l.link("unknown.html#crop-" + string(t.ID))
	case sheet.ToFile:
		return l.asset(cleanPath(t.File))
	case sheet.NoRecord:
	}
	return ""
}

// piece turns a part of a sheet into what is shown. A caution that stands in the
// text is the page's block for its hazard; a second one for the same hazard
// leads to the first.
func (l *leaf) piece(s *sheet.Sheet, part sheet.Piece) (Piece, error) {
	note := func(text string) Phrase {
		if text == "" || s.Lang == l.lang {
			return Phrase{Text: text}
		}
		return Phrase{text, s.Lang}
	}
	switch b := part.(type) {
	case sheet.Prose:
		return Piece{Prose: b.HTML}, nil
	case *sheet.MatrixBlock:
		m := l.cutOut(b)
		m.Caption = note(b.Caption)
		return Piece{Matrix: &m}, nil
	case *sheet.VerdictBlock:
		return Piece{Verdict: l.verdictPiece(b), Note: note(b.Note)}, nil
	case *sheet.RecipeBlock:
		return Piece{Recipe: l.recipePiece(b), Note: note(b.Note)}, nil
	case *sheet.ObservationBlock:
		o, err := l.observationPiece(b)
		return Piece{Observation: o, Note: note(b.Note)}, err
	case *sheet.SourceBlock:
		line := Line{Phrase: Phrase{Text: l.Index.Source(b.ID).Title}, Href: l.link(sourcePath(b.ID)), Cites: l.cites([]mix.Cite{b.Cite})}
		return Piece{Source: &line, Note: note(b.Note)}, nil
	case *sheet.CautionBlock:
		l.danger(b.Hazard)
		if l.placed[b.Hazard] || b.Hazard == mix.NoHazard {
			return Piece{Note: note(b.Note)}, nil
		}
		l.placed[b.Hazard] = true
		return Piece{Caution: l.caution(b.Hazard), Note: note(b.Note)}, nil
	}
	return Piece{}, fmt.Errorf("sheet %s: a piece %T", s.Slug, part)
}

// cutOut makes a part of the class matrix.
func (l *leaf) cutOut(b *sheet.MatrixBlock) Matrix {
	group := func(refs []mix.Ref) []classGroup {
		var g classGroup
		for _, r := range refs {
			if c := l.Index.Class(r.ID); c != nil {
				g.classes = append(g.classes, c)
			}
		}
		return []classGroup{g}
	}
	columns := b.Against
	if len(columns) == 0 {
		columns = b.Classes
	}
	m := l.matrix(group(b.Classes), group(columns))
	m.Groups[0].Name = Phrase{}
	return m
}

func (l *leaf) verdictPiece(b *sheet.VerdictBlock) *VerdictPiece {
	ids := refIDs(b.Mix)
	a := l.Judge.Mix(ids, b.Situation)
	v := &VerdictPiece{Title: l.names(ids), Answer: l.answer(&a)}
	if b.Given {
		v.Given = l.t("sheet.given", "situation", l.situationWords(&b.Situation))
	}
	if len(ids) == 2 && l.hasPage(ids[0], ids[1]) {
		v.Href = l.link(togetherPath(ids[0], ids[1]))
	}
	var all []compat.Evidence
	for i := range a.Findings {
		all = append(all, a.Findings[i].Evidence)
	}
	v.Rests = l.evidenceLinks(all)
	v.More = max(0, len(v.Rests)-mostRests)
	v.Rests = v.Rests[:len(v.Rests)-v.More]
	return v
}

func (l *leaf) recipePiece(b *sheet.RecipeBlock) *RecipePiece {
	r := &b.Recipe
	piece := &RecipePiece{}
	if b.ID.ID != "" {
		r = l.Index.Recipe(b.ID.ID)
		piece.Href = l.link(recipePath(r.ID))
	}
	a := l.Judge.Mix(portionIDs(r.Products), mix.Situation{})
	l.danger(a.Hazards...)
	piece.Title, piece.Card = l.phrase(r.Title), l.jarCard(r)
	return piece
}

func (l *leaf) observationPiece(b *sheet.ObservationBlock) (*ObservationPiece, error) {
	o := l.Index.Observation(b.ID.ID)
	p := &ObservationPiece{Line: l.observationLine(o)}
	for i := range o.Readings {
		p.Jars = append(p.Jars, l.drawing(o, &o.Readings[i]))
	}
	var err error
	if b.Record {
		p.Record, err = record(o)
	}
	return p, err
}
