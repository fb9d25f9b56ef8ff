// Command search measures the site search on real text, beside others.
package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"tankleaf.example/internal/search"
)

func main() {
	dir := flag.String("dir", "", "folder for corpora")
	half := flag.String("half", "seen", "seen or unseen queries")
	verbose := flag.Bool("v", false, "list failures")
	flag.Parse()
	all, err := corpora(*dir)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
	for _, name := range []string{"descriptions", "dictionary"} {
		docs := all[name]
		text := 0
		for _, d := range docs {
			text += len(d.Title) + len(d.Body)
		}
		if os.Getenv("DUMP") != "" {
			b, _ := json.Marshal(docs)
			os.WriteFile(*dir+"/"+name+".json", b, 0o644)
		}
		start := time.Now()
		files, err := search.Export(docs, search.Options{Lang: "en"})
		if err != nil {
			panic(err)
		}
		fmt.Printf("%s: %d docs, %d words/doc, text %.2f MB, export %v\n", name, len(docs), words(docs)/len(docs), float64(text)/1e6, time.Since(start))
		sizes := map[string]int{}
		count := map[string]int{}
		for _, f := range files {
			sizes[f.Path[:1]] += zipped(f.Body)
			count[f.Path[:1]]++
		}
		for _, k := range []string{"r", "p", "a", "b", "c", "t"} {
			fmt.Printf("  %s: %d files, %d B gz, %.2f%%\n", k, count[k], sizes[k], 100*float64(sizes[k])/float64(text))
		}
		ix, err := search.Open(files)
		if err != nil {
			panic(err)
		}
		gz := map[string]int{}
		for _, f := range files {
			gz[strings.TrimSuffix(f.Path, ".js")] = zipped(f.Body)
		}
		eval(name, ix, docs, *half, *verbose, gz)
	}
}

func zipped(b []byte) int {
	var out bytes.Buffer
	w, _ := gzip.NewWriterLevel(&out, 9)
	w.Write(b)
	w.Close()
	return out.Len()
}

func eval(name string, ix *search.Index, docs []search.Document, half string, verbose bool, gz map[string]int) {
	path := map[string]string{}
	title := map[string]string{}
	for _, d := range docs {
		path[d.ID] = d.Path
		title[d.Path] = d.Title
	}
	seen := map[string]int{}
	at1, at5, n := map[string]int{}, map[string]int{}, map[string]int{}
	bytes := map[string][]int{}
	start := time.Now()
	for _, q := range newMaker(docs).make() {
		seen[q.Kind]++
		if (seen[q.Kind] <= perKind/2) != (half == "seen") {
			continue
		}
		n[q.Kind]++
		var a search.Answer
		sum := 0
		for _, f := range ix.Read(func() { a = ix.Find(q.Query, "", 8) }) {
			sum += gz[f]
		}
		bytes[q.Kind] = append(bytes[q.Kind], sum)
		for i, r := range a.Results {
			if r.Path == path[q.ID] {
				if i == 0 {
					at1[q.Kind]++
				}
				if i < 5 {
					at5[q.Kind]++
				}
			}
		}
		if verbose && (len(a.Results) == 0 || a.Results[0].Path != path[q.ID]) {
			got := "nothing"
			if len(a.Results) > 0 {
				got = fmt.Sprintf("%s (%d) %q", a.Results[0].Path, a.Results[0].Words, a.Results[0].Title)
			}
			fmt.Printf("    %s %q wanted %s %q got %s changed %v\n", q.Kind, q.Query, path[q.ID], title[path[q.ID]], got, a.Changed)
		}
	}
	fmt.Printf("  %v\n", time.Since(start))
	for _, k := range queryKinds {
		b := bytes[k]
		slices.Sort(b)
		sum := 0
		for _, x := range b {
			sum += x
		}
		fmt.Printf("  %-10s @1 %.3f  @5 %.3f  (%d)  bytes mean %d p50 %d p95 %d\n", k, float64(at1[k])/float64(n[k]), float64(at5[k])/float64(n[k]), n[k], sum/len(b), b[len(b)/2], b[len(b)*95/100])
	}
	_ = strings.ToLower
}

func words(docs []search.Document) int {
	n := 0
	for _, d := range docs {
		n += len(strings.Fields(d.Title)) + len(strings.Fields(d.Body))
	}
	return n
}
