//go:build linux

package web

// This file tries the page in a browser: the case, live news, kept work, work without the server, and what a screen
// reader hears.

import (
	"context"
	"encoding/json"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"underload/circuits"
	"underload/ui/internal/hands"
	"underload/ui/view"
)

// face is the bench in a browser's page.
type face struct{ *browser }

func (f face) Until(what string, says func(view.Report) bool) (r view.Report) {
	f.t.Helper()
	text := ""
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if err := f.run("underload.report()", &text); err != nil {
			f.t.Fatal(err)
		}
		if err := json.Unmarshal([]byte(text), &r); err != nil {
			f.t.Fatalf("%v: %s", err, text)
		}
		if says(r) {
			return r
		}
		r = view.Report{}
	}
	f.keep("late")
	f.t.Fatalf("the page never said %s; at last it said %s", what, text)
	return r
}

func (f face) Press(x, y float64)   { f.mouse("mousePressed", x, y) }
func (f face) Move(x, y float64)    { f.mouse("mouseMoved", x, y) }
func (f face) Release(x, y float64) { f.mouse("mouseReleased", x, y) }
func (f face) Keep(name string)     { f.keep(name) }

// control waits for a control that can be pressed.
func (f face) control(id string) (c view.Control) {
	f.t.Helper()
	f.Until("control "+id, func(r view.Report) bool {
		i := slices.IndexFunc(r.Controls, func(c view.Control) bool { return c.ID == id && c.Off == "" })
		if i >= 0 {
			c = r.Controls[i]
		}
		return i >= 0
	})
	return c
}

// bench waits until the bench is on the page.
func (b *browser) bench() {
	b.t.Helper()
	b.until("the bench", "underload.report && !document.body.classList.contains('waiting')")
}

func TestPage(t *testing.T) {
	b := newBrowser(t, 1440, 900)
	text, err := circuits.Source(hands.Example)
	if err != nil {
		t.Fatal(err)
	}
	s := New(Options{Name: hands.Example + ".yaml", Text: text})
	on, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, on) }()
	defer stop()
	b.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{
		"source": "window.drawn = 0; const frame = requestAnimationFrame.bind(window); window.requestAnimationFrame = (f) => frame((t) => { drawn++; f(t); });"}, nil)
	b.open(Addresses(on.Addr(), false)[0])
	b.bench()
	f := face{b}
	hands.Play(t, f)
	press := func(id string) {
		t.Helper()
		c := f.control(id)
		f.Move(c.X, c.Y)
		f.Press(c.X, c.Y)
		f.Release(c.X, c.Y)
	}
	press("time")
	f.Until("time that runs", func(r view.Report) bool { return r.Time != nil && r.Time.Running && r.Time.Seconds > 0.1 })
	press("time-play")
	f.Until("time that is held", func(r view.Report) bool { return r.Time != nil && !r.Time.Running })
	b.until("that no frame is drawn any more", "(async () => { const before = drawn; await new Promise((go) => setTimeout(go, 700)); return drawn === before && drawn > 0; })()")
	press("time-rest")
	report := f.Until("time at rest", func(r view.Report) bool { return r.Time == nil })

	heard := ""
	b.until("the last reading as text", "document.getElementById('said').textContent")
	if err := b.run("document.getElementById('said').textContent", &heard); err != nil || !strings.Contains(heard, report.Reading.Text(*report.Reading.Value)) {
		t.Errorf("a screen reader hears %q, the screen says %s (%v)", heard, report.Reading.Text(*report.Reading.Value), err)
	}

	s.Saved([]byte("underload: 1\nparts:\n  LAMP: {is: lmp}\n"))
	r := f.Until("what is wrong with the file", func(r view.Report) bool { return r.Problems != "" })
	if !strings.Contains(r.Problems, hands.Example+".yaml:3:") || r.LeadA != "PC1.1" {
		t.Errorf("after a mistake was saved it says %q, with lead A on %q", r.Problems, r.LeadA)
	}
	s.Saved([]byte(strings.Replace(string(text), "title: Orchard sprayer truck", "title: Orchard sprayer, later", 1)))
	r = f.Until("the file's new title", func(r view.Report) bool { return r.Title == "Orchard sprayer, later" })
	if r.Problems != "" || r.LeadA != "PC1.1" || len(r.Faults) != 1 {
		t.Errorf("after the file was saved: problems %q, lead A on %q, faults %q", r.Problems, r.LeadA, r.Faults)
	}

	b.until("the work in the browser's storage", "(localStorage.getItem('underload.work:' + underload.name) || '').match(/Orchard sprayer, later.*PC1.8/)")
	b.until("the page kept for working offline", "(async () => (await caches.match('underload.wasm?v=' + localStorage.getItem('underload.build'))) != null && (await caches.match('circuit')) != null)()")
	stop()
	if err := <-ended; err != nil {
		t.Fatal(err)
	}
	b.call("Page.reload", nil, nil)
	b.bench()
	r = f.Until("the work as it was", func(r view.Report) bool { return r.LeadA == "PC1.1" && r.LeadB == "PC1.8" })
	if len(r.Faults) != 1 || r.Faults[0] != report.Faults[0] {
		t.Errorf("without the server the faults are %q, before they were %q", r.Faults, report.Faults)
	}
	b.keep("5-offline")

	file := filepath.Join(t.TempDir(), "mine.yaml")
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), "title: Orchard sprayer truck", "title: From this device", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	b.choose(file, func() {
		press("more")
		press("open-circuit")
		b.keep("6-shelf")
		press("choose-file")
	})
	if r := f.Until("the circuit from the device", func(r view.Report) bool { return r.Title == "From this device" }); r.LeadA != "" || len(r.Faults) != 0 {
		t.Errorf("another circuit begins with lead A on %q and faults %q", r.LeadA, r.Faults)
	}
	if err := b.run("window.heard = 0; const make = AudioContext.prototype.createBufferSource; AudioContext.prototype.createBufferSource = function () { heard++; return make.call(this); }", nil); err != nil {
		t.Fatal(err)
	}
	press("more")
	press("sound")
	b.until("a sound", "heard > 0")
	press("more")
	press("open-circuit")
	press("open:example:street-sweeper")
	f.Until("an example", func(r view.Report) bool { return r.Title == "Street sweeper" })

	b.mu.Lock()
	defer b.mu.Unlock()
	for _, said := range b.said {
		if strings.Contains(said, "Content Security Policy") || strings.Contains(said, "exceptionDetails") {
			t.Errorf("the console says %s", said)
		}
	}
}

// A browser without WebGL 2 is told so, and what to do, in words that can be read.
func TestPageWithoutWebGL(t *testing.T) {
	b := newBrowser(t, 1024, 768, "--disable-3d-apis")
	on, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s := New(Options{Name: "lamp.yaml", Text: circuitText, Build: built})
	go s.Serve(t.Context(), on)
	b.open(Addresses(on.Addr(), false)[0])
	b.until("the reason", "document.getElementById('what').textContent.includes('WebGL 2') && document.getElementById('detail').textContent.includes('hardware acceleration')")
	b.until("paper behind the words", "getComputedStyle(document.body).backgroundColor !== 'rgb(0, 0, 0)'")
}
