// Package web hands the view to a browser: a small server for one circuit, and the build of this program that a
// browser runs. Nothing but the page, that build and the one circuit is ever given out.
package web

// This file is the server: what it is opened with, its addresses on the web, and how it runs.

import (
	"context"
	"crypto/sha256"
	"crypto/tls"
	"embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"net"
	"net/http"
	"os"
	"strconv"
	"strings"
	"sync"
	"time"
)

//go:embed page
var files embed.FS

// Options are what a server is opened with.
type Options struct {
	Name        string           // of the circuit, as the page shows it
	Text        []byte           // of the circuit file
	Faults      []string         // that lie on it from the start, lines of the fault grammar
	Hide        bool             // they are never shown
	Certificate *tls.Certificate // nil: plain HTTP
	// Build makes the program for the browser; nil: this program's own, as Build does it.
	Build func(ctx context.Context, tell func(Progress)) (*Program, error)
}

// Server hands one circuit to browsers.
type Server struct {
	options Options

	mu       sync.Mutex
	changed  chan struct{} // closed, and replaced, whenever something below changes
	progress Progress
	program  *Program
	circuit  circuitFile
}

// circuitFile is the circuit as the page gets it.
type circuitFile struct {
	Name    string `json:"name"`
	Text    string `json:"text"`
	Version string `json:"version"`

	Faults []string `json:"faults,omitempty"`
	Hide   bool     `json:"hide,omitempty"`
	Case   string   `json:"case,omitempty"` // another for other faults: work on one case is not shown over another
}

// New makes a server. It answers from the start, and shows how the build is getting on until Serve has it.
func New(o Options) *Server {
	if o.Build == nil {
		o.Build = Build
	}
	s := &Server{options: o, changed: make(chan struct{})}
	s.Saved(o.Text)
	return s
}

// change changes what the page is told about, and tells it.
func (s *Server) change(do func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	do()
	close(s.changed)
	s.changed = make(chan struct{})
}

// Saved tells that the circuit's file has a new text. Every page that is open shows it.
func (s *Server) Saved(text []byte) {
	file := circuitFile{Name: s.options.Name, Text: string(text), Version: version(text), Faults: s.options.Faults, Hide: s.options.Hide}
	if len(file.Faults) > 0 {
		file.Case = version([]byte(strings.Join(file.Faults, "\n") + strconv.FormatBool(file.Hide)))
	}
	s.change(func() { s.circuit = file })
}

// version is short, and another for every text.
func version(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

// Serve answers on a listener until the context ends, and makes the browser's program meanwhile.
func (s *Server) Serve(ctx context.Context, on net.Listener) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go s.build(ctx)
	server := &http.Server{
		Handler: s.Handler(on.Addr()), ReadHeaderTimeout: 10 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	if s.options.Certificate != nil {
		server.TLSConfig = &tls.Config{Certificates: []tls.Certificate{*s.options.Certificate}, MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}}
	}
	closed := make(chan struct{})
	go func() {
		<-ctx.Done()
		server.Close()
		close(closed)
	}()
	var err error
	if s.options.Certificate != nil {
		err = server.ServeTLS(on, "", "")
	} else {
		err = server.Serve(on)
	}
	if errors.Is(err, http.ErrServerClosed) {
		<-closed // until then connections may still answer
		return nil
	}
	return err
}

func (s *Server) build(ctx context.Context) {
	program, err := s.options.Build(ctx, func(p Progress) { s.change(func() { s.progress = p }) })
	s.change(func() {
		if err != nil {
			s.progress = Progress{Failed: err.Error()}
			return
		}
		s.program = program
		s.progress = Progress{Ready: true, Version: program.Version, Bytes: program.Size}
	})
}

// Addresses are what to type into a browser to reach a listener: here, and from elsewhere where it listens there too.
func Addresses(on net.Addr, secure bool) []string {
	tcp, ok := on.(*net.TCPAddr)
	if !ok {
		return nil
	}
	scheme := "http://"
	if secure {
		scheme = "https://"
	}
	page := func(host string) string { return scheme + net.JoinHostPort(host, strconv.Itoa(tcp.Port)) + "/" }
	switch {
	case tcp.IP.IsLoopback():
		return []string{page("localhost")}
	case !tcp.IP.IsUnspecified():
		return []string{page(tcp.IP.String())}
	}
	all := []string{page("localhost")}
	for _, ip := range machineAddresses() {
		if !ip.IsLoopback() && !ip.IsLinkLocalUnicast() {
			all = append(all, page(ip.String()))
		}
	}
	return all
}

// kinds are the kinds of the page's own files.
var kinds = map[string]string{
	"index.html": "text/html; charset=utf-8", "page.css": "text/css; charset=utf-8", "page.js": "text/javascript; charset=utf-8",
	"worker.js": "text/javascript; charset=utf-8", "icon.svg": "image/svg+xml", "app.webmanifest": "application/manifest+json",
}

// Handler answers requests that are made to the addresses of a listener.
func (s *Server) Handler(on net.Addr) http.Handler {
	mux := http.NewServeMux()
	for name, kind := range kinds {
		text, err := files.ReadFile("page/" + name)
		if err != nil {
			panic(err) // the files are part of the program
		}
		path := "/" + name
		if name == "index.html" {
			path = "/{$}"
		}
		mux.HandleFunc("GET "+path, func(w http.ResponseWriter, r *http.Request) { give(w, r, kind, text, version(text)) })
	}
	mux.HandleFunc("GET /circuit", func(w http.ResponseWriter, r *http.Request) {
		s.mu.Lock()
		c := s.circuit
		s.mu.Unlock()
		text, err := json.Marshal(c)
		if err != nil {
			panic(err) // two strings
		}
		give(w, r, "application/json", text, c.Version+c.Case)
	})
	mux.HandleFunc("GET /wasm_exec.js", s.built("text/javascript; charset=utf-8", func(p *Program) []byte { return p.Start }))
	mux.HandleFunc("GET /underload.wasm", s.built("application/wasm", func(p *Program) []byte { return p.Packed }))
	mux.HandleFunc("GET /events", s.events)
	var names []string
	if c := s.options.Certificate; c != nil && c.Leaf != nil {
		names = c.Leaf.DNSNames
	}
	return guard(ownHosts(on, names, s.options.Certificate != nil), mux)
}

// ReadCertificate reads a certificate and its key from files in PEM form.
func ReadCertificate(certificate, key string) (*tls.Certificate, error) {
	for _, name := range []string{certificate, key} {
		if _, err := os.Stat(name); err != nil {
			return nil, err
		}
	}
	c, err := tls.LoadX509KeyPair(certificate, key)
	if err != nil {
		return nil, err
	}
	return &c, nil
}
