package page

import (
	"html/template"
	"strings"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/internal/unit"
)

// ObservationPage is one jar test or field report.
type ObservationPage struct {
	Frame
	ID         string
	Heading    Phrase
	Field      bool
	When       string
	Says       string // what came of it, in one line
	Reacted    bool
	Outcomes   []OutcomeLine // what reacted or could not be judged
	Clear      string        // what was looked for and not seen
	Missing    string        // what was not recorded
	Products   []PortionLine
	OrderKnown bool
	Facts      []Fact
	Jars       []JarDrawing
	Gas        *GasView
	Readings   ReadingTable
	Ratings    []RatingLine
	Note       Phrase
	Photo      string
	Inquiry    Link
	Record     template.HTML
	RecordHref string
	Together   []Link
}

// OutcomeLine is what came of one symptom.
type OutcomeLine struct {
	Symptom string
	Result  string
	Rule    Line // the criterion
	Hazard  bool
}

// PortionLine is one product of a mix.
type PortionLine struct {
	Link
	Form string
	Rate string
	More string // batch
}

// ReadingTable is all readings: one row a thing seen, one column a time.
type ReadingTable struct {
	Times []string
	Rows  []ReadingRow
}

// ReadingRow is one thing seen over time.
type ReadingRow struct {
	Name  string
	Cells []string
}

// RatingLine is a biological result.
type RatingLine struct {
	Symptom, Target, Days, Mix, Untreated string
	Singles                               []string
}

// portions lists the products of a mix.
func (l *leaf) portions(all []mix.Portion) []PortionLine {
	var lines []PortionLine
	for _, p := range all {
		line := PortionLine{Link: l.item(p.ID), Rate: l.rate(p.Rate)}
		if product := l.Index.Product(p.ID); product != nil {
			line.Form = string(product.Form)
		}
		if p.Batch != "" {
			line.More = l.t("observation.batch", "batch", p.Batch)
		}
		lines = append(lines, line)
	}
	return lines
}

// conditions lists what is known of water, vessel, place and time.
func (l *leaf) conditions(o *mix.Observation) []Fact {
	var fs facts
	fs.add(l.t("fact.place"), linked(Link{"", l.name(o.Place.ID)}))
	fs.add(l.t("fact.by"), said(l.by(o.By)))
	fs.add(l.t("fact.vessel"), said(l.vesselWords(&o.Vessel)))
	if o.Water.ID != "" {
		fs.add(l.t("fact.water"), Line{Phrase: l.name(o.Water.ID)}, said(l.waterWords(o.Water.ID)))
	}
	fs.add(l.t("fact.temperature"), said(l.temperature(o.Temperature)))
	if o.PHBefore.Known {
		fs.add(l.t("fact.ph-before"), said(o.PHBefore.N.Short(1)))
	}
	if !o.SprayVolume.IsZero() {
		fs.add(l.t("fact.spray-volume"), said(l.sprayVolume(o.SprayVolume)))
	}
	if o.WaterShare.Known {
		fs.add(l.t("fact.water-share"), said(l.percent(o.WaterShare.N)))
	}
	if o.Inversions > 0 {
		fs.add(l.t("fact.inversions"), said(l.words.Count(o.Inversions)))
	}
	return fs
}

// by puts an observer's role into words; roles the catalogue does not know are
// shown as written.
func (l *leaf) by(role string) string {
	if key := "by." + strings.ReplaceAll(role, " ", "-"); l.words.Has(key) {
		return l.t(key)
	}
	return role
}

func (l *leaf) vesselWords(v *mix.Vessel) string {
	if v.Type == "" && v.Size.IsZero() {
		return ""
	}
	var parts []string
	if v.Type != "" {
		parts = append(parts, l.t("vessel."+v.Type))
	}
	if !v.Size.IsZero() {
		parts = append(parts, l.volume(v.Size))
	}
	if !v.Liquid.IsZero() {
		parts = append(parts, l.t("vessel.with", "liquid", l.volume(v.Liquid)))
	}
	switch {
	case !v.Recorded:
		parts = append(parts, l.t("vessel.closure-unknown"))
	case v.Closed:
		parts = append(parts, l.t("vessel.closed"))
	default:
		parts = append(parts, l.t("vessel.open"))
	}
	return strings.Join(parts, ", ")
}

// waterWords names what is dissolved in a water.
func (l *leaf) waterWords(id mix.ID) string {
	w := l.Index.Water(id)
	if w == nil {
		return ""
	}
	var parts []string
	for _, v := range []struct {
		key   string
		value mix.Value
	}{{"water.hardness", w.Hardness}, {"water.ph", w.PH}, {"water.bicarbonate", w.Bicarbonate}} {
		if v.value.Known {
			parts = append(parts, l.t(v.key, "value", v.value.N.Short(1)))
		}
	}
	return strings.Join(parts, ", ")
}

// seen is one thing that a reading may hold, in words.
type seen struct {
	name, value string
	none        bool // looked for and not there
}

// readingCells lists everything of a reading in a fixed order; what was not
// recorded says so.
func (l *leaf) readingCells(v *mix.Vessel, r *mix.Reading) []seen {
	cells := []seen{
		{l.t("symptom.gas"), l.t("gas." + r.Gas.String()), r.Gas == mix.NoGas},
		{l.t("symptom.foam"), l.headWords(v, &r.Foam), r.Foam.Recorded && r.Foam.Volume.IsZero() && r.Foam.Height.IsZero()},
		{l.t("symptom.heat"), l.optional(r.Rise, l.rise), r.Rise.Known && r.Rise.N.Sign() == 0},
	}
	for _, e := range []struct {
		symptom mix.Symptom
		extent  mix.Extent
	}{{mix.Flakes, r.Flakes}, {mix.Gel, r.Gel}, {mix.Precipitate, r.Precipitate}, {mix.Layers, r.Layers}, {mix.OilFilm, r.OilFilm}} {
		cells = append(cells, seen{l.words.Symptom(e.symptom), l.t("extent." + e.extent.String()), e.extent == mix.None})
	}
	redispersed := l.t("redispersed." + r.Redisperse.String())
	if r.Inversions > 0 {
		redispersed = l.t("redispersed.after", "what", redispersed, "n", r.Inversions)
	}
	screen := l.t("screen." + r.Screen.String())
	if r.Mesh > 0 {
		screen = l.t("screen.mesh", "what", screen, "n", r.Mesh)
	}
	return append(cells, seen{l.t("reading.redispersed"), redispersed, false},
		seen{l.t("symptom.residue"), screen, r.Screen == mix.NoResidue},
		seen{l.t("reading.ph"), l.optional(r.PH, func(n unit.Number) string { return n.Short(1) }), false})
}

func (l *leaf) optional(v mix.Value, words func(unit.Number) string) string {
	if !v.Known {
		return l.t("extent.not-recorded")
	}
	return words(v.N)
}

// headWords writes a head of foam with its share of the liquid.
func (l *leaf) headWords(v *mix.Vessel, h *mix.Head) string {
	if !h.Recorded {
		return l.t("extent.not-recorded")
	}
	text := unit.Milliliter.Format(h.Volume, 0)
	if h.Tall {
		text = unit.Millimeter.Format(h.Height, 0)
	}
	if share := foamShare(v, h); share > 0 {
		return l.t("foam.share", "head", text, "share", l.words.Percent(share))
	}
	return text
}

// readingWords lists what was recorded at one time: what was there, then what
// was looked for and was not, then how much was not recorded.
func (l *leaf) readingWords(v *mix.Vessel, r *mix.Reading) []string {
	var words, none []string
	missing := 0
	blank := l.t("extent.not-recorded")
	for _, c := range l.readingCells(v, r) {
		if strings.HasPrefix(c.value, blank) {
			missing++
			continue
		}
		if c.none {
			none = append(none, c.name)
			continue
		}
		words = append(words, l.t("reading.line", "what", c.name, "value", c.value))
	}
	if len(none) > 0 {
		words = append(words, l.t("reading.nothing", "what", l.words.List(none)))
	}
	if missing > 0 {
		words = append(words, l.t("reading.missing", "n", missing))
	}
	return words
}

// readingTable sets all readings side by side; rows in which nothing was ever
// recorded are kept, for that is worth knowing.
func (l *leaf) readingTable(o *mix.Observation) ReadingTable {
	var t ReadingTable
	for i := range o.Readings {
		r := &o.Readings[i]
		t.Times = append(t.Times, l.duration(r.After))
		for n, c := range l.readingCells(&o.Vessel, r) {
			if i == 0 {
				t.Rows = append(t.Rows, ReadingRow{Name: capital(c.name)})
			}
			t.Rows[n].Cells = append(t.Rows[n].Cells, c.value)
		}
	}
	return t
}

func (l *leaf) ratings(o *mix.Observation) []RatingLine {
	var lines []RatingLine
	for _, r := range o.Ratings {
		line := RatingLine{Symptom: capital(l.words.Symptom(r.Symptom)), Target: r.Target, Days: l.t("rating.days", "n", r.Days),
			Mix: l.points(r.Mix), Untreated: l.points(r.Untreated)}
		for _, s := range r.Singles {
			line.Singles = append(line.Singles, l.t("reading.line", "what", l.nameText(s.Product.ID), "value", l.points(s.Rating)))
		}
		lines = append(lines, line)
	}
	return lines
}

// points writes a rating from 0 to 100.
func (l *leaf) points(v mix.Value) string {
	return l.optional(v, func(n unit.Number) string { return l.t("number.percent", "n", n.Short(0)) })
}

// record highlights the observation's own file.
func record(o *mix.Observation) (template.HTML, error) {
	if o.Record == "" {
		return "", nil
	}
	return sheet.Highlight("yaml", o.Record)
}
