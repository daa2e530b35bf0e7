// Package screen is the thin layer between a view and a person: it paints the view's scene with Ebiten, in a window or in
// a browser's page, and hands over what pointer, fingers and keys do. It knows no circuit and decides nothing.
package screen

// This file opens the window and paces it: nothing runs while nothing happens.

import (
	"fmt"
	"sync/atomic"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"underload/ui/drawing"
	"underload/ui/view"
)

// Options are what a window is opened with.
type Options struct {
	Circuit Opened
	Work    string // the folder where work is kept; empty: nowhere
	// Open makes a view of a circuit file's text. The error is what is wrong with it, a line each.
	Open func(name string, text []byte) (*view.View, error)
	// Reread tells a view that the text of its file has changed.
	Reread func(v *view.View, name string, text []byte)
	// Fetch reads what stands on a view's shelf, beside the circuit of that path: its text, and its path where it is a
	// file.
	Fetch func(s view.Shelved, beside string) (path string, text []byte, err error)
}

// Opened is the circuit that is in the window.
type Opened struct {
	Name string // as people read it: orchard.yaml
	Path string // of its file, watched while it is open, its folder where things are saved; empty: an example, or a file that was dropped
	Case string // another for other faults that lie on it from the start: work on one case is not offered over another
}

// The window's size at first and at least, in logical px.
const (
	firstWidth, firstHeight = 1440, 900
	leastWidth, leastHeight = 640, 480
)

func title(name string) string { return name + " – underload" }

// frame is the least time between two pictures while something moves.
const frame = time.Second / 60

// settle is for how many rounds after a picture the next is not waited for. Ebiten hands the same picture to the screen
// a few times, and while it does, the thread that draws can take an event off the X server's line without waking the one
// that waits for it.
const settle = 8

// Run shows a view until its window is closed. It has to be called from main's own goroutine, once in a process.
func Run(v *view.View, o Options) error { return run(v, o, nil) }

// run is Run, with somebody who is told of each picture.
func run(v *view.View, o Options, painted func(*view.View)) error {
	ebiten.SetWindowTitle(title(o.Circuit.Name))
	ebiten.SetWindowSize(firstWidth, firstHeight)
	ebiten.SetWindowSizeLimits(leastWidth, leastHeight, -1, -1)
	ebiten.SetWindowResizingMode(ebiten.WindowResizingModeEnabled)
	ebiten.SetScreenClearedEveryFrame(false)
	//lint:ignore SA1019 it is the only mode that sleeps until something happens; the one advised instead wakes 60 times a second
	ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum)
	ebiten.SetTPS(ebiten.SyncWithFPS) // or the second of two quick events would wait for a third
	g := newGame(v, o)
	g.onto = painted
	g.host.begin()
	go g.firstRounds()
	defer g.host.rests()
	err := ebiten.RunGameWithOptions(g, &ebiten.RunGameOptions{X11ClassName: "Underload", X11InstanceName: "underload"})
	if err != nil && g.painted == nil {
		return fmt.Errorf("%w: %w", ErrNoWindow, err)
	}
	return err
}

// wake asks for one more round.
func wake() {
	//lint:ignore SA1019 belongs to the mode above
	ebiten.ScheduleFrame()
	woken()
}

// firstRounds asks for rounds until some have been: while the window is being opened, what is asked for gets lost.
func (g *game) firstRounds() {
	for g.rounds.Load() < settle {
		time.Sleep(frame)
		wake()
	}
}

// game is the view in Ebiten's hands.
type game struct {
	view    *view.View
	options Options
	opened  Opened // what is in the window now
	painter *painter
	input   input
	host    *host
	news    chan func() // what other goroutines have to tell, done between two events
	size    [2]float64  // of the window, logical px
	scale   float64     // the device's pixels to a logical one
	painted *drawing.Scene
	picture string // the name under which the next picture is to be saved
	busy    bool   // something moves by itself
	quiet   int    // rounds since the last picture
	rounds  atomic.Int64
	then    time.Time
	onto    func(*view.View) // told of each picture; may be nil
}

func newGame(v *view.View, o Options) *game {
	g := &game{view: v, options: o, opened: o.Circuit, news: make(chan func(), 16), scale: 1}
	g.host = newHost(g)
	return g
}

// tell has something done on the view between two events; any goroutine may call it.
func (g *game) tell(do func()) {
	g.news <- do
	wake()
}

// LayoutF takes the window's size in logical px and gives that of the picture in pixels of the device.
func (g *game) LayoutF(width, height float64) (float64, float64) {
	scale := ebiten.Monitor().DeviceScaleFactor()
	if g.size != [2]float64{width, height} || g.scale != scale {
		g.size, g.scale = [2]float64{width, height}, scale
		g.view.Resize(width, height)
		g.painted = nil
	}
	return width * scale, height * scale
}

// Layout is never called, since there is LayoutF.
func (g *game) Layout(width, height int) (int, int) { return width, height }

// Update hands over what has happened since the last round.
func (g *game) Update() error {
	g.pace()
	g.rounds.Add(1)
	for len(g.news) > 0 {
		(<-g.news)()
	}
	g.input.read(g.view, g.scale)
	g.dropped()
	now := time.Now()
	passed := 0.0
	if g.busy {
		passed = min(now.Sub(g.then).Seconds(), 0.1)
	}
	g.then = now
	g.busy = g.view.Tick(passed)
	for _, want := range g.view.Want() {
		switch want.Kind {
		case view.SavePNG:
			g.picture, g.painted = want.Name, nil
		case view.Play:
			g.host.play(want.Sound)
		case view.OpenShelved:
			g.fetch(view.Shelved{Name: want.Name, Example: want.Text == "example"})
		default:
			g.host.want(want)
		}
	}
	if g.quiet++; g.quiet == settle {
		g.host.rests()
	}
	if g.busy || g.input.holding() || g.quiet < settle {
		wake()
	}
	return nil
}

// pace keeps what moves, and a hasty mouse, to the speed of a screen.
func (g *game) pace() {
	if waits {
		if left := frame - time.Since(g.then); left > 0 {
			time.Sleep(left)
		}
	}
}

// Draw paints the scene if it is another one than the last.
func (g *game) Draw(on *ebiten.Image) {
	scene := g.view.Scene()
	if scene == g.painted && !g.view.Changed() {
		return
	}
	if g.painter == nil {
		g.painter = newPainter()
	}
	g.painter.paint(on, scene, g.scale)
	g.painted, g.quiet = scene, 0
	wake()
	if g.picture != "" {
		g.host.want(view.Want{Kind: view.SaveFile, Name: g.picture, Data: pngFile(on)})
		g.picture = ""
	}
	g.host.painted()
	if g.onto != nil {
		g.onto(g.view)
	}
}
