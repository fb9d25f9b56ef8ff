package page

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// ClassGroup is a heading with classes under it.
type ClassGroup struct {
	Name    Phrase
	Anchor  string
	Classes []ClassLine
}

// ClassLine is one class in a list.
type ClassLine struct {
	Link
	Members int // products in it
}

func (l *leaf) classList(groups []classGroup) []ClassGroup {
	var list []ClassGroup
	for _, g := range groups {
		out := ClassGroup{Name: l.groupName(g.group), Anchor: "group-none"}
		if g.group != nil {
			out.Anchor = "group-" + string(g.group.ID)
		}
		for _, c := range g.classes {
			out.Classes = append(out.Classes, ClassLine{l.item(c.ID), len(l.Index.Members(c.ID))})
		}
		list = append(list, out)
	}
	return list
}

// byName orders classes by their names in the edition.
func (e *edition) byName(a, b *mix.Class) int {
	return cmp.Or(e.compare(e.phrase(a.Name).Text, e.phrase(b.Name).Text), cmp.Compare(a.ID, b.ID))
}

// ClassesPage lists all classes by group.
type ClassesPage struct {
	Frame
	Groups []ClassGroup
}

func (e *edition) classesPage() ([]byte, error) {
	l := e.newLeaf("classes.html")
	p := &ClassesPage{Groups: l.classList(e.classGroups(func(*mix.Class) bool { return true }))}
	return l.finish("classes", p, head{l.t("classes.title"), l.t("classes.summary")})
}

// ClassPage is one class: what it is, what it may not meet, what belongs to it.
type ClassPage struct {
	Frame
	Heading  Phrase
	About    Line
	Facts    []Fact
	Partners Partners
	Standing *Standing
	Products []Link
	More     int // products beyond those listed
	Sheets   []SheetCard
	Notices  []Link
}

// mostMembers is how many products a class's page names.
const mostMembers = 400

func (e *edition) classPage(c *mix.Class) ([]byte, error) {
	l := e.newLeaf(classPath(c.ID))
	p := &ClassPage{Heading: e.phrase(c.Name), Partners: l.partners(c.ID)}
	l.danger(c.Hazards...)
	p.About = l.line(c.About, c.Sources)
	p.Facts = l.classFacts(c)
	p.Standing = l.classStanding(c)
	members := e.Index.Members(c.ID)
	p.More = max(0, len(members)-mostMembers)
	p.Products = l.items(members[:len(members)-p.More])
	p.Sheets = l.sheetCards(l.uses.sheets[c.ID])
	p.Notices = l.noticeLinks(l.uses.notices[c.ID])
	return l.finish("class", p, head{p.Heading.Text, l.t("class.summary", "name", p.Heading.Text)})
}

func (l *leaf) classFacts(c *mix.Class) []Fact {
	var fs facts
	if g := l.Index.Group(c.Group.ID); g != nil {
		fs.add(l.t("fact.group"), Line{Phrase: l.phrase(g.Name)})
	}
	fs.add(l.t("fact.axis"), said(l.t("axis."+c.Axis.String())))
	fs.add(l.t("fact.kind-of"), l.refLines(c.KindOf)...)
	fs.add(l.t("fact.children"), l.itemLines(l.uses.children[c.ID])...)
	for _, f := range c.Forms {
		fs.add(l.t("fact.forms"), said(l.formWords(f)))
	}
	fs.add(l.t("fact.water"), l.gateLines(c.When)...)
	fs.add(l.t("fact.also"), said(l.words.List(c.Also)))
	return fs
}

// formWords writes a code with its meaning: "WG, water-dispersible granule".
func (l *leaf) formWords(f mix.Form) string {
	return l.t("form.with-code", "code", string(f), "meaning", l.words.Form(f))
}

func (l *leaf) refLines(refs []mix.Ref) []Line {
	var lines []Line
	for _, r := range refs {
		lines = append(lines, linked(l.item(r.ID)))
	}
	return lines
}

func (l *leaf) itemLines(ids []mix.ID) []Line {
	var lines []Line
	for _, id := range ids {
		lines = append(lines, linked(l.item(id)))
	}
	return lines
}

// noticeLinks leads to notices in their order.
func (l *leaf) noticeLinks(all []*mix.Notice) []Link {
	var links []Link
	for _, n := range all {
		links = append(links, Link{l.link(noticePath(n.ID)), l.phrase(n.Title)})
	}
	return slices.Clip(links)
}
