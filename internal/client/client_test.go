package client_test

import (
	"bytes"
	"compress/gzip"
	"os"
	"os/exec"
	"strings"
	"testing"
	"testing/fstest"

	"tankleaf.example/internal/client"
)

const sources = "../../templates/client"

// TestBundle wants one classic script, the same every time.
func TestBundle(t *testing.T) {
	script, err := client.Bundle(os.DirFS(sources), "site.ts")
	if err != nil {
		t.Fatal(err)
	}
	again, err := client.Bundle(os.DirFS(sources), "site.ts")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(script, again) {
		t.Error("two bundles differ")
	}
	if !bytes.HasPrefix(script, []byte("(()=>{")) {
		t.Errorf("not a function of its own: %.40s", script)
	}
	if i := bytes.Index(script, []byte("\nimport ")); i >= 0 {
		t.Errorf("a module after all, at byte %d", i)
	}
	var small bytes.Buffer
	z, err := gzip.NewWriterLevel(&small, gzip.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := z.Write(script); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d bytes, %d compressed", len(script), small.Len())
}

// TestBundleRefuses lists what must not become part of a site.
func TestBundleRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		text, want string
	}{
		"a syntax error":     {"x = ;", `site.ts:1:5: Unexpected ";"`},
		"a warning":          {"if (x === NaN) y();", "site.ts:1:7: Comparison with NaN using the \"===\" operator here is always false"},
		"a missing module":   {`import "./gone";`, "open gone.ts: file does not exist"},
		"something from out": {`import "left-pad";`, `import "left-pad" is not relative`},
	} {
		fsys := fstest.MapFS{"site.ts": {Data: []byte(c.text)}}
		if _, err := client.Bundle(fsys, "site.ts"); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
	}
	if _, err := client.Bundle(fstest.MapFS{}, "site.ts"); err == nil {
		t.Error("no entry is no error")
	}
}

// TestTypes has the TypeScript compiler check the client, as strictly as
// tsconfig.json says.
func TestTypes(t *testing.T) {
	tsc, err := exec.LookPath("../../node_modules/.bin/tsc")
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("the compiler is not installed: %v", err)
	} else if err != nil {
		t.Skip("the compiler is not installed; npm ci brings it")
	}
	if out, err := exec.Command(tsc, "--pretty", "false", "-p", sources).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
