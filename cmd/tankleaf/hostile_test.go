//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"tankleaf.example/internal/diag"
)

// edit makes an office hostile.
type edit func(t *testing.T, dir string)

// put writes one file.
func put(name, text string) edit {
	return func(t *testing.T, dir string) {
		file := filepath.Join(dir, name)
		must(t, os.MkdirAll(filepath.Dir(file), 0o755))
		must(t, os.WriteFile(file, []byte(text), 0o644))
	}
}

// link makes a symbolic link.
func link(name, to string) edit {
	return func(t *testing.T, dir string) {
		file := filepath.Join(dir, name)
		must(t, os.MkdirAll(filepath.Dir(file), 0o755))
		must(t, os.RemoveAll(file))
		must(t, os.Symlink(to, file))
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

const (
	sheetHead = "---\ntitle: T\nsummary: S\ntopic: water\nclasses: [acidifier]\nauthor: county agent\nreviewed: 2026-01-10\nreview_by: 2027-06-01\nlanguage: en\n---\n\n"
	place     = "places:\n  - {id: p, name: %s}\n"
)

// named is a file with one name in it.
func named(name string) edit { return put("data/places/p.yaml", fmt.Sprintf(place, name)) }

// bomb is a list of lists of lists: a few lines that stand for billions.
func bomb() string {
	var b strings.Builder
	b.WriteString("a: &a [x,x,x,x,x,x,x,x,x,x]\n")
	for c := 'b'; c <= 'k'; c++ {
		fmt.Fprintf(&b, "%c: &%c [%s]\n", c, c, strings.Repeat(fmt.Sprintf("*%c,", c-1), 10))
	}
	return b.String()
}

func many(n int, line string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, line+"\n", i)
	}
	return b.String()
}

// hostileOffices are what strangers may send in, with what they are told. Every
// one is a problem of the content: exit code 1, a place, no failure and no crash.
var hostileOffices = []struct {
	why  string
	edit edit
	want string
}{
	{"a bomb of aliases", put("data/places/bomb.yaml", bomb()), `data/places/bomb.yaml:1:4: anchor "&a": anchors are not read`},
	{"an alias to itself", put("data/places/bomb.yaml", "a: &a [*a]\n"), `data/places/bomb.yaml:1:4: anchor "&a": anchors are not read`},
	{"a merge of mappings", put("data/places/m.yaml", "places:\n  - <<: {id: x}\n    name: N\n"), `data/places/m.yaml:2:5: merge key "<<" is not read`},
	{"lists in lists in lists", put("data/places/deep.yaml", strings.Repeat("[", 200_000)), "data/places/deep.yaml:1:1: nested too deep"},
	{"the same, closed", put("data/places/deep.yaml", strings.Repeat("[", 5000)+strings.Repeat("]", 5000)), "data/places/deep.yaml:1:26: nested more than 24 deep"},
	{"mappings in mappings", put("data/places/deep.yaml", strings.Repeat("{a: ", 5000)+strings.Repeat("}", 5000)), "data/places/deep.yaml:1:98: nested more than 24 deep"},
	{"indentation without end", put("data/places/deep.yaml", func() string {
		var b strings.Builder
		for i := range 3000 {
			b.WriteString(strings.Repeat(" ", i) + "a:\n")
		}
		return b.String()
	}()), "data/places/deep.yaml:25:25: nested more than 24 deep"},
	{"a tag that makes objects elsewhere", put("data/places/tag.yaml", "places: !!python/object/apply:os.system [ls]\n"), "data/places/tag.yaml:1:9: a tag: tags are not read"},
	{"two documents in one file", put("data/places/two.yaml", "places: []\n---\nplaces: []\n"), "data/places/two.yaml:2:1: a second YAML document starts here"},
	{"an endless word", named(strings.Repeat("x", 50_000)), "data/places/p.yaml:2:19: text of 50000 characters: more than 20000"},
	{"an endless block of text", put("data/places/p.yaml", "places:\n  - id: p\n    name: |\n"+many(30_000, "      line %d")), "data/places/p.yaml:3:11: text of 318890 characters: more than 20000"},
	{"an endless file", put("data/places/p.yaml", "# "+strings.Repeat("x", 17<<20)), "data/places/p.yaml: larger than 16 MiB"},
	{"an endless sheet", put("content/long.md", sheetHead+strings.Repeat("word ", 5<<20)), "content/long.md: larger than 256 KiB"},
	{"an endless id", put("data/places/p.yaml", "places:\n  - {id: "+strings.Repeat("a", 65)+", name: N}\n"), `…" is no id`},
	{"bytes that are no UTF-8", named("a\xff\xfeb"), "data/places/p.yaml:2:20: byte 0xff is not UTF-8 text"},
	{"a sheet that is no UTF-8", put("content/bad.md", sheetHead+"a\xff\xfeb\n"), "content/bad.md:12:2: byte 0xff is not UTF-8"},
	{"a NUL", named("a\x00b"), "data/places/p.yaml:2:20: control character U+0000"},
	{"a NUL in an escape", named(`"a\0b"`), "data/places/p.yaml:2:21: control character U+0000"},
	{"a NUL in a sheet", put("content/bad.md", sheetHead+"a\x00b\n"), "content/bad.md:12:2: control character U+0000"},
	{"an escape of the terminal", named(`"a\e[31mb"`), "data/places/p.yaml:2:21: control character U+001B"},
	{"a control that turns text around", named("Oil \u202egnirps"), "data/places/p.yaml:2:23: invisible character U+202E changes the direction of text"},
	{"the same in an escape", named(`"Oil \u202egnirps"`), "data/places/p.yaml:2:24: invisible character U+202E changes the direction of text"},
	{"an isolate that turns text around", named("a\u2067b"), "data/places/p.yaml:2:20: invisible character U+2067 changes the direction of text"},
	{"a blank that nobody sees", named("Sul\u200bfur"), "data/places/p.yaml:2:22: invisible character U+200B"},
	{"a line end that is none", named("a\u2028b"), "data/places/p.yaml:2:20: line separator U+2028"},
	{"a letter from another script", named("Sulfаte"), `data/places/p.yaml:2:19: word "Sulfаte" mixes letters of two scripts that look alike`},
	{"a name that looks like another", put("data/places/p.yaml", "places:\n  - {id: one, name: Cape}\n  - {id: two, name: Саре}\n"), `data/places/p.yaml:3:5: name "Саре" looks like another, with letters of another script`},
	{"an id that Windows keeps", put("data/places/p.yaml", "places:\n  - {id: nul, name: N}\n"), `data/places/p.yaml:2:10: id "nul" is a name that Windows keeps for itself, and names a page`},
	{"a sheet that Windows keeps", put("content/con.md", sheetHead+"Words.\n"), `content/con.md: file name "con.md" is one that Windows keeps for itself`},
	{"a sheet in another language that Windows keeps", put("content/aux.en.md", sheetHead+"Words.\n"), `content/aux.en.md: file name "aux.en.md" is one that Windows keeps for itself`},
	{"ids that differ in case alone", put("data/places/p.yaml", "places:\n  - {id: north, name: N}\n  - {id: North, name: M}\n"), `data/places/p.yaml:3:10: "North" is no id`},
	{"sheets that differ in case alone", func(t *testing.T, dir string) {
		put("content/foam.md", sheetHead+"Words.\n")(t, dir)
		put("content/Foam.md", sheetHead+"Words.\n")(t, dir)
	}, `content/Foam.md: file name "Foam.md" is not that of a sheet`},
	{"an id that climbs", put("data/places/p.yaml", "places:\n  - {id: ../../x, name: N}\n"), `data/places/p.yaml:2:10: "../../x" is no id`},
	{"a photo that climbs", put("data/observations/x.yaml", "id: x\nkind: jar\ntitle: T\ndate: 2026-01-02\nby: grower\nplace: home\nphoto: photos/../../../etc/passwd.jpg\nproducts: []\norder: recorded\nreadings: []\n"), "does not lie in data/photos"},
	{"a picture of a sheet that climbs", put("content/x.md", sheetHead+"![x](../../../../etc/passwd.png)\n"), `content/x.md:12:6: path "../../../../etc/passwd.png" leads out of content/`},
	{"a picture with a name that no server likes", func(t *testing.T, dir string) {
		put(`content/a"b c.png`, "x")(t, dir)
		put("content/x.md", sheetHead+"![x](<a\"b c.png>)\n")(t, dir)
	}, `content/a"b c.png: holds "a\"b c.png", a file name that some systems or servers cannot hold`},
	{"two pictures that differ in case alone", func(t *testing.T, dir string) {
		put("content/jar.png", "x")(t, dir)
		put("content/JAR.png", "x")(t, dir)
		put("content/x.md", sheetHead+"![x](jar.png) ![x](JAR.png)\n")(t, dir)
	}, `content/jar.png: is the same file as "content/JAR.png" on systems that fold case`},
	{"a link to a file outside", link("data/places/p.yaml", "/etc/hostname"), "data/places/p.yaml: symbolic link: links are not followed"},
	{"a link to a folder outside", link("data/places", "/etc"), "data/places: symbolic link: links are not followed"},
	{"a sheet that is a link", link("content/x.md", "/etc/hostname"), "content/x.md: symbolic link: links are not followed"},
	{"a folder of sheets that is a link", link("content/more", "/etc"), "content/more: symbolic link: links are not followed"},
	{"templates that are a link", link("templates", "/etc"), "templates: is no folder; links are not followed"},
	{"a template that is a link", link("templates/base.html", "/etc/hostname"), "templates/base.html: symbolic link: links are not followed\n\tput the file itself here\n"},
	{"a template that is a link within", link("templates/base.html", "../README.md"), "templates/base.html: symbolic link: links are not followed"},
	{"a template that is a link to itself", link("templates/base.html", "base.html"), "templates/base.html: symbolic link: links are not followed"},
	{"a template that is a link to a folder", link("templates/base.html", "/etc"), "templates/base.html: symbolic link: links are not followed"},
	{"a style that is a link", link("templates/styles/own.css", "/etc/hostname"), "templates/styles/own.css: symbolic link: links are not followed"},
	{"a folder of styles that is a link", link("templates/styles", "/etc"), "templates/styles: symbolic link: links are not followed"},
	{"messages that are a link", link("templates/messages/en/packet.yaml", "/etc/hostname"), "templates/messages/en/packet.yaml: symbolic link: links are not followed"},
	{"a folder of messages that is a link", link("templates/messages", "/etc"), "templates/messages: symbolic link: links are not followed"},
	{"a language that is a link", link("templates/messages/en", "/etc"), "templates/messages/en: symbolic link: links are not followed"},
	{"a picture that is a link", func(t *testing.T, dir string) {
		link("content/x.png", "/etc/hostname")(t, dir)
		put("content/x.md", sheetHead+"![x](x.png)\n")(t, dir)
	}, `content/x.md:12:6: there is no file "content/x.png"`},
	{"a link that leads back", link("data/places/loop", ".."), "data/places/loop: symbolic link: links are not followed"},
	{"a pipe, which never ends", pipe("data/places/p.yaml"), "data/places/p.yaml: is no plain file"},
	{"a pipe for a sheet", pipe("content/p.md"), "content/p.md: is no plain file"},
	{"a pipe for a template", pipe("templates/base.html"), "templates/base.html: is no plain file\n\tput a plain file here; pipes and devices are not read\n"},
	{"a pipe for styles", pipe("templates/styles"), "templates/styles: is no plain file"},
	{"a pipe for messages", pipe("templates/messages"), "templates/messages: is no plain file"},
	{"a pipe for a language", pipe("templates/messages/en"), "templates/messages/en: is no plain file"},
	{"a pipe for a catalogue", pipe("templates/messages/fr.yaml"), "templates/messages/fr.yaml: is no plain file"},
	{"a folder named as a template", put("templates/base.html/x.txt", "x"), "templates/base.html: is a folder, where a file is read"},
	{"a folder named as a catalogue", put("templates/messages/en.yaml/x.txt", "x"), "templates/messages/en.yaml: is a folder, where a file is read"},
	{"a folder named as a record", put("data/observations/x.yaml/y.txt", "x"), "data/observations/x.yaml: is a folder, where a file is read"},
	{"a file named as a folder", put("templates/messages", "x"), "templates/messages: is no folder"},
	{"a file in the place of the sheets", func(t *testing.T, dir string) {
		must(t, os.RemoveAll(filepath.Join(dir, "content")))
		put("content", "x")(t, dir)
	}, "content: is no folder"},
	{"200 MB in the place of a template", large("templates/base.html"), "templates/base.html: larger than 1 MiB"},
	{"200 MB in the place of a style", large("templates/styles/own.css"), "templates/styles/own.css: larger than 1 MiB"},
	{"200 MB in the place of messages", large("templates/messages/en.yaml"), "templates/messages/en.yaml: larger than 16 MiB"},
	{"200 MB in the place of records", large("data/places/p.yaml"), "data/places/p.yaml: larger than 16 MiB"},
	{"200 MB in the place of a sheet", large("content/x.md"), "content/x.md: larger than 256 KiB"},
	{"a NUL in a template", put("templates/safety.html", "{{define \"main\"}}\x00{{end}}"), "templates/safety.html:1:18: control character U+0000"},
	{"a template that is no UTF-8", put("templates/safety.html", "{{define \"main\"}}\xff{{end}}"), "templates/safety.html:1:18: byte 0xff is not UTF-8 text"},
	{"a pipe for a picture", func(t *testing.T, dir string) {
		pipe("content/x.png")(t, dir)
		put("content/x.md", sheetHead+"![x](x.png)\n")(t, dir)
	}, `content/x.md:12:6: no file "content/x.png"`},
	{"a picture without end", func(t *testing.T, dir string) {
		put("content/x.png", strings.Repeat("x", 11<<20))(t, dir)
		put("content/x.md", sheetHead+"![x](x.png)\n")(t, dir)
	}, `content/x.md:12:6: file "content/x.png" has more than 10 MiB`},
	{"a folder where a file is looked for", put("data/more.yaml/x.yaml", "x"), "data/more.yaml: is a folder, where a file is read"},
	{"a folder named as a sheet", put("content/x.md/y.txt", "x"), "content/x.md: is a folder, where a file is read"},
	{"a thousand wrong products", put("data/products/p.yaml", "products:\n"+many(1000, "  - {id: p%d, name: N, form: SL, classes: [nothing], sources: [nobody]}")), "data/products/p.yaml:102:45: too many problems: the rest of this file is not shown"},
	{"ten thousand problems", put("data/products/p.yaml", "products:\n"+many(10_000, "  - {id: p%d, name: N, form: ZZ}")), "tankleaf: and at least 300 more problems"},
	{"ten thousand problems in sheets", func(t *testing.T, dir string) {
		for i := range 100 {
			put(fmt.Sprintf("content/s%d.md", i), sheetHead+many(100, "[x](class:nothing-%d)\n"))(t, dir)
		}
	}, "tankleaf: and at least 9799 more problems"},
	{"ten thousand ids twice", put("data/places/p.yaml", "places:\n"+strings.Repeat("  - {id: p, name: N}\n", 10_000)), "data/places/p.yaml:203:10: too many problems: the rest of this file is not shown"},
	{"a template that calls itself", put("templates/safety.html", `{{define "main"}}{{template "main" .}}{{end}}`), "safety"},
	{"a template that is broken", put("templates/safety.html", `{{define "main"}}{{if}}`), "templates/safety.html"},
	{"a template without cautions", put("templates/base.html", `{{define "page"}}<!doctype html><html lang="en"><title>T</title><h1>T</h1>{{end}}`), "has no general caution block"},
	{"a template with a script", put("templates/safety.html", `{{define "main"}}<h1>S</h1><script>x()</script>{{end}}`), "has an inline script"},
}

// pipe makes a named pipe, which a reader waits at for ever.
func pipe(name string) edit {
	return func(t *testing.T, dir string) {
		file := filepath.Join(dir, name)
		must(t, os.MkdirAll(filepath.Dir(file), 0o755))
		must(t, syscall.Mkfifo(file, 0o644))
	}
}

// large makes a file of 200 MB that takes no room.
func large(name string) edit {
	return func(t *testing.T, dir string) {
		put(name, "")(t, dir)
		must(t, os.Truncate(filepath.Join(dir, name), 200<<20))
	}
}

// The most that a hostile office may cost: time, lines for a person to read, and
// bytes asked for in all.
const (
	mostTime   = 60 * time.Second
	mostLines  = 2000
	mostMemory = 2 << 30
)

// rawWords are those in which the machine speaks of files, for nobody to read.
var rawWords = []string{"statat", "openat", "path escapes", "is a directory", "no such file or directory", "too many levels", "template: page", os.TempDir()}

func TestHostileOffices(t *testing.T) {
	starter := filepath.Join(t.TempDir(), "starter")
	if code := run([]string{"new", starter}, nil, new(bytes.Buffer), new(bytes.Buffer)); code != exitFine {
		t.Fatal("no starter office")
	}
	for _, c := range hostileOffices {
		t.Run(c.why, func(t *testing.T) {
			dir := t.TempDir()
			must(t, os.CopyFS(dir, os.DirFS(starter)))
			c.edit(t, dir)
			code, said := checkIn(t, dir)
			if want := exitProblems; c.want != "" && code != want || code == exitFailure {
				t.Errorf("exit code %d, want %d:\n%.600s", code, want, said)
			}
			if !strings.Contains(said, c.want) {
				t.Errorf("no %q in\n%.1500s", c.want, said)
			}
			for _, raw := range rawWords {
				if strings.Contains(said, raw) {
					t.Errorf("the machine's own words %q in\n%.600s", raw, said)
				}
			}
			if n := strings.Count(said, "\n"); n > mostLines {
				t.Errorf("%d lines are told", n)
			}
			for _, line := range strings.Split(said, "\n") {
				if len(line) > 1000 {
					t.Errorf("a line of %d bytes: %.200s", len(line), line)
				}
				if strings.ContainsAny(line, "\x00\x1b\u202e\u2067") {
					t.Errorf("the terminal is told %q", line)
				}
			}
		})
	}
}

// checkIn checks an office and returns the exit code and what was told.
func checkIn(t *testing.T, dir string) (code int, said string) {
	t.Helper()
	var out, problems bytes.Buffer
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	done := make(chan int, 1)
	go func() { done <- run([]string{"check", "-C", dir}, nil, &out, &problems) }()
	select {
	case code = <-done:
	case <-time.After(mostTime):
		t.Fatalf("not done after %v", mostTime)
	}
	runtime.ReadMemStats(&after)
	if spent := after.TotalAlloc - before.TotalAlloc; spent > mostMemory {
		t.Errorf("%d MiB were asked for", spent>>20)
	}
	return code, problems.String()
}

// TestNamedFiles: what is no plain file in the place of one that was named is told at
// once, as wrong usage.
func TestNamedFiles(t *testing.T) {
	dir := t.TempDir()
	pipe("pipe")(t, dir)
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, c := range []struct {
		args      []string
		say, hint string
	}{
		{[]string{"import", at("pipe")}, "is no plain file", "name a CSV file; pipes and devices are not read"},
		{[]string{"import", dir}, "is a folder", "name a CSV file in it"},
		{[]string{"import", at("nothing")}, "there is no file ", "name a CSV file"},
		{[]string{"verify", "--sums", at("pipe"), dir}, "is no plain file", "name the SHA256SUMS of a folder"},
		{[]string{"verify", "--sums", dir, dir}, "is a folder", "name the SHA256SUMS of a folder"},
		{[]string{"verify", "--sums", at("nothing"), dir}, "there is no file ", "name the SHA256SUMS of a folder"},
	} {
		var problems bytes.Buffer
		done := make(chan int, 1)
		go func() { done <- run(c.args, nil, new(bytes.Buffer), &problems) }()
		select {
		case code := <-done:
			if said := problems.String(); code != exitUsage || !strings.Contains(said, c.say) || !strings.Contains(said, c.hint) {
				t.Errorf("%v: exit code %d, %q", c.args, code, said)
			}
		case <-time.After(mostTime):
			t.Fatalf("%v: not done after %v", c.args, mostTime)
		}
	}
}

// TestExcerptOfAPipe: no line is looked for in what a problem is of as a whole.
func TestExcerptOfAPipe(t *testing.T) {
	dir := t.TempDir()
	pipe("data")(t, dir)
	c := &call{dir: dir}
	done := make(chan string, 1)
	go func() { done <- c.excerpt(diag.Pos{File: "data"}) }()
	select {
	case got := <-done:
		if got != "" {
			t.Errorf("got %q", got)
		}
	case <-time.After(mostTime):
		t.Fatalf("not done after %v", mostTime)
	}
}
