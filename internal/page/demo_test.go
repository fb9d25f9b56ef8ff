package page_test

import (
	"io/fs"
	"os"
	"sync"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/templates"
)

// demonstration makes up the demonstration office as it is published, once
// for all tests.
func demonstration(t *testing.T) (*page.Publication, *mix.Book) {
	t.Helper()
	made := wholeOffice()
	if made.problems.Stops() {
		t.Fatalf("the demonstration cannot be published:\n%s", made.problems)
	}
	return made.pub, made.book
}

type officeMade struct {
	pub      *page.Publication
	book     *mix.Book
	problems diag.List
}

var wholeOffice = sync.OnceValue(func() officeMade {
	root := os.DirFS("../..")
	b, problems := dataset.Load(root)
	sheets, more := sheet.Load(root, b)
	if problems = append(problems, more...); problems.Stops() {
		return officeMade{problems: problems}
	}
	messages, problems := message.Load(templates.FS)
	if problems.Stops() {
		return officeMade{problems: problems}
	}
	x := mix.NewIndex(b)
	pub, problems := page.New(page.Inputs{Index: x, Judge: compat.New(x), Sheets: sheets, Messages: messages, Templates: []fs.FS{templates.FS},
		Files: os.DirFS("../../data"), BaseURL: "https://example.org/tank/"})
	return officeMade{pub, b, problems}
})
