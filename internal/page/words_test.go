package page_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/templates"
)

// catalogues are ours, which must be whole.
func catalogues(t *testing.T) message.Set {
	t.Helper()
	set, problems := message.Load(templates.FS)
	if len(problems) > 0 {
		t.Fatalf("our catalogues have problems:\n%s", problems)
	}
	if len(set) != 2 {
		t.Fatalf("%d languages, want English and Spanish", len(set))
	}
	return set
}

var inTemplate = regexp.MustCompile(`\(?\bt "([a-z0-9.-]+)"`)

// used collects the message keys of templates and of the Go files that speak to
// people: whole keys, and beginnings that code completes ("verdict." + id).
func used(t *testing.T) (keys, beginnings map[string]string) {
	t.Helper()
	keys, beginnings = map[string]string{}, map[string]string{}
	names, err := fs.Glob(templates.FS, "*.html")
	if err != nil || len(names) < 15 {
		t.Fatalf("templates %v, error %v", names, err)
	}
	for _, name := range names {
		body, err := fs.ReadFile(templates.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range inTemplate.FindAllSubmatch(body, -1) {
			keys[string(m[1])] = name
		}
	}
	for _, dir := range []string{".", "../message", "../../cmd/tankleaf"} {
		files, err := filepath.Glob(dir + "/*.go")
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, error %v", dir, files, err)
		}
		for _, file := range files {
			if !strings.HasSuffix(file, "_test.go") {
				keysInGo(t, file, keys, beginnings)
			}
		}
	}
	keysInClient(t, keys, beginnings)
	return keys, beginnings
}

// keysInClient finds what the scripts of the site ask for.
func keysInClient(t *testing.T, keys, beginnings map[string]string) {
	t.Helper()
	asks := regexp.MustCompile("\\bt\\((?:\"([a-z0-9.-]+)\"|`([a-z0-9.-]+)\\$\\{)")
	files, err := filepath.Glob("../../templates/client/*/*.ts")
	if err != nil || len(files) < 10 {
		t.Fatalf("found %d scripts, %v", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range asks.FindAllStringSubmatch(string(text), -1) {
			if m[1] != "" {
				keys[m[1]] = file
			}
			if m[2] != "" {
				beginnings[m[2]] = file
			}
		}
	}
}

// looksLikeKey tells a message key from other words in quotes.
var looksLikeKey = regexp.MustCompile(`^[a-z][a-z0-9-]*\.[a-z0-9.-]*$`)

func keysInGo(t *testing.T, file string, keys, beginnings map[string]string) {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(f, func(n ast.Node) bool {
		lit, ok := n.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return true
		}
		s, err := strconv.Unquote(lit.Value)
		switch {
		case err != nil || !looksLikeKey.MatchString(s):
		case strings.HasSuffix(s, ".") || strings.HasSuffix(s, "-"):
			beginnings[s] = file
		default:
			keys[s] = file
		}
		return true
	})
}

// beginsOne reports whether a key that a script completes by itself begins any.
func beginsOne(keys []string, beginning string) bool {
	return (strings.HasSuffix(beginning, ".") || strings.HasSuffix(beginning, "-")) &&
		slices.ContainsFunc(keys, func(k string) bool { return strings.HasPrefix(k, beginning) })
}

func TestEveryWordIsThere(t *testing.T) {
	keys, _ := used(t)
	en := catalogues(t)["en"]
	files := regexp.MustCompile(`\.(html|css|yaml|json|csv|svg|xml|md|go|js|ts|txt|example)$`)
	for key, where := range keys {
		if !en.Has(key) && !files.MatchString(key) && !beginsOne(en.Keys(), key) {
			t.Errorf("%s asks for message %q, which is not in the catalogue", where, key)
		}
	}
	if len(keys) < 300 {
		t.Errorf("found only %d keys in use", len(keys))
	}
}

func TestNoWordIsLeftOver(t *testing.T) {
	keys, beginnings := used(t)
	for _, key := range catalogues(t)["en"].Keys() {
		plain := strings.TrimSuffix(strings.TrimSuffix(key, ".one"), ".other")
		_, whole := keys[plain]
		begun := false
		for b := range beginnings {
			begun = begun || strings.HasPrefix(plain, b)
		}
		if !whole && !begun {
			t.Errorf("message %q is used nowhere", key)
		}
	}
}

// TestEveryValueHasWords asks the catalogues for the words of every value that a
// page may have to name.
func TestEveryValueHasWords(t *testing.T) {
	var keys []string
	add := func(beginning string, words ...string) {
		for _, w := range words {
			keys = append(keys, beginning+w)
		}
	}
	for _, v := range mix.Verdicts() {
		add("", "verdict."+v.String(), "meaning."+v.String(), "instead."+v.String())
		if v != mix.Unknown {
			add("product.band.", v.String())
		}
	}
	for g := mix.NoGrade; g <= mix.Rule; g++ {
		add("grade.", g.String())
	}
	for g := mix.Inference; g <= mix.Rule; g++ {
		add("grade-meaning.", g.String())
	}
	for _, s := range mix.Symptoms() {
		add("symptom.", s.String())
	}
	for _, h := range mix.Hazards() {
		add("", "hazard."+h.String(), "hazard-line."+h.String(), "caution.title."+h.String(), "caution.line."+h.String())
	}
	for k := mix.Law; k <= mix.Memory; k++ {
		add("source-kind.", k.String())
	}
	for e := mix.Forbids; e <= mix.Informs; e++ {
		add("effect.", e.String())
	}
	for a := mix.Chemistry; a <= mix.Water; a++ {
		add("axis.", a.String())
	}
	for k := mix.Physical; k <= mix.Legal; k++ {
		add("kind.", k.String())
	}
	for e := mix.NotRecorded; e <= mix.Heavy; e++ {
		add("extent.", e.String())
	}
	for g := mix.GasNotRecorded; g <= mix.Vented; g++ {
		add("gas.", g.String())
	}
	for r := mix.ResidueNotRecorded; r <= mix.Stays; r++ {
		add("screen.", r.String())
	}
	for r := mix.RedispersedNotRecorded; r <= mix.NotAtAll; r++ {
		add("redispersed.", r.String())
	}
	for _, topic := range append(sheet.Topics(), sheet.NoTopic) {
		add("topic.", topic.String())
	}
	for _, f := range mix.Forms() {
		if f.ForTank() {
			add("form.", strings.ToLower(string(f)))
		}
	}
	add("vessel.", "jar", "cylinder", "bottle", "tank", "nurse-tank", "inductor")
	add("gate.", "hardness", "ph", "bicarbonate", "temperature", "spray-volume", "standing", "water-share", "order",
		"vessel-open", "vessel-closed", "place", "crop", "carrier")
	add("fit.", "below", "above")
	add("doubt.", doubtCodes(t)...)
	add("part.", partWords(t)...)
	for lang, c := range catalogues(t) {
		for _, key := range keys {
			if !c.Has(key) {
				t.Errorf("%s: no words for %q", lang, key)
			}
		}
	}
}

// doubtCodes reads the codes where they are declared, so that a new one cannot
// be forgotten here.
func doubtCodes(t *testing.T) []string {
	t.Helper()
	return declared(t, "../compat/answer.go", regexp.MustCompile(`DoubtCode = "([a-z-]+)"`), 15)
}

func partWords(t *testing.T) []string {
	t.Helper()
	lines := declared(t, "../compat/part.go", regexp.MustCompile(`(?m)^var partNames = \[\]string\{(.*)\}$`), 1)
	var words []string
	for _, w := range strings.Split(lines[0], ",") {
		words = append(words, strings.Trim(w, ` "`))
	}
	return words
}

func declared(t *testing.T, file string, what *regexp.Regexp, least int) []string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, m := range what.FindAllStringSubmatch(string(text), -1) {
		found = append(found, m[1])
	}
	if len(found) < least {
		t.Fatalf("%s: found only %q", file, found)
	}
	return found
}

// TestNoPageShowsAKey: a missing word is printed in angle brackets; none may
// reach a page, and no place may stay open.
func TestNoPageShowsAKey(t *testing.T) {
	for name, body := range publish(t, office(t)) {
		if path.Ext(name) == ".js" {
			continue // there the brackets stand for a key that is missing
		}
		if i := strings.Index(string(body), "⟨"); i >= 0 {
			t.Errorf("%s: %q", name, body[i:min(i+60, len(body))])
		}
	}
}

// TestSpanishIsSpanish: a text that reads the same in both languages was most
// likely forgotten. Those that really are the same are named here.
func TestSpanishIsSpanish(t *testing.T) {
	same := []string{"symptom.gas", "symptom.gel", "symptom.vapor", "kind.legal", "topic.control", "vessel.inductor"}
	set := catalogues(t)
	words := regexp.MustCompile(`\{[a-z]+\}|[^\p{L}]`)
	for _, key := range set["en"].Keys() {
		plain := strings.TrimSuffix(strings.TrimSuffix(key, ".one"), ".other")
		a, b := set["en"].Text(key), set["es"].Text(key)
		if a == b && len(words.ReplaceAllString(a, "")) > 3 && !slices.Contains(same, plain) {
			t.Errorf("%s: both languages say %q", key, a)
		}
	}
}
