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
	w.until("the first picture", func(r view.Report) bool { return r.Width > 0 })
	return w
}

// until waits for the window to say something; what it says last is kept.
func (w *window) until(what string, says func(view.Report) bool) {
	w.t.Helper()
	if says(w.report) {
		return
	}
	late := time.After(patience)
	for {
		select {
		case r, more := <-w.told:
			if !more {
				w.t.Fatalf("the window closed before it said %s", what)
			}
			if w.report = r; says(r) {
				return
			}
		case <-late:
			w.keep("late")
			said, _ := json.Marshal(w.report)
			w.t.Fatalf("the window never said %s; at last it said %s", what, said)
		}
	}
}

// click puts the mouse somewhere and clicks.
func (w *window) click(x, y float64) {
	w.move(x, y)
	w.press(1)
	w.release(1)
}
