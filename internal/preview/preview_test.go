package preview_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/preview"
)

// office copies the fixture of the pages, so that a test may change it.
func office(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../page/testdata/office")); err != nil {
		t.Fatal(err)
	}
	return dir
}

// start serves an office and returns the address, built when build is set.
func start(t testing.TB, dir string, build bool) (*preview.Server, string) {
	t.Helper()
	s, err := preview.New(dir)
	if err != nil {
		t.Fatal(err)
	}
	l, err := preview.Listen("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	served := make(chan error, 1)
	go func() { served <- s.Serve(ctx, l) }()
	t.Cleanup(func() {
		stop()
		if err := <-served; err != nil {
			t.Errorf("serve: %v", err)
		}
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	if build {
		if problems, err := s.Build(); err != nil || problems.Stops() {
			t.Fatalf("build: %v\n%s", err, problems)
		}
	}
	return s, l.Addr().String()
}

// answer is what a raw request gets: status line, headers and body.
func ask(t testing.TB, addr, request string) string {
	t.Helper()
	c, err := net.Dial("tcp", addr)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	_ = c.SetDeadline(time.Now().Add(20 * time.Second))
	if _, err := io.WriteString(c, request); err != nil && !strings.Contains(err.Error(), "reset") {
		t.Fatal(err)
	}
	all, _ := io.ReadAll(c) // a server that hangs up early is an answer too
	return string(all)
}

func get(t testing.TB, addr, path string) string {
	t.Helper()
	return ask(t, addr, "GET "+path+" HTTP/1.1\r\nHost: "+addr+"\r\nConnection: close\r\n\r\n")
}

func TestServesTheSite(t *testing.T) {
	_, addr := start(t, office(t), true)
	for _, c := range []struct{ path, status, want, why string }{
		{"/", "200", "Small tank", "the start"},
		{"/product/fizz.html", "200", "text/html; charset=utf-8", "a page"},
		{"/es/?a=b", "200", "Tanque chico", "a folder, whatever stands behind a question mark"},
		{"/style.css", "200", "text/css", "a style sheet with its type"},
		{"/emblem.svg", "200", "image/svg+xml", "a drawing with its type"},
		{"/data/observations/fb-1.yaml", "200", "text/plain", "a record, which no browser may take for a page"},
		{"/feed.xml", "200", "application/atom+xml", "the feed"},
		{"/nothing.html", "404", "Not published", "a page that is not there"},
		{"/.preview/state", "200", `"generation":1`, "what the script asks"},
		{"/.preview/preview.js", "200", "text/javascript", "the script"},
		{"/.preview/other", "404", "", "nothing else of the preview's own"},
	} {
		got := get(t, addr, c.path)
		if !strings.HasPrefix(got, "HTTP/1.1 "+c.status+" ") || !strings.Contains(got, c.want) {
			t.Errorf("%s: GET %s is\n%.400s\nwant %s and %q", c.why, c.path, got, c.status, c.want)
		}
		for _, h := range []string{"X-Content-Type-Options: nosniff", "Cross-Origin-Resource-Policy: same-origin", "Cache-Control: no-store", "frame-ancestors 'none'"} {
			if !strings.Contains(got, h) {
				t.Errorf("GET %s lacks %q", c.path, h)
			}
		}
	}
	head := ask(t, addr, "HEAD / HTTP/1.1\r\nHost: "+addr+"\r\nConnection: close\r\n\r\n")
	if _, body, _ := strings.Cut(head, "\r\n\r\n"); !strings.HasPrefix(head, "HTTP/1.1 200") || body != "" {
		t.Errorf("HEAD is %.300q", head)
	}
}

// TestServesTheSiteAlone asks for what is not the site's: nothing of it may come
// back.
func TestServesTheSiteAlone(t *testing.T) {
	dir := office(t)
	_, addr := start(t, dir, true)
	const secret = "root:"
	for _, path := range []string{
		"/../../../../../../etc/passwd", "/..%2f..%2f..%2f..%2f..%2fetc/passwd", "/%2e%2e/%2e%2e/%2e%2e/%2e%2e/etc/passwd",
		"/..\\..\\..\\etc\\passwd", "/..%5c..%5cetc%5cpasswd", "/es/../../SHA256SUMS", "//etc/passwd", "/./index.html", "/es//index.html",
		"/.tankleaf", "/es/.hidden", "/.preview/../.tankleaf", "/.preview/..%2f..%2fetc/passwd", "/index.html%00.css", "/index.html/",
		"/%252e%252e/%252e%252e/etc/passwd", "/class", "/C:/Windows/win.ini", "/index.html::$DATA", "/~root/", "/public/index.html",
	} {
		got := get(t, addr, path)
		status, _, _ := strings.Cut(strings.TrimPrefix(got, "HTTP/1.1 "), " ")
		if status != "404" && status != "400" || strings.Contains(got, secret) {
			t.Errorf("GET %s is\n%.300s", path, got)
		}
	}
}

func TestFollowsNoLinkOutside(t *testing.T) {
	dir := office(t)
	if err := os.Symlink("/etc/passwd", filepath.Join(dir, "data", "photos.yaml")); err != nil {
		t.Fatal(err)
	}
	s, addr := start(t, dir, false)
	problems, err := s.Build()
	if err != nil || !problems.Stops() {
		t.Errorf("a link that leads outside is built: %v, %v", problems, err)
	}
	if got := get(t, addr, "/"); strings.Contains(got, "root:") || !strings.Contains(got, "symbolic link") {
		t.Errorf("got %.600s", got)
	}
}

func TestAnswersThisMachineAlone(t *testing.T) {
	_, addr := start(t, office(t), true)
	_, port, _ := net.SplitHostPort(addr)
	for _, c := range []struct{ host, status, why string }{
		{addr, "200", "the address itself"},
		{"localhost:" + port, "200", "localhost"},
		{"mixes.example.org", "421", "another site's name that was made to lead here"},
		{"mixes.example.org:" + port, "421", "the same with the port"},
		{"127.0.0.1", "421", "another port"},
		{"127.0.0.1:1", "421", "another port"},
		{"localhost.:" + port, "421", "nearly localhost"},
		{"evil@" + addr, "400", "a name before the address"},
		{"", "400", "none at all"},
	} {
		got := ask(t, addr, "GET / HTTP/1.1\r\nHost: "+c.host+"\r\nConnection: close\r\n\r\n")
		if status := strings.TrimPrefix(got, "HTTP/1.1 "); !strings.HasPrefix(status, c.status) && (c.status == "200" || !strings.HasPrefix(status, "4")) {
			t.Errorf("%s: host %q gets %.80q, want %s", c.why, c.host, got, c.status)
		}
		if c.status != "200" && strings.Contains(got, "Small tank") {
			t.Errorf("%s: host %q gets the site", c.why, c.host)
		}
	}
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT"} {
		got := ask(t, addr, method+" / HTTP/1.1\r\nHost: "+addr+"\r\nContent-Length: 0\r\nConnection: close\r\n\r\n")
		if !strings.HasPrefix(got, "HTTP/1.1 405") {
			t.Errorf("%s is %.60q, want 405", method, got)
		}
	}
}

func TestListenRefuses(t *testing.T) {
	for _, addr := range []string{"0.0.0.0:0", ":0", "[::]:0", "192.0.2.1:0", "example.org:0", "8080", "127.0.0.1", "127.0.0.1:http:0"} {
		if l, err := preview.Listen(addr); err == nil {
			l.Close()
			t.Errorf("listens on %s", addr)
		}
	}
	for _, addr := range []string{"127.0.0.1:0", "localhost:0", "127.5.5.5:0"} {
		l, err := preview.Listen(addr)
		if err != nil {
			t.Errorf("%s: %v", addr, err)
			continue
		}
		if ip := l.Addr().(*net.TCPAddr).IP; !ip.IsLoopback() {
			t.Errorf("%s listens on %s", addr, ip)
		}
		l.Close()
	}
}

func TestHeadersAreBounded(t *testing.T) {
	_, addr := start(t, office(t), true)
	for _, c := range []struct{ extra, why string }{
		{"X-Long: " + strings.Repeat("x", 64<<10) + "\r\n", "one long header"},
		{strings.Repeat("X-Many: y\r\n", 8000), "many headers"},
	} {
		got := ask(t, addr, "GET / HTTP/1.1\r\nHost: "+addr+"\r\n"+c.extra+"Connection: close\r\n\r\n")
		if strings.Contains(got, "Small tank") || got != "" && !strings.HasPrefix(got, "HTTP/1.1 431") {
			t.Errorf("%s: %.120q, want 431", c.why, got)
		}
	}
	long := ask(t, addr, "GET /"+strings.Repeat("a", 64<<10)+" HTTP/1.1\r\nHost: "+addr+"\r\n\r\n")
	if long != "" && !strings.HasPrefix(long, "HTTP/1.1 431") && !strings.HasPrefix(long, "HTTP/1.1 414") {
		t.Errorf("a long path: %.120q", long)
	}
}

// TestSlowClientsAreLeft opens connections that send their headers drop by drop:
// each is closed after the time for headers, and others are served meanwhile.
func TestSlowClientsAreLeft(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for a time-out")
	}
	_, addr := start(t, office(t), true)
	var slow []net.Conn
	for range 50 {
		c, err := net.Dial("tcp", addr)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		fmt.Fprintf(c, "GET / HTTP/1.1\r\nHost: %s\r\nX-Slow: ", addr)
		slow = append(slow, c)
	}
	if got := get(t, addr, "/"); !strings.HasPrefix(got, "HTTP/1.1 200") {
		t.Errorf("beside slow clients: %.100q", got)
	}
	begun := time.Now()
	for _, c := range slow {
		_ = c.SetReadDeadline(time.Now().Add(15 * time.Second))
		if _, err := io.ReadAll(c); err != nil && strings.Contains(err.Error(), "timeout") {
			t.Fatalf("still open after %v", time.Since(begun))
		}
	}
}

// TestProblemsStandAboveTheLastGoodBuild goes from nothing to a good build, to a
// broken office and back.
func TestProblemsStandAboveTheLastGoodBuild(t *testing.T) {
	dir := office(t)
	name := filepath.Join(dir, "data", "places.yaml")
	good, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	write := func(text string) {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, addr := start(t, dir, false)
	write("places: <script>alert(1)</script>\n")
	build := func() diag.List {
		problems, err := s.Build()
		if err != nil {
			t.Fatal(err)
		}
		return problems
	}
	if !build().Stops() {
		t.Fatal("the broken office builds")
	}
	got := get(t, addr, "/product/fizz.html")
	for _, want := range []string{"HTTP/1.1 503", "No good build yet", "data/places.yaml:1:9", `data-generation="1"`} {
		if !strings.Contains(got, want) {
			t.Errorf("before any build there is no %q in\n%s", want, got)
		}
	}
	write(string(good))
	build()
	if got := get(t, addr, "/product/fizz.html"); strings.Contains(got, "preview-problems") || !strings.Contains(got, "Fizz 80 SP") {
		t.Errorf("a good build shows problems, or not the site:\n%.600s", got)
	}
	write("\"<script>alert(1)</script>\": []\n")
	build()
	got = get(t, addr, "/product/fizz.html")
	for _, want := range []string{"HTTP/1.1 200", "This is the last good build", "data/places.yaml:1:1", "&lt;script&gt;alert(1)", "Fizz 80 SP", `data-generation="3"`} {
		if !strings.Contains(got, want) {
			t.Errorf("with problems there is no %q in\n%.900s", want, got)
		}
	}
	if strings.Contains(got, "<script>alert") {
		t.Error("the problem is not escaped")
	}
}

// TestNoAuditedBuildBeforeAGoodOne reads an office without problems whose pages have
// some: it is no good build, and the page says which they are.
func TestNoAuditedBuildBeforeAGoodOne(t *testing.T) {
	dir := office(t)
	own := filepath.Join(dir, "templates")
	if err := os.Mkdir(own, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(own, "404.html"), []byte(`{{define "main"}}<h1>Gone</h1><a href="nowhere.html">x</a>{{end}}`), 0o644); err != nil {
		t.Fatal(err)
	}
	s, addr := start(t, dir, false)
	if problems, err := s.Build(); err != nil || !problems.Stops() {
		t.Fatalf("built with a dead link: %v, %v", problems, err)
	}
	got := get(t, addr, "/index.html")
	for _, want := range []string{"HTTP/1.1 503", "No good build yet", "nowhere.html"} {
		if !strings.Contains(got, want) {
			t.Errorf("there is no %q in\n%.900s", want, got)
		}
	}
}

// TestConnectionsAreBounded takes as many connections as there may be: one more is
// answered when one of them has gone, and not before.
func TestConnectionsAreBounded(t *testing.T) {
	const most = 256
	_, addr := start(t, office(t), false)
	var open []net.Conn
	answer := func(wait time.Duration) error {
		c := open[len(open)-1]
		_ = c.SetReadDeadline(time.Now().Add(wait))
		_, err := io.ReadFull(c, make([]byte, len("HTTP/1.1 200")))
		return err
	}
	for n := range most + 1 {
		c, err := net.Dial("tcp", addr)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		open = append(open, c)
		if _, err := io.WriteString(c, "GET /.preview/state HTTP/1.1\r\nHost: "+addr+"\r\n\r\n"); err != nil {
			t.Fatal(err)
		}
		if n == most {
			break
		}
		if err := answer(20 * time.Second); err != nil {
			t.Fatalf("connection %d: %v", n+1, err)
		}
	}
	if err := answer(300 * time.Millisecond); !errors.Is(err, os.ErrDeadlineExceeded) {
		t.Errorf("connection %d: got %v while all others are open, want to wait", most+1, err)
	}
	open[0].Close()
	if err := answer(20 * time.Second); err != nil {
		t.Errorf("connection %d: %v, though one has gone", most+1, err)
	}
}

// TestWatchBuildsOnChange counts builds: one at first, one for a change, none for
// nothing.
func TestWatchBuildsOnChange(t *testing.T) {
	dir := office(t)
	s, addr := start(t, dir, false)
	ctx, stop := context.WithCancel(context.Background())
	var builds atomic.Int32
	built := make(chan struct{}, 100)
	var done sync.WaitGroup
	done.Go(func() {
		s.Watch(ctx, 20*time.Millisecond, func(diag.List, error) {
			builds.Add(1)
			built <- struct{}{}
		})
	})
	wait := func(why string) {
		t.Helper()
		select {
		case <-built:
		case <-time.After(time.Minute):
			t.Fatalf("%s is not built", why)
		}
	}
	wait("the office")
	time.Sleep(300 * time.Millisecond)
	if n := builds.Load(); n != 1 {
		t.Errorf("built %d times without a change", n)
	}
	for _, c := range []struct{ why, file, text string }{
		{"a new sheet", "content/new.md", "---\ntitle: Brand new\nsummary: S.\ntopic: water\nclasses: [oil]\nauthor: county agent\nreviewed: 2026-01-10\nreview_by: 2027-06-01\nlanguage: en\n---\n\nWords.\n"},
		{"a broken file", "data/crops.yaml", "crops: ["},
	} {
		if err := os.WriteFile(filepath.Join(dir, c.file), []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		wait(c.why)
	}
	if got := get(t, addr, "/sheet/new.html"); !strings.Contains(got, "Brand new") || !strings.Contains(got, "data/crops.yaml") {
		t.Errorf("got\n%.900s", got)
	}
	if err := os.Remove(filepath.Join(dir, "data/crops.yaml")); err != nil {
		t.Fatal(err)
	}
	wait("a file that went")
	stop()
	done.Wait()
}

// TestHoldsLoad asks 10,000 times from 64 clients, while the office is built
// again and again: every answer must be whole.
func TestHoldsLoad(t *testing.T) {
	const requests, clients = 10_000, 64
	s, addr := start(t, office(t), true)
	transport := &http.Transport{MaxIdleConnsPerHost: clients, MaxConnsPerHost: clients}
	defer transport.CloseIdleConnections()
	client := &http.Client{Transport: transport, Timeout: 30 * time.Second}
	paths := []string{"/", "/product/fizz.html", "/style.css", "/matrix.html", "/es/class/acid.html", "/data/verdicts.json", "/nothing.html"}
	var next, failed atomic.Int64
	var wait sync.WaitGroup
	begun := time.Now()
	for range clients {
		wait.Go(func() {
			for n := next.Add(1); n <= requests; n = next.Add(1) {
				if err := fetch(client, "http://"+addr, paths[n%int64(len(paths))]); err != nil {
					failed.Add(1)
					t.Errorf("request %d: %v", n, err)
				}
			}
		})
	}
	if problems, err := s.Build(); err != nil || problems.Stops() {
		t.Errorf("build under load: %v, %v", err, problems)
	}
	wait.Wait()
	t.Logf("%d requests from %d clients in %v, %d failed", requests, clients, time.Since(begun).Round(time.Millisecond), failed.Load())
}

func fetch(client *http.Client, base, path string) error {
	res, err := client.Get(base + path)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	n, err := io.Copy(io.Discard, bufio.NewReader(res.Body))
	want := http.StatusOK
	if path == "/nothing.html" {
		want = http.StatusNotFound
	}
	if err != nil || res.StatusCode != want || n != res.ContentLength || n == 0 {
		return fmt.Errorf("GET %s: %s, %d of %d bytes, %v", path, res.Status, n, res.ContentLength, err)
	}
	return nil
}
