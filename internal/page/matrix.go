package page

import (
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// MatrixPage is the table of all printed classes against each other.
type MatrixPage struct {
	Frame
	Matrix Matrix
	Pick   []ClassGroup // the same classes as a list, for narrow screens
	Tool   *ToolPage    // the script that lights, filters and moves about
}

// Matrix is a table of verdicts with its footnotes.
type Matrix struct {
	Caption Phrase
	Heads   []MatrixHead
	Groups  []MatrixGroup
	Columns int // cells of a row
	Notes   []Note
	Shared  string // ways to the folders of the tools' data, for the table with a script
	Own     string
}

// Span is the number of cells in a row, its head included.
func (m *Matrix) Span() int { return m.Columns + 1 }

// Size is the class of the style sheet that fits the table onto the wall chart,
// by its columns: past the last step it prints over several sheets.
func (m *Matrix) Size() string {
	for _, step := range []struct {
		columns int
		class   string
	}{{46, "chart-46"}, {60, "chart-60"}, {80, "chart-80"}} {
		if m.Columns <= step.columns {
			return step.class
		}
	}
	return "chart-many"
}

// MatrixHead is the head of a column.
type MatrixHead struct {
	Link
	Starts bool // first of its group
}

// MatrixGroup is the rows of one group.
type MatrixGroup struct {
	Name Phrase
	Rows []MatrixRow
}

// MatrixRow is one class against all.
type MatrixRow struct {
	Head  Link
	Cells []Cell
}

// Cell is one verdict. Note is the number of its footnote, 0 for none.
type Cell struct {
	Verdict mix.Verdict
	Self    bool // a class against itself, about which nothing is stated
	Starts  bool
	Href    string
	Title   string
	Note    int
}

// Note is a footnote of the matrix.
type Note struct {
	N    int
	Text string
}

// notes numbers footnotes by their words.
type notes struct {
	list []Note
	by   map[string]int
}

func (n *notes) number(text string) int {
	if text == "" {
		return 0
	}
	if n.by == nil {
		n.by = map[string]int{}
	}
	if n.by[text] == 0 {
		n.list = append(n.list, Note{len(n.list) + 1, text})
		n.by[text] = len(n.list)
	}
	return n.by[text]
}

// classGroup is the classes of one group in the order of their names.
type classGroup struct {
	group   *mix.Group // nil for classes without one
	classes []*mix.Class
}

// classGroups sorts classes into groups in the order of the book.
func (e *edition) classGroups(keep func(*mix.Class) bool) []classGroup {
	b := e.book()
	by := map[mix.ID][]*mix.Class{}
	for i := range b.Classes {
		c := &b.Classes[i]
		if !keep(c) {
			continue
		}
		group := c.Group.ID
		if e.Index.Group(group) == nil {
			group = ""
		}
		by[group] = append(by[group], c)
	}
	var groups []classGroup
	add := func(g *mix.Group, id mix.ID) {
		if list := by[id]; len(list) > 0 {
			slices.SortFunc(list, e.byName)
			groups = append(groups, classGroup{g, list})
		}
	}
	for i := range b.Groups {
		add(&b.Groups[i], b.Groups[i].ID)
	}
	add(nil, "")
	return groups
}

func (e *edition) groupName(g *mix.Group) Phrase {
	if g == nil {
		return Phrase{Text: e.t("classes.no-group")}
	}
	return e.phrase(g.Name)
}

// matrix makes the table of some classes against others.
func (l *leaf) matrix(rows, columns []classGroup) Matrix {
	m := Matrix{}
	var order []*mix.Class
	starts := map[int]bool{}
	for _, g := range columns {
		starts[len(order)] = true
		for _, c := range g.classes {
			m.Heads = append(m.Heads, MatrixHead{l.item(c.ID), len(order) > 0 && starts[len(order)]})
			order = append(order, c)
		}
	}
	m.Columns = len(order)
	var n notes
	for _, g := range rows {
		group := MatrixGroup{Name: l.groupName(g.group)}
		for _, c := range g.classes {
			row := MatrixRow{Head: l.item(c.ID)}
			for i, d := range order {
				cell := l.cell(c.ID, d.ID, &n)
				cell.Starts = i > 0 && starts[i]
				row.Cells = append(row.Cells, cell)
			}
			group.Rows = append(group.Rows, row)
		}
		m.Groups = append(m.Groups, group)
	}
	m.Notes = n.list
	return m
}

// cell makes one cell. A pair without a page of its own leads to what decides it.
func (l *leaf) cell(a, b mix.ID, n *notes) Cell {
	answer := l.Judge.Pair(a, b)
	c := Cell{Verdict: answer.Verdict, Self: a == b && answer.Verdict == mix.Unknown}
	if c.Verdict == mix.Unknown && !l.hasPage(a, b) {
		return c
	}
	l.danger(answer.Hazards...)
	c.Title = l.t("matrix.cell", "a", l.nameText(a), "b", l.nameText(b), "verdict", l.words.Verdict(answer.Verdict))
	c.Href = l.pairHref(answer)
	c.Note = n.number(l.cellNote(answer))
	return c
}

// cellNote is the footnote of a cell: the condition under which its verdict
// applies, or else its first doubt. Doubts about where a statement comes from
// are left to the pair's page.
func (l *leaf) cellNote(a *compat.Answer) string {
	d := a.Deciding()
	if d != nil && len(d.Open) > 0 {
		return l.t("matrix.note-when", "gates", l.words.Gates(d.Open, l.nameText))
	}
	for _, doubt := range a.Doubts {
		if slices.Contains(cellDoubts, doubt.Code) {
			return l.doubtWords(&doubt)
		}
	}
	return ""
}

// cellDoubts are the doubts that a cell of the matrix shows.
var cellDoubts = []compat.DoubtCode{compat.SomeMembers, compat.Disagree, compat.HazardStands, compat.Disputed, compat.NoSourceSeen}

func (e *edition) matrixPage() ([]byte, error) {
	l := e.newLeaf("matrix.html")
	groups := e.classGroups(func(c *mix.Class) bool { return c.Matrix })
	tool, err := l.toolPage(e.bundleJob("matrix"), e.messagesJob())
	if err != nil {
		return nil, err
	}
	p := &MatrixPage{Matrix: l.matrix(groups, groups), Pick: l.classList(groups), Tool: tool}
	p.Matrix.Shared, p.Matrix.Own = tool.Shared, tool.Own
	return l.finish("matrix", p, head{l.t("matrix.title"), l.t("matrix.summary")})
}
