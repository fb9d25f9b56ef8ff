package site_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"
	"testing"
)

// A test binary started with this set stops itself, publishes once into the folder
// and ends, all in its first thread: the one that another process can step.
const publishOnce = "TANKLEAF_TEST_PUBLISH_ONCE"

func init() {
	out := os.Getenv(publishOnce)
	if out == "" {
		return
	}
	runtime.LockOSThread()
	err := syscall.Tgkill(os.Getpid(), syscall.Gettid(), syscall.SIGSTOP)
	if err == nil {
		err = publishVersion(out, os.Getpid())
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// starts are what a publication may find.
var starts = []struct {
	why    string
	before bool // a site is there
}{{"no site yet", false}, {"over a site", true}}

// TestSeenAtEveryStep steps a publishing process from one call to the system to the
// next and looks at the site at each stop, as a reader would who comes at that very
// instant. Random instants may miss a gap that is short; this misses none, since
// between two calls nothing changes that a reader sees.
func TestSeenAtEveryStep(t *testing.T) {
	for _, c := range starts {
		parent := inMemory(t)
		out := filepath.Join(parent, "public")
		present, looks := c.before, 0
		if c.before {
			check(t, publishVersion(out, 1))
		}
		stepped(t, out, 0, func() {
			present = wholeVersion(t, out, !present) || present
			looks++
		})
		t.Logf("%s: looked at %d times", c.why, looks)
		if !present || looks < 10*filesPerVersion || len(names(t, parent)) != 1 {
			t.Errorf("%s: %d looks, beside the site %v", c.why, looks, names(t, parent))
		}
	}
}

// TestKilledAtEveryStep kills a publishing process before its first call to the
// system, before its second, and so on until it gets through, each time over what the
// killed one left. The ordinary run kills at one in thirty.
func TestKilledAtEveryStep(t *testing.T) {
	every := 30
	if soak {
		every = 1
	}
	for _, c := range starts {
		parent := inMemory(t)
		out := filepath.Join(parent, "public")
		if c.before {
			check(t, publishVersion(out, 1))
		}
		kills, staged := 0, 0
		for n := 1; !stepped(t, out, n, func() {}); n += every {
			kills++
			if present := wholeVersion(t, out, !c.before); present && !c.before {
				check(t, os.RemoveAll(out)) // the next finds none again
			}
			if slices.Contains(names(t, parent), ".public.tankleaf-next") {
				staged++
			}
		}
		wholeVersion(t, out, false)
		t.Logf("%s: killed at %d steps, a new site in the making at %d", c.why, kills, staged)
		if staged < kills/2 || kills < 10 || len(names(t, parent)) != 1 {
			t.Errorf("%s: %d of %d kills fell inside a publication, beside the site %v", c.why, staged, kills, names(t, parent))
		}
	}
}

// stepped starts a process that publishes once, calls see wherever it stands before
// or after a call to the system, and kills it before the n-th. It reports whether the
// process got through with fewer; with n 0 it always does.
func stepped(t *testing.T, out string, n int, see func()) (through bool) {
	t.Helper()
	runtime.LockOSThread() // a process is stepped by the thread that started it
	defer runtime.UnlockOSThread()
	p := startStepped(t, out)
	defer func() { _ = p.Release() }()
	for calls, pass := 0, 0; calls != 2*n-1; {
		check(t, syscall.PtraceSyscall(p.Pid, pass))
		state := waitFor(t, p)
		if state.Exited() && state.ExitStatus() == 0 {
			return true
		}
		if !state.Stopped() {
			t.Fatalf("step %d: the publisher ended by itself, status %#x", n, state)
		}
		if pass = int(state.StopSignal()); pass == atCall {
			calls, pass = calls+1, 0
			see()
		}
	}
	check(t, p.Kill())
	if state := waitFor(t, p); !state.Signaled() {
		t.Fatalf("step %d: killed, and its status is %#x", n, state)
	}
	return false
}

// atCall is the signal by which a stepped process says that it stands before or
// after a call: with a bit set that tells it from a trap.
const atCall = int(syscall.SIGTRAP) | 0x80

// startStepped starts a process that publishes once, up to where it begins.
func startStepped(t *testing.T, out string) *os.Process {
	t.Helper()
	p, err := os.StartProcess(os.Args[0], os.Args[:1], &os.ProcAttr{
		Env:   append(os.Environ(), publishOnce+"="+out),
		Files: []*os.File{nil, nil, os.Stderr},
		Sys:   &syscall.SysProcAttr{Ptrace: true},
	})
	if errors.Is(err, os.ErrPermission) {
		t.Skipf("this machine lets us step no process: %v", err)
	}
	if err != nil {
		t.Fatal(err)
	}
	waitFor(t, p)
	check(t, syscall.PtraceSetOptions(p.Pid, syscall.PTRACE_O_TRACESYSGOOD))
	for pass := 0; pass != int(syscall.SIGSTOP); {
		check(t, syscall.PtraceCont(p.Pid, pass))
		state := waitFor(t, p)
		if !state.Stopped() {
			t.Fatalf("the publisher did not begin, status %#x", state)
		}
		pass = int(state.StopSignal())
	}
	return p
}

func waitFor(t *testing.T, p *os.Process) (state syscall.WaitStatus) {
	t.Helper()
	_, err := syscall.Wait4(p.Pid, &state, 0, nil)
	for errors.Is(err, syscall.EINTR) {
		_, err = syscall.Wait4(p.Pid, &state, 0, nil)
	}
	check(t, err)
	return state
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
