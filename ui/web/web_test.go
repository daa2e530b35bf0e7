package web

// This file asks the server what a browser, and what a stranger, would ask.

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// built is a program that is there at once.
func built(context.Context, func(Progress)) (*Program, error) {
	wasm := bytes.Repeat([]byte("\x00asm of a browser "), 1000)
	return &Program{Packed: pack(wasm, gzip.BestSpeed), Start: pack([]byte("start"), gzip.BestSpeed), Size: len(wasm), Version: "v1"}, nil
}

var circuitText = []byte("underload: 1\ntitle: A lamp\n")

func address(text string) *net.TCPAddr {
	a, err := net.ResolveTCPAddr("tcp", text)
	if err != nil {
		panic(err)
	}
	return a
}

// ready is a server whose build is done.
func ready(t *testing.T) *Server {
	t.Helper()
	s := New(Options{Name: "lamp.yaml", Text: circuitText, Build: built})
	s.build(t.Context())
	return s
}

func get(t *testing.T, h http.Handler, path string, header ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest("GET", path, nil)
	r.Host = "localhost:8417"
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r *http.Response) string {
	t.Helper()
	text, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestHosts(t *testing.T) {
	for _, row := range []struct {
		on     string
		secure bool
		host   string
		own    bool
	}{
		{"127.0.0.1:8417", false, "localhost:8417", true},
		{"127.0.0.1:8417", false, "LOCALHOST:8417", true},
		{"127.0.0.1:8417", false, "127.0.0.1:8417", true},
		{"127.0.0.1:8417", false, "127.0.0.1", false},
		{"127.0.0.1:8417", false, "localhost:80", false},
		{"127.0.0.1:8417", false, "[::1]:8417", false},
		{"127.0.0.1:8417", false, "workshop.example:8417", false},
		{"127.0.0.1:8417", false, "localhost.workshop.example:8417", false},
		{"127.0.0.1:8417", false, "127.0.0.2:8417", false},
		{"127.0.0.1:8417", false, "", false},
		{"127.0.0.1:80", false, "localhost", true},
		{"127.0.0.1:443", true, "localhost", true},
		{"127.0.0.1:443", false, "localhost", false},
		{"[::1]:8417", false, "[::1]:8417", true},
		{"[::1]:8417", false, "[0:0:0:0:0:0:0:1]:8417", true},
		{"[::1]:8417", false, "localhost:8417", true},
		{"0.0.0.0:8417", false, "127.0.0.1:8417", true},
		{"0.0.0.0:8417", false, "workshop.example:8417", false},
		{"192.0.2.7:8417", false, "192.0.2.7:8417", true},
		{"192.0.2.7:8417", false, "localhost:8417", false},
		{"192.0.2.7:8417", true, "bench.example:8417", true}, // the certificate's name
		{"192.0.2.7:8417", true, "other.example:8417", false},
	} {
		var names []string
		if row.secure {
			names = []string{"bench.example"}
		}
		if got := ownHosts(address(row.on), names, row.secure)(row.host); got != row.own {
			t.Errorf("on %s, asked for as %q: own %v, want %v", row.on, row.host, got, row.own)
		}
	}
}

func TestStrangersAreRefused(t *testing.T) {
	h := ready(t).Handler(address("127.0.0.1:8417"))
	for _, path := range []string{"/", "/circuit", "/underload.wasm", "/events", "/none"} {
		r := httptest.NewRequest("GET", path, nil)
		r.Host = "workshop.example:8417"
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != http.StatusMisdirectedRequest || strings.Contains(w.Body.String(), "A lamp") {
			t.Errorf("%s under another name: %d %s", path, w.Code, w.Body)
		}
	}
	if r := get(t, h, "/circuit", "Sec-Fetch-Site", "cross-site"); r.StatusCode != http.StatusForbidden {
		t.Errorf("another site's page gets the circuit: %d", r.StatusCode)
	}
	if r := get(t, h, "/", "Sec-Fetch-Site", "cross-site"); r.StatusCode != http.StatusOK {
		t.Errorf("a link from another site leads to %d", r.StatusCode)
	}
}

// Every answer has the policy, and the policy allows nothing but our own files, and our own program to run.
func TestPolicy(t *testing.T) {
	h := ready(t).Handler(address("127.0.0.1:8417"))
	for _, path := range []string{"/", "/page.js", "/worker.js", "/circuit", "/underload.wasm", "/none"} {
		header := get(t, h, path).Header
		if header.Get("Content-Security-Policy") != policy || header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s is sent with %v", path, header)
		}
	}
	for directive := range strings.SplitSeq(policy, "; ") {
		name, sources, _ := strings.Cut(directive, " ")
		switch {
		case name == "script-src" && sources == "'self' 'wasm-unsafe-eval'":
		case sources == "'self'" && name != "default-src", sources == "'none'":
		default:
			t.Errorf("the policy allows %s", directive)
		}
	}
	if !strings.HasPrefix(policy, "default-src 'none'") {
		t.Error("what the policy does not name is allowed")
	}
	page := body(t, get(t, h, "/"))
	if strings.Contains(page, "<script>") || strings.Contains(page, "<style") || strings.Contains(page, " style=") || strings.Contains(page, "//") {
		t.Errorf("the page has something inline, or from elsewhere: %s", page)
	}
}

func TestNothingElseIsGiven(t *testing.T) {
	h := ready(t).Handler(address("127.0.0.1:8417"))
	for _, path := range []string{"/none", "/page", "/page/", "/page/index.html", "/index.html", "/web.go", "/circuit/", "/circuit/..", "/lamp.yaml",
		"/../go.mod", "/..%2fgo.mod", "/%2e%2e/go.mod", "/page/..%2f..%2fweb.go", "//etc/passwd", "/events/x", "/.git/config", "/underload.wasm.gz"} {
		r := get(t, h, path)
		if r.StatusCode == http.StatusOK || r.StatusCode >= 500 {
			t.Errorf("%s is answered with %d: %.60s", path, r.StatusCode, body(t, r))
		}
	}
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS", "PATCH"} {
		r := httptest.NewRequest(method, "/circuit", strings.NewReader("x"))
		r.Host = "localhost:8417"
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != http.StatusMethodNotAllowed {
			t.Errorf("%s is answered with %d", method, w.Code)
		}
	}
}

func TestFiles(t *testing.T) {
	h := ready(t).Handler(address("127.0.0.1:8417"))
	for path, kind := range map[string]string{"/": "text/html", "/page.css": "text/css", "/page.js": "text/javascript", "/worker.js": "text/javascript",
		"/icon.svg": "image/svg+xml", "/app.webmanifest": "application/manifest+json", "/circuit": "application/json",
		"/underload.wasm": "application/wasm", "/wasm_exec.js": "text/javascript"} {
		plain := get(t, h, path)
		packed := get(t, h, path, "Accept-Encoding", "br, gzip;q=0.8")
		if plain.StatusCode != http.StatusOK || !strings.HasPrefix(plain.Header.Get("Content-Type"), kind) || plain.Header.Get("Content-Encoding") != "" {
			t.Errorf("%s: %d, %v", path, plain.StatusCode, plain.Header)
		}
		text := body(t, plain)
		got := packed.Body
		if packed.Header.Get("Content-Encoding") == "gzip" {
			var err error
			if got, err = gzip.NewReader(packed.Body); err != nil {
				t.Fatalf("%s: %v", path, err)
			}
		} else if len(text) > 1000 {
			t.Errorf("%s, %d bytes, is not packed", path, len(text))
		}
		if all, err := io.ReadAll(got); err != nil || string(all) != text || text == "" {
			t.Errorf("%s: packed and plain differ (%v)", path, err)
		}
		if r := get(t, h, path, "If-None-Match", plain.Header.Get("ETag")); r.StatusCode != http.StatusNotModified {
			t.Errorf("%s, which the browser has, is answered with %d", path, r.StatusCode)
		}
	}
	if r := get(t, h, "/underload.wasm", "Accept-Encoding", "gzip;q=0"); r.Header.Get("Content-Encoding") != "" {
		t.Error("gzip is sent to a browser that refuses it")
	}
	if r := get(t, h, "/underload.wasm?v=v1"); !strings.Contains(r.Header.Get("Cache-Control"), "immutable") {
		t.Errorf("a build under its version: %v", r.Header)
	}
	if r := get(t, h, "/underload.wasm?v=v0"); strings.Contains(r.Header.Get("Cache-Control"), "immutable") {
		t.Errorf("a build under another's version is kept for ever: %v", r.Header)
	}
}

// serve has a server really listen until the test ends, and gives its address.
func serve(t *testing.T, s *Server) string {
	t.Helper()
	on, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error)
	go func() { ended <- s.Serve(ctx, on) }()
	t.Cleanup(func() {
		cancel()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	return Addresses(on.Addr(), s.options.Certificate != nil)[0]
}

// event reads the next one of a kind.
func event(t *testing.T, from *bufio.Reader, kind string) string {
	t.Helper()
	for {
		line, err := from.ReadString('\n')
		if err != nil {
			t.Fatalf("no %s came: %v", kind, err)
		}
		if line == "event: "+kind+"\n" {
			data, err := from.ReadString('\n')
			if err != nil {
				t.Fatal(err)
			}
			return strings.TrimSuffix(strings.TrimPrefix(data, "data: "), "\n")
		}
	}
}

func build(t *testing.T, from *bufio.Reader) (p Progress) {
	t.Helper()
	if err := json.Unmarshal([]byte(event(t, from, "build")), &p); err != nil {
		t.Fatal(err)
	}
	return p
}

// The page is there before the build is, and is told how that gets on.
func TestProgress(t *testing.T) {
	goOn := make(chan bool)
	s := New(Options{Name: "lamp.yaml", Text: circuitText, Build: func(ctx context.Context, tell func(Progress)) (*Program, error) {
		<-goOn
		tell(Progress{Done: 3, Of: 9, Now: "net"})
		<-goOn
		return built(ctx, tell)
	}})
	at := serve(t, s)
	if r, err := http.Get(at); err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("the page: %v, %v", r, err)
	}
	if r, err := http.Get(at + "underload.wasm"); err != nil || r.StatusCode != http.StatusServiceUnavailable || r.Header.Get("Retry-After") == "" {
		t.Fatalf("the build that is not there: %v, %v", r, err)
	}
	news, err := http.Get(at + "events")
	if err != nil || news.Header.Get("Content-Type") != "text/event-stream" {
		t.Fatal(news, err)
	}
	defer news.Body.Close()
	lines := bufio.NewReader(news.Body)
	if p := build(t, lines); p != (Progress{}) {
		t.Errorf("at first: %+v", p)
	}
	goOn <- true
	if p := build(t, lines); p != (Progress{Done: 3, Of: 9, Now: "net"}) {
		t.Errorf("on the way: %+v", p)
	}
	goOn <- true
	if p := build(t, lines); !p.Ready || p.Version != "v1" || p.Bytes < 1000 {
		t.Errorf("at the end: %+v", p)
	}
	if r, err := http.Get(at + "underload.wasm"); err != nil || r.StatusCode != http.StatusOK {
		t.Errorf("the build: %v, %v", r, err)
	}
}

func TestBuildThatFails(t *testing.T) {
	s := New(Options{Name: "lamp.yaml", Text: circuitText, Build: func(context.Context, func(Progress)) (*Program, error) {
		return nil, errors.New("no Go here")
	}})
	news, err := http.Get(serve(t, s) + "events")
	if err != nil {
		t.Fatal(err)
	}
	defer news.Body.Close()
	lines := bufio.NewReader(news.Body)
	p := build(t, lines)
	for p == (Progress{}) {
		p = build(t, lines)
	}
	if p.Failed != "no Go here" {
		t.Errorf("told %+v", p)
	}
}

// Every page that is open is told when the file is saved, and gets its new text.
func TestSaved(t *testing.T) {
	s := ready(t)
	at := serve(t, s)
	var pages []*bufio.Reader
	for range 3 {
		news, err := http.Get(at + "events")
		if err != nil {
			t.Fatal(err)
		}
		defer news.Body.Close()
		pages = append(pages, bufio.NewReader(news.Body))
	}
	first := ""
	for _, page := range pages {
		first = event(t, page, "circuit")
	}
	s.Saved([]byte("underload: 1\ntitle: Two lamps\n"))
	for _, page := range pages {
		if now := event(t, page, "circuit"); now == first {
			t.Error("a saved file has the version of the one before")
		}
	}
	r, err := http.Get(at + "circuit")
	if err != nil {
		t.Fatal(err)
	}
	var c circuitFile
	if err := json.Unmarshal([]byte(body(t, r)), &c); err != nil || c.Name != "lamp.yaml" || !strings.Contains(c.Text, "Two lamps") {
		t.Errorf("%+v %v", c, err)
	}
}
