// Command search measures the site search on real text, beside others.
//
//	go run ./internal/search/bench [-half seen|unseen] [-corpora descriptions,…] [-engines ours,minisearch,…] [-dir DIR]
//
// It fetches two corpora of 10,000 documents through apt-get, makes known-item
// queries from them by rule, and has every search answer them in one Chromium.
// For each it prints how often the known item was first and among the first five,
// how long a warm query took, and how many bytes came over http for a first answer
// and for a later one of each kind. -quick asks our engine in Go alone.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"tankleaf.example/internal/search"
)

var engineNames = []string{"ours", "minisearch", "lunr", "flexsearch", "pagefind"}

type options struct {
	dir, half, corpora, engines, bench string
	quick, verbose                     bool
}

func main() {
	var o options
	flag.StringVar(&o.dir, "dir", filepath.Join(os.TempDir(), "tankleaf-bench"), "folder for corpora and indexes, kept between runs")
	flag.StringVar(&o.half, "half", "unseen", "which half of the queries: seen or unseen")
	flag.StringVar(&o.corpora, "corpora", "descriptions,dictionary", "on which texts")
	flag.StringVar(&o.engines, "engines", strings.Join(engineNames, ","), "which searches")
	flag.StringVar(&o.bench, "bench", "internal/search/bench", "folder of this command's own files")
	flag.BoolVar(&o.quick, "quick", false, "ask our engine in Go alone")
	flag.BoolVar(&o.verbose, "v", false, "list the queries that our engine misses, with -quick")
	flag.Parse()
	if err := measure(o, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "search:", err)
		os.Exit(3)
	}
}

// measure makes corpora, queries and indexes, and asks every search.
func measure(o options, out io.Writer) error {
	if o.half != "seen" && o.half != "unseen" {
		return fmt.Errorf("half %q is neither seen nor unseen", o.half)
	}
	if err := os.MkdirAll(o.dir, 0o755); err != nil {
		return err
	}
	all, err := corpora(o.dir)
	if err != nil {
		return err
	}
	for name := range strings.SplitSeq(o.corpora, ",") {
		docs := all[name]
		if docs == nil {
			return fmt.Errorf("no corpus %q", name)
		}
		files, err := search.Export(docs, search.Options{Lang: "en"})
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "%s: %d documents of %d words\n", name, len(docs), words(docs)/len(docs))
		printSizes(out, docs, files)
		queries := half(newMaker(docs).make(), o.half)
		if o.quick {
			err = askGo(out, docs, files, queries, o.verbose)
		} else {
			err = askAll(out, o, name, docs, files, queries)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// half returns every query of a kind up to the middle, or from it.
func half(all []knownItem, which string) []knownItem {
	seen := make(map[string]int)
	var out []knownItem
	for _, q := range all {
		seen[q.Kind]++
		if (seen[q.Kind] <= perKind/2) == (which == "seen") {
			out = append(out, q)
		}
	}
	return out
}

func words(docs []search.Document) int {
	n := 0
	for _, d := range docs {
		n += len(strings.Fields(d.Title)) + len(strings.Fields(d.Body))
	}
	return n
}

// buildPeers has Node build the indexes of the others, once a corpus.
func buildPeers(o options, name string, docs []search.Document) error {
	site := filepath.Join(o.dir, "site", name)
	if _, err := os.Stat(filepath.Join(site, "pagefind")); err == nil {
		return nil
	}
	text, err := json.Marshal(docs)
	if err != nil {
		return err
	}
	file := filepath.Join(o.dir, name+".json")
	if err := os.WriteFile(file, text, 0o644); err != nil {
		return err
	}
	if _, err := os.Stat(filepath.Join(o.bench, "node_modules")); err != nil {
		return errors.New("the other searches are not installed; run npm ci in " + o.bench)
	}
	c := exec.Command("node", filepath.Join(o.bench, "build.mjs"), file, site)
	c.Stderr = os.Stderr
	return c.Run()
}
