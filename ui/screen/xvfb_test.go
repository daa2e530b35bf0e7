//go:build linux

package screen

// This file is a display without a screen: an Xvfb of a test's own, with a hand for its mouse and keys, and an eye.

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/jezek/xgb"
	"github.com/jezek/xgb/xproto"
	"github.com/jezek/xgb/xtest"
)

// needs is set where a test that cannot run has to fail instead of being left out.
const needs = "UNDERLOAD_TEST_DISPLAY"

// display is an X server with one screen.
type display struct {
	t      testing.TB
	name   string
	x      *xgb.Conn
	screen *xproto.ScreenInfo
	window xproto.Window // the one that was mapped
	codes  map[xproto.Keysym]xproto.Keycode
}

// newDisplay starts an X server that ends with the test.
func newDisplay(t testing.TB, width, height int) *display {
	t.Helper()
	server, err := exec.LookPath("Xvfb")
	if err != nil {
		if os.Getenv(needs) != "" {
			t.Fatal(err)
		}
		t.Skip("no Xvfb on this machine: the window is not tried")
	}
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(server, "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height), "-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{write}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
	write.Close()
	number, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		t.Fatalf("Xvfb did not start: %v", err)
	}
	d := &display{t: t, name: ":" + strings.TrimSpace(number)}
	xgb.Logger.SetOutput(io.Discard)
	if d.x, err = xgb.NewConnDisplay(d.name); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(d.x.Close)
	if err := xtest.Init(d.x); err != nil {
		t.Fatal(err)
	}
	setup := xproto.Setup(d.x)
	d.screen = setup.DefaultScreen(d.x)
	d.readKeys(setup)
	watch := []uint32{xproto.EventMaskSubstructureNotify}
	if err := xproto.ChangeWindowAttributesChecked(d.x, d.screen.Root, xproto.CwEventMask, watch).Check(); err != nil {
		t.Fatal(err)
	}
	return d
}

func (d *display) readKeys(setup *xproto.SetupInfo) {
	least := setup.MinKeycode
	m, err := xproto.GetKeyboardMapping(d.x, least, byte(setup.MaxKeycode-least+1)).Reply()
	if err != nil {
		d.t.Fatal(err)
	}
	d.codes = map[xproto.Keysym]xproto.Keycode{}
	for i, symbol := range m.Keysyms {
		code := least + xproto.Keycode(i/int(m.KeysymsPerKeycode))
		if _, known := d.codes[symbol]; !known {
			d.codes[symbol] = code
		}
	}
}

// mapped waits until a window is on the screen: what is clicked before goes nowhere.
func (d *display) mapped() {
	d.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		for event, _ := d.x.PollForEvent(); event != nil; event, _ = d.x.PollForEvent() {
			if shown, ok := event.(xproto.MapNotifyEvent); ok {
				d.window = shown.Window
				return
			}
		}
	}
	d.t.Fatal("no window came")
}

// resize gives the window another size, as a person does by its edge.
func (d *display) resize(width, height uint32) {
	d.t.Helper()
	what := uint16(xproto.ConfigWindowWidth | xproto.ConfigWindowHeight)
	if err := xproto.ConfigureWindowChecked(d.x, d.window, what, []uint32{width, height}).Check(); err != nil {
		d.t.Fatal(err)
	}
}

// fake sends an event as if from a device; all of them are served before it comes back.
func (d *display) fake(kind, detail byte, x, y int) {
	d.t.Helper()
	if err := xtest.FakeInputChecked(d.x, kind, detail, 0, d.screen.Root, int16(x), int16(y), 0).Check(); err != nil {
		d.t.Fatal(err)
	}
}

func (d *display) move(x, y float64) { d.fake(xproto.MotionNotify, 0, int(x+.5), int(y+.5)) }

// press and release are of the mouse: 1 the main button, 3 the other, 4 and 5 the wheel up and down.
func (d *display) press(button byte)   { d.fake(xproto.ButtonPress, button, 0, 0) }
func (d *display) release(button byte) { d.fake(xproto.ButtonRelease, button, 0, 0) }

// symbols are the X names of keys that are not letters.
var symbols = map[string]xproto.Keysym{"Tab": 0xff09, "Enter": 0xff0d, "Escape": 0xff1b, "Right": 0xff53, "Left": 0xff51,
	"Up": 0xff52, "Down": 0xff54, "F1": 0xffbe, "Ctrl": 0xffe3, "Shift": 0xffe1, "Space": 0x20, "Home": 0xff50, "End": 0xff57}

func (d *display) code(name string) byte {
	d.t.Helper()
	symbol, ok := symbols[name]
	if !ok {
		symbol = xproto.Keysym(name[0])
	}
	code, ok := d.codes[symbol]
	if !ok {
		d.t.Fatalf("the keyboard has no key %s", name)
	}
	return byte(code)
}

// key presses keys one after another and lets them go in reverse: key("Ctrl", "z").
func (d *display) key(names ...string) {
	d.t.Helper()
	for _, name := range names {
		d.fake(xproto.KeyPress, d.code(name), 0, 0)
	}
	for i := range names {
		d.fake(xproto.KeyRelease, d.code(names[len(names)-1-i]), 0, 0)
	}
}

// picture is what is on the screen.
func (d *display) picture() *image.RGBA {
	d.t.Helper()
	w, h := d.screen.WidthInPixels, d.screen.HeightInPixels
	got, err := xproto.GetImage(d.x, xproto.ImageFormatZPixmap, xproto.Drawable(d.screen.Root), 0, 0, w, h, 0xffffffff).Reply()
	if err != nil {
		d.t.Fatal(err)
	}
	p := image.NewRGBA(image.Rect(0, 0, int(w), int(h)))
	for i := 0; i+3 < len(got.Data) && i+3 < len(p.Pix); i += 4 {
		p.Pix[i], p.Pix[i+1], p.Pix[i+2], p.Pix[i+3] = got.Data[i+2], got.Data[i+1], got.Data[i], 255
	}
	return p
}

// repainted waits until the screen shows another picture.
func (d *display) repainted(before *image.RGBA) {
	d.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if !bytes.Equal(before.Pix, d.picture().Pix) {
			return
		}
	}
	d.t.Fatal("what was painted never came to the screen")
}

// keep writes what is on the screen into the folder that UNDERLOAD_PICTURES names, for a person to look at.
func (d *display) keep(name string) {
	d.t.Helper()
	folder := os.Getenv("UNDERLOAD_PICTURES")
	if folder == "" {
		return
	}
	time.Sleep(300 * time.Millisecond) // what was said is painted, and comes to the screen next
	var file bytes.Buffer
	err := png.Encode(&file, d.picture())
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name+".png"), file.Bytes(), 0o666)
	}
	if err != nil {
		d.t.Fatal(err)
	}
}

// patience is how long a test waits for what has to come; it is no measure of speed.
const patience = 20 * time.Second
