package dataset_test

import (
	"os"
	"testing"

	"tankleaf.example/internal/dataset"
)

// TestDemo holds the demonstration office to what every office is held to:
// nothing to mend and nothing to warn of.
func TestDemo(t *testing.T) {
	if _, problems := dataset.Load(os.DirFS("../..")); len(problems) > 0 {
		t.Errorf("%d problems\n%s", len(problems), problems)
	}
}
