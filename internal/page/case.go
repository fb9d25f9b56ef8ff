package page

import (
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// CaseView is what records say about the cause of one symptom, as a detective
// would lay it out: what is concluded, how the possibilities shrank, what can still
// be, what was ruled out, and the jar that comes next.
type CaseView struct {
	Anchor, Symptom string
	Stamp           string // established, narrowed, contradicted or open
	StampWords      string
	Says            []string // the conclusion, sentence by sentence
	Classes         []string // the same a level up
	Mixes           []CaseMixView
	Clashes         []ClashView
	Shrink          []ShrinkRow
	Start           string // possibilities before any jar
	Next            *NextView
	Plan            []PlanLine    // the jars that follow from each result, while the cause is open
	Leads           []PartnerLine // what the site says of established causes
	Factors         Factors
	Lifts           []LiftView
	Beliefs         []BeliefLine
	Rates           string // at which jars are taken to be misread
	Repeat          string // the jar that is then worth repeating
	LeftOut         []Link // records that are not counted

	brief int // how many of Says conclude
}

// Brief is the conclusion without who stands for whom.
func (v *CaseView) Brief() []string { return v.Says[:min(len(v.Says), v.brief)] }

// CaseMixView is the smallest mix that reacted with what may have caused it.
type CaseMixView struct {
	Mix    string
	Causes []string // that are possible, or the one that is established
	More   string   // further ones, how many
	Ruled  []RuledLine
}

// RuledLine is a part of the mix that stayed quiet.
type RuledLine struct {
	Part string
	Jars []Link
}

// ClashView is one mix that reacted and did not.
type ClashView struct {
	Mix            string
	Reacted, Clear []Link
	Differ         string // in which recorded circumstances they differ
}

// NextView is the jar that would tell most.
type NextView struct {
	Items             []Link
	Why               string
	IfReacts, IfQuiet string
	Head              string
	Careful           bool // the symptom, or what is known of the mix, hurts people
}

// BeliefLine is a possible cause with its probability when jars can be misread.
type BeliefLine struct{ Cause, P string }

// The stamps of a case, from the most cautious.
const (
	stampOpen         = "open"
	stampContradicted = "contradicted"
	stampNarrowed     = "narrowed"
	stampEstablished  = "established"
)

// caseView lays one case out.
func (l *leaf) caseView(c *compat.Case) CaseView {
	v := CaseView{Anchor: "case-" + c.Symptom.String(), Symptom: capital(l.words.Symptom(c.Symptom)), Factors: l.factors(c)}
	v.LeftOut = l.recordLinks(c.LeftOut)
	if c.TooMany {
		v.Stamp, v.StampWords = stampOpen, l.t("case.stamp.open")
		v.Says, v.brief = []string{l.t("case.too-many", "n", len(c.Suspects))}, 1
		return v
	}
	f := folding(c)
	least := c.Smallest()
	l.conclude(&v, c, least)
	for _, m := range least {
		if m.Status != compat.Contradicted {
			v.Mixes = append(v.Mixes, l.caseMix(c, f, m))
		}
	}
	for i := range c.Conflicts {
		v.Clashes = append(v.Clashes, l.clash(&c.Conflicts[i]))
	}
	v.Classes = l.classSentences(c)
	v.Start, v.Shrink = l.shrinking(c)
	v.Next = l.next(c, least)
	if c.Conclusion() == compat.Narrowed {
		v.Plan = l.planLines(c.Plan(mostPlanned).Answered())
	}
	v.Leads = l.follows(foldedCauses(c, least))
	v.Lifts = l.liftViews(c)
	l.beliefs(&v, c)
	return v
}

// mostPlanned is how many jars in a row a page plans, at most to the first answer:
// each more doubles the lines, and the first result draws up a new page.
const mostPlanned = 3

// follows are the pages of the pairs that are established causes: from how we know
// to what to do.
func (l *leaf) follows(causes [][]mix.ID) []PartnerLine {
	var list []PartnerLine
	for _, k := range causes {
		if len(k) == 2 && l.hasPage(k[0], k[1]) {
			list = append(list, PartnerLine{Verdict: l.Judge.Pair(k[0], k[1]).Verdict, Name: Phrase{Text: l.pairTitle(k[0], k[1])},
				Href: l.link(togetherPath(k[0], k[1]))})
		}
	}
	return list
}

// within reports whether each of some items is among others.
func within(some, all []mix.ID) bool {
	return !slices.ContainsFunc(some, func(id mix.ID) bool { return !slices.Contains(all, id) })
}

// conclude sets the stamp and says what is concluded. The most cautious of several
// mixes decides the stamp.
func (l *leaf) conclude(v *CaseView, c *compat.Case, least []compat.CaseMix) {
	var possible [][]mix.ID
	for _, m := range least {
		if m.Status == compat.Narrowed {
			possible = append(possible, m.Possible...)
		}
	}
	switch c.Conclusion() {
	case compat.Contradicted:
		v.Stamp, v.StampWords = stampContradicted, l.t("case.stamp.contradicted")
		v.Says = append(v.Says, l.t(contradiction(c)))
	case compat.Narrowed:
		v.Stamp, v.StampWords = stampNarrowed, l.t("case.stamp.narrowed", "n", len(possible))
	case compat.Established:
		v.Stamp, v.StampWords = stampEstablished, l.t("case.stamp.established")
	case compat.NotSearched:
		v.Stamp, v.StampWords = stampOpen, l.t("case.stamp.open")
	}
	if found := foldedCauses(c, least); len(found) > 0 {
		v.Says = append(v.Says, l.t("case.established", "n", len(found), "causes", l.either(found, "list.and-from")))
	}
	switch {
	case len(possible) > mostInSentence:
		v.Says = append(v.Says, l.t("case.narrowed-many", "n", len(possible)))
	case len(possible) > 0:
		v.Says = append(v.Says, l.t("case.narrowed", "causes", l.either(possible, "list.or")))
	}
	if what := l.circumstances(decides(c)); what != "" {
		v.Says = append(v.Says, l.t("case.decides", "what", what))
	}
	v.brief = len(v.Says)
	for _, group := range c.Alike {
		v.Says = append(v.Says, l.t("case.alike", "items", l.names(group), "class", l.commonClass(group)))
	}
}

// contradiction picks the words for a mix that did both: whether it stayed quiet
// only with something else in the jar.
func contradiction(c *compat.Case) string {
	if slices.ContainsFunc(c.Conflicts, func(k compat.Clash) bool { return !k.Explained && len(k.Beside) == 0 }) {
		return "case.contradicted"
	}
	return "case.contradicted-inside"
}

// decides lists the circumstances that explain why a mix did both.
func decides(c *compat.Case) []compat.Circumstance {
	var list []compat.Circumstance
	for _, k := range c.Conflicts {
		for _, d := range k.Differ {
			if k.Explained && !slices.Contains(list, d) {
				list = append(list, d)
			}
		}
	}
	return list
}

// foldedCauses lists the established causes of the smallest mixes, each once.
func foldedCauses(c *compat.Case, least []compat.CaseMix) [][]mix.ID {
	var found [][]mix.ID
	for _, m := range least {
		for _, k := range m.Causes {
			if !slices.ContainsFunc(found, func(f []mix.ID) bool { return slices.Equal(f, k) }) {
				found = append(found, k)
			}
		}
	}
	return found
}

// The page names so many possible causes in a list, and in the conclusion.
const (
	mostCauses     = 6
	mostInSentence = 4
)

// either lists sets of items, joined by the words of a key.
func (l *leaf) either(sets [][]mix.ID, key string) string {
	var all []string
	for i, s := range sets {
		if i == mostCauses {
			all = append(all, l.t("case.more-causes", "n", len(sets)-mostCauses))
			break
		}
		all = append(all, l.cause(s))
	}
	if len(all) < 2 {
		return strings.Join(all, "")
	}
	last := len(all) - 1
	return l.t(key, "before", strings.Join(all[:last], l.t("list.comma")), "last", all[last])
}

// cause names a set of items that act together.
func (l *leaf) cause(items []mix.ID) string {
	switch len(items) {
	case 1:
		return l.t("case.alone", "item", l.nameText(items[0]))
	case 2:
		return l.t("case.with", "a", l.nameText(items[0]), "b", l.nameText(items[1]))
	}
	return l.t("case.together", "items", l.names(items))
}

// commonClass names the narrowest class that items share, of those most products
// of which are about chemistry or salt; "" when there is none.
func (l *leaf) commonClass(items []mix.ID) string {
	var best mix.ID
	rank := -1
	for _, id := range l.Index.Classes(items[0]) {
		k := l.Index.Class(id)
		if k == nil || slices.ContainsFunc(items, func(p mix.ID) bool { return !l.Index.IsA(p, id) }) {
			continue
		}
		r := len(l.Index.Ancestors(id))
		if l.chemical(id) {
			r += 1000
		}
		if r > rank {
			best, rank = id, r
		}
	}
	return l.nameText(best)
}

// mostClassCauses is how many explanations at the level of classes are told.
const mostClassCauses = 3

// classSentences tells what all mixes that reacted had in common: classes of
// chemistry and salts when some of these explain it, for a formulation that all
// shared is more often an accident of what was at hand.
func (l *leaf) classSentences(c *compat.Case) []string {
	list := slices.DeleteFunc(slices.Clone(c.Classes), func(k compat.ClassCause) bool {
		return slices.ContainsFunc(k.Places, func(alike []mix.ID) bool { return !slices.ContainsFunc(alike, l.chemical) })
	})
	if len(list) == 0 {
		list = c.Classes
	}
	var lines []string
	for i := range list[:min(len(list), mostClassCauses)] {
		k := &list[i]
		var places []string
		for _, alike := range k.Places {
			name := l.nameText(alike[0])
			if len(alike) > 1 {
				name = l.t("case.class-or", "class", name, "others", l.names(alike[1:min(len(alike), 4)]))
			}
			places = append(places, name)
		}
		key := "case.classes-never-alone"
		if k.Alone {
			key = "case.classes"
		}
		lines = append(lines, l.t(key, "n", len(places), "classes", l.words.List(places)))
	}
	return lines
}

// chemical reports whether a class is about chemistry or a salt.
func (l *leaf) chemical(class mix.ID) bool {
	k := l.Index.Class(class)
	return k != nil && (k.Axis == mix.Chemistry || k.Axis == mix.Salt)
}

// recordLinks leads to records by their ids.
func (l *leaf) recordLinks(list []*mix.Observation) []Link {
	var links []Link
	for _, o := range list {
		links = append(links, l.recordLink(o))
	}
	return links
}

func (l *leaf) recordLink(o *mix.Observation) Link {
	return Link{l.link(observationPath(o.ID)), Phrase{Text: string(o.ID)}}
}

// folding maps each suspect to the one that stands for all that act alike.
func folding(c *compat.Case) map[mix.ID]mix.ID {
	lead := map[mix.ID]mix.ID{}
	for _, g := range c.Alike {
		for _, p := range g {
			lead[p] = g[0]
		}
	}
	return lead
}

// caseMix lists what may have caused one mix's reaction and which parts of it
// stayed quiet, the largest parts alone.
func (l *leaf) caseMix(c *compat.Case, lead map[mix.ID]mix.ID, m compat.CaseMix) CaseMixView {
	v := CaseMixView{Mix: l.names(m.Products)}
	list := m.Possible
	if m.Status == compat.Established {
		list = m.Causes
	}
	for i, set := range list {
		if i == mostCauses {
			v.More = l.t("case.more-causes", "n", len(list)-mostCauses)
			break
		}
		v.Causes = append(v.Causes, l.cause(set))
	}
	v.Ruled = l.ruled(c, lead, m.Products)
	return v
}

// ruled lists the largest parts of a mix that quiet records held.
func (l *leaf) ruled(c *compat.Case, lead map[mix.ID]mix.ID, products []mix.ID) []RuledLine {
	type part struct {
		items []mix.ID
		jars  []*mix.Observation
	}
	var parts []part
	for _, o := range c.Clear {
		held := heldOf(o, lead, products)
		if len(held) == 0 || len(held) == len(products) {
			continue
		}
		if i := slices.IndexFunc(parts, func(p part) bool { return slices.Equal(p.items, held) }); i >= 0 {
			parts[i].jars = append(parts[i].jars, o)
			continue
		}
		parts = append(parts, part{held, []*mix.Observation{o}})
	}
	var lines []RuledLine
	for _, p := range parts {
		inside := slices.ContainsFunc(parts, func(q part) bool { return len(q.items) > len(p.items) && within(p.items, q.items) })
		if !inside {
			lines = append(lines, RuledLine{l.cause(p.items), l.recordLinks(p.jars)})
		}
	}
	return lines
}

// heldOf returns which of some products a record held, itself or through one that
// acts alike.
func heldOf(o *mix.Observation, lead map[mix.ID]mix.ID, products []mix.ID) []mix.ID {
	var held []mix.ID
	for _, p := range products {
		if slices.ContainsFunc(o.Products, func(q mix.Portion) bool { return q.ID == p || lead[q.ID] == p }) {
			held = append(held, p)
		}
	}
	return held
}

func (l *leaf) clash(k *compat.Clash) ClashView {
	v := ClashView{Mix: l.names(k.Reacted), Reacted: l.recordLinks(k.ReactedJars), Clear: l.recordLinks(k.ClearJars)}
	if larger := slices.Concat(k.Clear, k.Beside); len(larger) > len(k.Reacted) {
		slices.Sort(larger)
		v.Mix = l.t("case.inside", "mix", v.Mix, "larger", l.names(slices.Compact(larger)))
	}
	what := l.circumstances(k.Differ)
	if k.Partly {
		what = l.t("case.differ-partly", "what", what)
	}
	switch {
	case what == "" && k.Explained:
		v.Differ = l.t("case.differ-several")
	case what == "" && len(k.Beside) > 0:
		v.Differ = l.t("case.differ-beside", "items", l.names(k.Beside))
	case what == "":
		v.Differ = l.t("case.differ-nothing")
	case k.Explained:
		v.Differ = l.t("case.differ-explained", "what", what)
	default:
		v.Differ = l.t("case.differ", "what", what)
	}
	return v
}

func (l *leaf) circumstances(list []compat.Circumstance) string {
	var words []string
	for _, c := range list {
		words = append(words, l.t("circumstance."+string(c)))
	}
	return l.words.List(words)
}

// PartedView says that two symptoms are two matters, with the records that show it.
type PartedView struct {
	Text string
	Ways [2]PartedWay
}

// PartedWay is one symptom without the other.
type PartedWay struct {
	Text string
	Jars []Link
}

// cases lays out all cases of a question and tells which symptoms are matters of
// their own.
func (l *leaf) cases(list []compat.Case) ([]CaseView, []PartedView) {
	var views []CaseView
	for i := range list {
		views = append(views, l.caseView(&list[i]))
	}
	var parted []PartedView
	for _, p := range l.Judge.Parted(list) {
		a, b := l.words.Symptom(p.A), l.words.Symptom(p.B)
		way := func(with, without string, jars []*mix.Observation) PartedWay {
			return PartedWay{capital(l.t("case.without", "a", with, "b", without, "n", len(jars))), l.recordLinks(jars)}
		}
		parted = append(parted, PartedView{capital(l.t("case.parted", "a", a, "b", b)), [2]PartedWay{way(a, b, p.OnlyA), way(b, a, p.OnlyB)}})
	}
	return views, parted
}
