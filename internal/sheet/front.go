package sheet

import (
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/yamlpos"
)

// front is what an author writes between the two --- lines.
var front = yamlpos.Object[Sheet]{
	Name: "front matter",
	Doc:  "What a sheet is about, who answers for it and until when",
	Fields: []yamlpos.Field[Sheet]{
		yamlpos.Must("title", line("a title", 90), func(s *Sheet, v string) { s.Title = v }, "the sheet's heading"),
		yamlpos.Must("summary", line("a summary", 300), func(s *Sheet, v string) { s.Summary = v }, "one or two sentences for lists and search"),
		yamlpos.May("also", alsoKind, func(s *Sheet, v []string) { s.Also = v }, "what growers call it, for search"),
		yamlpos.Must("topic", yamlpos.Words("topic", topicNames[Hazards:], ParseTopic), func(s *Sheet, v Topic) { s.Topic = v }, "where the sheet stands in the index"),
		yamlpos.May("order", yamlpos.Scalar("a number", yamlpos.Schema{Type: "integer"}, readOrder), func(s *Sheet, v int) { s.Order = v }, "its place within the topic, from 1"),
		yamlpos.Must("classes", idsKind, func(s *Sheet, v []mix.Ref) { s.Classes = v }, "the ids of the classes it speaks of"),
		yamlpos.Must("author", roleKind, func(s *Sheet, v string) { s.Author = v }, "a role, never a name"),
		yamlpos.Must("reviewed", dateKind, func(s *Sheet, v mix.Date) { s.Reviewed = v }, "the day somebody last went through it, such as 2026-05-12"),
		yamlpos.Must("review_by", dateKind, func(s *Sheet, v mix.Date) { s.ReviewBy = v }, "the day by which it has to be gone through again"),
		yamlpos.Must("language", line("a language code", 12), func(s *Sheet, v string) { s.Lang = mix.Lang(v) }, "the code of the sheet's language, such as en"),
	},
}

func readOrder(n yamlpos.Node, s string) (int, bool) {
	v := 0
	for _, c := range []byte(s) {
		if c < '0' || c > '9' || len(s) > 3 {
			v = 0
			break
		}
		v = 10*v + int(c-'0')
	}
	if v == 0 {
		n.Problem(fmt.Sprintf("%q is not a place from 1 to 999", clip(s)), "write a whole number")
	}
	return v, v > 0
}

// cutFront finds the front matter and returns its lines' numbers: first and last
// between the two --- lines.
func (t *text) cutFront(problems *diag.List) (first, last int, ok bool) {
	if !isRule(t.line(1)) {
		problems.Add(diag.Pos{File: t.file, Line: 1, Col: 1}, "sheet does not start with front matter",
			"write --- on the first line, then title and the other keys, then --- again")
		return 0, 0, false
	}
	for n := 2; n <= len(t.lines); n++ {
		if isRule(t.line(n)) {
			return 2, n - 1, true
		}
	}
	problems.Add(diag.Pos{File: t.file, Line: 1, Col: 1}, "front matter is not closed", "write --- on a line of its own after the last key")
	return 0, 0, false
}

func isRule(line []byte) bool { return string(bytes.TrimRight(line, " \t")) == "---" }

// readFront reads the front matter into the sheet and blanks it out of body, so
// that all offsets stay those of the file.
func (r *reading) readFront(site *mix.Site) bool {
	first, last, ok := r.cutFront(r.problems)
	if !ok {
		return false
	}
	end := len(r.text.src)
	if last+1 < len(r.lines) {
		end = r.lines[last+1]
	}
	src := r.text.src[r.lines[first-1]:r.lines[last]]
	r.body.src = bytes.Clone(r.text.src)
	for i := range r.body.src[:end] {
		if r.body.src[i] != '\n' {
			r.body.src[i] = ' '
		}
	}
	node, ok := yamlpos.Parse(yamlpos.Source{File: r.file, Text: src, Starts: yamlpos.Shifted(max(last-first+1, 1), first, 1)}, r.problems)
	if !ok {
		return true // the text can be checked all the same
	}
	k := front
	k.Check = func(s *Sheet, found yamlpos.Found) { r.checkFront(s, found, site) }
	read, ok := k.Kind().Read(node)
	if ok {
		read.At, read.Slug, read.Lang, read.body = r.sheet.At, r.sheet.Slug, r.sheet.Lang, r.sheet.body
		*r.sheet = read
	}
	return true
}

// checkFront holds the rules over several keys and over the book.
func (r *reading) checkFront(s *Sheet, found yamlpos.Found, site *mix.Site) {
	seen := map[mix.ID]diag.Pos{}
	for _, c := range s.Classes {
		if old, again := seen[c.ID]; again {
			r.problems.Add(c.At, fmt.Sprintf("class %q is listed twice", c.ID), "remove one of the two", "first listed at "+old.String())
			continue
		}
		seen[c.ID] = c.At
		r.names.check(c.At, c.ID, r.problems, ToClass)
	}
	switch {
	case s.Reviewed.IsZero(), s.ReviewBy.IsZero():
	case !site.Published.IsZero() && s.Reviewed.Compare(site.Published) > 0:
		found.At("reviewed").Problem(fmt.Sprintf("review on %s is after this publication", s.Reviewed),
			fmt.Sprintf("published is %s in data/site.yaml", site.Published))
	case s.ReviewBy.Compare(s.Reviewed) <= 0:
		found.At("review_by").Problem(fmt.Sprintf("review_by %s is not after reviewed %s", s.ReviewBy, s.Reviewed), "write a later day")
	}
	if found.Has("language") {
		r.checkLanguage(s.Lang, found.At("language"), site)
	}
}

// checkLanguage compares the front matter with the file's name.
func (r *reading) checkLanguage(lang mix.Lang, at yamlpos.Node, site *mix.Site) {
	named := langOfFile(r.file)
	switch {
	case lang == "", len(site.Languages) == 0: // that was told at the site
	case !slices.Contains(site.Languages, lang):
		at.Problem(fmt.Sprintf("language %q is not one of this site", lang), "languages are "+joined(site.Languages)+", from data/site.yaml")
	case named == "" && lang != site.Languages[0]:
		at.Problem(fmt.Sprintf("language %q does not show in the file's name", lang), fmt.Sprintf("name the file %s.%s.md", fileSlug(r.file), lang))
	case named != "" && named != lang:
		at.Problem(fmt.Sprintf("language %q is not that of the file's name, %q", lang, named), fmt.Sprintf("write %q, or name the file %s.%s.md", named, fileSlug(r.file), lang))
	}
}

func joined(langs []mix.Lang) string {
	var all []string
	for _, l := range langs {
		all = append(all, string(l))
	}
	return strings.Join(all, ", ")
}

// langOfFile returns the code in name.CODE.md, or "".
func langOfFile(file string) mix.Lang {
	base := strings.TrimSuffix(path.Base(file), ".md")
	_, code, _ := strings.Cut(base, ".")
	return mix.Lang(code)
}
