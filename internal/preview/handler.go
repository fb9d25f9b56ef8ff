package preview

import (
	"encoding/json"
	"errors"
	"io/fs"
	"net"
	"net/http"
	"os"
	"path"
	"strconv"
	"strings"
)

// own is the folder of the preview's own files. No published path begins with a
// dot.
const own = ".preview/"

// types are what published files are served as. The machine's own table is not
// asked: it differs.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".json": "application/json", ".xml": "application/atom+xml; charset=utf-8", ".svg": "image/svg+xml",
	".csv": "text/csv; charset=utf-8", ".yaml": "text/plain; charset=utf-8", ".txt": "text/plain; charset=utf-8",
	".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png", ".webp": "image/webp", ".pdf": "application/pdf",
}

// handler answers requests that were meant for this address.
func (s *Server) handler(at *net.TCPAddr) http.Handler {
	hosts := hostsOf(at)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Content-Security-Policy", "frame-ancestors 'none'")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cache-Control", "no-store")
		switch {
		case !hosts[r.Host]:
			http.Error(w, "this preview is not for "+strconv.Quote(r.Host), http.StatusMisdirectedRequest)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "a preview is only read", http.StatusMethodNotAllowed)
		default:
			s.serve(w, r)
		}
	})
}

// hostsOf lists the names by which the address may be asked for.
func hostsOf(at *net.TCPAddr) map[string]bool {
	port := strconv.Itoa(at.Port)
	hosts := map[string]bool{net.JoinHostPort(at.IP.String(), port): true, net.JoinHostPort("localhost", port): true}
	if at.Port == 80 {
		hosts["localhost"], hosts[at.IP.String()] = true, true
	}
	return hosts
}

func (s *Server) serve(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" || strings.HasSuffix(name, "/") {
		name += "index.html"
	}
	if file, mine := strings.CutPrefix(name, own); mine {
		s.serveOwn(w, file)
		return
	}
	now := s.state()
	if !now.Built {
		s.write(w, http.StatusServiceUnavailable, ".html", plainPage("No good build yet", now))
		return
	}
	body, err := s.read(name)
	switch {
	case errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid):
		s.write(w, http.StatusNotFound, ".html", plainPage("Not published", now))
	case err != nil:
		http.Error(w, "cannot be read", http.StatusInternalServerError)
	case path.Ext(name) == ".html":
		s.write(w, http.StatusOK, ".html", withProblems(body, now))
	default:
		s.write(w, http.StatusOK, path.Ext(name), body)
	}
}

// read returns a published file. What is not there is looked for once more: a
// build may have exchanged the folder between opening it and the file in it.
func (s *Server) read(name string) ([]byte, error) {
	if !fs.ValidPath(name) || strings.ContainsAny(name, "\\\x00") || strings.HasPrefix(name, ".") || strings.Contains(name, "/.") {
		return nil, fs.ErrInvalid
	}
	body, err := s.readOnce(name)
	if errors.Is(err, fs.ErrNotExist) {
		body, err = s.readOnce(name)
	}
	return body, err
}

// readOnce opens the folder anew, since a build exchanges it. Links are not
// followed out of it, nor read themselves.
func (s *Server) readOnce(name string) ([]byte, error) {
	root, err := os.OpenRoot(s.public())
	if err != nil {
		return nil, err
	}
	defer root.Close()
	info, err := root.Lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return nil, fs.ErrNotExist
	}
	return root.ReadFile(name)
}

func (s *Server) write(w http.ResponseWriter, status int, ext string, body []byte) {
	kind, known := types[ext]
	if !known {
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Length", strconv.Itoa(len(body)))
	w.WriteHeader(status)
	_, _ = w.Write(body) // net/http leaves the body of HEAD out
}

func (s *Server) serveOwn(w http.ResponseWriter, file string) {
	switch file {
	case "state":
		body, err := json.Marshal(s.state())
		if err != nil {
			http.Error(w, "cannot be told", http.StatusInternalServerError)
			return
		}
		s.write(w, http.StatusOK, ".json", body)
	case "preview.js":
		s.write(w, http.StatusOK, ".js", []byte(script))
	case "preview.css":
		s.write(w, http.StatusOK, ".css", []byte(style))
	default:
		http.Error(w, "not found", http.StatusNotFound)
	}
}
