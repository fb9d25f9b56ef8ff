package page

import (
	"tankleaf.example/internal/mix"
)

// VerdictsPage tells how verdicts are reached.
type VerdictsPage struct {
	Frame
	Grades   []GradeLine
	Criteria []CriterionLine
}

// GradeLine is one grade of evidence.
type GradeLine struct {
	Name, Meaning string
	Strength      []bool
}

// CriterionLine says when a reading counts as a reaction.
type CriterionLine struct {
	Symptom string
	Says    Line
	Verdict mix.Verdict
}

func (e *edition) verdictsPage() ([]byte, error) {
	l := e.newLeaf("verdicts.html")
	p := &VerdictsPage{}
	for g := mix.Rule; g > mix.NoGrade; g-- {
		p.Grades = append(p.Grades, GradeLine{l.words.Grade(g), l.t("grade-meaning." + g.String()), strength(g)})
	}
	for i := range e.book().Criteria {
		c := &e.book().Criteria[i]
		p.Criteria = append(p.Criteria, CriterionLine{capital(l.words.Symptom(c.Symptom)), l.line(c.Says, c.Sources), c.Verdict})
	}
	return l.finish("verdicts", p, head{l.t("verdicts.title"), l.t("verdicts.summary")})
}

// SafetyPage shows all cautions.
type SafetyPage struct {
	Frame
	Never []HazardPair
}

func (e *edition) safetyPage() ([]byte, error) {
	l := e.newLeaf("safety.html")
	l.danger(mix.Hazards()...)
	return l.finish("safety", &SafetyPage{Never: l.hazardPairs()}, head{l.t("safety.title"), l.t("safety.summary")})
}

// DataPage lists the files of open data and the measured waters.
type DataPage struct {
	Frame
	Files  []DataFile
	Waters []WaterLine
}

// DataFile is one file that anybody may take.
type DataFile struct {
	Link
	What string
}

// WaterLine is one measured water.
type WaterLine struct {
	Anchor                      string
	Name, Place                 Phrase
	Hardness, PH, Bicarb, Dated string
	Cites                       []Cite
}

func (e *edition) dataPage() ([]byte, error) {
	l := e.newLeaf("data.html")
	p := &DataPage{}
	for _, f := range openFiles {
		p.Files = append(p.Files, DataFile{Link{l.asset(f.path), Phrase{Text: f.path}}, l.t("data.file." + f.key)})
	}
	value := func(v mix.Value) string {
		if !v.Known {
			return l.t("extent.not-recorded")
		}
		return v.N.Short(1)
	}
	for i := range e.book().Waters {
		w := &e.book().Waters[i]
		p.Waters = append(p.Waters, WaterLine{"water-" + string(w.ID), l.phrase(w.Name), l.name(w.Place.ID), value(w.Hardness),
			value(w.PH), value(w.Bicarbonate), l.words.Date(w.Measured), l.cites(w.Sources)})
	}
	return l.finish("data", p, head{l.t("data.title"), l.t("data.summary")})
}

// MissingPage is what a server shows for an address that is not there.
type MissingPage struct{ Frame }

func (e *edition) missingPage() ([]byte, error) {
	l := e.newLeaf("404.html")
	return l.finish("404", &MissingPage{}, head{l.t("missing.title"), l.t("missing.summary")})
}
