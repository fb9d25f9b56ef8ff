package sheet

import (
	"fmt"
	"html/template"

	"github.com/yuin/goldmark/ast"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// Sheet is one fact sheet in one language, read and checked.
type Sheet struct {
	At       diag.Pos // its first line
	Slug     mix.ID   // from the file's name; translations share it
	Lang     mix.Lang
	Title    string
	Summary  string
	Also     []string // what else growers call it, for search
	Topic    Topic
	Order    int       // within its topic, from 1; 0: after those that have one
	Classes  []mix.Ref // the classes it speaks of
	Author   string    // a role, never a name
	Reviewed mix.Date  // the day somebody last went through it
	ReviewBy mix.Date  // the day from which it is overdue
	Headings []Heading // in order
	Links    []Target  // every record and file it points at, in order, with repeats
	Blocks   []Block   // its fenced blocks that bring in the dataset, in order
	Passages []Passage // its prose without marks, for search
	body     *body
}

// Topic is the heading of the sheets' index that a sheet stands under.
type Topic uint8

const (
	NoTopic Topic = iota
	Hazards
	Formulation
	Water
	Injury
	Control
	Workshop
	Law
)

var topicNames = []string{"none", "hazards", "formulation", "water", "injury", "control", "workshop", "law"}

func (t Topic) String() string {
	if int(t) < len(topicNames) {
		return topicNames[t]
	}
	return fmt.Sprintf("Topic(%d)", uint8(t))
}

// MarshalText writes the topic's word.
func (t Topic) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// ParseTopic returns the topic named by a word of the front matter.
func ParseTopic(s string) (Topic, bool) {
	for t := Hazards; t <= Law; t++ {
		if topicNames[t] == s {
			return t, true
		}
	}
	return NoTopic, false
}

// Topics lists all topics in the order of the index.
func Topics() []Topic { return []Topic{Hazards, Formulation, Water, Injury, Control, Workshop, Law} }

// Heading is one heading of a sheet.
type Heading struct {
	At     diag.Pos
	Level  int    // 2 to 6; the title is level 1
	Text   string // without marks
	Anchor string // id attribute, starts with AnchorPrefix
}

// Passage is a run of prose under one heading.
type Passage struct {
	Heading string // "" before the first one
	Anchor  string // of the heading; "" before the first one
	Text    string // paragraphs, list items and cells, one a line
}

// Overdue reports whether the sheet's review date has passed on that day.
func (s *Sheet) Overdue(on mix.Date) bool {
	return !s.ReviewBy.IsZero() && on.Compare(s.ReviewBy) > 0
}

// Hazards lists the hazards whose cautions the sheet shows, each once, in the
// order of their first block.
func (s *Sheet) Hazards() []mix.Hazard {
	var all []mix.Hazard
	seen := map[mix.Hazard]bool{}
	for _, b := range s.Blocks {
		if c, ok := b.(*CautionBlock); ok && !seen[c.Hazard] {
			seen[c.Hazard] = true
			all = append(all, c.Hazard)
		}
	}
	return all
}

// Piece is a part of a sheet's body: [Prose] or a [Block].
//
// Pieces are written one after the other. A block may stand inside a list or a
// quotation, so a piece of prose need not close what it opens; all of them
// together do.
type Piece interface{ piece() }

// Prose is HTML made from markdown.
type Prose struct{ HTML template.HTML }

func (Prose) piece() {}

// Block is a fenced block that brings the dataset into prose: *[MatrixBlock],
// *[VerdictBlock], *[RecipeBlock], *[ObservationBlock], *[SourceBlock] or
// *[CautionBlock].
type Block interface {
	Piece
	Pos() diag.Pos // of the fence
	block()
}

// fence is what all blocks share.
type fence struct{ At diag.Pos }

func (*fence) piece()          {}
func (*fence) block()          {}
func (f *fence) Pos() diag.Pos { return f.At }

// MatrixBlock is a cut-out of the class matrix.
type MatrixBlock struct {
	fence
	Classes []mix.Ref // rows, and columns unless Against is given
	Against []mix.Ref // columns
	Caption string
}

// VerdictBlock is the verdict of one mix with its trace.
type VerdictBlock struct {
	fence
	Mix       []mix.Ref // classes or products
	Situation mix.Situation
	Given     bool // a situation was written
	Note      string
	refs      situation // while it is read
}

// RecipeBlock is a jar recipe: one of the book, or one written in place.
type RecipeBlock struct {
	fence
	ID     mix.Ref    // zero when written in place
	Recipe mix.Recipe // when ID is zero
	Note   string
	title  string // while it is read
}

// ObservationBlock is one jar or field report, drawn from its readings.
type ObservationBlock struct {
	fence
	ID     mix.Ref
	Record bool // show the record's own text as well
	Note   string
}

// SourceBlock is a citation set apart from the text.
type SourceBlock struct {
	fence
	mix.Cite
	Note string
}

// CautionBlock is the safety text for a hazard; NoHazard is the general one.
type CautionBlock struct {
	fence
	Hazard mix.Hazard
	Note   string
}

// body is the parsed markdown of a sheet.
type body struct {
	*text
	doc     ast.Node
	src     []byte              // as text.src, the front matter blanked out
	targets map[ast.Node]int    // link → its place in Sheet.Links
	outside map[ast.Node]string // link that leaves the site → its address
	blocks  map[ast.Node]Block  // fence → what it brings in; nil when it was refused
}
