package search

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const vectorsFile = "../../testdata/vectors/query.json"

// vectors is testdata/vectors/query.json, which the client's tests read too.
type vectors struct {
	Schema int      `json:"schema"`
	Cases  []vector `json:"cases"`
}

// A vector is one case: a text to cut into forms, a form to stem, or two words
// to compare. Its result is a list of words.
type vector struct {
	Name string   `json:"name"`
	Why  string   `json:"why"`
	In   vectorIn `json:"in"`
	Want []string `json:"want"`
}

type vectorIn struct {
	Do   string `json:"do"` // "forms", "stem" or "edit"
	Lang string `json:"lang,omitempty"`
	Text string `json:"text"`
	With string `json:"with,omitempty"`
}

func (in vectorIn) result(t *testing.T) []string {
	switch in.Do {
	case "forms":
		out := []string{}
		for _, token := range tokenRegexp.FindAllString(in.Text, -1) {
			out = append(out, forms(token)...)
		}
		return out
	case "stem":
		return []string{stem(in.Lang, in.Text)}
	case "edit":
		if oneEdit(in.Text, in.With) {
			return []string{"yes"}
		}
		return []string{"no"}
	}
	t.Errorf("unknown vector %q", in.Do)
	return nil
}

// TestQueryVectors runs the vectors; -update writes what is wanted.
func TestQueryVectors(t *testing.T) {
	text, err := os.ReadFile(vectorsFile)
	if err != nil {
		t.Fatal(err)
	}
	var v vectors
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		t.Fatal(err)
	}
	if v.Schema != 1 || len(v.Cases) == 0 {
		t.Fatalf("schema %d with %d cases", v.Schema, len(v.Cases))
	}
	for i, c := range v.Cases {
		got := c.In.result(t)
		if *update {
			v.Cases[i].Want = got
		} else if !slices.Equal(got, c.Want) {
			t.Errorf("%s (%s): %s", c.Name, c.Why, cmp.Diff(c.Want, got))
		}
	}
	if *update {
		writeVectors(t, v)
	}
}

func writeVectors(t *testing.T, v vectors) {
	t.Helper()
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "\t")
	if err := e.Encode(v); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(vectorsFile, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
