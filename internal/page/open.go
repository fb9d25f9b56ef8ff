package page

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// openFile is one file of open data. Its words are under data.file.KEY.
type openFile struct {
	path, key string
	make      func(*press) ([]byte, error)
}

// openFiles are the files of open data, in the order of the page that lists
// them. Names are in the office's own language; columns and words of verdicts
// are those of the data files.
var openFiles = []openFile{
	{"data/verdicts.json", "verdicts-json", (*press).verdictsJSON},
	{"data/verdicts.csv", "verdicts-csv", (*press).verdictsCSV},
	{"data/classes.csv", "classes", (*press).classesCSV},
	{"data/products.csv", "products", (*press).productsCSV},
	{"data/interactions.csv", "interactions", (*press).interactionsCSV},
	{"data/observations.csv", "observations", (*press).observationsCSV},
	{"data/halflives.csv", "halflives", (*press).halfLivesCSV},
	{"data/sources.csv", "sources", (*press).sourcesCSV},
	{"data/advice.json", "advice", (*press).adviceFile},
	{"data/changes.json", "changes", (*press).changesFile},
}

// openVerdict is one pair about which something is known. A pair that is not
// listed has no evidence: it is not fine.
type openVerdict struct {
	A        mix.ID       `json:"a"`
	B        mix.ID       `json:"b"`
	Verdict  mix.Verdict  `json:"verdict"`
	Grade    mix.Grade    `json:"grade"`
	Hazards  []mix.Hazard `json:"hazards"`
	Doubts   []string     `json:"doubts"`
	Evidence []string     `json:"evidence"`
}

func (p *press) openVerdicts() []openVerdict {
	var all []openVerdict
	for _, pair := range p.pairs {
		a := p.Judge.Pair(pair[0], pair[1])
		v := openVerdict{A: pair[0], B: pair[1], Verdict: a.Verdict, Grade: a.Grade, Hazards: append([]mix.Hazard{}, a.Hazards...),
			Doubts: []string{}, Evidence: []string{}}
		for _, d := range a.Doubts {
			v.Doubts = append(v.Doubts, string(d.Code))
		}
		for i := range a.Findings {
			v.Evidence = append(v.Evidence, evidenceIDs(a.Findings[i].Evidence)...)
		}
		all = append(all, v)
	}
	return all
}

func (p *press) verdictsJSON() ([]byte, error) {
	site := &p.book().Site
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetIndent("", " ")
	err := enc.Encode(struct {
		Published     mix.Date      `json:"published"`
		Demonstration bool          `json:"demonstration"`
		Unlisted      mix.Verdict   `json:"unlisted"` // what every pair is that is not listed
		Verdicts      []openVerdict `json:"verdicts"`
	}{site.Published, !site.Demonstration.IsZero(), mix.Unknown, p.openVerdicts()})
	return out.Bytes(), err
}

func (p *press) verdictsCSV() ([]byte, error) {
	rows := [][]string{{"a", "b", "verdict", "grade", "hazards", "doubts", "evidence"}}
	for _, v := range p.openVerdicts() {
		var hazards []string
		for _, h := range v.Hazards {
			hazards = append(hazards, h.String())
		}
		rows = append(rows, []string{string(v.A), string(v.B), v.Verdict.String(), v.Grade.String(), joined(hazards), joined(v.Doubts), joined(v.Evidence)})
	}
	return table(rows)
}

// joined puts several values into one cell.
func joined(values []string) string { return strings.Join(values, " ") }

func idWords(ids []mix.ID) string {
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = string(id)
	}
	return joined(words)
}

// table writes rows as CSV. A cell that a spreadsheet would take for a formula
// is kept from it by a leading apostrophe.
func table(rows [][]string) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	for _, row := range rows {
		for i, cell := range row {
			if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
				row[i] = "'" + cell
			}
		}
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// own returns a text in the office's own language.
func (p *press) own(t mix.Text) string {
	home := p.book().Site.Languages[0]
	text, _ := t.In(home, home)
	return text
}

func (p *press) classesCSV() ([]byte, error) {
	rows := [][]string{{"id", "name", "axis", "group", "kind_of", "products"}}
	for i := range p.book().Classes {
		c := &p.book().Classes[i]
		rows = append(rows, []string{string(c.ID), p.own(c.Name), c.Axis.String(), string(c.Group.ID), idWords(refIDs(c.KindOf)), idWords(p.Index.Members(c.ID))})
	}
	return table(rows)
}

func (p *press) productsCSV() ([]byte, error) {
	rows := [][]string{{"id", "name", "form", "actives", "classes", "rate_low", "rate_high", "density_g_per_ml"}}
	for i := range p.book().Products {
		r := &p.book().Products[i]
		var actives []string
		for _, a := range r.Actives {
			actives = append(actives, strings.TrimSpace(a.Name+" "+a.Amount))
		}
		density := ""
		if !r.Density.IsZero() {
			density = r.Density.In(unit.GramPerMilliliter).Short(4)
		}
		rows = append(rows, []string{string(r.ID), r.Name, string(r.Form), strings.Join(actives, "; "), idWords(p.Index.Classes(r.ID)),
			rateCell(r.Rate.Low), rateCell(r.Rate.High), density})
	}
	return table(rows)
}

func rateCell(r unit.Rate) string {
	if r.IsZero() {
		return ""
	}
	return r.String()
}

func (p *press) interactionsCSV() ([]byte, error) {
	rows := [][]string{{"id", "members", "kind", "verdict", "symptoms", "hazards", "what", "sources"}}
	for i := range p.book().Interactions {
		in := &p.book().Interactions[i]
		var symptoms, hazards, sources []string
		for _, s := range in.Symptoms {
			symptoms = append(symptoms, s.String())
		}
		for _, h := range in.Hazards {
			hazards = append(hazards, h.String())
		}
		for _, s := range in.Sources {
			sources = append(sources, string(s.ID))
		}
		rows = append(rows, []string{string(in.ID), idWords(refIDs(in.Members)), in.Kind.String(), in.Verdict.String(), joined(symptoms),
			joined(hazards), p.own(in.What), joined(sources)})
	}
	return table(rows)
}

// observationsCSV has one row a sign: what was recorded about one symptom.
func (p *press) observationsCSV() ([]byte, error) {
	rows := [][]string{{"id", "date", "field", "place", "products", "symptom", "state"}}
	for i := range p.book().Observations {
		o := &p.book().Observations[i]
		field := "jar"
		if o.Field {
			field = "field"
		}
		for _, s := range p.Judge.Outcome(o.ID).Signs {
			rows = append(rows, []string{string(o.ID), o.Date.String(), field, string(o.Place.ID), idWords(portionIDs(o.Products)), s.Symptom.String(), s.State.String()})
		}
	}
	return table(rows)
}

func (p *press) sourcesCSV() ([]byte, error) {
	rows := [][]string{{"id", "kind", "authors", "year", "title", "where", "link", "partial"}}
	for i := range p.book().Sources {
		s := &p.book().Sources[i]
		year := ""
		if s.Year != 0 {
			year = atoi(s.Year)
		}
		partial := ""
		if s.Partial {
			partial = "true"
		}
		rows = append(rows, []string{string(s.ID), s.Kind.String(), s.Authors, year, s.Title, s.Where, s.Link, partial})
	}
	return table(rows)
}
