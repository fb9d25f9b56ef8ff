package tankleaf_test

import (
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const module = "tankleaf.example"

// allowed is the package map of DEVELOPERS.md: who may import whom. It is read
// from the leaves up.
var allowed = map[string][]string{
	"internal/unit":         {"internal/diag"},
	"internal/diag":         {},
	"internal/cause":        {},
	"internal/yamlpos":      {"internal/diag"},
	"internal/folder":       {"internal/diag"},
	"internal/search":       {},
	"internal/client":       {},
	"internal/search/bench": {"internal/search", "internal/client", "templates"},
	"internal/message":      {"internal/mix", "internal/diag", "internal/yamlpos", "internal/folder"},
	"internal/mix":          {"internal/unit", "internal/diag"},
	"internal/dataset":      {"internal/mix", "internal/unit", "internal/diag", "internal/yamlpos", "internal/folder"},
	"internal/sheet":        {"internal/mix", "internal/unit", "internal/diag", "internal/yamlpos", "internal/folder"},
	"internal/jar":          {"internal/mix", "internal/unit"},
	"internal/gas":          {"internal/mix", "internal/unit"},
	"internal/compat":       {"internal/mix", "internal/unit", "internal/cause"},
	"internal/office":       {"internal/mix", "internal/unit"},
	"internal/trial":        {"internal/mix", "internal/unit", "internal/diag", "internal/cause", "internal/jar", "internal/compat", "internal/gas"},
	"internal/qr":           {},
	"internal/intake":       {"internal/mix", "internal/diag", "internal/dataset", "internal/trial", "internal/unit"},
	"internal/ledger":       {"internal/mix", "internal/compat"},
	"internal/planner":      {"internal/mix", "internal/unit", "internal/compat", "internal/jar"},
	"internal/page": {"internal/mix", "internal/unit", "internal/diag", "internal/compat", "internal/ledger", "internal/jar",
		"internal/trial", "internal/qr", "internal/sheet", "internal/message", "internal/search", "internal/client", "internal/planner",
		"internal/gas", "internal/folder", "templates"},
	"internal/site": {"internal/mix", "internal/diag", "internal/dataset", "internal/sheet", "internal/compat", "internal/ledger",
		"internal/message", "internal/page", "internal/trial", "templates"},
	"internal/hostile": {}, // tests alone
	"internal/outside": {}, // for tests alone
	"internal/mutate":  {},
	"internal/preview": {"internal/diag", "internal/site"},
	"templates":        {},
	"cmd/tankleaf": {"", "internal/unit", "internal/diag", "internal/mix", "internal/jar", "internal/compat", "internal/trial",
		"internal/intake", "internal/message", "internal/search", "internal/page", "internal/site", "internal/preview", "templates"},
	"": {},
}

// doors names the one package that may import a dependency.
var doors = map[string][]string{
	"gopkg.in/yaml.v3":                {"internal/yamlpos"},
	"github.com/yuin/goldmark":        {"internal/sheet"},
	"github.com/alecthomas/chroma/v2": {"internal/sheet"},
	"github.com/blevesearch/bleve/v2": {"internal/search"},
	"gonum.org/v1/gonum":              {"internal/compat"},
	"github.com/piglig/go-qr":         {"internal/qr"},
	"github.com/evanw/esbuild":        {"internal/client"},
	"github.com/chromedp/chromedp":    {"internal/outside", "internal/search/bench"},
}

// packages returns the folder of every package of ours, "" for the root.
func packages(t *testing.T) []string {
	t.Helper()
	var dirs []string
	err := filepath.WalkDir(".", func(dir string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		name := d.Name()
		if dir != "." && (name == "testdata" || name == "node_modules" || name == "public" || name[0] == '.') {
			return fs.SkipDir
		}
		if goFiles, _ := filepath.Glob(filepath.Join(dir, "*.go")); len(goFiles) > 0 {
			dirs = append(dirs, strings.TrimPrefix(filepath.ToSlash(dir), "."))
		}
		return nil
	})
	if err != nil || len(dirs) < 5 {
		t.Fatalf("found packages %v, error %v", dirs, err)
	}
	return dirs
}

func TestImports(t *testing.T) {
	for _, dir := range packages(t) {
		may, known := allowed[dir]
		if !known {
			t.Errorf("%s: not in the package map", dir)
			continue
		}
		p, err := build.ImportDir("./"+dir, 0)
		if _, none := err.(*build.NoGoError); none {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		for _, imp := range p.Imports {
			checkImport(t, dir, imp, may)
		}
	}
}

// TestDevelopersNamesEveryPackage holds the table of packages in DEVELOPERS.md to
// what there is.
func TestDevelopersNamesEveryPackage(t *testing.T) {
	body, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, dir := range packages(t) {
		if dir != "" && !strings.Contains(string(body), "\n| `"+dir+"` |") {
			t.Errorf("DEVELOPERS.md has no row for %s", dir)
		}
	}
	for dir := range allowed {
		if _, err := os.Stat("./" + dir); err != nil {
			t.Errorf("the map names %s: %v", dir, err)
		}
	}
}

func checkImport(t *testing.T, dir, imp string, may []string) {
	if imp == module || strings.HasPrefix(imp, module+"/") {
		rel := strings.TrimPrefix(strings.TrimPrefix(imp, module), "/")
		if !slices.Contains(may, rel) {
			t.Errorf("%s imports %q: not in the package map", dir, rel)
		}
		return
	}
	for dep, through := range doors {
		if (imp == dep || strings.HasPrefix(imp, dep+"/")) && !slices.Contains(through, dir) {
			t.Errorf("%s imports %s, whose door is %v", dir, imp, through)
		}
	}
}

// TestMapIsCurrent fails when a package of the map is gone.
func TestMapIsCurrent(t *testing.T) {
	dirs := packages(t)
	for dir := range allowed {
		if !slices.Contains(dirs, dir) {
			t.Errorf("%q is in the package map and not in the tree", dir)
		}
	}
}

func TestEveryPackageHasADocComment(t *testing.T) {
	for _, dir := range packages(t) {
		files := parse(t, dir)
		has := slices.ContainsFunc(files, func(f *ast.File) bool { return len(f.Doc.Text()) > 40 })
		if !has && len(files) > 0 {
			t.Errorf("%s: no package comment", dir)
		}
	}
}

var sources = token.NewFileSet()

// parse returns the files of a package that are not tests.
func parse(t *testing.T, dir string) []*ast.File {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("./"+dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(sources, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	return files
}

// The size budget: what fails the build. Data tables are let off by being
// variables, not functions.
const (
	mostFileLines     = 700
	mostFunctionLines = 100
	mostParameters    = 6
)

func TestSizes(t *testing.T) {
	for _, dir := range packages(t) {
		for _, f := range parse(t, dir) {
			file := sources.File(f.Pos())
			if n := file.LineCount(); n > mostFileLines {
				t.Errorf("%s has %d lines: split it", file.Name(), n)
			}
			for _, d := range f.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok {
					checkFunction(t, fn)
				}
			}
		}
	}
}

func checkFunction(t *testing.T, fn *ast.FuncDecl) {
	first, last := sources.Position(fn.Pos()), sources.Position(fn.End())
	if n := last.Line - first.Line + 1; n > mostFunctionLines {
		t.Errorf("%s: %s has %d lines: split it", first, fn.Name.Name, n)
	}
	if n := fn.Type.Params.NumFields(); n > mostParameters {
		t.Errorf("%s: %s has %d parameters: group them", first, fn.Name.Name, n)
	}
}

func TestFormatted(t *testing.T) {
	out, err := exec.Command("gofmt", "-l", "cmd", "internal", "templates", "repo_test.go").CombinedOutput()
	if err != nil || len(out) > 0 {
		t.Errorf("gofmt -l: %v\n%s", err, out)
	}
}

// TestSpeaksOfItselfAlone keeps the project's files free of the machine they
// were written on.
func TestSpeaksOfItselfAlone(t *testing.T) {
	out, err := exec.Command("git", "ls-files").Output()
	if err != nil {
		t.Skipf("git ls-files: %v", err)
	}
	never := []string{"/" + "work/", "/" + "tmp/", "/" + "root/", "proxy.golang" + ".org", "registry.npmjs" + ".org"}
	for name := range strings.Lines(string(out)) {
		name = strings.TrimSpace(name)
		body, err := os.ReadFile(name)
		if err != nil || name == "package-lock.json" {
			continue
		}
		for _, word := range never {
			if strings.Contains(string(body), word) {
				t.Errorf("%s has %q", name, word)
			}
		}
	}
}
