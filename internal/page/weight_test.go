package page_test

import (
	"bytes"
	"compress/gzip"
	"path"
	"regexp"
	"testing"
)

// compressed is the size of a text as a server sends it, in bytes.
func compressed(t *testing.T, body []byte) int {
	t.Helper()
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	if _, err := z.Write(body); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Len()
}

// loaded matches what a page loads by itself: style, icon and script, and the
// words that the script may load.
var loaded = regexp.MustCompile(`(?:<link rel="(?:stylesheet|icon)" href|<script src| data-words)="([^"?]+)`)

// mostHome is the most that the home page may be, with all it loads, in bytes
// compressed: a second and a half on a slow phone line of 400 kbit/s.
const mostHome = 60_000

func TestHomeIsLight(t *testing.T) {
	pub, _ := demonstration(t)
	for _, home := range []string{"index.html", "es/index.html"} {
		html, err := pub.One(home)
		if err != nil {
			t.Fatal(err)
		}
		all := compressed(t, html)
		t.Logf("%s: %d", home, all)
		names := map[string]bool{}
		for _, m := range loaded.FindAllSubmatch(html, -1) {
			names[path.Join(path.Dir(home), string(m[1]))] = true
		}
		if len(names) != 5 {
			t.Errorf("%s loads %v", home, names)
		}
		for name := range names {
			body, err := pub.One(name)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%s: %d", name, compressed(t, body))
			all += compressed(t, body)
		}
		if all > mostHome {
			t.Errorf("%s is %d bytes with all it loads, more than %d", home, all, mostHome)
		}
		t.Logf("%s with all it loads: %d", home, all)
	}
}
