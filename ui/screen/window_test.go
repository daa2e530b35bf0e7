//go:build linux

package screen

// This file tries the window itself: the program in a process of its own, on a display of the test's own, with a real
// mouse and real keys as far as it can tell.

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"underload/circuit"
	"underload/circuits"
	"underload/ui/internal/hands"
	"underload/ui/view"
)

// TestMain is the tests, or the program under test: the variable names an example or a file, and after a line break the
// faults.
func TestMain(m *testing.M) {
	if what := os.Getenv("UNDERLOAD_TEST_WINDOW"); what != "" {
		if err := showAndTell(strings.Split(what, "\n")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// showAndTell opens the window and writes what it says, a line a picture.
func showAndTell(what []string) error {
	name, file := what[0], ""
	text, err := circuits.Source(name)
	if err != nil {
		file = name
		if text, err = os.ReadFile(file); err != nil {
			return err
		}
	}
	c, problems := circuit.Read(name, text)
	if err := problems.Err(); err != nil {
		return err
	}
	v, err := view.New(c, view.Options{File: name, Faults: what[1:], ReducedMotion: os.Getenv("UNDERLOAD_TEST_MOTION") == ""})
	if err != nil {
		return err
	}
	out := json.NewEncoder(os.Stdout)
	return run(v, Options{Title: name, File: file,
		Reread: func(v *view.View, text []byte) {
			c, problems := circuit.Read(name, text)
			if err := problems.Err(); err != nil {
				v.Reload(nil, err.Error())
				return
			}
			v.Reload(c, "")
		},
	}, func(v *view.View) { out.Encode(v.Report()) })
}

// window is the program under test in its window.
type window struct {
	*display
	cmd    *exec.Cmd
	told   chan view.Report
	report view.Report // the last one
}

// open starts the program and waits for its first picture.
func open(t *testing.T, d *display, what ...string) *window {
	t.Helper()
	w := &window{display: d, told: make(chan view.Report, 1000)}
	w.cmd = exec.Command(os.Args[0])
	w.cmd.Env = append(os.Environ(), "DISPLAY="+d.name, "LIBGL_ALWAYS_SOFTWARE=1", "UNDERLOAD_TEST_WINDOW="+strings.Join(what, "\n"))
	w.cmd.Stderr = os.Stderr
	out, err := w.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := w.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		w.cmd.Process.Kill()
		w.cmd.Wait()
	})
	go func() {
		defer close(w.told)
		lines := bufio.NewScanner(out)
		lines.Buffer(nil, 16<<20)
		for lines.Scan() {
			var r view.Report
			if err := json.Unmarshal(lines.Bytes(), &r); err != nil {
				fmt.Fprintf(os.Stderr, "the window says %q\n", lines.Text())
				continue
			}
			w.told <- r
		}
	}()
	w.Until("the first picture", func(r view.Report) bool { return r.Width > 0 })
	d.mapped()
	for x := 100.0; len(w.told) == 0; x = 1500 - x { // until it answers to the mouse
		d.move(x, 100)
		time.Sleep(50 * time.Millisecond)
	}
	return w
}

// Until waits for the window to say something; what it says last is kept.
func (w *window) Until(what string, says func(view.Report) bool) view.Report {
	w.t.Helper()
	for len(w.told) > 0 {
		w.report = <-w.told
	}
	if says(w.report) {
		return w.report
	}
	late := time.After(patience)
	for {
		select {
		case r, more := <-w.told:
			if !more {
				w.t.Fatalf("the window closed before it said %s", what)
			}
			if w.report = r; says(r) {
				return r
			}
		case <-late:
			w.Keep("late")
			said, _ := json.Marshal(w.report)
			w.t.Fatalf("the window never said %s; at last it said %s", what, said)
		}
	}
}

// Press, Move and Release are of the mouse. The window fills the display from its upper left corner.
func (w *window) Press(x, y float64) {
	w.Move(x, y)
	w.press(1)
}

func (w *window) Move(x, y float64) { w.move(x, y) }

func (w *window) Release(x, y float64) {
	w.Move(x, y)
	w.release(1)
}

func (w *window) Keep(name string) { w.keep("window-" + name) }

// The case, with mouse and eyes, in the window.
func TestWindow(t *testing.T) {
	d := newDisplay(t, 1440, 900)
	hands.Play(t, open(t, d, hands.Example))
}
