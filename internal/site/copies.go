package site

import (
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
)

// Copies in browsers. The script page.OfflinePath keeps, for when there is no
// signal, what a list names with the sum of each file: lines of the manifest.
//
//	offline/LANG.txt    what readers of one language keep: their whole edition, or
//	                    its core when it is large
//	offline/rest-N.txt  every other file, by the first byte of the sum of its path;
//	                    none when editions are kept whole
//	offline.js          the script, with the sums of the lists
//
// The version is the sum of all lines but that of the script itself, so a script
// speaks of one publication and is another for every other.

// Copy is what the script knows of its publication.
type Copy struct {
	Version  string        `json:"version"`
	Editions []CopyEdition `json:"editions"`
	Rest     []string      `json:"rest"` // sums of the lists of other files
}

// CopyEdition is what readers of one language keep.
type CopyEdition struct {
	Lang   mix.Lang `json:"lang"`
	Folder string   `json:"folder"` // of its pages, "" for the office's own language
	List   string   `json:"list"`
	Sum    string   `json:"sum"` // of the list
}

// An edition is kept whole up to so much. An office of 200 products has 2,000 files
// and 32 MB, which a phone fetches as 4 MB.
var (
	mostCopyFiles = 4000
	mostCopyBytes = 48 << 20
)

const (
	restLines = 256 // about how many files a list of others names
	mostRest  = 256
)

// copier writes the lists and the script.
type copier struct {
	langs []mix.Lang
	sizes map[string]int // of files, by path
	write func(path string, body []byte) error
}

// publish writes what browsers need to keep copies of the files with these sums.
func (c *copier) publish(sums []Sum) error {
	sums = slices.SortedFunc(slices.Values(sums), func(a, b Sum) int { return cmp.Compare(a.Path, b.Path) })
	out := Copy{Editions: []CopyEdition{}, Rest: []string{}}
	listed := map[string]bool{}
	all := slices.Clone(sums)
	put := func(name string, list []Sum) (sum string, err error) {
		body := manifest(list)
		s := Sum{name, sha256.Sum256(body)}
		all = append(all, s)
		return fmt.Sprintf("%x", s.Hash), c.write(name, body)
	}
	for i, lang := range c.langs {
		e := CopyEdition{Lang: lang, List: "offline/" + string(lang) + ".txt"}
		if i > 0 {
			e.Folder = string(lang) + "/"
		}
		list := c.edition(lang, sums)
		for _, s := range list {
			listed[s.Path] = true
		}
		var err error
		if e.Sum, err = put(e.List, list); err != nil {
			return err
		}
		out.Editions = append(out.Editions, e)
	}
	for n, list := range rest(sums, listed) {
		sum, err := put(fmt.Sprintf("offline/rest-%d.txt", n), list)
		if err != nil {
			return err
		}
		out.Rest = append(out.Rest, sum)
	}
	out.Version = fmt.Sprintf("%x", sha256.Sum256(manifest(all)))
	return c.script(out)
}

// edition lists the files that readers of a language keep.
func (c *copier) edition(lang mix.Lang, sums []Sum) []Sum {
	var whole, core []Sum
	size := 0
	for _, s := range sums {
		if of, _ := page.Edition(s.Path, c.langs); of != lang && of != "" {
			continue
		}
		size += c.sizes[s.Path]
		whole = append(whole, s)
		if page.Core(s.Path, c.langs) {
			core = append(core, s)
		}
	}
	if len(whole) > mostCopyFiles || size > mostCopyBytes {
		return core
	}
	return whole
}

// rest lists the files that are in no edition's list, by the sums of their
// paths.
func rest(sums []Sum, listed map[string]bool) [][]Sum {
	var others []Sum
	for _, s := range sums {
		if !listed[s.Path] {
			others = append(others, s)
		}
	}
	if len(others) == 0 {
		return nil
	}
	lists := make([][]Sum, min(len(others)/restLines+1, mostRest))
	for _, s := range others {
		n := int(sha256.Sum256([]byte(s.Path))[0]) % len(lists)
		lists[n] = append(lists[n], s)
	}
	return lists
}

// script writes the script with what it has to know before it.
func (c *copier) script(of Copy) error {
	code, err := page.OfflineScript()
	if err != nil {
		return err
	}
	head, err := json.Marshal(of)
	if err != nil {
		return err
	}
	return c.write(page.OfflinePath, []byte(strings.Join([]string{"const tankleafCopy=", string(head), ";\n", string(code)}, "")))
}
