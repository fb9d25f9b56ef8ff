package site_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/site"
	"tankleaf.example/templates"
)

func TestAddress(t *testing.T) {
	for _, c := range []struct{ in, want, why string }{
		{"https://mixes.example.org/", "https://mixes.example.org/", "as it should be"},
		{"https://mixes.example.org", "https://mixes.example.org/", "a host alone"},
		{"http://127.0.0.1:8080/tank/mixes", "http://127.0.0.1:8080/tank/mixes/", "the last slash is missing"},
		{"mixes.example.org", "", "no scheme"},
		{"ftp://mixes.example.org/", "", "no web"},
		{"https:///mixes", "", "no host"},
		{"https://u:p@mixes.example.org/", "", "a password would be published"},
		{"https://mixes.example.org/?a=b", "", "a query cannot have pages below it"},
		{"https://mixes.example.org/#a", "", "nor can an anchor"},
	} {
		got, err := site.Address(c.in)
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%s: %q gives %q, %v; want %q", c.why, c.in, got, err, c.want)
		}
	}
}

// TestBuildIsAudited builds an office that spoils templates of ours: checking and
// building both find it, and what was published stays.
func TestBuildIsAudited(t *testing.T) {
	dir, out := fixture(t), filepath.Join(t.TempDir(), "public")
	build(t, dir, out)
	before := tree(t, out)
	own := filepath.Join(dir, "templates")
	mkdir(t, own)
	for _, c := range []struct {
		name, old, new string
		want           []string // problems
		why            string
	}{
		{"404.html", `<h1>`, `<a href="gone.html">x</a><p id="main">x</p><h1>`, []string{
			`404.html: links to "gone.html", which is not published`,
			`404.html: has the id "main" twice`,
		}, "a page by itself, and beside the others"},
		{"parts.html", `data-caution="{{.Hazard}}"`, `data-caution="{{if eq .Hazard "general"}}fire{{else}}general{{end}}"`, []string{
			"404.html: has no general caution block",
			"together/acid--carbonate.html: speaks of pressure and has no caution of it",
			"product/sour.html: speaks of pressure and has no caution of it",
		}, "what the judge knows of a page: the pair's hazard, and a partner's"},
		{"product.html", `{{.Form}}`, `{{.Frm}}`, []string{
			"templates/product.html:5:20: there is no \"Frm\" here\n\tdid you mean \"Form\"?\n\tso es/product/dust.html cannot be made\n",
		}, "a template that can be read and makes no page"},
		{"404.html", `<h1>`, `<h1 class=a"b>`, []string{
			"templates/404.html:3:11: a tag cannot be read\n\twrite its attributes as name=\"value\", with a space between them\n\tso 404.html cannot be made\n",
		}, "a template whose texts cannot be escaped"},
	} {
		text, err := templates.FS.ReadFile(c.name)
		if err != nil || strings.Count(string(text), c.old) != 1 {
			t.Fatalf("%s has no %q, or more than one: %v", c.name, c.old, err)
		}
		write(t, filepath.Join(own, c.name), strings.Replace(string(text), c.old, c.new, 1))
		office, problems := site.Read(os.DirFS(dir))
		if problems.Stops() {
			t.Fatalf("%s: %s", c.why, problems)
		}
		checked, err := site.Check(office)
		if err != nil {
			t.Fatal(err)
		}
		_, built, err := site.Build(office, site.Options{Out: out})
		if err != nil {
			t.Fatal(err)
		}
		for how, found := range map[string]diag.List{"check": checked, "build": built} {
			for _, want := range c.want {
				if !found.Stops() || !strings.Contains(found.String(), want) {
					t.Errorf("%s: %s does not find %q in\n%.2000s", c.why, how, want, found)
				}
			}
		}
		if diff := cmp.Diff(before, tree(t, out)); diff != "" {
			t.Errorf("%s: it was published all the same:\n%.2000s", c.why, diff)
		}
		if err := os.Remove(filepath.Join(own, c.name)); err != nil {
			t.Fatal(err)
		}
	}
}

// TestBuildDoesNotGoBack publishes an office, then the same with an earlier day: the
// history of what changed would run backwards.
func TestBuildDoesNotGoBack(t *testing.T) {
	dir, out := fixture(t), filepath.Join(t.TempDir(), "public")
	day := filepath.Join(dir, "data", "site.yaml")
	edit(t, day, "2026-06-30", "2026-07-01")
	build(t, dir, out)
	before := tree(t, out)
	edit(t, day, "2026-07-01", "2026-06-30")
	office, problems := site.Read(os.DirFS(dir))
	if problems.Stops() {
		t.Fatal(problems)
	}
	_, problems, err := site.Build(office, site.Options{Out: out})
	if want := "published 2026-06-30 lies before the last publication, of 2026-07-01"; err != nil || !problems.Stops() || !strings.Contains(problems.String(), want) {
		t.Errorf("got %v and problems %v, want %q", err, problems, want)
	}
	if diff := cmp.Diff(before, tree(t, out)); diff != "" {
		t.Errorf("it was published all the same:\n%.2000s", diff)
	}
}
