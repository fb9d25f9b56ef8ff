package dataset_test

import (
	"testing"

	"golang.org/x/tools/txtar"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestRoutine holds what the small office's routine is read as, and that an office
// without one works as usual.
func TestRoutine(t *testing.T) {
	fine := archive(t, fineDir+"/office.txtar")
	b, _ := dataset.Load(fsOf(t, fine))
	r := b.Routine
	if len(r.Readings) != 3 || r.Inversions != 12 || !r.Headspace.Equal(unit.Frac(1, 5)) || !r.Crowded.Equal(unit.Frac(3, 10)) ||
		!r.Spare.Equal(unit.Frac(15, 100)) || r.Work.Wash.String() != "6 min" {
		t.Errorf("got %+v", r)
	}
	if len(r.Kit) != 2 || !r.Kit[0].Wear || r.Kit[0].Count != 2 || r.Kit[1].Count != 1 || r.Kit[1].Per != mix.PerGroup {
		t.Errorf("kit %+v", r.Kit)
	}
	if len(r.Labels) != 2 || r.Labels[0].StepX.String() != "2.05 in" || r.Labels[1].StepX.String() != "7 cm" {
		t.Errorf("labels %+v; a step that is left out is the label's width", r.Labels)
	}
	if s := b.Sequences; len(s) != 1 || !s[0].Partial || !s[0].Start[1].Equal(unit.Frac(3, 4)) || !s[0].Steps[1].Bags {
		t.Errorf("sequences %+v", s)
	}
	none, problems := dataset.Load(over(t, &txtar.Archive{Files: []txtar.File{{Name: "data/routine.yaml"}}}))
	if usual := mix.UsualRoutine(); problems.Stops() || len(none.Routine.Readings) != len(usual.Readings) || none.Routine.Inversions != 10 {
		t.Errorf("without a file: %+v %v", none.Routine, problems)
	}
}
