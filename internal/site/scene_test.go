//go:build linux

package site_test

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"

	"tankleaf.example/internal/site"
)

// A scene is what a process does that has file systems of its own, or another
// user's rights, or a limit on the size of files: the failures are the kernel's.
const (
	sceneName = "TANKLEAF_TEST_SCENE"
	sceneDir  = "TANKLEAF_TEST_DIR"
)

var scenes = map[string]func(dir string) error{
	"full disk":         fullDisk,
	"file too large":    fileTooLarge,
	"another disk":      anotherDisk,
	"link to a disk":    linkToADisk,
	"mount point":       mountPoint,
	"bind mount":        bindMount,
	"read-only mount":   readOnlyMount,
	"read-only parent":  refusedThen(os.ErrPermission),
	"read-only folder":  refusedThen(site.ErrReadOnly),
	"read-only nothing": refusedThen(os.ErrPermission),
}

func play(name string) {
	scene, known := scenes[name]
	if !known {
		fmt.Fprintf(os.Stderr, "no scene %q\n", name)
		os.Exit(2)
	}
	if err := scene(os.Getenv(sceneDir)); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// perform plays a scene in a process of its own and fails with what it says.
func perform(t *testing.T, name, dir string, attr *syscall.SysProcAttr) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), sceneName+"="+name, sceneDir+"="+dir, "GORACE=atexit_sleep_ms=0")
	cmd.SysProcAttr = attr
	out, err := cmd.CombinedOutput()
	if errors.Is(err, os.ErrPermission) || errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EINVAL) {
		t.Skipf("this machine lets us have no file systems of our own: %v", err)
	}
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

// ownMounts gives a process file systems that nobody else sees, without being
// root.
func ownMounts() *syscall.SysProcAttr {
	return &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
		UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}},
	}
}

func TestOnOtherFileSystems(t *testing.T) {
	for _, name := range []string{"full disk", "another disk", "link to a disk", "mount point", "bind mount", "read-only mount"} {
		t.Run(name, func(t *testing.T) { perform(t, name, t.TempDir(), ownMounts()) })
	}
}

func TestFileTooLarge(t *testing.T) { perform(t, "file too large", t.TempDir(), nil) }

// TestReadOnly publishes as another user, since root may write everywhere.
func TestReadOnly(t *testing.T) {
	for _, c := range []struct {
		scene       string
		published   bool
		parent, out os.FileMode
		why         string
	}{
		{"read-only parent", true, 0o555, 0o777, "nothing can be staged beside the site"},
		{"read-only nothing", false, 0o555, 0, "no site yet, and none can be made"},
		{"read-only folder", true, 0o777, 0o555, "the old site could not be removed after the exchange"},
	} {
		t.Run(c.scene, func(t *testing.T) {
			parent := t.TempDir()
			out := filepath.Join(parent, "public")
			if c.published {
				if err := publishVersion(out, 1); err != nil {
					t.Fatal(err)
				}
				chmod(t, out, c.out)
			}
			chmod(t, parent, c.parent)
			perform(t, c.scene, parent, someoneElse(t, parent))
			wholeVersion(t, out, !c.published)
			chmod(t, parent, 0o755)
			if c.published {
				chmod(t, out, 0o755)
			}
			if err := publishVersion(out, 2); err != nil {
				t.Fatalf("after the rights were given back: %v", err)
			}
			if got := names(t, parent); len(got) != 1 {
				t.Errorf("debris: %v", got)
			}
		})
	}
}

// someoneElse returns the rights of user 65534 when we are root, else our own;
// the folders above dir are opened for passing through.
func someoneElse(t *testing.T, dir string) *syscall.SysProcAttr {
	t.Helper()
	if os.Geteuid() != 0 {
		return nil
	}
	for up := filepath.Dir(dir); strings.HasPrefix(up, os.TempDir()) && up != os.TempDir(); up = filepath.Dir(up) {
		chmod(t, up, 0o755)
	}
	for up := filepath.Dir(os.Args[0]); strings.HasPrefix(up, os.TempDir()) && up != os.TempDir(); up = filepath.Dir(up) {
		chmod(t, up, 0o755) // the test binary itself
	}
	return &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
}

func chmod(t *testing.T, name string, mode os.FileMode) {
	t.Helper()
	if err := os.Chmod(name, mode); err != nil {
		t.Fatal(err)
	}
}

// refusedThen is a scene in which publishing must fail for the reason given and
// leave the site as it was.
func refusedThen(want error) func(dir string) error {
	return func(dir string) error {
		out := filepath.Join(dir, "public")
		if err := publishVersion(out, 9); !errors.Is(err, want) {
			return fmt.Errorf("got error %v, want %v", err, want)
		}
		return alone(dir, "public")
	}
}

// alone fails when a folder holds anything but the entry named.
func alone(dir, want string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Name() != want {
			return fmt.Errorf("debris: %s", e.Name())
		}
	}
	return nil
}

// whole fails unless out shows one whole version.
func whole(out string) error {
	present, err := lookWhole(out)
	if err == nil && !present {
		err = fmt.Errorf("%s is absent", out)
	}
	return err
}

// steps runs each in turn up to the first failure.
func steps(all ...func() error) error {
	for i, step := range all {
		if err := step(); err != nil {
			return fmt.Errorf("step %d: %w", i+1, err)
		}
	}
	return nil
}

func disk(at, options string) error { return unix.Mount("tmpfs", at, "tmpfs", 0, options) }

// fullDisk publishes with so much room left that the disk is full at each of the
// steps in turn, from the first folder to the last file, until it fits.
func fullDisk(dir string) error {
	const blocks = 128
	out, ballast := filepath.Join(dir, "public"), filepath.Join(dir, "ballast")
	if err := steps(
		func() error { return disk(dir, fmt.Sprintf("size=%dk", 4*blocks)) },
		func() error { return publishVersion(out, 1) },
	); err != nil {
		return err
	}
	for room := range blocks {
		if err := leaveRoom(ballast, room*4096); err != nil {
			return fmt.Errorf("ballast: %w", err)
		}
		err := publishVersion(out, 2+room)
		if err == nil && room < filesPerVersion {
			return fmt.Errorf("%d files fit into %d blocks: the test shows nothing", filesPerVersion, room)
		}
		if err != nil && !errors.Is(err, syscall.ENOSPC) {
			return fmt.Errorf("room %d: got error %w, want a full disk", room, err)
		}
		if err := errors.Join(whole(out), os.Remove(ballast), alone(dir, "public")); err != nil {
			return fmt.Errorf("room %d: %w", room, err)
		}
		if err == nil {
			return nil
		}
	}
	return errors.New("never fitted")
}

// leaveRoom fills the disk but for so many bytes.
func leaveRoom(ballast string, room int) error {
	var st unix.Statfs_t
	if err := unix.Statfs(filepath.Dir(ballast), &st); err != nil {
		return err
	}
	return os.WriteFile(ballast, make([]byte, int(st.Bavail)*int(st.Bsize)-room), 0o600)
}

// fileTooLarge stops at a file that passes a limit the system sets.
func fileTooLarge(dir string) error {
	out := filepath.Join(dir, "public")
	if err := publishVersion(out, 1); err != nil {
		return err
	}
	limit := unix.Rlimit{Cur: 1000, Max: 1000}
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	s, err := site.Stage(out)
	if err != nil {
		return err
	}
	if err := s.Write("index.html", make([]byte, 5000)); !errors.Is(err, syscall.EFBIG) {
		return fmt.Errorf("got error %v, want %v", err, syscall.EFBIG)
	}
	return errors.Join(s.Drop(), whole(out), alone(dir, "public"))
}

// anotherDisk publishes into a folder of another file system than that of the
// office and of temporary files.
func anotherDisk(dir string) error {
	out := filepath.Join(dir, "public")
	return steps(
		func() error { return disk(dir, "size=1m") },
		func() error { return publishVersion(out, 1) },
		func() error { return publishVersion(out, 2) },
		func() error { return whole(out) },
		func() error { return alone(dir, "public") },
	)
}

// linkToADisk publishes through a link that leads to another file system.
func linkToADisk(dir string) error {
	mnt, out := filepath.Join(dir, "mnt"), filepath.Join(dir, "public")
	return steps(
		func() error { return os.Mkdir(mnt, 0o755) },
		func() error { return disk(mnt, "size=1m") },
		func() error { return os.Mkdir(filepath.Join(mnt, "www"), 0o755) },
		func() error { return os.Symlink(filepath.Join(mnt, "www"), out) },
		func() error { return publishVersion(out, 1) },
		func() error { return publishVersion(out, 2) },
		func() error { return whole(out) },
		func() error { return alone(mnt, "www") },
	)
}

// notStaged fails unless the folder is refused as a mount point before anything is
// written, where the kernel can tell: the exchange would refuse it after all is.
func notStaged(out string) error {
	var st unix.Statx_t
	err := unix.Statx(unix.AT_FDCWD, out, 0, unix.STATX_BASIC_STATS, &st)
	if err == nil && st.Attributes_mask&unix.STATX_ATTR_MOUNT_ROOT == 0 {
		return nil
	}
	s, err := site.Stage(out)
	if err == nil {
		err = s.Drop()
	}
	if !errors.Is(err, site.ErrMountPoint) {
		return fmt.Errorf("staged beside a mount point: got error %v, want %v", err, site.ErrMountPoint)
	}
	return nil
}

// mountPoint asks for a folder on which a file system is mounted. It cannot be
// exchanged, and is refused before anything is staged.
func mountPoint(dir string) error {
	out := filepath.Join(dir, "public")
	return steps(
		func() error { return os.Mkdir(out, 0o755) },
		func() error { return disk(out, "size=1m") },
		func() error { return notStaged(out) },
		func() error { return refusedThen(site.ErrMountPoint)(dir) },
		func() error { return publishVersion(filepath.Join(out, "inside"), 2) },
		func() error { return whole(filepath.Join(out, "inside")) },
	)
}

// bindMount does the same with a place of the same file system, where only the
// kernel's mount table tells.
func bindMount(dir string) error {
	real, out := filepath.Join(dir, "elsewhere", "www"), filepath.Join(dir, "at", "public")
	return steps(
		func() error { return publishVersion(real, 1) },
		func() error { return os.MkdirAll(out, 0o755) },
		func() error { return unix.Mount(real, out, "", unix.MS_BIND, "") },
		func() error { return notStaged(out) },
		func() error { return refusedThen(site.ErrMountPoint)(filepath.Dir(out)) },
		func() error { return whole(real) },
	)
}

// readOnlyMount asks for a folder of a file system that is mounted read-only,
// where even root may not write.
func readOnlyMount(dir string) error {
	out := filepath.Join(dir, "public")
	return steps(
		func() error { return disk(dir, "size=1m") },
		func() error { return publishVersion(out, 1) },
		func() error { return unix.Mount("", dir, "", unix.MS_REMOUNT|unix.MS_RDONLY, "") },
		func() error { return refusedThen(site.ErrReadOnly)(dir) },
		func() error { return whole(out) },
	)
}
