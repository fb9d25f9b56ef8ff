package jar_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/jar"
)

// vectors is a file of cases that the browser's code reads too.
type vectors[In, Want any] struct {
	Schema int                `json:"schema"`
	Cases  []vector[In, Want] `json:"cases"`
}

type vector[In, Want any] struct {
	Name string `json:"name"`
	Why  string `json:"why"`
	In   In     `json:"in"`
	Want Want   `json:"want"`
}

// want is a result, or the kinds of problem there are. Messages are not part of the
// vectors: each side has its own.
type want[Out any] struct {
	Is       *Out         `json:"is,omitempty"`
	Problems []vectorCode `json:"problems,omitempty"`
}

type vectorCode struct {
	Code    jar.Code `json:"code"`
	Product string   `json:"product,omitempty"`
}

// readVectors reads a file strictly: an unknown key, an unknown schema, no case at
// all, or a case without a name or a reason fails.
func readVectors[In, Want any](data []byte) (vectors[In, Want], error) {
	var v vectors[In, Want]
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		return v, err
	}
	if v.Schema != 1 {
		return v, errors.New("unknown schema")
	}
	if len(v.Cases) == 0 {
		return v, errors.New("no cases")
	}
	seen := map[string]bool{}
	for _, c := range v.Cases {
		if c.Name == "" || c.Why == "" || seen[c.Name] {
			return v, errors.New("case without name or reason, or named twice: " + c.Name)
		}
		seen[c.Name] = true
	}
	return v, nil
}

// checkVectors runs every case of a file, or rewrites its wants with -update.
func checkVectors[In, Out any](t *testing.T, path string, run func(In) (Out, error)) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	v, err := readVectors[In, want[Out]](data)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	for i := range v.Cases {
		c := &v.Cases[i]
		got := answer(t, run, c.In)
		if *update {
			c.Want = got
			continue
		}
		if diff := cmp.Diff(c.Want, got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.Name, diff)
		}
	}
	if *update {
		writeVectors(t, path, v)
	}
}

func answer[In, Out any](t *testing.T, run func(In) (Out, error), in In) want[Out] {
	t.Helper()
	out, err := run(in)
	if err == nil {
		return want[Out]{Is: &out}
	}
	var ps jar.Problems
	if !errors.As(err, &ps) {
		t.Fatal(err)
	}
	var w want[Out]
	for _, p := range ps {
		w.Problems = append(w.Problems, vectorCode{p.Code, p.Product})
	}
	return w
}

func writeVectors(t *testing.T, path string, v any) {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestJarVectors(t *testing.T) {
	checkVectors(t, "../../testdata/vectors/jar.json", func(in jar.RecipeInput) (jar.RecipeJSON, error) {
		q, err := in.Request()
		if err != nil {
			return jar.RecipeJSON{}, err
		}
		r, err := q.Recipe()
		return r.JSON(), err
	})
}

func TestLoadVectors(t *testing.T) {
	checkVectors(t, "../../testdata/vectors/load.json", func(in jar.LoadInput) (jar.PlanJSON, error) {
		q, err := in.Request()
		if err != nil {
			return jar.PlanJSON{}, err
		}
		p, err := q.Plan()
		return p.JSON(), err
	})
}

func TestVectorsAreReadStrictly(t *testing.T) {
	const one = `{"name":"n","why":"w","in":{"jar":"1 qt","products":[]},"want":{}}`
	for _, c := range []struct{ in, why string }{
		{`{"schema":1,"cases":[]}`, "no cases"},
		{`{"schema":2,"cases":[` + one + `]}`, "an unknown schema"},
		{`{"schema":1,"extra":0,"cases":[` + one + `]}`, "an unknown key at the top"},
		{`{"schema":1,"cases":[{"name":"n","why":"w","in":{"jra":"1 qt"},"want":{}}]}`, "an unknown key in a case"},
		{`{"schema":1,"cases":[` + one + `,` + one + `]}`, "a name twice"},
		{`{"schema":1,"cases":[{"name":"n","why":"","in":{},"want":{}}]}`, "no reason"},
		{`{`, "no JSON"},
	} {
		if _, err := readVectors[jar.RecipeInput, want[jar.RecipeJSON]]([]byte(c.in)); err == nil {
			t.Errorf("%s must be refused", c.why)
		}
	}
	if _, err := readVectors[jar.RecipeInput, want[jar.RecipeJSON]]([]byte(`{"schema":1,"cases":[` + one + `]}`)); err != nil {
		t.Errorf("a right file: %v", err)
	}
}
