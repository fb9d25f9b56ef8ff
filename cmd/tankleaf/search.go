package main

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/search"
	"tankleaf.example/internal/site"
)

var searchCommand = &command{
	name: "search",
	args: "WORD… [--lang CODE] [--top N] [--json]",
	does: "find pages by the index that the site uses",
	long: `
Looks words up in the same index as the site's own search: names as written
(2,4-D, 28-0-0), other names, beginnings of words, one typo a word. Pages with all
words come first.

  tankleaf search bicarbonate acid
  tankleaf search "keep apart" captan --top 5
  tankleaf search aceite azufre --lang es --json
`,
	run: runSearch,
}

func runSearch(c *call) error {
	lang, top := c.flags.String("lang", "", ""), c.flags.Int("top", 10, "")
	if err := c.want(1, -1); err != nil {
		return err
	}
	if *top < 1 || *top > 100 {
		return usagef("write 1 to 100", "--top %d is out of range", *top)
	}
	office, err := c.mustRead()
	if err != nil {
		return err
	}
	words, err := language(office, *lang)
	if err != nil {
		return err
	}
	index, err := openIndex(office, words)
	if err != nil {
		return err
	}
	answer := index.Find(strings.Join(c.args, " "), "", *top)
	if c.json {
		return c.printJSON(foundJSON(answer))
	}
	c.printFound(answer)
	return nil
}

// openIndex makes the index of one language and reads it back, as a page would.
func openIndex(o *site.Office, lang mix.Lang) (*search.Index, error) {
	in := o.Inputs(compat.New(o.Index))
	files, err := search.Export(page.Documents(in, lang), page.FindOptions(in, lang))
	if err != nil {
		return nil, err
	}
	return search.Open(files)
}

// resultJSON is one page as --json prints it.
type resultJSON struct {
	Path    string `json:"path"` // inside the language's edition of the site
	Kind    string `json:"kind"`
	Title   string `json:"title"`
	Summary string `json:"summary"`
	Words   int    `json:"words"` // of the query, that it has
}

func foundJSON(a search.Answer) any {
	results := make([]resultJSON, 0, len(a.Results))
	for _, r := range a.Results {
		results = append(results, resultJSON{r.Path, r.Kind, r.Title, r.Summary, r.Words})
	}
	return map[string]any{"words": a.Words, "total": a.Total, "results": results}
}

func (c *call) printFound(a search.Answer) {
	for _, r := range a.Results {
		fmt.Fprintf(c.out, "%s\n  %s\n  %s\n", r.Title, r.Summary, r.Path)
	}
	if len(a.Results) == 0 {
		fmt.Fprintln(c.out, "no page has these words; that is no evidence that a mix is fine")
	}
}
