package preview

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"os"
	"path/filepath"
	"sync"
	"time"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/site"
)

// Bounds on what one client can take. They are generous for a browser and a
// person; a program that asks for more is not what this is for.
const (
	maxHeaderBytes = 16 << 10        // of a request's line and headers together
	headerTime     = 5 * time.Second // to send them
	requestTime    = 10 * time.Second
	answerTime     = time.Minute
	idleTime       = time.Minute
	maxConns       = 256 // at a time; more wait in the kernel
)

// Server builds and serves one office.
type Server struct {
	office string // its folder
	dir    string // private: the site lies in dir/public
	last   string // the last publication to compare with; "" when there is none

	mu         sync.RWMutex
	generation int // counts builds, with problems or without
	built      bool
	problems   diag.List
	failure    string // of the machine, at the last build
}

// New prepares the preview of an office's folder. Close removes what it keeps.
func New(office string) (*Server, error) {
	dir, err := os.MkdirTemp("", "tankleaf-preview-")
	if err != nil {
		return nil, err
	}
	s := &Server{office: office, dir: dir}
	if published := filepath.Join(office, "public"); fileExists(filepath.Join(published, site.Marker)) {
		s.last = published
	}
	return s, nil
}

func fileExists(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.Mode().IsRegular()
}

// Close removes the private folder.
func (s *Server) Close() error { return os.RemoveAll(s.dir) }

func (s *Server) public() string { return filepath.Join(s.dir, "public") }

// Build builds the office anew and returns what is wrong with it. With problems
// that stop a publication, what was served before is served on.
func (s *Server) Build() (diag.List, error) {
	problems, built, err := s.build()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.generation++
	s.built = s.built || built
	s.problems, s.failure = problems, ""
	if err != nil {
		s.failure = err.Error()
	}
	return problems, err
}

func (s *Server) build() (problems diag.List, built bool, err error) {
	root, err := os.OpenRoot(s.office) // links that lead outside are not followed
	if err != nil {
		return nil, false, err
	}
	defer root.Close()
	office, problems := site.Read(root.FS())
	if problems.Stops() {
		return problems, false, nil
	}
	_, more, err := site.Build(office, site.Options{Out: s.public(), Last: s.last, First: s.last == ""})
	problems = append(problems, more...).Sorted()
	return problems, err == nil && !problems.Stops(), err
}

// state is what pages and their script are told.
type state struct {
	Generation int       `json:"generation"`
	Built      bool      `json:"built"` // there is something to serve
	Problems   diag.List `json:"-"`
	Failure    string    `json:"-"`
}

func (s *Server) state() state {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return state{s.generation, s.built, s.problems, s.failure}
}

// Listen opens a loopback address, such as 127.0.0.1:0 or localhost:8080, and
// refuses any other.
func Listen(addr string) (net.Listener, error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, fmt.Errorf("%q is no address with a port", addr)
	}
	if host == "localhost" {
		host = "127.0.0.1"
	}
	ip, err := netip.ParseAddr(host)
	if err != nil || !ip.IsLoopback() {
		return nil, fmt.Errorf("%q is no loopback address: a preview is for this machine alone", addr)
	}
	return net.Listen("tcp", net.JoinHostPort(host, port))
}

// Serve answers requests until the context ends.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	server := &http.Server{
		Handler:           s.handler(l.Addr().(*net.TCPAddr)),
		ReadHeaderTimeout: headerTime, ReadTimeout: requestTime, WriteTimeout: answerTime, IdleTimeout: idleTime,
		MaxHeaderBytes: maxHeaderBytes,
	}
	go func() {
		<-ctx.Done()
		soon, cancel := context.WithTimeout(context.Background(), time.Second)
		defer cancel()
		if server.Shutdown(soon) != nil {
			_ = server.Close()
		}
	}()
	err := server.Serve(&bounded{Listener: l, room: make(chan struct{}, maxConns)})
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// bounded lets no more than a number of connections be open at a time.
type bounded struct {
	net.Listener
	room chan struct{}
}

func (b *bounded) Accept() (net.Conn, error) {
	b.room <- struct{}{}
	c, err := b.Listener.Accept()
	if err != nil {
		<-b.room
		return nil, err
	}
	return &boundedConn{Conn: c, leave: sync.OnceFunc(func() { <-b.room })}, nil
}

type boundedConn struct {
	net.Conn
	leave func()
}

func (c *boundedConn) Close() error {
	defer c.leave()
	return c.Conn.Close()
}
