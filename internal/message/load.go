package message

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/folder"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/yamlpos"
)

// Folder is where catalogues lie in a folder of templates: messages/LANG.yaml and
// messages/LANG/*.yaml, one catalogue in several files.
const Folder = "messages"

// Reference is the language whose keys every other language must have.
const Reference mix.Lang = "en"

// Set holds the catalogues by language.
type Set map[mix.Lang]*Catalogue

// entry is one text with the place it was written at.
type entry struct {
	text string
	at   diag.Pos
}

// Load reads the catalogues of each layer. A later layer, an office's own
// templates, adds languages and replaces single texts of an earlier one; inside
// one layer a key stands once.
func Load(layers ...fs.FS) (Set, diag.List) {
	var problems diag.List
	read := map[mix.Lang]map[string]entry{}
	unread := map[mix.Lang]bool{}
	for _, layer := range layers {
		for lang, texts := range readLayer(layer, unread, &problems) {
			if read[lang] == nil {
				read[lang] = map[string]entry{}
			}
			maps.Copy(read[lang], texts)
		}
	}
	set := Set{}
	for lang, texts := range read {
		if !unread[lang] { // what is missing may stand in what could not be read
			compare(lang, texts, read[Reference], &problems)
		}
		c := &Catalogue{lang: lang, texts: make(map[string]string, len(texts))}
		for key, e := range texts {
			c.texts[key] = e.text
		}
		set[lang] = c
	}
	return set, problems.Sorted()
}

// readLayer reads all files of one layer by language, and notes the languages of
// files that could not be read.
func readLayer(layer fs.FS, unread map[mix.Lang]bool, problems *diag.List) map[mix.Lang]map[string]entry {
	read := map[mix.Lang]map[string]entry{}
	f := folder.Dir{FS: layer, Shown: "templates/", Problems: problems} // as authors know it
	names, languages := f.Below(Folder, ".yaml")
	for _, below := range languages {
		more, _ := f.Below(below, ".yaml")
		names = append(names, more...)
	}
	for _, name := range names {
		lang := language(name)
		if read[lang] == nil {
			read[lang] = map[string]entry{}
		}
		texts, ok := readFile(f, name)
		unread[lang] = unread[lang] || !ok
		add(read[lang], texts, problems)
	}
	return read
}

// language is what a file's path says of its language.
func language(name string) mix.Lang {
	first, _, _ := strings.Cut(strings.TrimPrefix(name, Folder+"/"), "/")
	return mix.Lang(strings.TrimSuffix(first, ".yaml"))
}

// add puts one file's texts to those of its language.
func add(all, texts map[string]entry, problems *diag.List) {
	for key, e := range texts {
		if old, twice := all[key]; twice {
			problems.Add(e.at, fmt.Sprintf("message %q is written twice", key), "it stands at "+old.at.String()+"; keep one")
			continue
		}
		all[key] = e
	}
}

func readFile(f folder.Dir, name string) (map[string]entry, bool) {
	text, ok := f.Read(name, yamlpos.MaxBytes)
	if !ok {
		return nil, false
	}
	root, ok := yamlpos.Parse(yamlpos.Source{File: f.Shown + name, Text: text}, f.Problems)
	if !ok {
		return nil, false
	}
	entries, ok := root.Entries("a catalogue of messages")
	if !ok {
		return nil, false
	}
	texts := make(map[string]entry, len(entries))
	for _, e := range entries {
		if s, ok := e.Value.Text("a text"); ok {
			texts[e.Name] = entry{s, e.Key.Pos()}
		}
	}
	return texts, true
}

// compare reports where a language differs from the reference in keys or in the
// places of a text.
func compare(lang mix.Lang, texts, want map[string]entry, problems *diag.List) {
	for _, key := range slices.Sorted(maps.Keys(want)) {
		got, ok := texts[key]
		if !ok {
			problems.Add(diag.Pos{File: counterpart(lang, want[key].at.File)}, fmt.Sprintf("message %q is missing", key),
				fmt.Sprintf("add it; in %q it reads %q", Reference, want[key].text))
			continue
		}
		if a, b := Places(want[key].text), Places(got.text); !slices.Equal(a, b) {
			problems.Add(got.at, fmt.Sprintf("message %q has the places %q, not %q", key, b, a), "keep the words in braces as they are")
		}
	}
	for _, key := range slices.Sorted(maps.Keys(texts)) {
		if _, ok := want[key]; !ok {
			problems.Add(texts[key].at, fmt.Sprintf("message %q is used nowhere", key), "remove it")
		}
	}
}

// counterpart is the file of a language that goes with one of the reference.
func counterpart(lang mix.Lang, file string) string {
	before := "templates/" + Folder + "/"
	return before + string(lang) + strings.TrimPrefix(file, before+string(Reference))
}
