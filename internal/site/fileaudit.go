package site

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"time"
)

// fetches finds what a style sheet asks for. Escapes inside an address are not
// undone; a style sheet of ours has none, and one with a backslash in an address
// is refused.
var fetches = regexp.MustCompile(`(?i)(@import|url\(|image-set\(|\bsrc\()\s*["']?([^"')\s;]*)`)

// style refuses a style sheet that asks for anything: what it asked for would be
// outside of what the audit can follow.
func (a *Audit) style(name string, body []byte) {
	for _, m := range fetches.FindAllSubmatch(body, -1) {
		if ref := string(m[2]); !strings.HasPrefix(ref, "#") {
			a.add(name, fmt.Sprintf("asks for %q", ref), "draw it in the page, or do without")
		}
	}
}

// drawing refuses a drawing that could run or ask for something: opened by
// itself it has no policy.
func (a *Audit) drawing(name string, body []byte) {
	dec := xml.NewDecoder(bytes.NewReader(body))
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			a.add(name, "is no drawing: "+err.Error(), "mend it")
			return
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch strings.ToLower(start.Name.Local) {
		case "script", "foreignobject", "style", "iframe", "image":
			a.add(name, fmt.Sprintf("has an element %q", start.Name.Local), "take it out")
		}
		for _, at := range start.Attr {
			key := strings.ToLower(at.Name.Local)
			if strings.HasPrefix(key, "on") || key == "href" && !strings.HasPrefix(at.Value, "#") {
				a.add(name, fmt.Sprintf("has an attribute %q", at.Name.Local), "take it out")
			}
		}
	}
}

// atom is what RFC 4287 wants of a feed and of each of its entries, as far as we
// write it.
type atomFeed struct {
	XMLName xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	ID      string      `xml:"id"`
	Title   string      `xml:"title"`
	Updated string      `xml:"updated"`
	Author  []string    `xml:"author>name"`
	Links   []atomLink  `xml:"link"`
	Entries []atomEntry `xml:"entry"`
}

type atomEntry struct {
	ID      string     `xml:"id"`
	Title   string     `xml:"title"`
	Updated string     `xml:"updated"`
	Links   []atomLink `xml:"link"`
}

type atomLink struct {
	Href string `xml:"href,attr"`
}

// feed holds a feed to its standard and its links to the site.
func (a *Audit) feed(name string, body []byte) {
	var f atomFeed
	if err := xml.Unmarshal(body, &f); err != nil {
		a.add(name, "is no feed: "+err.Error(), "mend the template")
		return
	}
	seen := map[string]bool{}
	check := func(what, id, title, updated string) {
		_, err := time.Parse(time.RFC3339, updated)
		if id == "" || seen[id] || strings.TrimSpace(title) == "" || err != nil {
			a.add(name, fmt.Sprintf("has %s without an id of its own, a title or a date: %q", what, id), "give it all three")
		}
		seen[id] = true
	}
	check("a head", f.ID, f.Title, f.Updated)
	links := f.Links
	if len(f.Author) == 0 {
		a.add(name, "has no author", "name the office")
	}
	for _, e := range f.Entries {
		check("an entry", e.ID, e.Title, e.Updated)
		links = append(links, e.Links...)
	}
	p := pageAudit{Audit: a, audited: a.files[name], name: name}
	for _, l := range links {
		if inside, ours := strings.CutPrefix(l.Href, a.Address); ours && a.Address != "" {
			l.Href = strings.Repeat("../", strings.Count(name, "/")) + inside
		}
		p.follow(l.Href, false)
	}
}
