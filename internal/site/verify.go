package site

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"tankleaf.example/internal/diag"
)

// Verified says how a copy of a site compares with a manifest.
type Verified struct {
	Files    int       // that the manifest names
	Same     int       // of those, that are what the manifest says
	Searched bool      // whether files too many could be looked for
	Problems diag.List // missing, changed and additional files
}

// copied is a copy of a site to be looked at.
type copied interface {
	// open returns one file; an error that is fs.ErrNotExist says that there is
	// none, any other that it cannot be told.
	open(path string) (io.ReadCloser, error)
	// paths lists all files there are; false when the copy cannot be searched.
	paths() ([]string, bool, error)
}

// VerifyFolder compares a copy in a folder with a manifest; nil: with its own.
// Missing, changed and additional files are problems; an error says that the
// comparison could not be made.
func VerifyFolder(fsys fs.FS, sums []Sum) (Verified, error) {
	return verify(folder{fsys}, sums)
}

// VerifyServed compares a site that is served below an address with a manifest;
// nil: with its own. Files too many cannot be found there. It asks that host
// alone and follows no redirect.
func VerifyServed(ctx context.Context, base *url.URL, sums []Sum) (Verified, error) {
	s := newServed(ctx, base)
	defer s.client.CloseIdleConnections()
	return verify(s, sums)
}

// atOnce is how many files are compared at a time.
const atOnce = 8

func verify(c copied, sums []Sum) (Verified, error) {
	var out Verified
	own, err := manifestOf(c)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		out.Problems.Add(diag.Pos{File: ManifestName}, "is missing", copyAgain)
		if sums == nil {
			return out, nil // nothing to compare with
		}
	case err != nil:
		return out, err
	case sums == nil:
		if sums, err = ReadManifest(strings.NewReader(own)); err != nil {
			return out, err
		}
	case own != string(manifest(sums)):
		out.Problems.Add(diag.Pos{File: ManifestName}, "is that of another publication", copyAgain)
	}
	out.Files = len(sums)
	if err := out.compare(c, sums); err != nil {
		return out, err
	}
	err = out.search(c, sums)
	out.Problems = out.Problems.Sorted()
	return out, err
}

const copyAgain = "copy the site again"

func manifestOf(c copied) (string, error) {
	f, err := c.open(ManifestName)
	if err != nil {
		return "", err
	}
	defer f.Close()
	body, err := io.ReadAll(io.LimitReader(f, maxManifest))
	return string(body), err
}

// compare opens every file that the manifest names.
func (v *Verified) compare(c copied, sums []Sum) error {
	work := make(chan Sum)
	var wait sync.WaitGroup
	var mu sync.Mutex
	var failed error
	for range atOnce {
		wait.Go(func() {
			for s := range work {
				msg, err := compareOne(c, s)
				mu.Lock()
				switch {
				case err != nil:
					failed = errors.Join(failed, err)
				case msg != "":
					v.Problems.Add(diag.Pos{File: s.Path}, msg, copyAgain)
				default:
					v.Same++
				}
				mu.Unlock()
			}
		})
	}
	for _, s := range sums {
		mu.Lock()
		stop := failed != nil
		mu.Unlock()
		if stop {
			break
		}
		work <- s
	}
	close(work)
	wait.Wait()
	return failed
}

// compareOne returns what is wrong with a file, or "".
func compareOne(c copied, s Sum) (string, error) {
	f, err := c.open(s.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return "is missing", nil
	}
	if err != nil {
		return "", fmt.Errorf("read %s: %w", s.Path, err)
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", fmt.Errorf("read %s: %w", s.Path, err)
	}
	if [32]byte(h.Sum(nil)) != s.Hash {
		return "is not what was published", nil
	}
	return "", nil
}

// search reports files that the manifest does not name.
func (v *Verified) search(c copied, sums []Sum) error {
	paths, searched, err := c.paths()
	if v.Searched = searched; err != nil || !searched {
		return err
	}
	known := map[string]bool{ManifestName: true, Marker: true}
	for _, s := range sums {
		known[s.Path] = true
	}
	for _, p := range paths {
		if !known[p] {
			v.Problems.Add(diag.Pos{File: p}, "was not published with the site", "take it away")
		}
	}
	return nil
}

// folder is a copy on a disk.
type folder struct{ fsys fs.FS }

func (f folder) open(path string) (io.ReadCloser, error) {
	file, err := f.fsys.Open(path)
	if err != nil {
		return nil, err
	}
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, errors.Join(fs.ErrNotExist, file.Close())
	}
	return file, nil
}

func (f folder) paths() (all []string, searched bool, err error) {
	err = fs.WalkDir(f.fsys, ".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			all = append(all, path)
		}
		return err
	})
	return all, true, err
}

// served is a copy behind a web server.
type served struct {
	ctx    context.Context
	client *http.Client
	base   *url.URL
}

func newServed(ctx context.Context, base *url.URL) served {
	return served{ctx, &http.Client{
		Timeout:       2 * time.Minute,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		Transport: &http.Transport{
			MaxConnsPerHost: atOnce, MaxIdleConnsPerHost: atOnce, DisableCompression: true,
			ResponseHeaderTimeout: 30 * time.Second, MaxResponseHeaderBytes: 64 << 10,
		},
	}, base}
}

func (s served) open(path string) (io.ReadCloser, error) {
	at := s.base.JoinPath(path) // escapes what an address cannot hold
	at.RawQuery, at.Fragment = "", ""
	req, err := http.NewRequestWithContext(s.ctx, http.MethodGet, at.String(), nil)
	if err != nil {
		return nil, err
	}
	res, err := s.client.Do(req)
	if err != nil {
		return nil, err
	}
	switch res.StatusCode {
	case http.StatusOK:
		return res.Body, nil
	case http.StatusNotFound, http.StatusGone:
		return nil, errors.Join(fs.ErrNotExist, res.Body.Close())
	}
	return nil, errors.Join(fmt.Errorf("the server answers %s", res.Status), res.Body.Close())
}

func (served) paths() ([]string, bool, error) { return nil, false, nil }
