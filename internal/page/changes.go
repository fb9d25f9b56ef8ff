package page

import (
	"slices"
	"strings"

	"tankleaf.example/internal/ledger"
	"tankleaf.example/internal/mix"
)

// ChangesPage tells what verdicts changed from one publication to the next, the
// newest first and within each what became softer first.
type ChangesPage struct {
	Frame
	Data string // the same as a file
	Days []ChangeDay
}

// ChangeDay is what one publication changed.
type ChangeDay struct {
	Anchor, Date, Since string
	Softer, Other       []ShiftView
	Withdrawn           []Phrase
}

// ShiftView is one mix of which something else is said now.
type ShiftView struct {
	Link
	From, To mix.Verdict
	Lost     string // hazards that are no longer named
	Rests    []Line // what decides now
	Softer   bool
	Review   *ReviewView // that answers for it; nil when none does
}

// ReviewView is why a verdict softened.
type ReviewView struct {
	Why      Line
	By, Date string
}

func changesPath(day mix.Date) string { return "changes.html#on-" + day.String() }

func (e *edition) changesPage() ([]byte, error) {
	l := e.newLeaf("changes.html")
	p := &ChangesPage{Data: l.asset("data/changes.json")}
	for _, entry := range e.History {
		d := ChangeDay{Anchor: "on-" + entry.Published.String(), Date: l.words.Date(entry.Published), Since: l.words.Date(entry.Since)}
		for _, s := range entry.Shifts {
			if v := l.shift(s); s.Softer {
				d.Softer = append(d.Softer, v)
			} else {
				d.Other = append(d.Other, v)
			}
		}
		for _, id := range entry.Withdrawn {
			d.Withdrawn = append(d.Withdrawn, l.name(id))
		}
		p.Days = append(p.Days, d)
	}
	return l.finish("changes", p, head{l.t("changes.title"), l.t("changes.summary")})
}

func (l *leaf) shift(s ledger.Shift) ShiftView {
	l.danger(s.From.Hazards...)
	l.danger(s.To.Hazards...)
	v := ShiftView{Link: Link{l.link(l.mixPath(s.Items)), Phrase{Text: l.names(s.Items)}}, From: s.From.Verdict, To: s.To.Verdict,
		Softer: s.Softer, Review: l.reviewView(s.Review)}
	var lost []string
	for _, h := range s.From.Hazards {
		if !slices.Contains(s.To.Hazards, h) {
			lost = append(lost, l.words.Hazard(h))
		}
	}
	v.Lost = l.words.List(lost)
	for _, ref := range s.DecidedBy {
		if line := l.decider(ref); line.Text != "" {
			v.Rests = append(v.Rests, line)
		}
	}
	return v
}

// mixPath is the page that tells most of a mix: of one item or two, if there is
// one.
func (e *edition) mixPath(items []mix.ID) string {
	switch {
	case len(items) == 1:
		return e.itemPath(items[0])
	case len(items) == 2 && e.hasPage(items[0], items[1]):
		return togetherPath(items[0], items[1])
	}
	return ""
}

// decider names a record that the history says decided; one that is gone since
// is left out.
func (l *leaf) decider(ref string) Line {
	kind, word, _ := strings.Cut(ref, ":")
	id := mix.ID(word)
	switch kind {
	case "interaction":
		if in := l.Index.Interaction(id); in != nil {
			return Line{Phrase: l.phrase(in.What), Href: l.link(interactionPath(id))}
		}
	case "notice":
		if n := l.Index.Notice(id); n != nil {
			return Line{Phrase: l.phrase(n.Title), Href: l.link(noticePath(id))}
		}
	case "observation":
		if o := l.Index.Observation(id); o != nil {
			return Line{Phrase: l.phrase(o.Title), Href: l.link(observationPath(id))}
		}
	}
	return Line{}
}

func (l *leaf) reviewView(id mix.ID) *ReviewView {
	all := l.book().Reviews
	i := slices.IndexFunc(all, func(r mix.Review) bool { return r.ID == id })
	if i < 0 {
		return nil
	}
	r := &all[i]
	return &ReviewView{l.line(r.Because, r.Sources), l.t("by." + strings.ReplaceAll(r.By, " ", "-")), l.words.Date(r.Date)}
}

// adviceFile and changesFile are what the next publication is compared with.
func (p *press) adviceFile() ([]byte, error)  { return p.Advice.Write() }
func (p *press) changesFile() ([]byte, error) { return p.History.Write() }
