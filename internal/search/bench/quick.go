package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"slices"
	"strings"

	"tankleaf.example/internal/search"
)

// zipped returns how many bytes gzip makes of b at its best.
func zipped(b []byte) int {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err == nil {
		_, err = w.Write(b)
	}
	if err = cmpErr(err, w.Close()); err != nil {
		panic(err) // a buffer takes everything
	}
	return out.Len()
}

func cmpErr(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

// printSizes prints what each sort of file takes, compressed.
func printSizes(out io.Writer, docs []search.Document, files []search.File) {
	text := 0
	for _, d := range docs {
		text += len(d.Title) + len(d.Body)
	}
	size, count := map[string]int{}, map[string]int{}
	for _, f := range files {
		size[f.Path[:1]] += zipped(f.Body)
		count[f.Path[:1]]++
	}
	index := 0
	for _, k := range []string{"r", "p", "a", "b"} {
		index += size[k]
	}
	share := func(n int) float64 { return 100 * float64(n) / float64(text) }
	fmt.Fprintf(out, "  text %d bytes; index %d bytes (%.2f %%) in %d files; cards %.1f %% in %d; bodies %.1f %% in %d\n",
		text, index, share(index), count["r"]+count["p"]+count["a"]+count["b"],
		share(size["c"]), count["c"], share(size["t"]), count["t"])
}

// A tally counts known items found, by kind of query.
type tally struct {
	n, first, five map[string]int
	bytes          map[string][]int
}

func newTally() *tally {
	return &tally{map[string]int{}, map[string]int{}, map[string]int{}, map[string][]int{}}
}

// add counts one answer and reports whether the known item was first.
func (t *tally) add(q knownItem, paths []string) bool {
	t.n[q.Kind]++
	i := slices.Index(paths, "p/"+q.ID+".html")
	if i == 0 {
		t.first[q.Kind]++
	}
	if i >= 0 && i < 5 {
		t.five[q.Kind]++
	}
	return i == 0
}

func (t *tally) String() string {
	var b strings.Builder
	for _, k := range queryKinds {
		n := float64(max(t.n[k], 1))
		fmt.Fprintf(&b, "  %s %.3f/%.3f", k, float64(t.first[k])/n, float64(t.five[k])/n)
	}
	return b.String()
}

// askGo asks the engine in Go, and prints what the client would load for each
// kind of query with nothing loaded but the root.
func askGo(out io.Writer, docs []search.Document, files []search.File, queries []knownItem, verbose bool) error {
	ix, err := search.Open(files)
	if err != nil {
		return err
	}
	size := make(map[string]int)
	for _, f := range files {
		size[strings.TrimSuffix(f.Path, ".js")] = zipped(f.Body)
	}
	t := newTally()
	for _, q := range queries {
		var a search.Answer
		n := 0
		for _, f := range ix.Read(func() { a = ix.Find(q.Query, "", shown) }) {
			n += size[f]
		}
		t.bytes[q.Kind] = append(t.bytes[q.Kind], n)
		var paths []string
		for _, r := range a.Results {
			paths = append(paths, r.Path)
		}
		if !t.add(q, paths) && verbose {
			fmt.Fprintf(out, "    %s %q wanted %s got %v changed %v\n", q.Kind, q.Query, q.ID, paths[:min(1, len(paths))], a.Changed)
		}
	}
	fmt.Fprintln(out, t)
	for _, k := range queryKinds {
		fmt.Fprintf(out, "  %-10s loads %s\n", k, spread(t.bytes[k]))
	}
	return nil
}

// spread tells how a number of bytes is distributed.
func spread(b []int) string {
	b = slices.Sorted(slices.Values(b))
	return fmt.Sprintf("mean %d p50 %d p95 %d most %d", mean(b), b[len(b)/2], b[len(b)*95/100], b[len(b)-1])
}

func mean(b []int) int {
	n := 0
	for _, x := range b {
		n += x
	}
	return n / max(len(b), 1)
}
