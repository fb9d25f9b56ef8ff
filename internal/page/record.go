package page

import (
	"net/url"
	"strings"
	"sync"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/planner"
	"tankleaf.example/internal/unit"
	"tankleaf.example/templates"
)

// The observation form. It works in the reader's browser alone: what is typed goes
// into a record that the reader saves or mails, and nowhere else.

// Choices is what the office knows, for the form: the client's record/choices.ts.
type Choices struct {
	Schema         int             `json:"schema"`
	Lang           mix.Lang        `json:"lang"`
	Own            mix.Lang        `json:"own"`
	Untranslated   string          `json:"untranslated"`
	Published      string          `json:"published"`
	Times          []string        `json:"times"`
	Roles          []string        `json:"roles"`
	Vessels        []string        `json:"vessels"`
	Products       []ProductChoice `json:"products"`
	Places         []NamedChoice   `json:"places"`
	Waters         []NamedChoice   `json:"waters"`
	Investigations []NamedChoice   `json:"investigations"`
	Signs          []SignChoice    `json:"signs"`
}

// ProductChoice is a product with what decides how its rate may be written.
type ProductChoice struct {
	ID    mix.ID `json:"id"`
	Name  string `json:"name"`
	Dry   bool   `json:"dry,omitempty"`   // weighed
	Dense bool   `json:"dense,omitempty"` // its density is known
}

// NamedChoice is a record with its name.
type NamedChoice struct {
	ID   mix.ID   `json:"id"`
	Name string   `json:"name"`
	Lang mix.Lang `json:"lang,omitempty"`
}

// SignChoice is one thing that a reading may hold.
type SignChoice struct {
	Field string   `json:"field"`
	Name  string   `json:"name"`
	Words []string `json:"words,omitempty"`
	Unit  string   `json:"unit,omitempty"`
}

// Roles and vessels in the words of the data files.
var (
	roles   = []string{"grower", "applicator", "adviser", "dealer", "county agent", "office specialist"}
	vessels = []string{"jar", "bottle", "cylinder", "tank", "nurse-tank", "inductor"}
)

// choices gathers what the form offers in this edition.
func (e *edition) choices() Choices {
	b := e.book()
	c := Choices{Schema: 1, Lang: e.lang, Own: e.home, Published: b.Site.Published.String(), Roles: roles, Vessels: vessels,
		Untranslated: e.Messages[e.home].T("record.untranslated", "language", e.Messages[e.lang].T("language.own-name"))}
	for _, d := range b.Routine.Readings {
		c.Times = append(c.Times, d.String())
	}
	c.Products = []ProductChoice{}
	for i := range b.Products {
		p := &b.Products[i]
		c.Products = append(c.Products, ProductChoice{p.ID, p.Name, p.Dry, !p.Density.IsZero()})
	}
	c.Places, c.Waters, c.Investigations = []NamedChoice{}, []NamedChoice{}, []NamedChoice{}
	for _, p := range b.Places {
		c.Places = append(c.Places, e.namedChoice(p.ID, p.Name))
	}
	for _, w := range b.Waters {
		c.Waters = append(c.Waters, e.namedChoice(w.ID, w.Name))
	}
	for _, in := range b.Investigations {
		c.Investigations = append(c.Investigations, e.namedChoice(in.ID, in.Title))
	}
	for _, s := range signs {
		c.Signs = append(c.Signs, SignChoice{s.field, capital(e.t(s.name)), s.words, s.unit})
	}
	return c
}

func (e *edition) namedChoice(id mix.ID, name mix.Text) NamedChoice {
	p := e.phrase(name)
	return NamedChoice{id, p.Text, p.Lang}
}

// RecordPage is the observation form; without a script it shows how a record is
// written by hand.
type RecordPage struct {
	ToolPage
	Example string // a record as a file
	Mail    string // the office's address for mail; "" when it gives none
	Rows    []RecordRow
}

func (e *edition) recordPage() ([]byte, error) {
	l := e.newLeaf("record.html")
	tool, err := l.toolPage(job{toolFolder + "record.js", formScript}, e.messagesJob(), e.ownJob("choices", e.choicesFile))
	if err != nil {
		return nil, err
	}
	p := &RecordPage{ToolPage: *tool,
		Example: e.exampleRecord(), Mail: mailIn(e.phrase(e.book().Site.Contact).Text), Rows: l.recordRows()}
	return l.finish("record", p, head{l.t("record.title"), l.t("record.summary")})
}

// formJobs lists the files of the form in an edition.
func (e *edition) formJobs(add func(string, func() ([]byte, error))) {
	add("record.html", e.recordPage)
	add(toolFolder+"choices.js", e.choicesFile)
}

func (e *edition) choicesFile() ([]byte, error) { return planner.Script("choices", "", e.choices()) }

// formScript is the form's script, bundled once for all publications.
var formScript = sync.OnceValues(func() ([]byte, error) { return client.Bundle(templates.Client(), "record/main.ts") })

// formAddress is the end of an address that fills the form in with a recipe's mix.
func formAddress(r *mix.Recipe) string {
	address := "?v=1"
	put := func(key, value string) {
		if value != "" {
			address += "&" + key + "=" + url.QueryEscape(value)
		}
	}
	for _, p := range r.Products {
		value := string(p.ID)
		if !p.Rate.IsZero() {
			value += ":" + p.Rate.String()
		}
		put("p", value)
	}
	if !r.SprayVolume.IsZero() {
		put("spray", r.SprayVolume.String())
	}
	if isCrowded(r) {
		put("share", r.WaterShare.Mul(unit.Int(100)).Short(3)+" %")
	}
	put("water", string(r.Water.ID))
	return address
}

// exampleRecord is the newest jar test of the office, as its file.
func (e *edition) exampleRecord() string {
	var newest *mix.Observation
	for i := range e.book().Observations {
		o := &e.book().Observations[i]
		if !o.Field && (newest == nil || o.Date.Compare(newest.Date) > 0 || o.Date == newest.Date && o.ID < newest.ID) {
			newest = o
		}
	}
	if newest == nil {
		return ""
	}
	return newest.Record
}

// mailIn returns the first word of a contact that is an address for mail.
func mailIn(contact string) string {
	for _, word := range strings.Fields(contact) {
		word = strings.Trim(word, ",;.()<>")
		if name, host, ok := strings.Cut(word, "@"); ok && name != "" && strings.Contains(host, ".") {
			return word
		}
	}
	return ""
}
