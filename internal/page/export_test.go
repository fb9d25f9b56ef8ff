package page

import (
	"fmt"
	"slices"
)

// One makes a single file of a publication.
func (p *Publication) One(path string) ([]byte, error) {
	i := slices.IndexFunc(p.jobs, func(j job) bool { return j.path == path })
	if i < 0 {
		return nil, fmt.Errorf("no file %q", path)
	}
	return p.jobs[i].make()
}
