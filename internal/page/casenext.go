package page

import (
	"fmt"
	"math"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// ShrinkRow is what one record left of the possibilities. Records after it that
// left them where they were stand with it in one row.
type ShrinkRow struct {
	Jars    []Link
	Date    string
	Mix     string // "" when there are several
	What    string
	Reacted bool
	News    bool   // it shrank them
	Left    string // how many are left
	Bar     string // length of the bar, of 100
	Tells   string // what it leaves, in words; set when it is news
}

// shrinking tells how the possibilities shrank, record by record.
func (l *leaf) shrinking(c *compat.Case) (start string, rows []ShrinkRow) {
	steps := c.Shrinking()
	if len(steps) == 0 {
		return "", nil
	}
	left, known := c.Total, false
	for _, s := range steps {
		row := ShrinkRow{Jars: []Link{l.recordLink(s.Observation)}, Date: l.words.Date(s.Observation.Date), Mix: l.names(portionIDs(s.Observation.Products)),
			Reacted: s.Reacted, What: l.t("case.quiet"), News: s.Possible != left, Left: l.words.Count(s.Possible), Bar: bar(s.Possible, c.Total)}
		if s.Reacted {
			row.What = l.t("case.reacted")
		}
		if s.Possible == 0 {
			row.Left = l.t("case.wider")
		}
		if row.News = row.News || len(s.Established) > 0; row.News {
			row.Tells = l.tells(&s, known)
			known = known || len(s.Established) > 0
		}
		if n := len(rows); !row.News && n > 0 && !rows[n-1].News && rows[n-1].Reacted == row.Reacted {
			rows[n-1].Jars, rows[n-1].Mix = append(rows[n-1].Jars, row.Jars...), ""
			continue
		}
		rows = append(rows, row)
		left = s.Possible
	}
	return l.words.Count(c.Total), rows
}

// tells says in words what a record leaves: the cause that it establishes, or what
// could by itself still explain every reaction so far. Once a cause is known, what is
// left is about another beside it.
func (l *leaf) tells(s *compat.Shrink, known bool) string {
	switch {
	case len(s.Established) > 0:
		return l.t("case.tells-established", "causes", l.either(s.Established, "list.and-from"))
	case known:
		return l.t("case.tells-second")
	case len(s.Single) == 0:
		return l.t("case.tells-several")
	case len(s.Single) <= mostInSentence:
		return l.t("case.tells-few", "causes", l.either(s.Single, "list.or"))
	}
	return l.t("case.tells-many", "n", len(s.Single))
}

// bar is the length of a bar for n of total possibilities, on a log scale: each
// halving takes the same piece off, and one that is left is not nothing.
func bar(n, total int) string {
	if n <= 0 || total <= 0 {
		return "0"
	}
	return fmt.Sprintf("%.1f", 100*min(1, math.Log2(1+float64(n))/math.Log2(1+float64(total))))
}

// next tells the jar that would tell most and what each result would leave.
func (l *leaf) next(c *compat.Case, least []compat.CaseMix) *NextView {
	if c.Next == nil {
		return nil
	}
	hazards := l.Judge.Mix(c.Next.Products, mix.Situation{}).Hazards
	l.danger(hazards...)
	v := &NextView{Items: l.items(c.Next.Products), Careful: dangerous(c.Symptom) || len(hazards) > 0, Why: l.t("case.why."+c.Next.Why.String(), "p", l.words.Percent(c.Next.Reacts))}
	v.Head = l.t("case.next")
	if !c.Symptom.ShowsInJar() {
		v.Head = l.t("case.next-plot")
	}
	if reacts, quiet := decided(c.Next.Products, least); len(reacts) > 0 {
		v.IfReacts = l.t("case.then-reacts", "causes", l.either(reacts, "list.or"))
		v.IfQuiet = l.t("case.then-quiet", "causes", l.either(quiet, "list.or"))
		return v
	}
	v.IfReacts = l.t("case.if-reacts", "n", c.Next.IfReacts)
	v.IfQuiet = l.t("case.if-quiet", "n", c.Next.IfClear)
	return v
}

// decided returns what a jar inside one open mix would leave of its possible causes:
// when it reacts those inside the jar, when it stays quiet the others. A jar that
// leaves none on one side decides nothing about that mix.
func decided(jar []mix.ID, least []compat.CaseMix) (reacts, quiet [][]mix.ID) {
	for _, m := range least {
		if m.Status != compat.Narrowed || m.Partial || !within(jar, m.Products) {
			continue
		}
		for _, p := range m.Possible {
			if within(p, jar) {
				reacts = append(reacts, p)
			} else {
				quiet = append(quiet, p)
			}
		}
		if len(reacts) > 0 && len(quiet) > 0 {
			return reacts, quiet
		}
		reacts, quiet = nil, nil
	}
	return nil, nil
}

// dangerous reports whether a symptom hurts people.
func dangerous(s mix.Symptom) bool { return s == mix.Gas || s == mix.Heat || s == mix.Fire }

// leastBelief is the probability below which a possible cause is not listed.
const leastBelief = 0.1

// beliefs tells how likely each cause is when jars are misread now and then, and
// which jar is then worth repeating.
func (l *leaf) beliefs(v *CaseView, c *compat.Case) {
	all, next := c.Beliefs(compat.MisreadRates)
	for _, b := range all {
		if b.P >= leastBelief && len(v.Beliefs) < mostCauses {
			v.Beliefs = append(v.Beliefs, BeliefLine{l.cause(b.Products), l.words.Percent(b.P)})
		}
	}
	if len(v.Beliefs) == 0 {
		return
	}
	v.Rates = l.t("case.rates", "missed", l.words.Percent(compat.MisreadRates.Missed), "false", l.words.Percent(compat.MisreadRates.False))
	if next != nil && next.Why == compat.Again {
		v.Repeat = l.t("case.repeat", "items", strings.Join(l.namesOf(next.Products), " + "))
	}
}
