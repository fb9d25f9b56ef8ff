package site

import (
	"bufio"
	"cmp"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
)

// ManifestName is the file that lists the SHA-256 of every other published file
// in the form that sha256sum -c reads.
const ManifestName = "SHA256SUMS"

// maxManifest is the most of a manifest that is read, in bytes: ten times that
// of a site with 200,000 files.
const maxManifest = 256 << 20

// Sum is a line of a manifest: a file and the SHA-256 of what is in it.
type Sum struct {
	Path string // slash-separated, relative to the site
	Hash [32]byte
}

func (s Sum) line() string { return fmt.Sprintf("%x  %s\n", s.Hash, s.Path) }

// manifest returns the text of a manifest, its lines in order of their paths.
func manifest(sums []Sum) []byte {
	slices.SortFunc(sums, func(a, b Sum) int { return cmp.Compare(a.Path, b.Path) })
	var b strings.Builder
	for _, s := range sums {
		b.WriteString(s.line())
	}
	return []byte(b.String())
}

// ReadManifest reads a manifest. Any line that is none, a path that leaves the
// site, and a path that is named twice is an error: a manifest is written by us
// or it is damaged.
func ReadManifest(r io.Reader) ([]Sum, error) {
	var sums []Sum
	seen := map[string]bool{}
	lines := bufio.NewScanner(io.LimitReader(r, maxManifest))
	for n := 1; lines.Scan(); n++ {
		s, ok := parseSum(lines.Text())
		if !ok || seen[s.Path] {
			return nil, fmt.Errorf("line %d of %s is damaged", n, ManifestName)
		}
		seen[s.Path] = true
		sums = append(sums, s)
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("read %s: %w", ManifestName, err)
	}
	if len(sums) == 0 {
		return nil, fmt.Errorf("%s names no file", ManifestName)
	}
	return sums, nil
}

func parseSum(line string) (Sum, bool) {
	digest, path, ok := strings.Cut(line, "  ")
	s := Sum{Path: path}
	if !ok || len(digest) != 2*len(s.Hash) || !fs.ValidPath(path) || path == "." || strings.Contains(path, `\`) {
		return Sum{}, false
	}
	_, err := hex.Decode(s.Hash[:], []byte(digest))
	return s, err == nil
}
