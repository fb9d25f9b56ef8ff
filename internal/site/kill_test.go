package site_test

import (
	"crypto/sha256"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"tankleaf.example/internal/site"
)

// A test binary started with these set publishes one version after another into
// the folder, until it is killed.
const publishInto = "TANKLEAF_TEST_PUBLISH_INTO"

func TestMain(m *testing.M) {
	if out := os.Getenv(publishInto); out != "" {
		for v := 0; ; v++ {
			if err := publishVersion(out, v); err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(1)
			}
		}
	}
	os.Exit(m.Run())
}

// filesPerVersion makes a publication long enough to be killed in the middle.
const filesPerVersion = 40

func publishVersion(out string, v int) error {
	s, err := site.Stage(out)
	if err != nil {
		return err
	}
	for i := range filesPerVersion {
		body := fmt.Appendf(nil, "version %d, file %d\n", v, i)
		if err := s.Write(fmt.Sprintf("d%d/f%d.html", i%4, i), body); err != nil {
			return err
		}
	}
	return s.Publish()
}

// wholeVersion fails unless out is one whole version whose manifest agrees; an
// absent folder is fine before the first publication is through.
func wholeVersion(t *testing.T, out string, mayBeAbsent bool) (present bool) {
	t.Helper()
	if _, err := os.Stat(out); os.IsNotExist(err) && mayBeAbsent {
		return false
	}
	files := tree(t, out)
	if len(files) != filesPerVersion {
		t.Fatalf("%d files, want %d", len(files), filesPerVersion)
	}
	manifest, err := os.ReadFile(filepath.Join(out, site.ManifestName))
	if err != nil {
		t.Fatal(err)
	}
	version := ""
	for name, body := range files {
		line := fmt.Sprintf("%x  %s\n", sha256.Sum256([]byte(body)), name)
		if !strings.Contains(string(manifest), line) {
			t.Fatalf("%s is not what the manifest says", name)
		}
		v, _, _ := strings.Cut(body, ",")
		if version == "" {
			version = v
		}
		if v != version {
			t.Fatalf("%s is of %q beside %q", name, v, version)
		}
	}
	return true
}

// TestKilledAtAnyInstant kills a publishing process at 200 random instants and
// looks at what readers would see after each.
func TestKilledAtAnyInstant(t *testing.T) {
	const kills = 200
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	random := rand.New(rand.NewPCG(7, 1959))
	present, staged := false, 0
	for i := range kills {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), publishInto+"="+out)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(1000+random.IntN(14000)) * time.Microsecond)
		if err := cmd.Process.Signal(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err == nil || cmd.ProcessState.Exited() {
			t.Fatalf("kill %d: the publisher ended by itself: %v", i, err)
		}
		present = wholeVersion(t, out, !present) || present
		if len(names(t, parent)) > 1 {
			staged++
		}
	}
	if staged < kills/10 || !present {
		t.Errorf("only %d of %d kills fell inside a publication: the test shows little", staged, kills)
	}
	t.Logf("%d kills, %d inside a publication", kills, staged)
	if err := publishVersion(out, 1_000_000); err != nil {
		t.Fatal(err)
	}
	wholeVersion(t, out, false)
	if got := names(t, parent); len(got) != 1 {
		t.Errorf("debris after recovery: %v", got)
	}
}

// TestTwoAtOnce runs two publishers against a reader that must always see one
// whole version.
func TestTwoAtOnce(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	done := make(chan error, 2)
	for p := range 2 {
		go func() {
			for v := range 20 {
				if err := publishVersion(out, 1000*(p+1)+v); err != nil {
					done <- err
					return
				}
			}
			done <- nil
		}()
	}
	for range 2 {
		if err := <-done; err != nil {
			t.Fatal(err)
		}
	}
	wholeVersion(t, out, false)
	if got := names(t, parent); len(got) != 1 {
		t.Errorf("debris: %v", got)
	}
}

func TestReadOnlyParent(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	if err := publishVersion(out, 1); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(parent, 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.Chmod(parent, 0o755) })
	if os.Geteuid() == 0 {
		t.Skip("root may write into read-only folders")
	}
	if err := publishVersion(out, 2); err == nil {
		t.Error("published into a read-only folder")
	}
	wholeVersion(t, out, false)
}
