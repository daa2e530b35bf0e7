//go:build linux

package screen

// This file tries the window itself: the program in a process of its own, on a display of the test's own, with a real
// mouse and real keys as far as it can tell.

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
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
	v, err := view.New(c, view.Options{File: name, Faults: what[1:], ReducedMotion: os.Getenv("UNDERLOAD_TEST_MOTION") == "",
		Shelf: func(string) []view.Shelved { return []view.Shelved{{Name: "other.yaml", Title: "Another one"}} }})
	if err != nil {
		return err
	}
	out := json.NewEncoder(os.Stdout)
	read := func(name string, text []byte) (*view.View, error) {
		c, problems := circuit.Read(name, text)
		if err := problems.Err(); err != nil {
			return nil, err
		}
		return view.New(c, view.Options{File: name, ReducedMotion: true})
	}
	return run(v, Options{Circuit: Opened{Name: name, Path: file}, Work: os.Getenv("UNDERLOAD_TEST_WORK"), Open: read,
		Fetch: func(s view.Shelved, beside string) (string, []byte, error) {
			path := filepath.Join(filepath.Dir(beside), s.Name)
			text, err := os.ReadFile(path)
			return path, text, err
		},
		Reread: func(v *view.View, name string, text []byte) {
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
func open(t testing.TB, d *display, what ...string) *window {
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

// push clicks a control.
func (w *window) push(id string) {
	w.t.Helper()
	w.Until("control "+id, func(r view.Report) bool {
		i := slices.IndexFunc(r.Controls, func(c view.Control) bool { return c.ID == id && c.Off == "" })
		if i < 0 {
			return false
		}
		w.Press(r.Controls[i].X, r.Controls[i].Y)
		w.Release(r.Controls[i].X, r.Controls[i].Y)
		return true
	})
}

func (w *window) place(name string) (at view.Place) {
	w.t.Helper()
	w.Until("point "+name, func(r view.Report) bool {
		i := slices.IndexFunc(r.Points, func(p view.Place) bool { return p.Name == name })
		if i >= 0 {
			at = r.Points[i]
		}
		return i >= 0
	})
	return at
}

// The case, with mouse and eyes, in the window.
func TestWindow(t *testing.T) {
	d := newDisplay(t, 1440, 900)
	hands.Play(t, open(t, d, hands.Example))
}

// Keys, wheel, another size, a file that is saved, and a picture that is kept.
func TestWindowByOtherMeans(t *testing.T) {
	d := newDisplay(t, 1440, 900)
	file := filepath.Join(t.TempDir(), "my.yaml")
	text, err := circuits.Source(hands.Example)
	if err != nil {
		t.Fatal(err)
	}
	write := func(text string) {
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(string(text))
	w := open(t, d, file)

	w.key("Tab")
	first := w.Until("something in focus", func(r view.Report) bool { return r.Focus != "" }).Focus
	w.key("Tab")
	w.Until("the next in focus", func(r view.Report) bool { return r.Focus != first })
	w.key("Shift", "Tab")
	w.Until("the first again", func(r view.Report) bool { return r.Focus == first })
	w.key("7")
	w.Until("the load lamp", func(r view.Report) bool { return r.Instrument == "load-lamp" })
	w.key("Ctrl", "z")
	w.Until("the instrument before", func(r view.Report) bool { return r.Instrument == "volts" })
	w.key("F1")
	w.Until("the keys explained", func(r view.Report) bool { return r.Dialog == "help" })
	w.Keep("help")
	w.key("Escape")
	w.Until("the help gone", func(r view.Report) bool { return r.Dialog == "" })
	w.key("Shift", "/")
	w.Until("the keys explained again", func(r view.Report) bool { return r.Dialog == "help" })
	w.key("Escape")
	w.Until("the help gone again", func(r view.Report) bool { return r.Dialog == "" })

	w.key("k")
	w.Until("time that runs", func(r view.Report) bool { return r.Time != nil && r.Time.Running && r.Time.Seconds > 0.2 })
	w.key("Space")
	held := w.Until("time that is held", func(r view.Report) bool { return r.Time != nil && !r.Time.Running })
	time.Sleep(500 * time.Millisecond) // whatever was asked for before is painted by now
	for len(w.told) > 0 {
		held = <-w.told
	}
	time.Sleep(500 * time.Millisecond)
	if n := len(w.told); n > 0 {
		t.Errorf("held time is painted %d times in half a second", n)
	}
	w.key(".")
	w.Until("a step on", func(r view.Report) bool { return r.Time != nil && r.Time.Seconds > held.Time.Seconds })
	w.key(",")
	w.Until("a step back", func(r view.Report) bool { return r.Time != nil && r.Time.Seconds < held.Time.Seconds+1e-6 })
	w.push("time-rest")
	w.Until("time at rest", func(r view.Report) bool { return r.Time == nil })

	before := w.place("PC1.1")
	w.Move(before.X+40, before.Y)
	w.press(4)
	w.release(4)
	w.Until("a larger drawing", func(view.Report) bool { return w.report.Points != nil && w.place("PC1.1") != before })

	w.resize(800, 600)
	w.Until("another size", func(r view.Report) bool { return r.Width == 800 && r.Height == 600 })
	time.Sleep(500 * time.Millisecond) // that picture is there before the next is waited for
	w.Keep("800")

	drawn := w.picture()
	write(strings.Replace(string(text), "title: Orchard sprayer truck", "title: Saved anew", 1))
	w.Until("the file's new title", func(r view.Report) bool { return r.Title == "Saved anew" })
	w.repainted(drawn) // nothing but the file has happened: no event helps the picture to the screen
	drawn = w.picture()
	write("underload: 1\nparts:\n  LAMP: {is: lmp}\n")
	w.Until("the line and column of a mistake", func(r view.Report) bool { return strings.Contains(r.Problems, "my.yaml:3:") })
	w.repainted(drawn)
	w.Keep("mistake")
	write(string(text))
	w.Until("the mistake mended", func(r view.Report) bool { return r.Problems == "" && r.Title != "Saved anew" })

	w.push("more")
	w.push("sound")
	w.Until("whether there is sound", func(r view.Report) bool {
		return strings.Contains(r.Note, "are heard") || strings.Contains(r.Note, "no sound")
	})
	w.push("more")
	w.push("save-png")
	w.Until("where it was saved", func(r view.Report) bool { return strings.Contains(r.Note, "my.png") })
	saved := filepath.Join(filepath.Dir(file), "my.png")
	var picture image.Image
	for end := time.Now().Add(patience); picture == nil && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if file, err := os.Open(saved); err == nil {
			picture, _ = png.Decode(file)
			file.Close()
		}
	}
	if picture == nil || picture.Bounds().Dx() != 800 || picture.Bounds().Dy() != 600 {
		t.Errorf("the picture that was saved is %v", picture)
	}
}

// What was done is kept when the window is closed, and offered when it is opened again; another circuit of the folder is
// opened from the list, and its file is then the one that is followed.
func TestWindowKeepsWork(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("UNDERLOAD_TEST_WORK", filepath.Join(folder, "work"))
	text, err := circuits.Source(hands.Example)
	if err != nil {
		t.Fatal(err)
	}
	mine, other := filepath.Join(folder, "mine.yaml"), filepath.Join(folder, "other.yaml")
	write := func(file, title string) {
		text := strings.Replace(string(text), "title: Orchard sprayer truck", "title: "+title, 1)
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(mine, "Mine")
	write(other, "Another")
	d := newDisplay(t, 1440, 900)
	w := open(t, d, mine)
	at := w.place("PC1.1")
	w.push("lead-a")
	w.Until("lead A in hand", func(r view.Report) bool { return r.Focus == "lead-a" })
	w.Press(at.X, at.Y)
	w.Release(at.X, at.Y)
	w.Until("lead A placed", func(r view.Report) bool { return r.LeadA == "PC1.1" })
	kept := func() []string { // what is still being written is not kept yet
		all, _ := filepath.Glob(filepath.Join(folder, "work", "*.json"))
		return all
	}
	for end := time.Now().Add(patience); len(kept()) == 0 && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
	}
	if all := kept(); len(all) != 1 {
		t.Fatalf("kept: %v", all)
	}
	w.cmd.Process.Kill()
	w.cmd.Wait()

	w = open(t, d, mine)
	if r := w.Until("the first picture", func(r view.Report) bool { return true }); r.LeadA != "" {
		t.Error("the work was brought back unasked")
	}
	w.Keep("offer")
	w.push("take-up")
	w.Until("the work as it was", func(r view.Report) bool { return r.LeadA == "PC1.1" })
	w.key("Ctrl", "o")
	w.Until("the list of circuits", func(r view.Report) bool { return r.Dialog == "shelf" })
	w.Keep("shelf")
	w.push("open:other.yaml")
	w.Until("the other circuit", func(r view.Report) bool { return r.Title == "Another" && r.LeadA == "" })
	write(mine, "Mine, saved anew")
	write(other, "Another, saved anew")
	w.Until("what the other circuit's file has become", func(r view.Report) bool { return r.Title == "Another, saved anew" })
}

// How much of a core a window takes while nothing happens.
func BenchmarkIdle(b *testing.B) {
	w := open(b, newDisplay(b, 1440, 900), hands.Example)
	time.Sleep(time.Second) // to rest
	for b.Loop() {
		before := w.ticks()
		time.Sleep(5 * time.Second)
		b.ReportMetric(float64(w.ticks()-before)/5, "%core")
	}
}

// ticks is how long the window has used a core, in hundredths of a second.
func (w *window) ticks() (sum int) {
	w.t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", w.cmd.Process.Pid))
	if err != nil {
		w.t.Fatal(err)
	}
	for _, field := range strings.Fields(string(text[bytes.LastIndexByte(text, ')')+1:]))[11:13] { // utime and stime
		n, err := strconv.Atoi(field)
		if err != nil {
			w.t.Fatal(err)
		}
		sum += n
	}
	return sum
}
