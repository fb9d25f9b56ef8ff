package page

import (
	"crypto/sha256"
	"encoding/xml"
	"fmt"
	"time"

	"tankleaf.example/internal/ledger"
	"tankleaf.example/internal/mix"
)

// The elements of an Atom feed (RFC 4287) that we write.
type (
	feed struct {
		XMLName  xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
		Lang     mix.Lang    `xml:"xml:lang,attr"`
		ID       string      `xml:"id"`
		Title    string      `xml:"title"`
		Subtitle string      `xml:"subtitle"`
		Updated  string      `xml:"updated"`
		Author   string      `xml:"author>name"`
		Links    []feedLink  `xml:"link"`
		Entries  []feedEntry `xml:"entry"`
	}
	feedLink struct {
		Rel  string `xml:"rel,attr,omitempty"`
		Href string `xml:"href,attr"`
	}
	feedEntry struct {
		ID      string      `xml:"id"`
		Title   string      `xml:"title"`
		Updated string      `xml:"updated"`
		Link    feedLink    `xml:"link"`
		Content feedContent `xml:"content"`
	}
	feedContent struct {
		Type string   `xml:"type,attr"`
		Body feedBody `xml:"http://www.w3.org/1999/xhtml div"`
	}
	feedBody struct {
		Lead  string   `xml:"p"`
		Items []string `xml:"ul>li"`
	}
)

// entriesInFeed is how many publications the feed tells of; the page of changes
// has all.
const entriesInFeed = 20

// feedFile is what readers subscribe to: one entry for each publication that
// changed a verdict. All dates are days of publication.
func (e *edition) feedFile() ([]byte, error) {
	l := e.newLeaf("feed.xml")
	site := &e.book().Site
	f := feed{Lang: e.lang, ID: l.urn(""), Title: l.phrase(site.Title).Text, Subtitle: l.t("changes.title"), Updated: stamp(site.Published),
		Author: l.phrase(site.Office).Text, Links: []feedLink{{Href: l.absolute("changes.html")}}}
	if e.BaseURL != "" {
		f.Links = append(f.Links, feedLink{"self", l.absolute("feed.xml")})
	}
	for _, entry := range e.History[:min(len(e.History), entriesInFeed)] {
		f.Entries = append(f.Entries, l.feedEntry(entry))
	}
	body, err := xml.MarshalIndent(f, "", " ")
	return append([]byte(xml.Header), append(body, '\n')...), err
}

func (l *leaf) feedEntry(entry ledger.Entry) feedEntry {
	softer := 0
	var items []string
	for _, s := range entry.Shifts {
		line := l.t("feed.shift", "names", l.names(s.Items), "from", l.words.Verdict(s.From.Verdict), "to", l.words.Verdict(s.To.Verdict))
		if s.Softer {
			softer++
			line = l.t("feed.softer", "shift", line)
		}
		items = append(items, line)
	}
	for _, id := range entry.Withdrawn {
		items = append(items, l.t("feed.withdrawn", "name", l.nameText(id)))
	}
	return feedEntry{
		ID: l.urn(entry.Published.String()), Title: l.t("feed.entry", "n", len(entry.Shifts)), Updated: stamp(entry.Published),
		Link:    feedLink{Href: l.absolute(changesPath(entry.Published))},
		Content: feedContent{"xhtml", feedBody{l.t("feed.of-them", "n", softer), items}},
	}
}

func stamp(d mix.Date) string { return d.Time().Format(time.RFC3339) }

// absolute is the full address of a path of the edition when the site's is known,
// else the way to it from the feed.
func (l *leaf) absolute(path string) string {
	if l.BaseURL == "" {
		return l.link(path)
	}
	return l.BaseURL + l.folder + path
}

// urn is a name for the feed or one of its entries that stays the same wherever
// the site is served: a name-based UUID (RFC 9562, version 8) of the office, the
// language and the day.
func (l *leaf) urn(day string) string {
	office, _ := l.book().Site.Office.In(l.home, l.home)
	h := sha256.Sum256([]byte("tankleaf changes\x00" + office + "\x00" + string(l.lang) + "\x00" + day))
	h[6], h[8] = h[6]&0x0f|0x80, h[8]&0x3f|0x80
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", h[0:4], h[4:6], h[6:8], h[8:10], h[10:16])
}
