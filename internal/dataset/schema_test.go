package dataset_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"
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

// compiled returns the schemas as an independent validator reads them, by name.
func compiled(t *testing.T) map[string]*jsonschema.Schema {
	t.Helper()
	schemas, err := dataset.Schemas()
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	for name, text := range schemas {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := c.AddResource("https://schema.invalid/"+name, doc); err != nil {
			t.Fatal(err)
		}
	}
	all := map[string]*jsonschema.Schema{}
	for name := range schemas {
		if all[name], err = c.Compile("https://schema.invalid/" + name); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// plainValue turns YAML into what an editor's schema check sees: values typed by
// YAML's own rules, which is not how this project reads them.
func plainValue(n *yaml.Node) any {
	switch n.Kind {
	case yaml.DocumentNode:
		return plainValue(n.Content[0])
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			m[n.Content[i].Value] = plainValue(n.Content[i+1])
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, c := range n.Content {
			list = append(list, plainValue(c))
		}
		return list
	}
	var v any = n.Value
	switch n.Tag {
	case "!!int", "!!float", "!!bool", "!!null":
		if n.Decode(&v) != nil {
			v = n.Value
		}
	}
	return v
}

// validate checks one file of data/ by the schema of its kind.
func validate(t *testing.T, schemas map[string]*jsonschema.Schema, name string, text []byte) error {
	t.Helper()
	kind, _, _ := strings.Cut(strings.TrimSuffix(strings.TrimPrefix(name, "data/"), ".yaml"), "/")
	if kind == "observations" {
		kind = "observation"
	}
	s := schemas[kind]
	if s == nil {
		t.Fatalf("%s: no schema %q", name, kind)
	}
	var n yaml.Node
	if err := yaml.Unmarshal(text, &n); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return s.Validate(plainValue(&n))
}

// TestSchemasAcceptWhatIsFine holds that editors find no fault with the
// demonstration office and the fine ones.
func TestSchemasAcceptWhatIsFine(t *testing.T) {
	schemas, count := compiled(t), 0
	offices := []fs.FS{os.DirFS("../..")}
	for _, name := range archives(t, fineDir) {
		offices = append(offices, fsOf(t, archive(t, name)))
	}
	for _, office := range offices {
		err := fs.WalkDir(office, "data", func(name string, d fs.DirEntry, err error) error {
			if err != nil || path.Ext(name) != ".yaml" {
				return err
			}
			text, err := fs.ReadFile(office, name)
			if err != nil {
				return err
			}
			count++
			if err := validate(t, schemas, name, text); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if count < 20 {
		t.Errorf("only %d files were validated", count)
	}
}

// TestSchemasRefuse holds that editors show the faults of form that the loader
// finds: these archives have a fault in the file they add that a schema can see.
func TestSchemasRefuse(t *testing.T) {
	schemas := compiled(t)
	for _, name := range []string{"key_unknown", "key_unknown_far", "key_missing", "key_no_value", "file_wrong_key", "sources_empty",
		"class_axis", "class_bool", "form_unknown", "form_trade", "form_not_tank", "id_form", "position", "rate_half", "verdict_word",
		"verdict_unknown", "members_few", "gate_two", "gate_order", "gate_vessel", "notice_date", "source_kind", "criterion_verdict",
		"criterion_symptom", "rating_symptom", "reading_extent", "observation_by", "site_languages", "site_required", "text_language",
		"text_list", "text_comma", "cite_place", "mend_to"} {
		for _, f := range archive(t, problemDir+"/"+name+".txtar").Files {
			if f.Name == "want" {
				continue
			}
			if err := validate(t, schemas, f.Name, f.Data); err == nil {
				t.Errorf("%s: the schema takes %s", name, f.Name)
			}
		}
	}
}

// TestDocNamesEveryKey holds the file formats that doc.go shows to the tables:
// each key stands there.
func TestDocNamesEveryKey(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	schemas, err := dataset.Schemas()
	if err != nil {
		t.Fatal(err)
	}
	for kind, text := range schemas {
		var root any
		if err := json.Unmarshal(text, &root); err != nil {
			t.Fatal(err)
		}
		for _, key := range keys(root) {
			if !regexp.MustCompile(`\b` + key + `\b`).Match(doc) {
				t.Errorf("doc.go does not show the key %q of %s", key, kind)
			}
		}
	}
}

// keys lists the property names anywhere in a schema.
func keys(v any) []string {
	var all []string
	switch v := v.(type) {
	case []any:
		for _, e := range v {
			all = append(all, keys(e)...)
		}
	case map[string]any:
		for name, e := range v {
			if props, ok := e.(map[string]any); ok && name == "properties" {
				all = append(all, slices.Collect(maps.Keys(props))...)
			}
			all = append(all, keys(e)...)
		}
	}
	return all
}
