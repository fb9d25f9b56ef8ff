package main

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"strings"

	"tankleaf.example/internal/site"
)

var verifyCommand = &command{
	name: "verify",
	args: "[--sums FILE] DIR|URL [--json]",
	does: "compare a copied or served site with its manifest",
	long: `
Compares every file of a copy with the SHA-256 that was published beside it in
SHA256SUMS, and names what is missing, changed, or was never published. A copy is
a folder or an address; what an address serves too many cannot be seen from
outside. Without --sums the copy's own manifest is used, which shows damage; with
the manifest of the folder that you published, a copy of an older publication
and a copy that somebody changed on purpose show as well.

  tankleaf verify /mnt/stick/mixes
  tankleaf verify --sums public/SHA256SUMS https://mixes.example.org/
`,
	run: runVerify,
}

func runVerify(c *call) error {
	sumsFile := c.flags.String("sums", "", "")
	if err := c.want(1, 1); err != nil {
		return err
	}
	sums, err := readSums(*sumsFile)
	if err != nil {
		return err
	}
	v, err := verifyCopy(c.args[0], sums)
	if err != nil {
		return err
	}
	if c.json {
		return c.verifiedJSON(v)
	}
	if err := c.report(v.Problems); err != nil {
		return err
	}
	extra := ""
	if !v.Searched {
		extra = "; what is served beside them cannot be seen"
	}
	fmt.Fprintf(c.out, "all %d files are what was published%s\n", v.Files, extra)
	return nil
}

func readSums(name string) ([]site.Sum, error) {
	if name == "" {
		return nil, nil
	}
	if _, err := plainFile(name, "the SHA256SUMS of a folder that was published"); err != nil {
		return nil, err
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, unreadable(name, err)
	}
	defer f.Close()
	return site.ReadManifest(f)
}

// verifyCopy looks at a folder, or at an address when the word begins as one.
func verifyCopy(where string, sums []site.Sum) (site.Verified, error) {
	if strings.HasPrefix(where, "http://") || strings.HasPrefix(where, "https://") {
		base, err := url.Parse(where)
		if err != nil || base.Host == "" {
			return site.Verified{}, usagef("write it as in https://mixes.example.org/", "that is no address")
		}
		if base.User != nil {
			return site.Verified{}, usagef("write "+base.Scheme+"://"+base.Host+"/", "a site for everybody needs no name and password")
		}
		return site.VerifyServed(context.Background(), base, sums)
	}
	if info, err := os.Stat(where); err != nil || !info.IsDir() {
		return site.Verified{}, usagef("name the folder or the address of a copy", "%s is no folder", where)
	}
	root, err := os.OpenRoot(where) // links that lead outside are not followed
	if err != nil {
		return site.Verified{}, err
	}
	defer root.Close()
	return site.VerifyFolder(root.FS(), sums)
}

func (c *call) verifiedJSON(v site.Verified) error {
	err := c.printJSON(struct {
		OK       bool          `json:"ok"`
		Files    int           `json:"files"`
		Same     int           `json:"same"`
		Searched bool          `json:"searched"` // whether files too many could be looked for
		Problems []problemJSON `json:"problems"`
	}{len(v.Problems) == 0, v.Files, v.Same, v.Searched, problemsJSON(v.Problems)})
	if err == nil && len(v.Problems) > 0 {
		err = errProblems
	}
	return err
}
