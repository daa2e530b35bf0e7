//go:build linux

package web

// This file is a browser without a screen, driven over the DevTools protocol through two pipes.

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

// needs is set where a test that cannot run has to fail instead of being left out.
const needs = "UNDERLOAD_TEST_DISPLAY"

// patience is how long a test waits for what has to come; it is no measure of speed.
const patience = 2 * time.Minute // a first build of everything on a busy machine

// browser is a Chromium with one page.
type browser struct {
	t       *testing.T
	to      io.Writer
	session string

	mu      sync.Mutex
	next    int
	answers map[int]chan answer
	said    []string // what the page wrote to its console, and what its policy refused
	gone    chan struct{}

	choosers chan int // the inputs for which the page has asked a person to choose a file
	process  *os.Process
}

type answer struct {
	ID     int             `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error"`
}

// newBrowser starts a browser that ends with the test; more are further flags.
func newBrowser(t *testing.T, width, height int, more ...string) *browser {
	t.Helper()
	program := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			program = path
			break
		}
	}
	if program == "" {
		if os.Getenv(needs) != "" {
			t.Fatal("there is no Chromium")
		}
		t.Skip("no Chromium on this machine: the browser is not tried")
	}
	theirs, ours, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	args := append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader", "--use-angle=swiftshader", "--disable-quic",
		"--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--remote-debugging-pipe",
		"--disable-dev-shm-usage", "--user-data-dir=" + t.TempDir(), fmt.Sprintf("--window-size=%d,%d", width, height)}, more...)
	cmd := exec.Command(program, append(args, "about:blank")...)
	cmd.ExtraFiles = []*os.File{theirs, write}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	theirs.Close()
	write.Close()
	b := &browser{t: t, to: ours, answers: map[int]chan answer{}, gone: make(chan struct{}), choosers: make(chan int, 1), process: cmd.Process}
	go b.listen(read)
	t.Cleanup(func() {
		b.send("", "Browser.close", nil)
		ended := make(chan struct{})
		go func() { cmd.Wait(); close(ended) }()
		select {
		case <-ended:
		case <-time.After(10 * time.Second):
			cmd.Process.Kill()
			<-ended
		}
	})
	var targets struct {
		TargetInfos []struct{ TargetID, Type string }
	}
	b.call("Target.getTargets", nil, &targets)
	for _, target := range targets.TargetInfos {
		if target.Type == "page" {
			var attached struct{ SessionID string }
			b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
			b.session = attached.SessionID
		}
	}
	if b.session == "" {
		t.Fatal("the browser has no page")
	}
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.call(domain+".enable", nil, nil)
	}
	b.size(width, height, 1)
	return b
}

// size makes the page so large, in CSS px, on a screen with so many pixels to one of them.
func (b *browser) size(width, height int, scale float64) {
	b.t.Helper()
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": scale, "mobile": false}, nil)
}

func (b *browser) listen(from io.Reader) {
	defer close(b.gone)
	messages := bufio.NewReaderSize(from, 1<<20)
	for {
		text, err := messages.ReadBytes(0)
		if err != nil {
			return
		}
		var a answer
		if json.Unmarshal(text[:len(text)-1], &a) != nil {
			continue
		}
		b.mu.Lock()
		if to := b.answers[a.ID]; a.ID != 0 && to != nil {
			delete(b.answers, a.ID)
			to <- a
		}
		switch a.Method {
		case "Page.fileChooserOpened":
			var asked struct{ BackendNodeID int }
			if json.Unmarshal(a.Params, &asked) == nil {
				b.choosers <- asked.BackendNodeID
			}
		case "Runtime.consoleAPICalled", "Log.entryAdded", "Runtime.exceptionThrown":
			b.said = append(b.said, string(a.Params))
		}
		b.mu.Unlock()
	}
}

func (b *browser) send(session, method string, params any) chan answer {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.next++
	message := map[string]any{"id": b.next, "method": method}
	if params != nil {
		message["params"] = params
	}
	if session != "" {
		message["sessionId"] = session
	}
	text, err := json.Marshal(message)
	if err != nil {
		panic(err)
	}
	to := make(chan answer, 1)
	b.answers[b.next] = to
	b.to.Write(append(text, 0))
	return to
}

// ask has something done, and gives what came of it.
func (b *browser) ask(method string, params, into any) error {
	select {
	case a := <-b.send(b.session, method, params):
		if a.Error != nil {
			return fmt.Errorf("%s: %s", method, a.Error.Message)
		}
		if into == nil {
			return nil
		}
		return json.Unmarshal(a.Result, into)
	case <-b.gone:
		return errors.New("the browser is gone")
	case <-time.After(patience):
		return fmt.Errorf("%s: no answer", method)
	}
}

func (b *browser) call(method string, params, into any) {
	b.t.Helper()
	if err := b.ask(method, params, into); err != nil {
		b.t.Fatal(err)
	}
}

func (b *browser) open(address string) {
	b.t.Helper()
	var done struct{ ErrorText string }
	b.call("Page.navigate", map[string]any{"url": address}, &done)
	if done.ErrorText != "" {
		b.t.Fatalf("%s: %s", address, done.ErrorText)
	}
}

// run evaluates a script in the page; a promise is waited for.
func (b *browser) run(script string, into any) error {
	var got struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	if err := b.ask("Runtime.evaluate", map[string]any{"expression": script, "awaitPromise": true, "returnByValue": true, "userGesture": true}, &got); err != nil {
		return err
	}
	if got.ExceptionDetails != nil {
		return fmt.Errorf("%s: %s %s", script, got.ExceptionDetails.Text, got.ExceptionDetails.Exception.Description)
	}
	if into == nil || len(got.Result.Value) == 0 {
		return nil
	}
	return json.Unmarshal(got.Result.Value, into)
}

// until waits for a script, or its promise, to give true; while the page is being loaded its errors do not count.
func (b *browser) until(what, script string) {
	b.t.Helper()
	var err error
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		var is bool
		if err = b.run("Promise.resolve("+script+").then(Boolean)", &is); err == nil && is {
			return
		}
	}
	b.keep("late")
	var page string
	b.run("document.body.innerText", &page)
	b.mu.Lock()
	defer b.mu.Unlock()
	b.t.Fatalf("%s never came (%v). The page says %q, the console %q", what, err, page, b.said)
}

// mouse moves, presses or releases it: mouseMoved, mousePressed, mouseReleased.
func (b *browser) mouse(kind string, x, y float64) {
	b.t.Helper()
	event := map[string]any{"type": kind, "x": x, "y": y, "button": "left", "clickCount": 1}
	if kind == "mouseMoved" {
		event["button"] = "none"
	}
	b.call("Input.dispatchMouseEvent", event, nil)
}

// tap sends both ends of a short touch before it waits for either.
func (b *browser) tap(x, y float64) {
	b.t.Helper()
	touch := func(kind string, points ...map[string]float64) chan answer {
		return b.send(b.session, "Input.dispatchTouchEvent", map[string]any{"type": kind, "touchPoints": append([]map[string]float64{}, points...)})
	}
	down := touch("touchStart", map[string]float64{"x": x, "y": y, "id": 0})
	up := touch("touchEnd")
	for _, end := range []chan answer{down, up} {
		select {
		case <-end:
		case <-b.gone:
			b.t.Fatal("the browser is gone")
		}
	}
}

// choose is the person who chooses a file once the page asks for one; ask is what makes it ask.
func (b *browser) choose(path string, ask func()) {
	b.t.Helper()
	b.call("Page.setInterceptFileChooserDialog", map[string]any{"enabled": true}, nil)
	ask()
	select {
	case input := <-b.choosers:
		b.call("DOM.setFileInputFiles", map[string]any{"files": []string{path}, "backendNodeId": input}, nil)
	case <-time.After(patience):
		b.t.Fatal("the page never asked for a file")
	}
}

// picture is the page as PNG.
func (b *browser) picture() []byte {
	b.t.Helper()
	var shot struct{ Data string }
	b.call("Page.captureScreenshot", map[string]any{"format": "png"}, &shot)
	file, err := base64.StdEncoding.DecodeString(shot.Data)
	if err != nil {
		b.t.Fatal(err)
	}
	return file
}

// keep writes the page into the folder that UNDERLOAD_PICTURES names, for a person to look at.
func (b *browser) keep(name string) {
	b.t.Helper()
	folder := os.Getenv("UNDERLOAD_PICTURES")
	if folder == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(folder, "browser-"+name+".png"), b.picture(), 0o666); err != nil {
		b.t.Fatal(err)
	}
}
