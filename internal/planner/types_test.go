package planner_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/planner"
)

var update = flag.Bool("update", false, "rewrite what is generated")

// typeFiles are the TypeScript files that say in the client what the JSON is that it
// shares with Go, each with the structs it is written from.
var typeFiles = map[string][]any{
	"../../templates/client/jar/json.d.ts":     {jar.RecipeInput{}, jar.LoadInput{}, jar.RecipeJSON{}, jar.PlanJSON{}},
	"../../templates/client/compat/json.d.ts":  {planner.Core{}, planner.Shard{}, planner.Uses{}},
	"../../templates/client/planner/json.d.ts": {planner.Words{}, planner.Says{}, planner.Bench{}},
}

const (
	formsFile = "../../templates/client/jar/forms.ts"
	enumsFile = "../../templates/client/compat/enums.ts"
)

func TestTypesUpToDate(t *testing.T) {
	for path, roots := range typeFiles {
		upToDate(t, path, typeScript(roots))
	}
	upToDate(t, formsFile, formsScript())
	upToDate(t, enumsFile, enumsScript())
}

// upToDate compares a file with what it should hold, or rewrites it with -update.
func upToDate(t *testing.T, path string, want []byte) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err == nil && bytes.Equal(got, want) {
		return
	}
	if !*update {
		t.Errorf("%s is not what the Go structs say; run go test ./internal/planner -update", path)
		return
	}
	if err := os.WriteFile(path, want, 0o644); err != nil {
		t.Fatal(err)
	}
}

const generated = "// Written from the Go structs by go test ./internal/planner -update. Do not edit.\n"

// typeScript writes the interfaces of some structs and of all that they hold.
func typeScript(roots []any) []byte {
	w := &typeWriter{done: map[string]bool{}}
	w.WriteString(generated)
	for _, r := range roots {
		w.add(reflect.TypeOf(r))
	}
	return w.Bytes()
}

type typeWriter struct {
	bytes.Buffer
	done map[string]bool
}

// add writes the interface of one struct, once, after those it needs.
func (w *typeWriter) add(t reflect.Type) {
	if w.done[t.Name()] {
		return
	}
	w.done[t.Name()] = true
	var b strings.Builder
	fmt.Fprintf(&b, "\nexport interface %s {\n", t.Name())
	for _, f := range fields(t) {
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "" || name == "-" {
			panic("no JSON name: " + t.Name() + "." + f.Name)
		}
		optional := ""
		if strings.Contains(options, "omit") {
			optional = "?"
		}
		fmt.Fprintf(&b, "  %s%s: %s;\n", name, optional, w.name(f.Type))
	}
	w.WriteString(b.String() + "}\n")
}

// fields returns the fields of a struct, those of embedded ones in their place.
func fields(t reflect.Type) []reflect.StructField {
	var all []reflect.StructField
	for i := range t.NumField() {
		if f := t.Field(i); f.Anonymous {
			all = append(all, fields(f.Type)...)
		} else {
			all = append(all, f)
		}
	}
	return all
}

// name returns the TypeScript name of a Go type.
func (w *typeWriter) name(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Uint8, reflect.Uint32, reflect.Float64:
		return "number"
	case reflect.Slice:
		return w.name(t.Elem()) + "[]"
	case reflect.Array:
		return "[" + strings.Join(slices.Repeat([]string{w.name(t.Elem())}, t.Len()), ", ") + "]"
	case reflect.Map:
		return "Record<" + w.name(t.Key()) + ", " + w.name(t.Elem()) + ">"
	case reflect.Struct:
		w.add(t)
		return t.Name()
	case reflect.Pointer:
		return w.name(t.Elem())
	}
	panic("no TypeScript type for " + t.String())
}

// formsScript writes the codes that are diluted in a spray tank, and whether each
// is weighed.
func formsScript() []byte {
	var b bytes.Buffer
	b.WriteString(generated + "\n/** The codes that meet a spray tank; true: the concentrate is weighed. */\n" +
		"export const tankForms: Record<string, boolean> = {\n")
	for _, f := range mix.Forms() {
		if f.ForTank() {
			fmt.Fprintf(&b, "  %s: %t,\n", f, f.Solid())
		}
	}
	b.WriteString("};\n")
	return b.Bytes()
}

// enumsScript writes the enumerations whose order the client needs.
func enumsScript() []byte {
	var b bytes.Buffer
	b.WriteString(generated)
	list := func(name, doc string, words []string) {
		fmt.Fprintf(&b, "\n/** %s */\nexport const %s = %s as const;\n", doc, name, asJSON(words))
	}
	var symptoms, inJar, hazards, verdicts, grades, numeric []string
	for _, s := range mix.Symptoms() {
		symptoms = append(symptoms, s.String())
		if s.ShowsInJar() {
			inJar = append(inJar, s.String())
		}
	}
	for _, h := range mix.Hazards() {
		hazards = append(hazards, h.String())
	}
	for _, v := range mix.Verdicts() {
		verdicts = append(verdicts, v.String())
	}
	for g := mix.NoGrade; g <= mix.Rule; g++ {
		grades = append(grades, g.String())
	}
	for f := mix.Hardness; f.Numeric(); f++ {
		numeric = append(numeric, f.String())
	}
	list("symptoms", "What goes wrong in a mix, in the order of the vocabulary.", symptoms)
	list("inJarSymptoms", "Those that a jar can show.", inJar)
	list("hazards", "Ways in which a mix hurts people or equipment.", hazards)
	list("verdicts", "From no evidence up; the first is no point on the scale of the others.", verdicts)
	list("grades", "Strength of evidence, weakest first.", grades)
	list("numericFactors", "What a gate may bound.", numeric)
	return b.Bytes()
}

// A struct without a JSON name must not slip into the client's types.
func TestTypesNeedJSONNames(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a field without a JSON name was written")
		}
	}()
	typeScript([]any{struct{ Name string }{}})
}
