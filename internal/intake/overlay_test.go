package intake

import (
	"io/fs"
	"path"
	"testing"
	"testing/fstest"
)

// TestOverlay holds the overlay to what every file system must do, with the folder of
// observations there and without.
func TestOverlay(t *testing.T) {
	for _, c := range []struct {
		base fstest.MapFS
		why  string
	}{
		{fstest.MapFS{"data/site.yaml": {Data: []byte("a")}, "data/observations/2025/x.yaml": {Data: []byte("b")}}, "beside other folders"},
		{fstest.MapFS{"data/site.yaml": {Data: []byte("a")}}, "the first observations"},
	} {
		o := &overlay{FS: c.base, folder: "data/observations/new", files: map[string][]byte{
			"data/observations/new/k7.yaml": []byte("id: k7\n"), "data/observations/new/f3.yaml": nil}}
		if err := fstest.TestFS(o, "data/site.yaml", "data/observations/new/k7.yaml", "data/observations/new/f3.yaml"); err != nil {
			t.Errorf("%s: %v", c.why, err)
		}
		seen := 0
		err := fs.WalkDir(o, "data", func(name string, d fs.DirEntry, err error) error {
			if !d.IsDir() && path.Ext(name) == ".yaml" {
				seen++
			}
			return err
		})
		if want := len(c.base) + 2; err != nil || seen != want {
			t.Errorf("%s: %d files are found, want %d: %v", c.why, seen, want, err)
		}
	}
}

func TestScalar(t *testing.T) {
	for _, c := range []struct{ in, key, want, why string }{
		{"5 lb/ac", "rate", "5 lb/ac", "plain"},
		{"TRUE", "closed", "true", "as spreadsheets write it"},
		{"TRUE", "title", `"TRUE"`, "a title is no truth"},
		{"10", "inversions", "10", "a number stays one"},
		{"a: b", "note", `"a: b"`, "a colon would make a mapping"},
		{"# no", "note", `"# no"`, "a hash would make a comment"},
		{"- x", "note", `"- x"`, "a dash would make a list"},
		{`say "x" \ y`, "note", `"say \"x\" \\ y"`, "quotes and backslashes"},
		{"two\nlines\tand\x07", "note", `"two\nlines\tand\x07"`, "breaks and controls"},
		{"null", "note", `"null"`, "a word that YAML keeps"},
		{"15 °C", "temperature", "15 °C", "a sign beyond ASCII"},
		{"ends: ", "note", `"ends: "`, "a colon at the end"},
	} {
		if got := scalar(c.in, c.key); got != c.want {
			t.Errorf("%q (%s) is written %s, want %s", c.in, c.why, got, c.want)
		}
	}
}

func TestLetter(t *testing.T) {
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letter(n); got != want {
			t.Errorf("column %d is %s, want %s", n, got, want)
		}
	}
}
