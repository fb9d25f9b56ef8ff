package dataset_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"tankleaf.example/internal/dataset"
)

var update = flag.Bool("update", false, "write generated files anew")

const schemaDir = "../../data/schema"

// TestSchemasUpToDate holds the schemas that editors use to the tables that the
// loader reads with.
func TestSchemasUpToDate(t *testing.T) {
	schemas, err := dataset.Schemas()
	if err != nil {
		t.Fatal(err)
	}
	for kind, want := range schemas {
		checkFile(t, filepath.Join(schemaDir, kind+".json"), want)
	}
	files, _ := filepath.Glob(schemaDir + "/*.json")
	if len(files) != len(schemas) {
		t.Errorf("%d files in %s for %d kinds: remove what is left over", len(files), schemaDir, len(schemas))
	}
}

// checkFile compares a generated file with what it should hold, or writes it.
func checkFile(t *testing.T, name string, want []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, want, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Errorf("%s is out of date: run go test ./internal/dataset -update", name)
	}
}
