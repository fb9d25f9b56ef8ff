package page

import (
	"fmt"
	"slices"

	"tankleaf.example/internal/mix"
)

// leaf is one page while it is made up. It numbers the sources that the page
// mentions and collects the hazards.
type leaf struct {
	*edition
	path    string // from the top of the site
	sources []*sourceLine
	hazards map[mix.Hazard]bool
	placed  map[mix.Hazard]bool // hazards whose block stands in the text
}

// newLeaf begins the page at a path inside the edition.
func (e *edition) newLeaf(path string) *leaf {
	return &leaf{edition: e, path: e.folder + path, hazards: map[mix.Hazard]bool{}, placed: map[mix.Hazard]bool{}}
}

// link returns the way to a path inside the edition; "" stays "".
func (l *leaf) link(path string) string {
	if path == "" {
		return ""
	}
	return relative(l.path, l.folder+path)
}

// asset returns the way to a file that all editions share.
func (l *leaf) asset(path string) string { return relative(l.path, path) }

// Link is a name that leads somewhere; without Href it is a name alone.
type Link struct {
	Href string
	Name Phrase
}

// item returns the name of a class or product with the way to its page.
func (l *leaf) item(id mix.ID) Link { return Link{l.link(l.itemPath(id)), l.name(id)} }

// items returns several.
func (l *leaf) items(ids []mix.ID) []Link {
	all := make([]Link, len(ids))
	for i, id := range ids {
		all[i] = l.item(id)
	}
	return all
}

// Cite is a number that leads to a source at the foot of the page.
type Cite struct {
	N    int
	Href string
}

// sourceLine is a source at the foot of a page.
type sourceLine struct {
	SourceView
}

// cite numbers a source at its first mention.
func (l *leaf) cite(c mix.Cite) (Cite, bool) {
	s := l.Index.Source(c.ID)
	if s == nil {
		return Cite{}, false
	}
	anchor := "source-" + string(s.ID)
	n := slices.IndexFunc(l.sources, func(line *sourceLine) bool { return line.Anchor == anchor })
	if n < 0 {
		view := l.source(s)
		view.Anchor, view.Entry = anchor, l.link(sourcePath(s.ID))
		n = len(l.sources)
		l.sources = append(l.sources, &sourceLine{SourceView: view})
	}
	if line := l.sources[n]; c.Place != "" && !slices.Contains(line.Places, c.Place) {
		line.Places = append(line.Places, c.Place)
	}
	return Cite{n + 1, "#" + anchor}, true
}

// cites numbers several sources.
func (l *leaf) cites(all []mix.Cite) []Cite {
	var cites []Cite
	for _, c := range all {
		if n, ok := l.cite(c); ok && !slices.Contains(cites, n) {
			cites = append(cites, n)
		}
	}
	return cites
}

// Line is a phrase with what it leads to and the sources it rests on. A chain has a
// link for each of its items beside the same words as a phrase.
type Line struct {
	Phrase
	Href  string
	Cites []Cite
	Chain []Link
}

// line returns a text with its sources.
func (l *leaf) line(t mix.Text, from []mix.Cite) Line {
	return Line{Phrase: l.phrase(t), Cites: l.cites(from)}
}

// lines returns texts one by one.
func (l *leaf) lines(all []mix.Text) []Line {
	lines := make([]Line, len(all))
	for i, t := range all {
		lines[i] = Line{Phrase: l.phrase(t)}
	}
	return lines
}

// said returns words of ours as a line.
func said(text string) Line { return Line{Phrase: Phrase{Text: text}} }

// linked returns a link as a line.
func linked(to Link) Line { return Line{Phrase: to.Name, Href: to.Href} }

// Fact is a label with what stands beside it.
type Fact struct {
	Label string
	Lines []Line
}

// facts collects those that have something to say.
type facts []Fact

func (f *facts) add(label string, lines ...Line) {
	lines = slices.DeleteFunc(lines, func(l Line) bool { return l.Text == "" })
	if len(lines) > 0 {
		*f = append(*f, Fact{label, lines})
	}
}

// danger notes the hazards that the page mentions.
func (l *leaf) danger(all ...mix.Hazard) {
	for _, h := range all {
		if h != mix.NoHazard {
			l.hazards[h] = true
		}
	}
}

// finish renders the page with a template. The value's frame is made last, when
// all sources and hazards are known.
func (l *leaf) finish(kind string, value framed, head head) ([]byte, error) {
	*value.frame() = l.makeFrame(kind, head)
	if v, ok := value.(interface{ ownEnd() bool }); ok {
		value.frame().OwnEnd = v.ownEnd()
	}
	body, err := l.render(kind, value)
	if err != nil {
		return nil, fmt.Errorf("template %s: %w", kind, err)
	}
	return body, nil
}
