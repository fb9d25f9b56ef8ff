package page_test

import (
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestVerdictsAsJSON(t *testing.T) {
	var got struct {
		Published, Unlisted string
		Demonstration       bool
		Verdicts            []struct {
			A, B, Verdict, Grade      string
			Hazards, Doubts, Evidence []string
		}
	}
	if err := json.Unmarshal(publish(t, office(t))["data/verdicts.json"], &got); err != nil {
		t.Fatal(err)
	}
	if got.Published != "2026-06-30" || !got.Demonstration || got.Unlisted != "unknown" {
		t.Errorf("head %+v: what is not listed must be unknown", got)
	}
	found := map[string]string{}
	for _, v := range got.Verdicts {
		found[v.A+"/"+v.B] = v.Verdict
		if v.Verdict != "unknown" && len(v.Evidence) == 0 {
			t.Errorf("%s with %s: a verdict without evidence", v.A, v.B)
		}
		if v.Hazards == nil || v.Doubts == nil {
			t.Errorf("%s with %s: null for an empty list", v.A, v.B)
		}
	}
	want := map[string]string{"acid/carbonate": "never", "acid/oil": "never", "dust/slick": "steps", "fizz/sour": "never", "oil/powder": "steps"}
	if diff := cmp.Diff(want, found); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestTablesAreWhole(t *testing.T) {
	files := publish(t, office(t))
	for _, c := range []struct {
		path, row string
		rows      int
	}{
		{"data/classes.csv", "mild-acid,Mild acid,chemistry,reactive,acid,sour", 5},
		{"data/products.csv", "sour,Sour SL,SL,,acid mild-acid,1 pt/100 gal,1 qt/100 gal,1.2", 4},
		{"data/interactions.csv", "oil-with-powder,oil powder,physical,steps,flakes,,The oil wraps the powder.,custom", 2},
		{"data/observations.csv", "fb-1,2026-05-12,jar,upper,fizz sour,gas,reacted", 0},
		{"data/halflives.csv", "testphos-bench,testphos,,25,5,5,44640,,,The page prints the constant in the wrong unit.,bench", 7},
		{"data/sources.csv", "custom,practice,,,Common practice,,,", 3},
		{"data/verdicts.csv", "acid,oil,never,rule,,elsewhere,notice:upper-no-oil", 5},
	} {
		rows, err := csv.NewReader(strings.NewReader(string(files[c.path]))).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", c.path, err)
		}
		if c.rows > 0 && len(rows) != c.rows+1 {
			t.Errorf("%s: %d rows, want %d and a head", c.path, len(rows), c.rows)
		}
		if !strings.Contains(string(files[c.path]), c.row+"\n") {
			t.Errorf("%s: no row %q in\n%s", c.path, c.row, files[c.path])
		}
	}
	if got := string(files["data/observations/fb-1.yaml"]); !strings.HasPrefix(got, "id: fb-1\n") {
		t.Errorf("the record is not published as it was written: %q", got)
	}
}

func TestDataPageNamesEveryFile(t *testing.T) {
	files := publish(t, office(t))
	doc := parsed(t, files)["data.html"]
	listed := map[string]bool{}
	for _, a := range find(doc, tag("a")) {
		listed[attr(a, "href")] = true
	}
	for name := range files {
		if strings.HasPrefix(name, "data/") && strings.Count(name, "/") == 1 && !listed[name] {
			t.Errorf("%s is published and not named on the page", name)
		}
	}
}
