package main

import (
	"crypto/sha256"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// fault is one edit of a file.
type fault struct {
	file       string // as the go command knows it
	from, to   int    // what is replaced, in bytes
	with       string
	kind       string // the words of the package comment
	in         string // the function
	was        string // what stood there
	line       int    // from 1
	occurrence int    // among faults of the function that look the same, from 0
}

// name says what a fault does without saying on which line, so that it stays the
// same when code above it grows.
func (f fault) name() string {
	s := fmt.Sprintf("%s %s %s: %s → %s", filepath.Base(f.file), f.in, f.kind, oneLine(f.was), oneLine(f.with))
	if f.occurrence > 0 {
		s += fmt.Sprintf(" #%d", f.occurrence+1)
	}
	return s
}

func oneLine(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if s == "" {
		return "nothing"
	}
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}

// apply returns the file with the fault in it.
func (f fault) apply(body []byte) []byte {
	return slices.Concat(body[:f.from], []byte(f.with), body[f.to:])
}

// faultsOf lists all faults that the files of a folder offer, drawn by the seed.
func faultsOf(folder string, seed int) ([]fault, error) {
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return nil, err
	}
	var all []fault
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		body, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		found, err := faultsIn(name, body)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	number(all)
	rank := func(f fault) string {
		return fmt.Sprintf("%x", sha256.Sum256([]byte(strconv.Itoa(seed)+f.name())))
	}
	slices.SortFunc(all, func(a, b fault) int { return strings.Compare(rank(a), rank(b)) })
	return all, nil
}

// number tells apart faults that look the same.
func number(all []fault) {
	seen := map[string]int{}
	for i := range all {
		name := all[i].name()
		all[i].occurrence = seen[name]
		seen[name]++
	}
}

// faultsIn lists the faults that one file offers.
func faultsIn(name string, body []byte) ([]fault, error) {
	files := token.NewFileSet()
	parsed, err := parser.ParseFile(files, name, body, 0)
	if err != nil {
		return nil, err
	}
	s := seeder{name: name, body: body, file: files.File(parsed.Pos())}
	for _, d := range parsed.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Body == nil || slices.Contains(words, fn.Name.Name) {
			continue
		}
		s.in = fn.Name.Name
		ast.Inspect(fn.Body, s.visit)
	}
	return s.found, nil
}

// words are functions that only put things into words, which tests of judgement
// leave to others.
var words = []string{"String", "GoString", "Error", "Format"}

type seeder struct {
	name  string
	body  []byte
	file  *token.File
	in    string
	found []fault
}

func (s *seeder) text(n ast.Node) string {
	return string(s.body[s.file.Offset(n.Pos()):s.file.Offset(n.End())])
}

// replace notes the fault of writing something else in a node's place.
func (s *seeder) replace(kind string, n ast.Node, with string) {
	s.span(kind, s.file.Offset(n.Pos()), s.file.Offset(n.End()), with)
}

func (s *seeder) span(kind string, from, to int, with string) {
	s.found = append(s.found, fault{file: s.name, from: from, to: to, with: with, kind: kind, in: s.in,
		was: string(s.body[from:to]), line: s.file.Line(s.file.Pos(from))})
}

// other is the operator that a tired person writes for one.
var other = map[token.Token]struct {
	kind string
	op   token.Token
}{
	token.LSS: {"compare", token.LEQ}, token.LEQ: {"compare", token.LSS},
	token.GTR: {"compare", token.GEQ}, token.GEQ: {"compare", token.GTR},
	token.EQL: {"compare", token.NEQ}, token.NEQ: {"compare", token.EQL},
	token.LAND: {"logic", token.LOR}, token.LOR: {"logic", token.LAND},
	token.ADD: {"arith", token.SUB}, token.SUB: {"arith", token.ADD},
	token.MUL: {"arith", token.QUO}, token.QUO: {"arith", token.MUL},
}

// turned is the comparison the other way round.
var turned = map[token.Token]token.Token{
	token.LSS: token.GTR, token.GTR: token.LSS, token.LEQ: token.GEQ, token.GEQ: token.LEQ,
}

func (s *seeder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.CallExpr:
		return s.call(n)
	case *ast.BinaryExpr:
		if o, ok := other[n.Op]; ok {
			s.replace(o.kind, n, s.text(n.X)+" "+o.op.String()+" "+s.text(n.Y))
		}
		if op, ok := turned[n.Op]; ok {
			s.replace("flip", n, s.text(n.X)+" "+op.String()+" "+s.text(n.Y))
		}
	case *ast.CompositeLit:
		s.literal(n)
	case *ast.SwitchStmt:
		if n.Tag == nil {
			s.cases(n.Body.List)
		}
	case *ast.IfStmt:
		s.replace("negate", n.Cond, "!("+s.text(n.Cond)+")")
	case *ast.BasicLit:
		if v, err := strconv.Atoi(n.Value); n.Kind == token.INT && err == nil {
			s.replace("number", n, strconv.Itoa(v+1))
		}
	case *ast.Ident:
		if n.Name == "true" || n.Name == "false" {
			s.replace("truth", n, strconv.FormatBool(n.Name == "false"))
		}
	case *ast.ExprStmt, *ast.IncDecStmt, *ast.BranchStmt:
		s.replace("drop", n, "")
	case *ast.AssignStmt:
		if n.Tok != token.DEFINE {
			s.replace("drop", n, "")
		}
	}
	return true
}

// literal offers to leave a field out, which then holds its zero value, and to
// let neighbours in a list change places.
func (s *seeder) literal(n *ast.CompositeLit) {
	for i, e := range n.Elts {
		if field, ok := e.(*ast.KeyValueExpr); ok {
			s.leaveOut(n, field)
			continue
		}
		_, list := n.Type.(*ast.ArrayType)
		if _, row := e.(*ast.CompositeLit); list && !row && i > 0 { // rows of a table are looked up
			s.exchange(n.Elts[i-1], e)
		}
	}
}

func (s *seeder) leaveOut(n *ast.CompositeLit, field *ast.KeyValueExpr) {
	if _, named := field.Key.(*ast.Ident); !named {
		return
	}
	from, to := s.file.Offset(field.Pos()), s.file.Offset(field.End())
	if field != n.Elts[len(n.Elts)-1] {
		to += strings.IndexByte(string(s.body[to:]), ',') + 1
	}
	s.span("lose", from, to, "")
}

// cases offers to ask two neighboring conditions of a switch in the other order.
func (s *seeder) cases(all []ast.Stmt) {
	for i := 1; i < len(all); i++ {
		before, after := all[i-1].(*ast.CaseClause), all[i].(*ast.CaseClause)
		if before.List != nil && after.List != nil {
			s.exchange(before, after)
		}
	}
}

// exchange lets two neighbours change places; what stands between them stays.
func (s *seeder) exchange(a, b ast.Node) {
	if s.text(a) == s.text(b) {
		return
	}
	between := string(s.body[s.file.Offset(a.End()):s.file.Offset(b.Pos())])
	s.span("order", s.file.Offset(a.Pos()), s.file.Offset(b.End()), s.text(b)+between+s.text(a))
}

// eitherWay are methods that give the same the other way round.
var eitherWay = []string{"Add", "Mul", "Equal"}

// call offers the faults of a call; it reports whether to look into it. Messages
// of a panic and printed words are left alone.
func (s *seeder) call(n *ast.CallExpr) bool {
	callee := s.text(n.Fun)
	if callee == "panic" || strings.HasPrefix(callee, "fmt.") {
		return false
	}
	if callee == "append" && len(n.Args) > 1 {
		s.replace("lose", n, "append("+s.text(n.Args[0])+")")
		return true
	}
	if len(n.Args) >= 2 && callee != "min" && callee != "max" && !n.Ellipsis.IsValid() && s.text(n.Args[0]) != s.text(n.Args[1]) {
		from, to := s.file.Offset(n.Args[0].Pos()), s.file.Offset(n.Args[1].End())
		s.span("swap", from, to, s.text(n.Args[1])+", "+s.text(n.Args[0]))
	}
	f, ok := n.Fun.(*ast.SelectorExpr)
	if ok && len(n.Args) == 1 && s.text(f.X) != s.text(n.Args[0]) && !slices.Contains(eitherWay, f.Sel.Name) {
		s.replace("swap", n, s.text(n.Args[0])+"."+f.Sel.Name+"("+s.text(f.X)+")")
	}
	return true
}
