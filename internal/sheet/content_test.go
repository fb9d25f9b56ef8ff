package sheet_test

import (
	"os"
	"testing"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
)

// TestDemoOffice reads the sheets of the demonstration office against its data:
// no problem of any kind, and what the publication promises of them.
func TestDemoOffice(t *testing.T) {
	office := os.DirFS("../..")
	book, problems := dataset.Load(office)
	if problems.Stops() {
		t.Fatalf("data/ does not load:\n%s", problems)
	}
	sheets, problems := sheet.Load(office, book)
	if len(problems) > 0 {
		t.Errorf("problems in content/:\n%s", problems)
	}
	english, spanish, overdue, drawn := 0, 0, 0, map[string]bool{}
	for _, s := range sheets {
		switch s.Lang {
		case "en":
			english++
		case "es":
			spanish++
		}
		if s.Lang == "en" && s.Overdue(book.Site.Published) {
			overdue++
		}
		if len(s.Passages) < 3 || len(s.Links) < 3 {
			t.Errorf("%s: %d passages and %d links are too little for a sheet", s.At.File, len(s.Passages), len(s.Links))
		}
		cites(t, s)
		for _, b := range s.Blocks {
			drawn[kindOf(b)] = true
		}
	}
	if english < 18 || spanish < 3 || overdue != 1 {
		t.Errorf("%d English sheets, %d Spanish ones, %d English ones overdue; want 18, 3 and exactly 1", english, spanish, overdue)
	}
	if len(drawn) != 6 {
		t.Errorf("only the blocks %v are used", drawn)
	}
}

// cites holds each sheet to at least one source.
func cites(t *testing.T, s *sheet.Sheet) {
	for _, l := range s.Links {
		if l.To == sheet.ToSource {
			return
		}
	}
	t.Errorf("%s cites no source", s.At.File)
}

func kindOf(b sheet.Block) string {
	switch b := b.(type) {
	case *sheet.MatrixBlock:
		return "matrix"
	case *sheet.VerdictBlock:
		return "verdict"
	case *sheet.RecipeBlock:
		return "recipe"
	case *sheet.ObservationBlock:
		return "observation"
	case *sheet.SourceBlock:
		return "source"
	case *sheet.CautionBlock:
		if b.Hazard == mix.NoHazard {
			panic("caution of no hazard")
		}
		return "caution"
	default:
		panic("kind of block")
	}
}
