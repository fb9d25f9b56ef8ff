package main

import (
	"bufio"
	"bytes"
	"cmp"
	"compress/gzip"
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"tankleaf.example/internal/search"
)

// corpusSize is how many documents of each corpus are indexed.
const corpusSize = 10_000

// corpora returns the two real corpora, fetched through apt-get into dir the
// first time.
func corpora(dir string) (map[string][]search.Document, error) {
	packages, err := packageDescriptions(dir)
	if err != nil {
		return nil, err
	}
	entries, err := dictionary(dir)
	if err != nil {
		return nil, err
	}
	return map[string][]search.Document{"descriptions": sample(packages), "dictionary": sample(entries)}, nil
}

// sample takes corpusSize documents by the hash of their ID, so that the choice
// is the same every time and no property of a document matters.
func sample(docs []search.Document) []search.Document {
	hash := func(d search.Document) string {
		h := sha256.Sum256([]byte(d.ID))
		return string(h[:])
	}
	slices.SortFunc(docs, func(a, b search.Document) int { return cmp.Compare(hash(a), hash(b)) })
	docs = slices.CompactFunc(docs, func(a, b search.Document) bool { return a.ID == b.ID })
	return docs[:min(len(docs), corpusSize)]
}

// run calls a program in dir and returns what it prints.
func run(dir, name string, args ...string) ([]byte, error) {
	c := exec.Command(name, args...)
	c.Dir = dir
	var stderr bytes.Buffer
	c.Stderr = &stderr
	out, err := c.Output()
	if err != nil {
		return nil, fmt.Errorf("%s: %w\n%s", name, err, stderr.Bytes())
	}
	return out, nil
}

// packageDescriptions reads the long descriptions of Debian's packages: near
// twins by the dozen, and so a hard corpus.
func packageDescriptions(dir string) ([]search.Document, error) {
	lists := filepath.Join(dir, "lists")
	names, _ := filepath.Glob(filepath.Join(lists, "*_main_i18n_Translation-en*"))
	if len(names) == 0 {
		if err := os.MkdirAll(filepath.Join(lists, "partial"), 0o755); err != nil {
			return nil, err
		}
		if _, err := run(dir, "apt-get", "update", "-qq", "-o", "Dir::State::Lists="+lists, "-o", "Acquire::Languages=en"); err != nil {
			return nil, err
		}
		names, _ = filepath.Glob(filepath.Join(lists, "*_main_i18n_Translation-en*"))
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("no package descriptions in %s", lists)
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) })
	text, err := run(dir, "/usr/lib/apt/apt-helper", "cat-file", names[0])
	if err != nil {
		return nil, err
	}
	var docs []search.Document
	for _, stanza := range strings.Split(string(text), "\n\n") {
		if d, ok := packageDocument(stanza); ok {
			docs = append(docs, d)
		}
	}
	return docs, nil
}

var wordRegexp = regexp.MustCompile(`[A-Za-z]+`)

// packageDocument reads one stanza; short descriptions are left out.
func packageDocument(stanza string) (search.Document, bool) {
	var d search.Document
	var body []string
	for line := range strings.Lines(stanza) {
		line = strings.TrimRight(line, "\n")
		switch {
		case strings.HasPrefix(line, "Package: "):
			d.ID = strings.TrimPrefix(line, "Package: ")
		case strings.HasPrefix(line, "Description-en: "):
			d.Title = strings.TrimPrefix(line, "Description-en: ")
		case strings.HasPrefix(line, " "):
			body = append(body, strings.Trim(line, " ."))
		}
	}
	d.Body = strings.Join(body, " ")
	d.Path, d.Kind, d.Lang = "p/"+d.ID+".html", "page", "en"
	return d, d.ID != "" && d.Title != "" && len(wordRegexp.FindAllString(d.Body, -1)) >= 60
}

// dictionary reads the entries of a dictionary of English of 1913: long texts,
// with a title made of the headword and the beginning of its first meaning.
func dictionary(dir string) ([]search.Document, error) {
	name := filepath.Join(dir, "gcide/usr/share/dictd/gcide.dict.dz")
	if _, err := os.Stat(name); err != nil {
		if _, err := run(dir, "apt-get", "download", "-qq", "dict-gcide"); err != nil {
			return nil, err
		}
		deb, _ := filepath.Glob(filepath.Join(dir, "dict-gcide_*.deb"))
		if len(deb) == 0 {
			return nil, fmt.Errorf("no dict-gcide in %s", dir)
		}
		if _, err := run(dir, "dpkg-deb", "-x", deb[0], filepath.Join(dir, "gcide")); err != nil {
			return nil, err
		}
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(bufio.NewReader(f))
	if err != nil {
		return nil, err
	}
	return readEntries(z)
}

// A headword stands at the start of a line, before its pronunciation.
var headword = regexp.MustCompile(`^([A-Z][A-Za-z -]*) \\`)

var (
	sense  = regexp.MustCompile(`(?:^| )1\. (?:\([A-Z][^)]*\) )?([A-Z][^.;:]*)`)
	source = regexp.MustCompile(`\[1913 Webster\]|\[PJC\]|\[WordNet 1\.5\]`)
)

func readEntries(r interface{ Read([]byte) (int, error) }) ([]search.Document, error) {
	byHead := make(map[string][]string)
	head := ""
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		line := lines.Text()
		if m := headword.FindStringSubmatch(line); m != nil {
			head = m[1]
		} else if line != "" && line[0] != ' ' {
			head = ""
		}
		if head != "" {
			byHead[head] = append(byHead[head], strings.TrimSpace(line))
		}
	}
	var docs []search.Document
	for head, text := range byHead {
		body := source.ReplaceAllString(strings.Join(text, " "), "")
		m := sense.FindStringSubmatch(body)
		if m == nil || len(wordRegexp.FindAllString(body, -1)) < 70 {
			continue
		}
		id := strings.ReplaceAll(head, " ", "_")
		title := head + ": " + strings.Join(firstN(strings.Fields(m[1]), 8), " ")
		docs = append(docs, search.Document{ID: id, Path: "p/" + id + ".html", Kind: "page", Lang: "en", Title: title, Body: body})
	}
	return docs, lines.Err()
}

func firstN[T any](s []T, n int) []T { return s[:min(n, len(s))] }
