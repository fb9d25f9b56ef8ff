package dataset_test

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/diag"
)

const (
	problemDir = "../../testdata/problems"
	fineDir    = "../../testdata/fine"
)

// archive reads a txtar file.
func archive(t testing.TB, name string) *txtar.Archive {
	t.Helper()
	ar, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return ar
}

// over lays the files of an archive over the small office of testdata/fine. An
// empty file takes the office's own away.
func over(t testing.TB, ar *txtar.Archive) fs.FS {
	t.Helper()
	base := archive(t, fineDir+"/office.txtar")
	own := func(name string) bool {
		return slices.ContainsFunc(ar.Files, func(f txtar.File) bool { return f.Name == name })
	}
	all := &txtar.Archive{Files: slices.DeleteFunc(base.Files, func(f txtar.File) bool { return own(f.Name) })}
	for _, f := range ar.Files {
		if f.Name != "want" && len(f.Data) > 0 {
			all.Files = append(all.Files, f)
		}
	}
	return fsOf(t, all)
}

func fsOf(t testing.TB, ar *txtar.Archive) fs.FS {
	t.Helper()
	fsys, err := txtar.FS(ar)
	if err != nil {
		t.Fatal(err)
	}
	return fsys
}

// TestProblems lays each archive of testdata/problems over the small office and
// compares what the loader says with its file want. The archive's comment says
// in words what is wrong.
func TestProblems(t *testing.T) {
	for _, name := range archives(t, problemDir) {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			ar := archive(t, name)
			if len(bytes.TrimSpace(ar.Comment)) == 0 {
				t.Error("the archive does not say what it shows")
			}
			_, problems := dataset.Load(over(t, ar))
			if len(problems) == 0 {
				t.Error("nothing was found")
			}
			compareWant(t, name, ar, problems)
		})
	}
}

func compareWant(t *testing.T, name string, ar *txtar.Archive, problems diag.List) {
	t.Helper()
	i := slices.IndexFunc(ar.Files, func(f txtar.File) bool { return f.Name == "want" })
	if i < 0 {
		i = len(ar.Files)
		ar.Files = append(ar.Files, txtar.File{Name: "want"})
	}
	if got := problems.String(); got != string(ar.Files[i].Data) {
		if *update {
			ar.Files[i].Data = []byte(got)
			if err := os.WriteFile(name, txtar.Format(ar), 0o666); err != nil {
				t.Fatal(err)
			}
			return
		}
		t.Errorf("got\n%swant\n%s", got, ar.Files[i].Data)
	}
}

func archives(t *testing.T, dir string) []string {
	t.Helper()
	names, err := filepath.Glob(dir + "/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("no archive in %s: %v", dir, err)
	}
	return names
}

// TestFine holds that offices with nothing to mend get no word.
func TestFine(t *testing.T) {
	for _, name := range archives(t, fineDir) {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			if _, problems := dataset.Load(over(t, archive(t, name))); len(problems) > 0 {
				t.Errorf("%s", problems)
			}
		})
	}
}

// TestCatalogue keeps the list of all problems, made from the archives.
func TestCatalogue(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("# What can be wrong with data\n\nOne line for each archive in this folder; the archive shows the faulty file and, under `want`,\n" +
		"every line that is printed. Made by `go test ./internal/dataset -update`.\n\n| archive | what is wrong | what is said | what to write instead |\n|---|---|---|---|\n")
	for _, name := range archives(t, problemDir) {
		ar := archive(t, name)
		want := ""
		for _, f := range ar.Files {
			if f.Name == "want" {
				want = string(f.Data)
			}
		}
		msg, hint := firstProblem(want)
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", strings.TrimSuffix(filepath.Base(name), ".txtar"), cell(string(ar.Comment)), cell(msg), cell(hint))
	}
	checkFile(t, problemDir+"/README.md", b.Bytes())
}

// firstProblem splits the first printed problem into message and hint.
func firstProblem(want string) (msg, hint string) {
	lines := strings.Split(want, "\n")
	_, msg, _ = strings.Cut(lines[0], ": ")
	if len(lines) > 1 && strings.HasPrefix(lines[1], "\t") {
		hint = strings.TrimSpace(lines[1])
	}
	return msg, hint
}

func cell(s string) string {
	return strings.ReplaceAll(strings.Join(strings.Fields(s), " "), "|", "\\|")
}

// elsewhere are messages that no archive can show, and the tests that do.
var elsewhere = map[string]string{
	"no such folder":                 "TestUnreadable",
	"%d more problems are not shown": "TestManyProblems",
}

// TestCatalogueIsComplete finds every message in the source of this package and
// wants each to be shown by an archive.
func TestCatalogueIsComplete(t *testing.T) {
	var all strings.Builder
	for _, name := range archives(t, problemDir) {
		ar := archive(t, name)
		all.Write(ar.Files[len(ar.Files)-1].Data)
	}
	found := messages(t)
	if len(found) < 60 {
		t.Fatalf("only %d messages were found in the source", len(found))
	}
	for _, m := range found {
		shown, err := regexp.MatchString(pattern(m), all.String())
		if err != nil {
			t.Fatal(err)
		}
		if !shown && elsewhere[m] == "" {
			t.Errorf("no archive of %s shows %q", problemDir, m)
		}
	}
}

var verb = regexp.MustCompile(`%[a-z]`)

// pattern turns a format into an expression for what it prints.
func pattern(format string) string {
	var parts []string
	for _, p := range verb.Split(format, -1) {
		parts = append(parts, regexp.QuoteMeta(p))
	}
	return "(?m): " + strings.Join(parts, ".*")
}

// messages returns the literal or format of every problem that the package's
// source reports.
func messages(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				all = append(all, message(call)...)
			}
			return true
		})
	}
	return all
}

// message returns the format of a call that reports a problem.
func message(call *ast.CallExpr) []string {
	sel, ok := call.Fun.(*ast.SelectorExpr)
	arg := map[string]int{"Problem": 0, "ProblemAt": 1, "Add": 1, "Warn": 1}
	if !ok {
		return nil
	}
	i, reports := arg[sel.Sel.Name]
	if !reports || len(call.Args) <= i {
		return nil
	}
	switch a := call.Args[i].(type) {
	case *ast.BasicLit:
		return []string{unquote(a)}
	case *ast.BinaryExpr:
		if lit, ok := a.X.(*ast.BasicLit); ok {
			return []string{unquote(lit)}
		}
	case *ast.CallExpr:
		if lit, ok := first(a.Args).(*ast.BasicLit); ok {
			return []string{unquote(lit)}
		}
	}
	return nil
}

func first(args []ast.Expr) ast.Expr {
	if len(args) == 0 {
		return nil
	}
	return args[0]
}

func unquote(lit *ast.BasicLit) string {
	s, _ := strconv.Unquote(lit.Value)
	return s
}
