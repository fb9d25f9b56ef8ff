package page

import (
	"bytes"
	"slices"
	"sync"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/qr"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// Packets: the printable form of a trial for a room full of people. On the screen a
// packet is one page; on paper each of its parts is a sheet of its own, and the sheet
// of a jar's record lies behind its card when it is printed on both sides.

// worked is a trial of the book once it is planned.
type worked struct {
	packet *trial.Packet
	err    error
}

// packet plans a trial once for all pages that speak of it.
func (p *press) packet(t *mix.Trial) worked {
	once, _ := p.packets.LoadOrStore(t.ID, sync.OnceValue(func() worked {
		planner := trial.New(p.Judge)
		plan, err := planner.Trial(planner.FromBook(t))
		if err != nil {
			return worked{err: err}
		}
		address := ""
		if p.BaseURL != "" {
			address = p.BaseURL + packetPath(t.ID)
		}
		made, err := planner.Packet(plan, trial.PeopleOf(t), address)
		return worked{made, err}
	}))
	return once.(func() worked)()
}

func packetPath(id mix.ID) string      { return "packet/" + string(id) + ".html" }
func packetSheetPath(id mix.ID) string { return "packet/" + string(id) + ".csv" }
func packetLabelsPath(id, stock mix.ID) string {
	return "packet/" + string(id) + "--labels-" + string(stock) + ".html"
}

// packetJobs lists the pages of packets in an edition.
func (e *edition) packetJobs(add func(string, func() ([]byte, error))) {
	add("packets.html", e.packetsPage)
	for i := range e.book().Trials {
		t := &e.book().Trials[i]
		add(packetPath(t.ID), func() ([]byte, error) { return e.packetPage(t) })
		for j := range e.book().Routine.Labels {
			stock := &e.book().Routine.Labels[j]
			add(packetLabelsPath(t.ID, stock.ID), func() ([]byte, error) { return e.labelsPage(t, stock) })
		}
	}
}

// sheetJobs lists the record sheets of all packets as tables to be filled in.
func (p *press) sheetJobs() []job {
	var all []job
	for i := range p.book().Trials {
		t := &p.book().Trials[i]
		all = append(all, job{packetSheetPath(t.ID), func() ([]byte, error) {
			w := p.packet(t)
			if w.err != nil {
				return nil, nil // the packet's page says why there is nothing to fill in
			}
			var out bytes.Buffer
			err := w.packet.Trial.WriteSheet(&out, string(t.ID))
			return out.Bytes(), err
		}})
	}
	return all
}

// PacketsPage lists the packets.
type PacketsPage struct {
	Frame
	Cards []PacketCard
}

// PacketCard is one packet in a list.
type PacketCard struct {
	Link
	Why     Phrase
	Asks    string
	Size    string // jars and people
	Verdict mix.Verdict
}

func (e *edition) packetsPage() ([]byte, error) {
	l := e.newLeaf("packets.html")
	p := &PacketsPage{}
	for i := range e.book().Trials {
		t := &e.book().Trials[i]
		c := PacketCard{Link: Link{l.link(packetPath(t.ID)), l.phrase(t.Title)}, Why: l.phrase(t.Why), Asks: l.t("asks." + t.Question.String())}
		if w := l.packet(t); w.err == nil {
			l.danger(w.packet.Trial.Hazards...)
			c.Size, c.Verdict = l.packetSize(w.packet), w.packet.Trial.Verdict
		}
		p.Cards = append(p.Cards, c)
	}
	return l.finish("packets", p, head{l.t("packets.title"), l.t("packets.summary")})
}

func (l *leaf) packetSize(p *trial.Packet) string {
	return l.t("packet.size", "jars", l.t("packet.jars", "n", len(p.Trial.Jars)), "people", l.t("packet.people", "n", p.Kit.Persons),
		"groups", l.t("packet.groups", "n", p.Kit.Groups))
}

// PacketPage is one packet.
type PacketPage struct {
	Frame
	Heading, Why Phrase
	Asks         string
	Facts        []Fact
	Verdict      mix.Verdict
	Untested     int
	Labels       []Link // sheets of labels, by size
	Sheet        string // way to the record sheet as a table
	Kit          KitView
	Key          []KeyLine
	Cares        bool // some jar has a hazard
	Plan         []string
	LeftOut      []string
	Stocks       []StockLine
	Jars         []JarSheet
	Looks        []LookView
	Wash         []Phrase
	Cites        []Cite
	Copies       string
	Back         WayBack
	Trouble      []string
}

func (e *edition) packetPage(t *mix.Trial) ([]byte, error) {
	l := e.newLeaf(packetPath(t.ID))
	p := &PacketPage{Heading: l.phrase(t.Title), Why: l.phrase(t.Why), Asks: l.t("asks." + t.Question.String()), Cites: l.cites(t.Sources)}
	if w := l.packet(t); w.err != nil {
		p.Trouble = l.troubles(w.err)
	} else {
		l.fillPacket(p, t, w.packet)
	}
	return l.finish("packet", p, head{p.Heading.Text, l.t("packet.summary", "why", p.Why.Text)})
}

// ownEnd puts sources and general caution onto sheets of the packet.
func (p *PacketPage) ownEnd() bool { return len(p.Trouble) == 0 }

func (l *leaf) fillPacket(p *PacketPage, t *mix.Trial, packet *trial.Packet) {
	tr := packet.Trial
	l.danger(packet.Cautions...)
	p.Verdict, p.Untested = tr.Verdict, tr.Untested
	p.Facts = l.packetFacts(packet)
	for i := range l.book().Routine.Labels {
		s := &l.book().Routine.Labels[i]
		p.Labels = append(p.Labels, Link{l.link(packetLabelsPath(t.ID, s.ID)), l.phrase(s.Name)})
	}
	p.Sheet = l.asset(packetSheetPath(t.ID))
	p.Kit = l.kit(packet)
	p.Key = l.key(tr)
	p.Cares = slices.ContainsFunc(p.Key, func(k KeyLine) bool { return k.Hazards != "" })
	p.Plan = l.planWords(tr)
	for i := range tr.LeftOut {
		p.LeftOut = append(p.LeftOut, l.missing(tr, &tr.LeftOut[i]))
	}
	letters := l.fillStocks(p, tr)
	for i := range tr.Jars {
		p.Jars = append(p.Jars, l.jarSheet(tr, i, letters, &packet.Records[i]))
	}
	for i := range packet.Looks {
		p.Looks = append(p.Looks, l.look(&packet.Looks[i]))
	}
	p.Wash = l.phrases(packet.Wash)
	p.Copies = l.copies(p, &packet.Kit)
	p.Back = l.wayBack()
}

// WayBack leads from paper to the page: its address, whole when it is known where the
// site will lie, and then as a code too.
type WayBack struct {
	Address string
	Code    *qr.Code
}

func (l *leaf) wayBack() WayBack {
	w := WayBack{Address: l.BaseURL + l.path}
	if l.BaseURL == "" {
		return w
	}
	if code, err := qr.Of(w.Address); err == nil {
		w.Code = &code
	}
	return w
}

// copies says which pages are printed how often. Each part fills one sheet and each
// jar two, so that the pages are known before they are printed.
func (l *leaf) copies(p *PacketPage, k *trial.Kit) string {
	shared := 5 // looks and wash behind the three that the leader keeps
	if len(p.Stocks) > 0 {
		shared++
	}
	key := "packet.copies"
	switch {
	case k.Groups == 1:
		key = "packet.copies-one"
	case k.Sets == 1:
		key = "packet.copies-shared"
	}
	return l.t(key, "n", k.Groups, "shared", shared, "first", shared+1, "last", shared+2*len(p.Jars))
}

// packetFacts are the facts on the cover.
func (l *leaf) packetFacts(p *trial.Packet) []Fact {
	tr := p.Trial
	var fs facts
	fs.add(l.t("packet.for"), said(l.packetSize(p)))
	fs.add(l.t("packet.vessel"), said(l.t("packet.vessel-words", "size", l.volume(tr.Vessel.Size), "fill", l.volume(tr.Vessel.Fill))))
	if water := l.packetWater(tr); water.Text != "" {
		fs.add(l.t("fact.water"), water)
	}
	var products []Line
	for i := range tr.Products {
		item := l.item(tr.Products[i].ID)
		products = append(products, Line{Phrase: Phrase{Text: l.t("packet.product", "product", item.Name.Text, "rate", l.rate(tr.Products[i].Rate))}, Href: item.Href})
	}
	fs.add(l.t("packet.products"), products...)
	fs.add(l.t("packet.time"), said(l.packetTime(tr)))
	fs.add(l.t("packet.readings"), said(l.words.List(l.times())))
	return fs
}

// packetWater names what the jars are filled with and the spray volume they stand for.
func (l *leaf) packetWater(tr *trial.Trial) Line {
	var seen []mix.ID
	var names []string
	for i := range tr.Jars {
		if w := tr.Jars[i].Water; w != "" && !slices.Contains(seen, w) {
			seen = append(seen, w)
			names = append(names, l.nameText(w))
		}
	}
	list := l.words.List(names)
	for i := range tr.Jars {
		if v := tr.Jars[i].Card.Recipe.SprayVolume; !v.IsZero() {
			if list == "" {
				list = l.t("packet.any-water")
			}
			return said(l.t("packet.water-at", "water", list, "volume", l.sprayVolume(v)))
		}
	}
	return said(list)
}

// packetTime says how long hands are busy and how long the day is.
func (l *leaf) packetTime(tr *trial.Trial) string {
	text := l.t("packet.hands", "time", l.hours(tr.Time.Hands))
	if !tr.Time.Day.IsZero() {
		text += " " + l.t("packet.day", "time", l.hours(tr.Time.Day))
	}
	if tr.Time.Later > 0 {
		text += " " + l.t("packet.later", "n", tr.Time.Later)
	}
	return text
}

// hours writes a time to the nearest five minutes above.
func (l *leaf) hours(d unit.Duration) string {
	fives, _ := d.Base().Quo(unit.Int(5)).Neg().Floor().Neg().Int64()
	minutes := fives * 5
	if minutes < 60 {
		return l.t("duration.min", "n", int(minutes))
	}
	if minutes%60 == 0 {
		return l.t("duration.h", "n", int(minutes/60))
	}
	return l.t("packet.hours", "h", int(minutes/60), "min", int(minutes%60))
}
