package planner_test

import (
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/mix"
)

// badTexts are what people write, and paste, into fields that want a number with its
// unit, and one that is right for the kind of field.
var badTexts = map[string][]string{
	"":        {"   ", "\t"},
	"not one": {"a lot", "?", "--", "½½", "1..5", "NaN", "Infinity", "1e400", "0x10", "<b>1</b>", "';--", "٣", "1 2 3"},
	"comma":   {"1,5 %s", "1,500.5 %s", "1.500,5 %s"},
	"minus":   {"-5 %s", "−5 %s", "- 5 %s"},
	"absurd":  {"999999999999999999999 %s", "100000000000 %s"},
	"pasted":  {"about 5 %s", "5 %s each", "5 %s (measured)", "5 %s; 6 %s", "5 furlongs"},
}

// typeBad writes texts into a field one after the other, and tells of each whether a
// word stands beside the field, whether it is marked and kept as it was typed, and
// which numbers the results show.
const typeBad = `((id, texts, results) => texts.map(text => {
	const e = document.getElementById(id), before = e.value;
	e.value = text;
	e.dispatchEvent(new Event("input"));
	const note = document.getElementById(id + "-note").textContent.trim();
	const numbers = [...document.querySelectorAll(results)].filter(n => n.checkVisibility()).map(n => n.innerText.trim());
	const row = {text, note, marked: e.getAttribute("aria-invalid") === "true", kept: e.value === text, numbers};
	e.value = before;
	e.dispatchEvent(new Event("input"));
	return row;
}))(%s, %s, %s)`

type badRow struct {
	Text    string   `json:"text"`
	Note    string   `json:"note"`
	Marked  bool     `json:"marked"`
	Kept    bool     `json:"kept"`
	Numbers []string `json:"numbers"`
}

// refuses writes everything bad into a field. Fields that may be empty are, when they
// hold nothing but spaces.
func (s *site) refuses(id, unit, results string, signed bool) {
	s.t.Helper()
	var texts []string
	for kind, list := range badTexts {
		if signed && kind == "minus" || kind == "" {
			continue
		}
		for _, text := range list {
			texts = append(texts, strings.ReplaceAll(text, "%s", unit))
		}
	}
	slices.Sort(texts)
	script := strings.NewReplacer("%s, %s, %s", asJSON(id)+", "+asJSON(texts)+", "+asJSON(results)).Replace(typeBad)
	for _, row := range eval[[]badRow](s, script) {
		if row.Note == "" || !row.Marked || !row.Kept {
			s.t.Errorf("%s %q: says %q, marked %v, kept %v", id, row.Text, row.Note, row.Marked, row.Kept)
		}
		if len(row.Numbers) > 0 {
			s.t.Errorf("%s %q: the page still shows %q", id, row.Text, row.Numbers)
		}
	}
}

// TestPlannerTakesNoNonsense writes what people write into every field of a plan.
func TestPlannerTakesNoNonsense(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.openTool(plan([]mix.ID{one, two}, "&spray=15+gal/ac&area=80+ac&tank=500+gal&fill=400+gal&minimum=50+gal&heel=3+gal&jar=1+qt"), 1280)
	s.wait(`document.querySelectorAll(".loads .number").length > 4 && document.querySelectorAll(".in-jar .number").length > 4`)
	const loads, jars, none = ".loads td.number, .card-head", ".in-jar td.number", ".no-such-result"
	for _, f := range []struct {
		id, unit, results string
		signed            bool
	}{
		{"area", "ac", loads, false}, {"spray", "gal/ac", loads, false}, {"tank", "gal", loads, false}, {"fill", "gal", loads, false},
		{"minimum", "gal", loads, false}, {"heel", "gal", loads, false}, {"rate-" + string(one), "oz/ac", loads, false},
		{"hardness", "ppm", none, false}, {"ph", "", none, false}, {"bicarbonate", "ppm", none, false}, {"temperature", "°F", none, true},
		{"standing", "h", none, false},
	} {
		s.refuses(f.id, f.unit, f.results, f.signed)
	}
	for _, c := range [][2]string{{"temperature", "900 °F"}, {"temperature", "-40 °F"}, {"ph", "15"}, {"hardness", "50000000 ppm"}, {"standing", "9000000 h"}, {"jar", "9000000 gal"}} {
		s.set(c[0], c[1])
		if note := eval[string](s, `document.getElementById(`+asJSON(c[0]+"-note")+`).textContent`); note == "" {
			t.Errorf("%s %s is taken", c[0], c[1])
		}
	}
	s.wait(`document.querySelectorAll(` + asJSON(jars) + `).length === 0`)
}

// filledIn is every calculator, filled in so that it has a result.
var filledIn = []struct {
	id     string
	typed  [][2]string
	signed string // the field that may hold less than nothing
}{
	{"load", [][2]string{{"rate", "1.5 pt/ac"}, {"area", "80 ac"}, {"spray", "15 gal/ac"}, {"tank", "500 gal"}}, ""},
	{"small", [][2]string{{"rate", "2 qt/ac"}, {"spray-small", "1 gal/1000 sq ft"}, {"backpack", "4 gal"}}, ""},
	{"nozzle", [][2]string{{"flow", "0.4 gal/min"}, {"speed", "5 mph"}, {"spacing", "20 in"}}, ""},
	{"pace", [][2]string{{"distance", "200 ft"}, {"time", "27 s"}, {"caught", "32 fl oz"}}, ""},
	{"carrier", [][2]string{{"density", "10.7 lb/gal"}, {"flow", "0.4 gal/min"}}, ""},
	{"rates", [][2]string{{"rate", "0.25 % v/v"}, {"spray", "20 gal/ac"}, {"density", "8 lb/gal"}}, ""},
	{"active", [][2]string{{"active-rate", "0.75 lb/ac"}, {"strength", "4 lb/gal"}}, ""},
	{"water", [][2]string{{"potassium", "1 ppm"}, {"sodium", "2 ppm"}, {"calcium", "84 ppm"}, {"magnesium", "24 ppm"}, {"iron", "1 ppm"}}, ""},
	{"units", [][2]string{{"quantity", "80 ac"}}, ""},
	{"standing", [][2]string{{"active", "testin"}, {"ph", "7"}, {"wait", "4 h"}}, ""},
	{"gas", [][2]string{{"material", "potassium-bicarbonate"}, {"weight", "20 g"}, {"liquid", "700 mL"}, {"vessel", "946 mL"}, {"temperature", "25 °C"}}, "temperature"},
}

// TestCalculatorsTakeNoNonsense writes the same into every field of every
// calculator.
func TestCalculatorsTakeNoNonsense(t *testing.T) {
	s := openSite(t)
	s.openTool("calculators.html", 1280)
	for _, c := range filledIn {
		for _, f := range c.typed {
			s.set(c.id+"-"+f[0], f[1])
		}
		answers := "#" + c.id + " .answers dd, #" + c.id + " .numbers"
		if len(s.texts("#"+c.id+" .answers dd")) < 1 {
			t.Errorf("%s has no result to begin with", c.id)
		}
		lines := s.texts("#" + c.id + " .numbers")
		if len(lines) == 0 {
			t.Errorf("%s shows no formula with the numbers put in", c.id)
		}
		for _, line := range lines {
			if _, result, ok := strings.Cut(line, " = "); !ok || !strings.ContainsAny(result, "0123456789") {
				t.Errorf("%s: %q is no formula with the numbers put in", c.id, line)
			}
		}
		for _, f := range c.typed {
			if _, unit, found := strings.Cut(f[1], " "); found || f[0] == "ph" {
				s.refuses(c.id+"-"+f[0], unit, answers, f[0] == c.signed)
			}
		}
	}
}

// TestCalculatorsTakeNoSlip writes what no sprayer holds, drives or puts out, each a
// slip of zeros or of a unit: it is refused beside its field, and there is no result.
func TestCalculatorsTakeNoSlip(t *testing.T) {
	s := openSite(t)
	s.openTool("calculators.html", 1280)
	s.fillEverything("us")
	for _, c := range [][3]string{ // field, too little, too much
		{"load-area", "0 ac", "99999999 ac"}, {"load-spray", "0.0001 gal/ac", "999999 gal/ac"}, {"load-tank", "0 gal", "999999 gal"}, {"load-rate", "", "99999999 pt/ac"},
		{"rates-rate", "", "500 % v/v"}, {"active-active-rate", "", "999999 lb/ac"}, {"small-backpack", "0 gal", "999999 gal"}, {"nozzle-flow", "0 gal/min", "99999 gal/min"},
		{"nozzle-speed", "0 mph", "5000 mph"}, {"nozzle-spacing", "0 in", "99999 ft"}, {"carrier-density", "0.001 lb/gal", "107 lb/gal"}, {"pace-distance", "0 ft", "9999999 ft"},
		{"pace-time", "0 s", "9999 h"}, {"pace-caught", "0 fl oz", "999999 gal"}, {"water-calcium", "", "8400000 ppm"}, {"standing-ph", "", "82"}, {"standing-wait", "", "99999 h"},
		{"gas-weight", "0 g", "99999999 lb"}, {"gas-liquid", "0 mL", "999999 gal"}, {"gas-vessel", "0 mL", "999999 gal"}, {"gas-temperature", "-40 °F", "900 °F"},
	} {
		id, _, _ := strings.Cut(c[0], "-")
		for _, text := range c[1:] {
			if text == "" {
				continue
			}
			before := eval[string](s, `document.getElementById(`+asJSON(c[0])+`).value`)
			s.set(c[0], text)
			if note := s.texts("#" + c[0] + "-note")[0]; note == "" || len(s.texts("#"+id+" .answers")) > 0 {
				t.Errorf("%s %s is taken: it says %q", c[0], text, note)
			}
			s.set(c[0], before)
			if len(s.texts("#"+id+" .answers")) == 0 {
				t.Errorf("%s %s is not taken", c[0], before)
			}
		}
	}
}
