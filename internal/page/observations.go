package page

import (
	"cmp"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// ObservationsPage lists investigations, and the observations of one year.
type ObservationsPage struct {
	Frame
	Inquiries []InquiryCard // on the first page only
	Year      string
	Years     []Link // other years
	Lines     []ObservationLine
}

// InquiryCard is one investigation in a list.
type InquiryCard struct {
	Link
	Question Phrase
	Count    int
	Opened   string
}

// ObservationLine is one observation in a list.
type ObservationLine struct {
	Link
	ID       string
	Date     string
	Mix      string
	Says     string
	Verdict  mix.Verdict // of the reaction; Unknown when none was seen
	Reacted  bool
	Field    bool
	KindWord string
}

// mostOnPage is how many observations one page lists.
const mostOnPage = 500

// part is a page of the list of observations: those of one year, or of a busy
// year the n-th part, counted from 1.
type part struct {
	year, n, of int
	list        []*mix.Observation
}

// parts splits the observations into pages, newest first. There is always one.
func (p *press) parts() []part {
	by := map[int][]*mix.Observation{}
	var years []int
	for i := range p.book().Observations {
		o := &p.book().Observations[i]
		if by[o.Date.Year] == nil {
			years = append(years, o.Date.Year)
		}
		by[o.Date.Year] = append(by[o.Date.Year], o)
	}
	slices.SortFunc(years, func(a, b int) int { return cmp.Compare(b, a) })
	var all []part
	for _, y := range years {
		slices.SortFunc(by[y], newestFirst)
		chunks := slices.Collect(slices.Chunk(by[y], mostOnPage))
		for i, list := range chunks {
			all = append(all, part{y, i + 1, len(chunks), list})
		}
	}
	if len(all) == 0 {
		return []part{{year: p.book().Site.Published.Year, n: 1, of: 1}}
	}
	return all
}

// partPath is the page of the i-th part; the first has the plain name.
func partPath(i int, p part) string {
	switch {
	case i == 0:
		return "observations.html"
	case p.n == 1:
		return "observations-" + atoi(p.year) + ".html"
	}
	return "observations-" + atoi(p.year) + "-" + atoi(p.n) + ".html"
}

// partName names a part: the year, and its number when there are several.
func (e *edition) partName(p part) string {
	if p.of == 1 {
		return atoi(p.year)
	}
	return e.t("observations.part", "year", atoi(p.year), "n", p.n)
}

func (e *edition) observationsPage(i int, parts []part) ([]byte, error) {
	here := parts[i]
	l := e.newLeaf(partPath(i, here))
	p := &ObservationsPage{Year: e.partName(here), Lines: l.observationLines(here.list)}
	for n, other := range parts {
		if n != i {
			p.Years = append(p.Years, Link{l.link(partPath(n, other)), Phrase{Text: e.partName(other)}})
		}
	}
	if i == 0 {
		p.Inquiries = l.inquiries()
	}
	for _, o := range here.list {
		l.danger(e.outcomeHazards(o)...)
	}
	return l.finish("observations", p, head{l.t("observations.title", "year", p.Year), l.t("observations.summary")})
}

// inquiries lists the investigations, newest first.
func (l *leaf) inquiries() []InquiryCard {
	var cards []InquiryCard
	var all []*mix.Investigation
	for i := range l.book().Investigations {
		all = append(all, &l.book().Investigations[i])
	}
	slices.SortFunc(all, func(a, b *mix.Investigation) int { return cmp.Or(b.Opened.Compare(a.Opened), cmp.Compare(a.ID, b.ID)) })
	for _, inv := range all {
		cards = append(cards, InquiryCard{Link{l.link(investigationPath(inv.ID)), l.phrase(inv.Title)}, l.phrase(inv.Question),
			len(l.uses.inquiry[inv.ID]), l.words.Date(inv.Opened)})
	}
	return cards
}

func (l *leaf) observationLines(all []*mix.Observation) []ObservationLine {
	lines := make([]ObservationLine, len(all))
	for i, o := range all {
		lines[i] = l.observationLine(o)
	}
	return lines
}

func (l *leaf) observationLine(o *mix.Observation) ObservationLine {
	title := l.phrase(o.Title)
	if title.Text == "" {
		title.Text = l.names(portionIDs(o.Products))
	}
	out := l.Judge.Outcome(o.ID)
	line := ObservationLine{Link: Link{l.link(observationPath(o.ID)), title}, ID: string(o.ID), Date: o.Date.String(),
		Mix: l.names(portionIDs(o.Products)), Field: o.Field, Verdict: out.Verdict(), Says: l.outcomeWords(out),
		KindWord: l.kindWord(o.Field)}
	line.Reacted = line.Verdict != mix.Unknown
	return line
}

func (l *leaf) kindWord(field bool) string {
	if field {
		return l.t("observation.field")
	}
	return l.t("observation.jar")
}

// outcomeWords says in one line what came of an observation: what reacted; or
// that nothing recorded did, and what was not recorded at all.
func (l *leaf) outcomeWords(out *compat.Outcome) string {
	var reacted, clear []mix.Symptom
	for _, s := range out.Signs {
		switch s.State {
		case compat.Reacted:
			reacted = append(reacted, s.Symptom)
		case compat.Clear:
			clear = append(clear, s.Symptom)
		case compat.NotSeen:
		}
	}
	switch {
	case len(reacted) > 0:
		return l.t("outcome.reacted", "symptoms", l.words.Symptoms(reacted))
	case len(clear) > 0:
		return l.t("outcome.clear", "symptoms", l.words.Symptoms(clear))
	case len(out.Observation.Ratings) > 0:
		return l.t("outcome.rated")
	}
	return l.t("outcome.nothing")
}

func (e *edition) outcomeHazards(o *mix.Observation) []mix.Hazard {
	var all []mix.Hazard
	for _, s := range e.Judge.Outcome(o.ID).Signs {
		all = append(all, s.Hazard)
	}
	return all
}

func (e *edition) observationPage(o *mix.Observation) ([]byte, error) {
	l := e.newLeaf(observationPath(o.ID))
	out := e.Judge.Outcome(o.ID)
	line := l.observationLine(o)
	p := &ObservationPage{ID: string(o.ID), Heading: line.Name, Field: o.Field, When: l.words.Date(o.Date), Says: line.Says,
		Reacted: line.Reacted, Products: l.portions(o.Products), OrderKnown: o.OrderKnown, Facts: l.conditions(o),
		Readings: l.readingTable(o), Ratings: l.ratings(o), Note: l.phrase(o.Note), RecordHref: l.asset(recordPath(o))}
	l.danger(e.outcomeHazards(o)...)
	l.handling(portionIDs(o.Products))
	p.Outcomes, p.Clear, p.Missing = l.outcomes(out)
	p.Gas = l.gas(o)
	for i := range o.Readings {
		p.Jars = append(p.Jars, l.drawing(o, &o.Readings[i]))
	}
	if inv := e.Index.Investigation(o.Investigation.ID); inv != nil {
		p.Inquiry = Link{l.link(investigationPath(inv.ID)), l.phrase(inv.Title)}
	}
	if o.Photo != "" {
		p.Photo = l.asset(cleanPath(o.Photo))
	}
	p.Together = l.pairsIn(portionIDs(o.Products))
	var err error
	if p.Record, err = record(o); err != nil {
		return nil, err
	}
	return l.finish("observation", p, head{l.t("observation.title", "id", p.ID, "title", p.Heading.Text), p.Says})
}

// outcomes lists what came of every symptom that a jar can show, hazards first as
// in the vocabulary: what reacted or could not be judged, line by line with the
// rule; then in one line each what was not seen, and what nobody recorded.
func (l *leaf) outcomes(out *compat.Outcome) (lines []OutcomeLine, clear, missing string) {
	var gone, blank []mix.Symptom
	for _, symptom := range mix.Symptoms() {
		s := out.Sign(symptom)
		switch {
		case !symptom.ShowsInJar():
		case s.State == compat.Reacted || s.Unjudged:
			lines = append(lines, l.outcomeLine(s))
		case s.State == compat.Clear:
			gone = append(gone, symptom)
		default:
			blank = append(blank, symptom)
		}
	}
	if len(gone) > 0 {
		clear = l.t("sign.all-clear", "symptoms", l.words.Symptoms(gone))
	}
	if len(blank) > 0 {
		missing = l.t("sign.all-missing", "symptoms", l.words.Symptoms(blank))
	}
	return lines, clear, missing
}

func (l *leaf) outcomeLine(s compat.Sign) OutcomeLine {
	line := OutcomeLine{Symptom: capital(l.words.Symptom(s.Symptom)), Result: l.t("sign.unjudged"), Hazard: s.Hazard != mix.NoHazard}
	if s.State == compat.Reacted {
		line.Result = l.t("sign.reacted-means", "verdict", l.words.Verdict(s.Verdict))
	}
	if s.Criterion != nil {
		line.Rule = l.line(s.Criterion.Says, s.Criterion.Sources)
	}
	return line
}

// pairsIn leads to the pages of the pairs in a mix.
func (l *leaf) pairsIn(ids []mix.ID) []Link {
	var links []Link
	for i, a := range ids {
		for _, b := range ids[i+1:] {
			if l.hasPage(a, b) {
				name := l.pairTitle(a, b)
				links = append(links, Link{l.link(togetherPath(a, b)), Phrase{Text: name}})
			}
		}
	}
	return links
}

// InvestigationPage is one question and the observations that bear on it.
type InvestigationPage struct {
	Frame
	Heading, Question, About, Conclude, Open Phrase
	Opened                                   string
	Cases                                    []CaseView
	Parted                                   []PartedView
	Grid                                     InquiryGrid
	Lines                                    []ObservationLine
}

// InquiryGrid shows who was in each vessel and what happened.
type InquiryGrid struct {
	Products []Link
	Rows     []InquiryRow
}

// InquiryRow is one observation of the grid.
type InquiryRow struct {
	Link
	Date    string
	Title   Phrase // as the office named the record
	In      []bool
	Verdict mix.Verdict
	Says    string
	Brief   string // the symptoms seen, or that it stayed quiet; "" when nobody looked
	Reacted bool
}

func (e *edition) investigationPage(inv *mix.Investigation) ([]byte, error) {
	l := e.newLeaf(investigationPath(inv.ID))
	p := &InvestigationPage{Heading: l.phrase(inv.Title), Question: l.phrase(inv.Question), About: l.phrase(inv.About),
		Conclude: l.phrase(inv.Conclude), Open: l.phrase(inv.Open), Opened: l.words.Date(inv.Opened)}
	list := e.uses.inquiry[inv.ID]
	p.Grid = l.grid(list)
	p.Cases, p.Parted = l.cases(e.Judge.Investigate(inv.ID))
	for _, o := range list {
		l.danger(e.outcomeHazards(o)...)
	}
	return l.finish("investigation", p, head{p.Heading.Text, p.Question.Text})
}

func (l *leaf) grid(list []*mix.Observation) InquiryGrid {
	var g InquiryGrid
	var order []mix.ID
	for _, o := range list {
		for _, p := range o.Products {
			if !slices.Contains(order, p.ID) {
				order = append(order, p.ID)
			}
		}
	}
	g.Products = l.items(order)
	for _, o := range list {
		line := l.observationLine(o)
		row := InquiryRow{Link: Link{line.Href, Phrase{Text: line.ID}}, Date: line.Date, Title: l.phrase(o.Title), Verdict: line.Verdict, Says: line.Says, Brief: l.inBrief(o), Reacted: line.Reacted}
		for _, id := range order {
			row.In = append(row.In, slices.Contains(portionIDs(o.Products), id))
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// inBrief is what came of an observation in a word or two.
func (l *leaf) inBrief(o *mix.Observation) string {
	var reacted []mix.Symptom
	looked := false
	for _, s := range l.Judge.Outcome(o.ID).Signs {
		if s.State == compat.Reacted {
			reacted = append(reacted, s.Symptom)
		}
		looked = looked || s.State == compat.Clear
	}
	switch {
	case len(reacted) > 0:
		return l.words.Symptoms(reacted)
	case looked:
		return l.t("case.quiet")
	}
	return ""
}

// situationWords lists what is known of a situation.
func (l *leaf) situationWords(s *mix.Situation) string {
	var words []string
	add := func(key string, v mix.Value, show func(unit.Number) string) {
		if v.Known {
			words = append(words, l.t(key, "value", show(v.N)))
		}
	}
	short := func(n unit.Number) string { return n.Short(1) }
	add("water.hardness", s.Hardness, short)
	add("water.ph", s.PH, short)
	add("water.bicarbonate", s.Bicarbonate, short)
	if t := l.temperature(s.WaterTemp); t != "" {
		words = append(words, l.t("water.temperature", "value", t))
	}
	add("water.spray-volume", s.CarrierRate, func(n unit.Number) string { return l.sprayVolume(unit.MilliliterPerSquareMeter.Of(n)) })
	add("water.standing", s.Standing, func(n unit.Number) string { return l.duration(unit.Minute.Of(n)) })
	add("water.share", s.WaterShare, l.percent)
	if len(s.Order) > 0 {
		words = append(words, l.t("water.order", "items", strings.Join(l.namesOf(s.Order), l.t("path.arrow"))))
	}
	if s.Vessel != "" {
		words = append(words, l.t("gate.vessel-"+s.Vessel))
	}
	for _, id := range append([]mix.ID{s.Place, s.Crop}, s.Carrier...) {
		if id != "" {
			words = append(words, l.nameText(id))
		}
	}
	return l.words.List(words)
}

func (e *edition) namesOf(ids []mix.ID) []string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = e.nameText(id)
	}
	return names
}
