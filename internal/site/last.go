package site

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/ledger"
	"tankleaf.example/internal/mix"
)

// Where a publication keeps what the next one is compared with.
const (
	adviceName  = "data/advice.json"
	changesName = "data/changes.json"
)

// maxLast is the most that is read of either file, in bytes: some ten times what
// an office of 10,000 products publishes.
const maxLast = 256 << 20

// ErrNoLast says that a review was asked for and there is nothing to compare
// with.
var ErrNoLast = errors.New("no earlier publication to compare with")

// last is the publication before this one. Its advice is nil when there was none.
type last struct {
	advice  *ledger.Advice
	history ledger.History
}

// readLast reads the last publication from a folder or from an address where it
// is served. A folder without one is no error; an address without is.
func readLast(where string) (last, error) {
	var c copied
	served := strings.HasPrefix(where, "http://") || strings.HasPrefix(where, "https://")
	if served {
		base, err := url.Parse(where)
		if err != nil {
			return last{}, err
		}
		c = newServed(context.Background(), base)
	} else {
		root, err := os.OpenRoot(where)
		if errors.Is(err, fs.ErrNotExist) {
			return last{}, nil
		}
		if err != nil {
			return last{}, err
		}
		defer root.Close()
		c = folder{root.FS()}
	}
	l, err := lastOf(c)
	if errors.Is(err, fs.ErrNotExist) && !served {
		return last{}, nil
	}
	if err != nil {
		return last{}, fmt.Errorf("read the last publication in %s: %w", where, err)
	}
	return l, nil
}

func lastOf(c copied) (l last, err error) {
	text, err := readAll(c, adviceName)
	if err != nil {
		return last{}, err
	}
	if l.advice, err = ledger.ReadAdvice(text); err != nil {
		return last{}, fmt.Errorf("%s: %w", adviceName, err)
	}
	if text, err = readAll(c, changesName); err != nil {
		return last{}, fmt.Errorf("%s: %v", changesName, err) // half a publication is damage
	}
	if l.history, err = ledger.ReadHistory(text); err != nil {
		return last{}, fmt.Errorf("%s: %w", changesName, err)
	}
	return l, nil
}

func readAll(c copied, path string) ([]byte, error) {
	f, err := c.open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxLast+1))
	if err == nil && len(text) > maxLast {
		err = fmt.Errorf("larger than %d MiB", maxLast>>20)
	}
	return text, err
}

// compare works out what this publication changes, and what of it softens
// without a review that answers for it: with review set that stops the build.
func (b *build) compare(l last, review bool) diag.List {
	var problems diag.List
	site := &b.office.Book.Site
	now := ledger.Of(b.judge)
	b.advice, b.history = now, l.history
	if l.advice == nil {
		return nil
	}
	if site.Published.Compare(l.advice.Published) < 0 {
		problems.Add(site.At, fmt.Sprintf("published %s lies before the last publication, of %s", site.Published, l.advice.Published),
			"write the day of this publication")
		return problems
	}
	shifts, withdrawn := ledger.Compare(l.advice, now, b.judge)
	b.history = l.history.Next(site.Published, l.advice.Published, shifts, withdrawn)
	add := problems.Warn
	if review {
		add = problems.Add
	}
	for _, s := range b.history.Explain(site.Published, b.office.Book.Reviews, b.office.Index.IsA) {
		items := idList(s.Items)
		add(diag.Pos{File: "data/reviews.yaml"}, fmt.Sprintf("[%s] softens from %q to %q and no review says why", items, s.From, s.To),
			fmt.Sprintf("add a review dated %s or later with softens: [[%s]]", b.history[0].Since, items))
	}
	if len(b.history) > 0 && b.history[0].Published == site.Published {
		b.countShifts(b.history[0].Shifts)
	}
	return problems
}

func (b *build) countShifts(shifts []ledger.Shift) {
	for _, s := range shifts {
		b.Changed++
		if s.Softer {
			b.Softer++
		}
	}
}

func idList(ids []mix.ID) string {
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = string(id)
	}
	return strings.Join(words, ", ")
}
