package page

import (
	"cmp"
	"slices"
	"strings"

	"tankleaf.example/internal/mix"
)

// InteractionsPage lists every interaction as it was stated.
type InteractionsPage struct {
	Frame
	Groups []InteractionGroup
}

// InteractionGroup is the interactions of one verdict.
type InteractionGroup struct {
	Verdict mix.Verdict
	Entries []InteractionLine
}

// InteractionLine is one interaction.
type InteractionLine struct {
	Anchor  string
	Members []Link
	Kind    string
	What    Line
	Facts   []Fact
	Verdict mix.Verdict
}

func (e *edition) interactionsPage() ([]byte, error) {
	l := e.newLeaf("interactions.html")
	p := &InteractionsPage{}
	by := map[mix.Verdict][]InteractionLine{}
	for i := range e.book().Interactions {
		in := &e.book().Interactions[i]
		l.danger(in.Hazards...)
		by[in.Verdict] = append(by[in.Verdict], l.interaction(in))
	}
	for v := mix.Never; v > mix.Unknown; v-- {
		if len(by[v]) > 0 {
			p.Groups = append(p.Groups, InteractionGroup{v, by[v]})
		}
	}
	return l.finish("interactions", p, head{l.t("interactions.title"), l.t("interactions.summary")})
}

func (l *leaf) interaction(in *mix.Interaction) InteractionLine {
	line := InteractionLine{Anchor: string(in.ID), Members: l.items(refIDs(in.Members)), Kind: l.words.Kind(in.Kind),
		What: l.line(in.What, in.Sources), Verdict: in.Verdict}
	var fs facts
	fs.add(l.t("fact.symptoms"), said(l.words.Symptoms(in.Symptoms)))
	fs.add(l.t("fact.when"), l.gateLines(in.When)...)
	l.statementFacts(&fs, in)
	instead := []Line{{Phrase: l.phrase(in.Instead.Text)}}
	fs.add(l.t("fact.instead"), append(instead, l.refLines(in.Instead.Use)...)...)
	fs.add(l.t("fact.says-who"), l.saysWho(in.Sources)...)
	line.Facts = fs
	return line
}

// NoticesPage lists rules of law and label by district.
type NoticesPage struct {
	Frame
	Places []PlaceGroup
}

// PlaceGroup is the notices that hold in one district.
type PlaceGroup struct {
	Anchor  string
	Name    Phrase
	About   Phrase
	Notices []NoticeLine
}

// NoticeLine is one notice.
type NoticeLine struct {
	Anchor  string
	Title   Line
	Basis   string
	Effect  string
	Verdict mix.Verdict
	Marked  bool // it decides a verdict, which is shown
	Members []Link
	Facts   []Fact
}

func placeAnchor(id mix.ID) string { return "place-" + string(id) }

func (e *edition) noticesPage() ([]byte, error) {
	l := e.newLeaf("notices.html")
	p := &NoticesPage{Places: []PlaceGroup{{Anchor: "everywhere", Name: Phrase{Text: l.t("notice.everywhere")}}}}
	for i := range e.book().Places {
		place := &e.book().Places[i]
		p.Places = append(p.Places, PlaceGroup{Anchor: placeAnchor(place.ID), Name: l.phrase(place.Name), About: l.phrase(place.About)})
	}
	for i := range e.book().Notices {
		n := &e.book().Notices[i]
		at := slices.IndexFunc(p.Places, func(g PlaceGroup) bool { return g.Anchor == placeAnchor(n.Place.ID) })
		group := &p.Places[max(at, 0)]
		group.Notices = append(group.Notices, l.notice(n))
	}
	return l.finish("notices", p, head{l.t("notices.title"), l.t("notices.summary")})
}

func (l *leaf) notice(n *mix.Notice) NoticeLine {
	line := NoticeLine{Anchor: string(n.ID), Title: l.line(n.Title, n.Sources), Basis: l.t("notice.label"),
		Effect: l.t("effect." + n.Effect.String()), Members: l.items(refIDs(n.Members))}
	if n.Law {
		line.Basis = l.t("notice.law")
	}
	switch n.Effect {
	case mix.Forbids:
		line.Verdict, line.Marked = mix.Never, true
	case mix.Requires:
		line.Verdict, line.Marked = mix.Steps, true
	case mix.NoEffect, mix.Allows, mix.Informs:
	}
	var fs facts
	fs.add(l.t("fact.says"), Line{Phrase: l.phrase(n.Says)})
	fs.add(l.t("fact.when"), l.gateLines(n.When)...)
	fs.add(l.t("fact.steps"), l.lines(n.Steps)...)
	fs.add(l.t("fact.dates"), said(l.term(n.From, n.Until)))
	fs.add(l.t("fact.says-who"), l.saysWho(n.Sources)...)
	line.Facts = fs
	return line
}

// SourceView is a bibliography entry.
type SourceView struct {
	Anchor  string
	Authors string
	Year    int
	Title   string
	Where   string
	Kind    string
	Link    string // outside address
	Partial bool
	Places  []string
	Entry   string // the entry on the page of all sources

	OfCautions bool // only the cautions of the page cite it
}

func (l *leaf) source(s *mix.Source) SourceView {
	v := SourceView{Anchor: string(s.ID), Authors: s.Authors, Year: s.Year, Title: strings.TrimRight(s.Title, "."),
		Where: strings.TrimRight(s.Where, "."), Kind: l.words.SourceKind(s.Kind), Link: s.Link, Partial: s.Partial}
	if s.Link != "" && !strings.Contains(s.Link, ":") {
		v.Link = "https://doi.org/" + s.Link
	}
	return v
}

// SourcesPage lists all sources from A to Z.
type SourcesPage struct {
	Frame
	All []SourceEntry
}

// SourceEntry is a source with what rests on it.
type SourceEntry struct {
	SourceView
	Rests []Link
}

func (e *edition) sourcesPage() ([]byte, error) {
	l := e.newLeaf("sources.html")
	p := &SourcesPage{}
	for i := range e.book().Sources {
		s := &e.book().Sources[i]
		entry := SourceEntry{SourceView: l.source(s)}
		for _, in := range e.uses.cited[s.ID] {
			entry.Rests = append(entry.Rests, Link{l.link(interactionPath(in.ID)), Phrase{Text: string(in.ID)}})
		}
		p.All = append(p.All, entry)
	}
	slices.SortFunc(p.All, func(a, b SourceEntry) int {
		return cmp.Or(l.compare(a.Authors+a.Title, b.Authors+b.Title), cmp.Compare(a.Anchor, b.Anchor))
	})
	return l.finish("sources", p, head{l.t("sources.title"), l.t("sources.summary")})
}
