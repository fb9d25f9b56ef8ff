package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/site"
)

var checkCommand = &command{
	name: "check",
	args: "[-C DIR] [--json]",
	does: "name everything that is wrong, build nothing",
	long: `
Reads data/, content/ and templates/ of the office folder and names every problem
with its place and what to write instead. Warnings do not stop a build.

  tankleaf check
  tankleaf check -C valley-office
  tankleaf check --json | jq '.problems[].message'
`,
	run: func(c *call) error {
		if err := c.want(0, 0); err != nil {
			return err
		}
		office, problems, err := c.read()
		if err != nil {
			return err
		}
		if !problems.Stops() {
			more, err := site.Check(office)
			if err != nil {
				return err
			}
			problems = append(problems, more...)
		}
		if c.json {
			return c.reportJSON(problems, nil)
		}
		if err := c.report(problems); err != nil {
			return err
		}
		fmt.Fprintln(c.out, "nothing is wrong")
		return nil
	},
}

var buildCommand = &command{
	name: "build",
	args: "[-C DIR] [--out DIR] [--base-url URL] [--last DIR|URL] [--review] [--json]",
	does: "build the site",
	long: `
Builds the site and puts it in place in one step: readers see the whole old site
or the whole new one. With any problem nothing is published. --out is relative to
the current folder; left out, it is public/ in the office folder. --base-url is
where the site will be served, for the links that are printed on paper.

Every verdict that changed since the last publication is listed on changes.html and
in the feed. The last publication is read from --out before it is replaced, or from
the folder or address given with --last. A verdict that softens and for which no
record in data/reviews.yaml answers is a warning; with --review it stops the build.

  tankleaf build
  tankleaf build -C valley-office --out /srv/www/mixes
  tankleaf build --base-url https://mixes.example.org/
  tankleaf build --review --last https://mixes.example.org/
`,
	run: runBuild,
}

func runBuild(c *call) error {
	out := c.flags.String("out", "", "")
	base := c.flags.String("base-url", "", "")
	last := c.flags.String("last", "", "")
	review := c.flags.Bool("review", false, "")
	if err := c.want(0, 0); err != nil {
		return err
	}
	if *out == "" {
		*out = filepath.Join(c.dir, "public")
	}
	if *base != "" {
		address, err := site.Address(*base)
		if err != nil {
			return usagef("write it as in https://mixes.example.org/", "%v", err)
		}
		*base = address
	}
	start := time.Now()
	office, problems, err := c.read()
	if err != nil {
		return err
	}
	var sum site.Summary
	if !problems.Stops() {
		show := c.progress(start)
		var more diag.List
		sum, more, err = site.Build(office, site.Options{Out: *out, BaseURL: *base, Last: *last, Review: *review, Progress: show.file})
		show.end()
		problems = append(problems, more...)
		if errors.Is(err, site.ErrNoLast) {
			return usagef("name its folder or address with --last, or publish the first time without", "%v", err)
		}
		if err != nil {
			return err
		}
	}
	if c.json {
		return c.reportJSON(problems, &sum)
	}
	if err := c.report(problems); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "%s (%s) from %s, %s, %s and %s\nin %s, %.1f s\n",
		counted(sum.Pages, "page", "pages"), counted(sum.Pairs, "pair", "pairs"), counted(sum.Products, "product", "products"),
		counted(sum.Classes, "class", "classes"), counted(sum.Jars, "observation", "observations"), counted(sum.Sheets, "sheet", "sheets"),
		*out, time.Since(start).Seconds())
	if sum.Changed > 0 {
		fmt.Fprintf(c.out, "verdicts changed since the last publication: %d, of them softer: %d; changes.html lists them\n", sum.Changed, sum.Softer)
	}
	return nil
}

// read reads the office folder. A folder without data/ is no office.
func (c *call) read() (*site.Office, diag.List, error) {
	if info, err := os.Stat(filepath.Join(c.dir, "data")); err != nil || !info.IsDir() {
		return nil, nil, c.noOffice()
	}
	root, err := os.OpenRoot(c.dir) // links that lead outside are not followed
	if err != nil {
		return nil, nil, err
	}
	office, problems := site.Read(root.FS())
	return office, problems, nil
}

func (c *call) noOffice() error {
	return usagef("name one with -C DIR, or make one: tankleaf new DIR", "%s is not an office folder: it has no data/", c.dir)
}

// reportJSON prints the problems, and the summary when something was built, as
// one object.
func (c *call) reportJSON(problems diag.List, sum *site.Summary) error {
	v := struct {
		OK        bool          `json:"ok"`
		Published *site.Summary `json:"published,omitempty"`
		Problems  []problemJSON `json:"problems"`
	}{!problems.Stops(), sum, problemsJSON(problems)}
	if problems.Stops() {
		v.Published = nil
	}
	if err := c.printJSON(v); err != nil {
		return err
	}
	if problems.Stops() {
		return errProblems
	}
	return nil
}

// progress tells a person on a terminal how far a long build is.
type progress struct {
	c     *call
	start time.Time
	last  time.Time
	shown bool
}

func (c *call) progress(start time.Time) *progress { return &progress{c: c, start: start} }

// file is called after each file; the first second is silent.
func (p *progress) file(done int, path string) {
	if !onTerminal(p.c.err) || time.Since(p.start) < time.Second || time.Since(p.last) < 100*time.Millisecond {
		return
	}
	p.last, p.shown = time.Now(), true
	fmt.Fprintf(p.c.err, "\r\x1b[K%d files, now %s", done, path)
}

func (p *progress) end() {
	if p.shown {
		fmt.Fprint(p.c.err, "\r\x1b[K")
	}
}
