package ledger_test

import (
	"maps"
	"strings"
	"testing"
	"testing/fstest"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
)

// base is an office in which an acid and a carbonate give off gas, oil and powder
// keep apart, and a product belongs to each.
var base = map[string]string{
	"site":    "office: O\ntitle: T\nlanguages: [en]\npublished: 2026-06-30\n",
	"sources": "sources:\n  - {id: s, kind: bulletin, title: S}\n",
	"cautions": "cautions:\n  - {hazard: general, title: G, lines: [L], sources: [s]}\n" +
		"  - {hazard: pressure, title: P, lines: [L], sources: [s]}\n  - {hazard: heat, title: H, lines: [L], sources: [s]}\n",
	"classes": `classes:
  - {id: acid, name: Acid, axis: chemistry, sources: [s]}
  - {id: mild-acid, name: Mild acid, axis: chemistry, kind_of: [acid], sources: [s]}
  - {id: carbonate, name: Carbonate, axis: chemistry, sources: [s]}
  - {id: oil, name: Oil, axis: role, sources: [s]}
  - {id: powder, name: Powder, axis: role, sources: [s]}
  - {id: salt, name: Salt, axis: role, sources: [s]}
`,
	"products": `products:
  - {id: sour, name: Sour, form: SL, classes: [mild-acid], sources: [s]}
  - {id: fizz, name: Fizz, form: SP, classes: [carbonate], sources: [s]}
  - {id: slick, name: Slick, form: EC, classes: [oil], sources: [s]}
  - {id: dust, name: Dust, form: WP, classes: [powder], sources: [s]}
`,
	"interactions": `interactions:
  - {id: gas, members: [acid, carbonate], kind: chemical, symptoms: [gas], verdict: never, hazards: [pressure], what: Gas, sources: [s]}
  - {id: clot, members: [oil, powder], kind: physical, symptoms: [flakes], verdict: apart, what: Clots, sources: [s]}
  - {id: three, members: [oil, powder, salt], kind: physical, symptoms: [gel], verdict: apart, what: Gels, sources: [s]}
`,
	"criteria": "criteria:\n  - {symptom: flakes, at_least: trace, verdict: apart, needed: true, says: F, sources: [s]}\n",
}

// with returns the base with texts exchanged: file, old, new, and so on.
func with(t *testing.T, edits ...string) map[string]string {
	t.Helper()
	files := maps.Clone(base)
	for i := 0; i+2 < len(edits); i += 3 {
		if !strings.Contains(files[edits[i]], edits[i+1]) {
			t.Fatalf("%s has no %q", edits[i], edits[i+1])
		}
		files[edits[i]] = strings.ReplaceAll(files[edits[i]], edits[i+1], edits[i+2])
	}
	return files
}

// judge reads an office.
func judge(t *testing.T, files map[string]string) *compat.Judge {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys["data/"+name+".yaml"] = &fstest.MapFile{Data: []byte(text)}
	}
	book, problems := dataset.Load(fsys)
	if problems.Stops() {
		t.Fatalf("the office has problems:\n%s", problems)
	}
	return compat.New(mix.NewIndex(book))
}
