package page

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// statementFacts lists what an interaction states beside what happens.
func (l *leaf) statementFacts(fs *facts, in *mix.Interaction) {
	fs.add(l.t("fact.mechanism"), Line{Phrase: l.phrase(in.Mechanism)})
	fs.add(l.t("fact.worse"), l.lines(in.Worse)...)
	fs.add(l.t("fact.steps"), l.lines(in.Steps)...)
	for _, m := range in.Mends {
		mend := l.line(m.How, m.Sources)
		if mend.Text == "" {
			mend.Phrase = l.name(m.Class.ID)
		}
		mend.Href = l.link(l.itemPath(m.Class.ID))
		fs.add(l.t("fact.mend"), mend)
	}
	for _, d := range in.Disputes {
		fs.add(l.t("fact.dispute"), l.line(d.Says, d.Sources))
	}
}

// recordFacts says who states an interaction, and leads to its record.
func (l *leaf) recordFacts(fs *facts, in *mix.Interaction) {
	fs.add(l.t("fact.says-who"), l.saysWho(in.Sources)...)
	fs.add(l.t("fact.record"), Line{Phrase: Phrase{Text: l.t("record.interaction", "id", string(in.ID))}, Href: l.link(interactionPath(in.ID))})
}

// saysWho names sources in short, with their numbers.
func (l *leaf) saysWho(all []mix.Cite) []Line {
	var lines []Line
	for _, c := range all {
		s := l.Index.Source(c.ID)
		n, ok := l.cite(c)
		if !ok {
			continue
		}
		lines = append(lines, Line{Phrase: Phrase{Text: l.who(s)}, Cites: []Cite{n}})
	}
	return lines
}

// who names a source in a few words: authors or publisher, year and kind. What
// has no source says that alone.
func (l *leaf) who(s *mix.Source) string {
	kind := l.words.SourceKind(s.Kind)
	if s.Kind == mix.CommonPractice || s.Kind == mix.Memory {
		return kind
	}
	name := cmp.Or(s.Authors, s.Where, s.Title)
	if s.Year != 0 {
		name += " " + atoi(s.Year)
	}
	return l.t("fact.who", "who", name, "kind", kind)
}

// rulingFacts lists what a notice says.
func (l *leaf) rulingFacts(fs *facts, n *mix.Notice) {
	fs.add(l.t("fact.says"), Line{Phrase: l.phrase(n.Says)})
	place := Phrase{Text: l.t("notice.everywhere")}
	if n.Place.ID != "" {
		place = l.name(n.Place.ID)
	}
	fs.add(l.t("fact.place"), Line{Phrase: place})
	fs.add(l.t("fact.dates"), said(l.term(n.From, n.Until)))
	fs.add(l.t("fact.steps"), l.lines(n.Steps)...)
	fs.add(l.t("fact.says-who"), l.saysWho(n.Sources)...)
	fs.add(l.t("fact.record"), Line{Phrase: Phrase{Text: l.t("record.notice", "id", string(n.ID))}, Href: l.link(noticePath(n.ID))})
}

// term puts the days on which something holds into words.
func (l *leaf) term(from, until mix.Date) string {
	a, b := l.words.Date(from), l.words.Date(until)
	switch {
	case a != "" && b != "":
		return l.t("dates.between", "from", a, "until", b)
	case a != "":
		return l.t("dates.from", "from", a)
	case b != "":
		return l.t("dates.until", "until", b)
	}
	return ""
}

// jarFacts lists counts and the jars themselves.
func (l *leaf) jarFacts(fs *facts, s *compat.JarSet) {
	var counts []Line
	for _, c := range s.Counts {
		if c.Recorded > 0 {
			counts = append(counts, said(l.countWords(c)))
		}
		if c.Reports > 0 {
			counts = append(counts, said(l.t("count.reports", "symptom", l.words.Symptom(c.Symptom), "n", c.Reports)))
		}
	}
	fs.add(l.t("fact.counts"), counts...)
	var jars []Line
	for _, o := range s.Jars {
		text := l.t("record.observation", "id", string(o.ID), "date", l.words.Date(o.Date))
		jars = append(jars, Line{Phrase: Phrase{Text: text}, Href: l.link(observationPath(o.ID))})
	}
	fs.add(l.t("fact.jars"), jars...)
}

// countWords says how often a symptom was seen and what that still allows.
func (l *leaf) countWords(c compat.Count) string {
	name := l.words.Symptom(c.Symptom)
	if c.Reacted == 0 {
		return l.t("count.none", "symptom", name, "n", c.Recorded, "upper", l.words.Percent(c.Upper))
	}
	return l.t("count.some", "symptom", name, "k", c.Reacted, "n", c.Recorded,
		"low", l.words.Percent(c.Low), "high", l.words.Percent(c.High))
}

// doubts puts doubts into words, numbered from 1; of two with the same words
// the first is kept.
func (l *leaf) doubts(all []compat.Doubt) []DoubtLine {
	var lines []DoubtLine
	for _, d := range all {
		text := l.doubtWords(&d)
		if slices.ContainsFunc(lines, func(line DoubtLine) bool { return line.Text == text }) {
			continue
		}
		links := l.evidenceLinks(d.Evidence)
		shown := min(len(links), mostDoubtLinks)
		lines = append(lines, DoubtLine{len(lines) + 1, text, links[:shown], len(links) - shown})
	}
	return lines
}

// mostDoubtLinks is how many records a doubt names beside the verdict.
const mostDoubtLinks = 4

// doubtWords fills the words of a doubt; which arguments they use is up to the
// code.
func (l *leaf) doubtWords(d *compat.Doubt) string {
	args := []any{
		"gates", l.words.Gates(d.Gates, l.nameText),
		"symptoms", l.words.Symptoms(d.Symptoms),
		"items", l.names(d.Items),
		"years", d.Number,
		"n", d.Number,
	}
	if d.Count != nil {
		args[len(args)-1] = d.Count.Recorded
		args = append(args, "upper", l.words.Percent(d.Count.Upper), "independent", d.Count.Independent, "symptom", l.words.Symptom(d.Count.Symptom))
	}
	return l.t("doubt."+string(d.Code), args...)
}

// evidenceLinks leads to the records of evidence.
func (l *leaf) evidenceLinks(all []compat.Evidence) []Link {
	var links []Link
	for _, ev := range all {
		switch e := ev.(type) {
		case compat.Statement:
			links = append(links, Link{l.link(interactionPath(e.ID)), Phrase{Text: l.t("record.interaction", "id", string(e.ID))}})
		case compat.Ruling:
			links = append(links, Link{l.link(noticePath(e.ID)), Phrase{Text: l.t("record.notice", "id", string(e.ID))}})
		case *compat.JarSet:
			for _, o := range e.Jars {
				links = append(links, Link{l.link(observationPath(o.ID)), Phrase{Text: string(o.ID)}})
			}
		}
	}
	return links
}
