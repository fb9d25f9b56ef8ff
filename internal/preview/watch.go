package preview

import (
	"context"
	"fmt"
	"hash/fnv"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"tankleaf.example/internal/diag"
)

// watched are the folders of an office that a site is made from.
var watched = []string{"data", "content", "templates"}

// Watch builds, and builds again whenever a file of the office has changed and
// then stayed as it is for one interval, until the context ends. After each build
// it tells what is wrong.
func (s *Server) Watch(ctx context.Context, every time.Duration, told func(diag.List, error)) {
	built := uint64(0)
	for before := s.mark(); ; {
		start := time.Now()
		now := s.mark()
		pause := max(every, 5*time.Since(start)) // looking at many files must not keep the machine busy
		if now == before && now != built {
			built = now
			told(s.Build())
		}
		before = now
		select {
		case <-ctx.Done():
			return
		case <-time.After(pause):
		}
	}
}

// mark stands for the state of all files: their names, sizes and times of change.
// What cannot be looked at counts too; the build says what is wrong with it.
func (s *Server) mark() uint64 {
	h := fnv.New64a()
	for _, dir := range watched {
		_ = filepath.WalkDir(filepath.Join(s.office, dir), func(name string, d fs.DirEntry, err error) error {
			if err != nil {
				fmt.Fprintf(h, "%s\x00%v\x00", name, err)
				return nil
			}
			var info os.FileInfo
			if info, err = d.Info(); err == nil {
				fmt.Fprintf(h, "%s\x00%d\x00%d\x00%v\x00", name, info.Size(), info.ModTime().UnixNano(), info.Mode())
			}
			return nil
		})
	}
	return h.Sum64() | 1 // never that of nothing built
}
