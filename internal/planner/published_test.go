package planner_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"tankleaf.example/internal/client"
)

// publishedRows are rows that others print, typed into the calculators as a reader
// does. want is as the source prints it, or to one figure more where it is cut.
var publishedRows = []filled{
	{"Mesa County CO: 5940 gal/ac is 1 gal/min at 1 mph on 1 in", "nozzle", [][2]string{{"flow", "1 gal/min"}, {"speed", "1 mph"}, {"spacing", "1 in"}, {"spray", ""}}, []string{"5940 gal/ac"}},
	{"Montana State MT 2000-14: 1.5 gal/min at 30 gal/ac and 30 in goes at 9.9 mph", "nozzle", [][2]string{{"flow", "1.5 gal/min"}, {"speed", ""}, {"spacing", "30 in"}, {"spray", "30 gal/ac"}}, []string{"9.9 mph"}},
	{"the same: 30 gal/ac, 7 mph, 30 in needs about 1 gal/min, exactly 1.0606", "nozzle", [][2]string{{"flow", ""}, {"speed", "7 mph"}}, []string{"1.061 gal/min"}},
	{"SDSU Extension: 15 gal/ac, 10 mph, 20 in; 0.50505 gal/min by its equation", "nozzle", [][2]string{{"flow", ""}, {"speed", "10 mph"}, {"spacing", "20 in"}, {"spray", "15 gal/ac"}}, []string{"0.505 gal/min"}},
	{"Florida study book p. 213, put right: 20 fl oz/min, 48 in, 5 mph is 3.87 gal/ac, not 327", "nozzle", [][2]string{{"flow", "20 fl oz/min"}, {"speed", "5 mph"}, {"spacing", "48 in"}, {"spray", ""}}, []string{"3.9 gal/ac", "!327"}},
	{"600 × L/min ÷ (km/h × m), exact: 24 L/min at 12 km/h on 12 m is 100 L/ha", "nozzle", [][2]string{{"flow", "24 L/min"}, {"speed", "12 km/h"}, {"spacing", "12 m"}}, []string{"100 L/ha"}},
	{"Pesticide Environmental Stewardship: 200 ft in 45 s is 3 mph, within its second", "pace", [][2]string{{"distance", "200 ft"}, {"time", "45 s"}, {"caught", ""}}, []string{"3 mph"}},
	{"the same: 34 s is 4 mph", "pace", [][2]string{{"time", "34 s"}}, []string{"4 mph"}},
	{"the same: 27 s is 5 mph", "pace", [][2]string{{"time", "27 s"}}, []string{"5.1 mph"}},
	{"the same: 23 s is 6 mph", "pace", [][2]string{{"time", "23 s"}}, []string{"5.9 mph"}},
	{"the same: 1 gal/ac is 9.35 L/ha", "units", [][2]string{{"quantity", "1 gal/ac"}}, []string{"9.35"}},
	{"Montana State: 500 gal at 30 gal/ac covers 16.6 acres, exactly 16.667", "load", [][2]string{{"rate", "1 pt/ac"}, {"area", "80 ac"}, {"spray", "30 gal/ac"}, {"tank", "500 gal"}}, []string{"16.67 ac"}},
	{"the same: 250 gal covers 8.3", "load", [][2]string{{"tank", "250 gal"}}, []string{"8.33 ac"}},
	{"the same: 300 gal at 40 gal/ac covers 7.5 acres; 1 qt/ac is 7.5 qt a tank", "load", [][2]string{{"rate", "1 qt/ac"}, {"spray", "40 gal/ac"}, {"tank", "300 gal"}}, []string{"7.5 ac", "1 gal + 3 qt + 16 fl oz"}},
	{"Texas A&M: 2 lb per 100 gal in 500 gal, 10 lb by its rule", "load", [][2]string{{"rate", "2 lb/100 gal"}, {"spray", "20 gal/ac"}, {"tank", "500 gal"}}, []string{"10 lb"}},
	{"Montana State: 3 lb of active of an 8 lb/gal product is 3 pt", "active", [][2]string{{"active-rate", "3 lb/ac"}, {"strength", "8 lb/gal"}}, []string{"3 pt/ac"}},
	{"the same: half a pound of a 2 lb/gal product is 1 qt", "active", [][2]string{{"active-rate", "0.5 lb/ac"}, {"strength", "2 lb/gal"}}, []string{"2 pt/ac"}},
	{"the same, example 5: 2 lb of active of an 80 % powder is 2.5 lb", "active", [][2]string{{"active-rate", "2 lb/ac"}, {"strength", "80 % w/w"}}, []string{"2.5 lb/ac"}},
	{"PNW Handbooks: 0.75 lb of a 4 lb/gal product is 1.5 pt", "active", [][2]string{{"active-rate", "0.75 lb/ac"}, {"strength", "4 lb/gal"}}, []string{"1.5 pt/ac"}},
	{"the same: 0.25 lb of a 5 lb/gal product is 0.4 pt", "active", [][2]string{{"active-rate", "0.25 lb/ac"}, {"strength", "5 lb/gal"}}, []string{"0.4 pt/ac"}},
	{"the same: 1 lb/ac of active, 4 lb/gal, is 22 mL per 1000 sq ft", "small", [][2]string{{"rate", "2 pt/ac"}, {"spray-small", "1 gal/1000 sq ft"}, {"backpack", "1 gal"}}, []string{"21.73 mL"}},
	{"the same: of 2 lb/gal it is 43 mL", "small", [][2]string{{"rate", "4 pt/ac"}}, []string{"43.45 mL"}},
	{"the same: all dry it is 10 g", "small", [][2]string{{"rate", "1 lb/ac"}}, []string{"10.41 g"}},
	{"New England vegetable guide: 1 pt per 100 gal is 1 tsp a gallon, exactly 4.73 mL", "small", [][2]string{{"rate", "1 pt/100 gal"}}, []string{"4.732 mL"}},
	{"the same: 1 lb per 100 gal is 5 g a gallon, exactly 4.54 g", "small", [][2]string{{"rate", "1 lb/100 gal"}}, []string{"4.536 g"}},
	{"Missouri DOT table 821.15.1: 5 % in a gallon is 6.4 fl oz", "small", [][2]string{{"rate", "5 % v/v"}}, []string{"6.4 fl oz"}},
	{"nozzle charts, from memory: the factor of 7 lb/gal is 0.92", "carrier", [][2]string{{"density", "7 lb/gal"}, {"flow", "1 gal/min"}}, []string{"0.916"}},
	{"the same: of 10.65 lb/gal 1.13", "carrier", [][2]string{{"density", "10.65 lb/gal"}}, []string{"1.13"}},
	{"the same: of 11.06 lb/gal 1.15", "carrier", [][2]string{{"density", "11.06 lb/gal"}}, []string{"1.151"}},
	{"North Dakota State 2015: K 5, Na 50, Ca 100, Mg 40, Fe 1 ppm, 1.762 lb/100 gal by its equation", "water",
		[][2]string{{"potassium", "5"}, {"sodium", "50"}, {"calcium", "100"}, {"magnesium", "40"}, {"iron", "1"}}, []string{"= 1.76 lb/100 gal", "1.8 lb/100 gal"}},
	{"the same: each term by itself, 100 ppm of iron is 4.2", "water", [][2]string{{"potassium", "0"}, {"sodium", "0"}, {"calcium", "0"}, {"magnesium", "0"}, {"iron", "100"}}, []string{"4.2 lb/100 gal"}},
	{"a grain per gallon is 17.1 ppm", "units", [][2]string{{"quantity", "1 gpg"}}, []string{"17.1"}},
}

// TestPublishedRows types rows that others publish into the calculators.
func TestPublishedRows(t *testing.T) {
	s := openSite(t)
	s.open("calculators.html", 1280)
	s.wait(`document.querySelector(".calcs") !== null`)
	for _, c := range publishedRows {
		s.fillIn(c)
	}
}

// TestVectorsInBrowser runs the vectors of jars and loads, which hold published rows
// too, in a real Chromium on the script as it is bundled.
func TestVectorsInBrowser(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("needs a browser")
	}
	ctx := openTab(t, time.Minute)
	script := filepath.Join(t.TempDir(), "differential.js")
	bundle(t, client.Bundle, "differential.ts", script)
	openScript(t, ctx, script)
	for file, kind := range map[string]string{"jar": "recipe", "load": "load"} {
		var v struct {
			Cases []struct {
				Name string
				In   json.RawMessage
				Want struct {
					Is       json.RawMessage
					Problems []struct{ Code, Product string }
				}
			}
		}
		data, err := os.ReadFile("../../testdata/vectors/" + file + ".json")
		if err == nil {
			err = json.Unmarshal(data, &v)
		}
		if err != nil || len(v.Cases) < 10 {
			t.Fatalf("%s: %d cases, %v", file, len(v.Cases), err)
		}
		var questions [][]string
		for _, c := range v.Cases {
			questions = append(questions, []string{kind, string(c.In)})
		}
		answers := askBrowser(t, ctx, questions)
		for i, c := range v.Cases {
			want := compact(t, c.Want.Is)
			if c.Want.Is == nil {
				want = "problems"
				for _, p := range c.Want.Problems {
					want += " " + p.Code + ":" + p.Product
				}
			}
			if answers[i] != want {
				t.Errorf("%s %s:\nbrowser %s\nwant    %s", file, c.Name, answers[i], want)
			}
		}
	}
}

// compact is JSON without what only eyes need.
func compact(t *testing.T, data json.RawMessage) string {
	t.Helper()
	if data == nil {
		return ""
	}
	var b bytes.Buffer
	if err := json.Compact(&b, data); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
