package site_test

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"tankleaf.example/internal/site"
)

// A test binary started with this set publishes one version after another into
// the folder, until it is killed; with sceneName set it plays one scene.
const publishInto = "TANKLEAF_TEST_PUBLISH_INTO"

func TestMain(m *testing.M) {
	if out := os.Getenv(publishInto); out != "" {
		publishForEver(out)
	}
	if name := os.Getenv(sceneName); name != "" {
		play(name)
	}
	if from := os.Getenv(buildFrom); from != "" {
		if err := buildOffice(os.DirFS(from), os.Getenv(buildInto)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// publishForEver says on standard output that it has begun, so that the time to
// start a process does not count.
func publishForEver(out string) {
	fmt.Println("begun")
	for v := os.Getpid() * 1000; ; v++ { // no two publishers share a version
		if err := publishVersion(out, v); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

// filesPerVersion makes a publication long enough to be killed in the middle.
const filesPerVersion = 40

func versionFile(i int) string { return fmt.Sprintf("d%d/f%d.html", i%4, i) }

func publishVersion(out string, v int) error {
	s, err := site.Stage(out)
	if err != nil {
		return err
	}
	for i := range filesPerVersion {
		body := fmt.Appendf(nil, "version %d, file %d\n", v, i)
		if err := s.Write(versionFile(i), body); err != nil {
			return errors.Join(err, s.Drop())
		}
	}
	return s.Publish()
}

// wholeVersion fails unless out is one whole version whose manifest agrees; an
// absent folder is fine before the first publication is through.
func wholeVersion(t *testing.T, out string, mayBeAbsent bool) (present bool) {
	t.Helper()
	present, err := lookWhole(out)
	if err != nil {
		t.Fatal(err)
	}
	if !present && !mayBeAbsent {
		t.Fatalf("%s is absent", out)
	}
	return present
}

func lookWhole(out string) (present bool, err error) {
	if _, err := os.Stat(out); errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	manifest, err := os.ReadFile(filepath.Join(out, site.ManifestName))
	if err != nil {
		return false, err
	}
	if n := strings.Count(string(manifest), "\n"); n != filesPerVersion {
		return false, fmt.Errorf("the manifest names %d files, want %d", n, filesPerVersion)
	}
	version := ""
	for i := range filesPerVersion {
		name := versionFile(i)
		body, err := os.ReadFile(filepath.Join(out, name))
		if err != nil {
			return false, err
		}
		if line := fmt.Sprintf("%x  %s\n", sha256.Sum256(body), name); !strings.Contains(string(manifest), line) {
			return false, fmt.Errorf("%s is not what the manifest says", name)
		}
		v, _, _ := strings.Cut(string(body), ",")
		if version == "" {
			version = v
		}
		if v != version {
			return false, fmt.Errorf("%s is of %q beside %q", name, v, version)
		}
	}
	return true, nil
}

// inMemory is a folder that ends with the test, in memory where the system offers
// that: what a process killed there leaves is what it leaves on a disk, and ten times
// as many instants are tried in the time that a disk takes to write.
func inMemory(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("/dev/shm", "tankleaf")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

// TestKilledAtAnyInstant kills a publishing process at random instants of two
// publications and looks at what readers would see after each. The first kills fall
// before there is any site.
func TestKilledAtAnyInstant(t *testing.T) {
	if !soak {
		killAtRandom(t, inMemory(t), 60)
		return
	}
	killAtRandom(t, inMemory(t), 2000)
	killAtRandom(t, t.TempDir(), 200)
}

func killAtRandom(t *testing.T, parent string, kills int) {
	t.Helper()
	out := filepath.Join(parent, "public")
	random := rand.New(rand.NewPCG(7, 1959))
	long := timeOf(t, parent)
	present, staged := false, 0
	for i := range kills {
		killOne(t, i, out, time.Duration(random.Int64N(int64(2*long))))
		present = wholeVersion(t, out, !present) || present
		if slices.Contains(names(t, parent), ".public.tankleaf-next") {
			staged++
		}
	}
	if staged < kills/10 || !present {
		t.Errorf("only %d of %d kills fell inside a publication, a site present: %v: the test shows little", staged, kills, present)
	}
	t.Logf("%d kills, %d inside a publication of %v", kills, staged, long)
	if err := publishVersion(out, 1_000_000); err != nil {
		t.Fatal(err)
	}
	wholeVersion(t, out, false)
	if got := names(t, parent); len(got) != 1 {
		t.Errorf("debris after recovery: %v", got)
	}
}

// timeOf is how long a publication into a folder takes on this machine now. It
// leaves the folder empty.
func timeOf(t *testing.T, parent string) time.Duration {
	t.Helper()
	const n = 10
	out := filepath.Join(parent, "public")
	start := time.Now()
	for v := range n {
		if err := publishVersion(out, v); err != nil {
			t.Fatal(err)
		}
	}
	long := time.Since(start) / n
	if err := os.RemoveAll(out); err != nil {
		t.Fatal(err)
	}
	return long
}

// killOne starts a publisher and kills it some time after it has begun.
func killOne(t *testing.T, n int, out string, after time.Duration) {
	t.Helper()
	cmd, complaint := startPublisher(t, out)
	time.Sleep(after)
	if err := cmd.Process.Signal(syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err == nil || cmd.ProcessState.Exited() {
		t.Fatalf("kill %d: the publisher ended by itself: %v\n%s", n, err, complaint)
	}
}

// startPublisher starts a process that publishes until it is killed, at the latest
// when the test ends, also by failing.
func startPublisher(t *testing.T, out string) (*exec.Cmd, *strings.Builder) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), publishInto+"="+out)
	var complaint strings.Builder
	cmd.Stderr = &complaint
	begun, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	if _, err := begun.Read(make([]byte, 8)); err != nil {
		t.Fatal(err)
	}
	return cmd, &complaint
}

// TestTwoAtOnce runs two publishing processes against a reader that opens files
// by their names: it must always find each of them, and all that it reads while
// one manifest stands must be what that manifest says.
func TestTwoAtOnce(t *testing.T) {
	parent := inMemory(t)
	out := filepath.Join(parent, "public")
	if err := publishVersion(out, 1_000_000); err != nil {
		t.Fatal(err)
	}
	first, complaint1 := startPublisher(t, out)
	second, complaint2 := startPublisher(t, out)
	undisturbed, versions := readWhile(t, out, 1500*time.Millisecond)
	for _, cmd := range []*exec.Cmd{first, second} {
		if err := cmd.Process.Signal(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err == nil || cmd.ProcessState.Exited() {
			t.Fatalf("a publisher ended by itself: %v\n%s%s", err, complaint1, complaint2)
		}
	}
	if undisturbed == 0 || versions < 3 {
		t.Errorf("%d undisturbed readings of %d versions: the test shows little", undisturbed, versions)
	}
	t.Logf("%d undisturbed readings, %d versions seen", undisturbed, versions)
	if err := publishVersion(out, 1); err != nil {
		t.Fatal(err)
	}
	wholeVersion(t, out, false)
	if got := names(t, parent); len(got) != 1 {
		t.Errorf("debris: %v", got)
	}
}

// readWhile reads the site over and over. It returns how many readings fell
// between two exchanges, and how many manifests it met.
func readWhile(t *testing.T, out string, long time.Duration) (undisturbed, versions int) {
	t.Helper()
	met := map[string]bool{}
	for end := time.Now().Add(long); time.Now().Before(end); {
		before := readFile(t, filepath.Join(out, site.ManifestName))
		bodies := map[string]string{}
		for i := range 3 {
			name := versionFile(i * 13)
			bodies[name] = readFile(t, filepath.Join(out, name))
		}
		met[before] = true
		if readFile(t, filepath.Join(out, site.ManifestName)) != before {
			continue
		}
		undisturbed++
		for name, body := range bodies {
			if line := fmt.Sprintf("%x  %s\n", sha256.Sum256([]byte(body)), name); !strings.Contains(before, line) {
				t.Fatalf("%s is not what the manifest says", name)
			}
		}
	}
	return undisturbed, len(met)
}

// readFile reads a file that must be there at every instant. Between looking a
// name up and reading the file the old site may be removed; what was opened is
// read all the same.
func readFile(t *testing.T, name string) string {
	t.Helper()
	body, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}
