package web

// This file gives answers: files, packed where the browser takes them so, and the news of build and circuit.

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// give answers with a text unless the browser has it already.
func give(w http.ResponseWriter, r *http.Request, kind string, text []byte, tag string) {
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("ETag", `"`+tag+`"`)
	h.Set("Vary", "Accept-Encoding")
	if strings.Contains(r.Header.Get("If-None-Match"), `"`+tag+`"`) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	if packs(r) && len(text) > 1000 {
		text = pack(text, gzip.DefaultCompression)
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("Content-Length", strconv.Itoa(len(text)))
	w.Write(text) //nolint:errcheck // a browser that has gone away needs no answer
}

// packs reports whether a browser takes gzip.
func packs(r *http.Request) bool {
	for _, one := range strings.Split(r.Header.Get("Accept-Encoding"), ",") {
		name, quality, _ := strings.Cut(strings.TrimSpace(one), ";")
		if name == "gzip" && strings.ReplaceAll(quality, " ", "") != "q=0" {
			return true
		}
	}
	return false
}

func pack(text []byte, level int) []byte {
	var packed bytes.Buffer
	zip, err := gzip.NewWriterLevel(&packed, level)
	if err == nil {
		_, err = zip.Write(text)
	}
	if err == nil {
		err = zip.Close()
	}
	if err != nil {
		panic(err) // a buffer takes all, and the level is ours
	}
	return packed.Bytes()
}

// built answers with a part of the browser's program, which is kept packed, once it is there.
func (s *Server) built(kind string, part func(*Program) []byte) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		s.mu.Lock()
		p := s.program
		s.mu.Unlock()
		if p == nil {
			w.Header().Set("Retry-After", "2")
			http.Error(w, "The program for the browser is still being built.", http.StatusServiceUnavailable)
			return
		}
		h := w.Header()
		h.Set("Content-Type", kind)
		h.Set("ETag", `"`+p.Version+`"`)
		h.Set("Vary", "Accept-Encoding")
		if r.URL.Query().Get("v") == p.Version {
			h.Set("Cache-Control", "public, max-age=31536000, immutable")
		}
		if strings.Contains(r.Header.Get("If-None-Match"), `"`+p.Version+`"`) {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		packed := part(p)
		if packs(r) {
			h.Set("Content-Encoding", "gzip")
			h.Set("Content-Length", strconv.Itoa(len(packed)))
			w.Write(packed) //nolint:errcheck // as above
			return
		}
		zip, err := gzip.NewReader(bytes.NewReader(packed))
		if err != nil {
			http.Error(w, "The program for the browser is damaged: "+err.Error(), http.StatusInternalServerError)
			return
		}
		io.Copy(w, zip) //nolint:errcheck // as above
	}
}

// heartbeat is sent where there is no news, so that a connection that has died is noticed.
const heartbeat = 20 * time.Second

// events tells a page, for as long as it listens, how the build is getting on and that the circuit was saved.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	flush := http.NewResponseController(w)
	var told Progress
	circuit := ""
	for first := true; ; first = false {
		s.mu.Lock()
		progress, now, changed := s.progress, s.circuit.Version, s.changed
		s.mu.Unlock()
		var err error
		if first || progress != told {
			told = progress
			err = tell(w, "build", progress)
		}
		if err == nil && now != circuit {
			circuit = now
			err = tell(w, "circuit", now)
		}
		if err == nil {
			err = flush.Flush()
		}
		if err != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-changed:
		case <-time.After(heartbeat):
			if _, err := io.WriteString(w, ": still here\n\n"); err != nil {
				return
			}
		}
	}
}

func tell(w io.Writer, event string, data any) error {
	text, err := json.Marshal(data)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, "event: %s\ndata: %s\n\n", event, text)
	return err
}
