package screen

// This file hands pointer, fingers, wheel and keys over to the view.

import (
	"math"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"underload/ui/view"
)

// Fingers: a touch that stays in its place for so long means the other button.
const (
	longPress = 500 * time.Millisecond
	steady    = 8.0 // logical px that a finger may shake
)

// input is what is held down, and where.
type input struct {
	x, y    float64                  // of the mouse, logical px
	repeats map[ebiten.Key]time.Time // when a key that is held will count again
	fingers []finger
	keys    []ebiten.Key
}

// finger is a touch; of two, how far they are apart is what counts.
type finger struct {
	id             ebiten.TouchID
	x, y           float64
	firstX, firstY float64
	since          time.Time
	long           bool // it has counted as the other button, or has moved, or was joined by another
}

// holding reports whether time alone will make something of what is held.
func (in *input) holding() bool {
	if len(in.repeats) > 0 {
		return true
	}
	return len(in.fingers) == 1 && !in.fingers[0].long
}

func (in *input) read(v *view.View, scale float64) {
	in.touch(v, scale)
	if len(in.fingers) == 0 {
		in.mouse(v, scale)
	}
	in.keyboard(v)
}

var buttons = []ebiten.MouseButton{ebiten.MouseButtonLeft, ebiten.MouseButtonRight, ebiten.MouseButtonMiddle}

func (in *input) mouse(v *view.View, scale float64) {
	px, py := ebiten.CursorPositionF()
	x, y := px/scale, py/scale
	if x != in.x || y != in.y {
		in.x, in.y = x, y
		v.Pointer(view.Pointer{Kind: view.Move, X: x, Y: y})
	}
	for i, button := range buttons {
		at := view.Pointer{X: x, Y: y, Button: i}
		if inpututil.IsMouseButtonJustPressed(button) {
			at.Kind = view.Press
			v.Pointer(at)
		}
		if inpututil.IsMouseButtonJustReleased(button) {
			at.Kind = view.Release
			v.Pointer(at)
		}
	}
	if dx, dy := ebiten.Wheel(); dx != 0 || dy != 0 {
		v.Pointer(view.Pointer{Kind: view.Wheel, X: x, Y: y, DX: -dx * notch, DY: -dy * notch, Ctrl: ebiten.IsKeyPressed(ebiten.KeyControl)})
	}
}

// touch follows one finger as a pointer, and two as a pinch.
func (in *input) touch(v *view.View, scale float64) {
	before := in.fingers
	in.fingers = in.fingers[len(in.fingers):]
	for _, id := range ebiten.AppendTouchIDs(nil) {
		px, py := ebiten.TouchPosition(id)
		f := finger{id: id, x: float64(px) / scale, y: float64(py) / scale, since: time.Now()}
		f.firstX, f.firstY = f.x, f.y
		for _, old := range before {
			if old.id == id {
				f.firstX, f.firstY, f.since, f.long = old.firstX, old.firstY, old.since, old.long
			}
		}
		in.fingers = append(in.fingers, f)
	}
	switch {
	case len(before) == 0 && len(in.fingers) >= 1:
		in.tell(v, view.Press, in.fingers[0], 0)
	case len(before) == 1 && len(in.fingers) == 1:
		in.one(v, before[0])
	case len(before) == 1 && len(in.fingers) > 1:
		in.tell(v, view.Release, before[0], 0)
	case len(before) > 1 && len(in.fingers) > 1:
		pinch(v, before, in.fingers)
	case len(before) == 1:
		in.tell(v, view.Release, before[0], 0)
		v.Pointer(view.Pointer{Kind: view.Leave, Touch: true})
	}
	if len(in.fingers) > 1 || len(before) > 1 {
		for i := range in.fingers {
			in.fingers[i].long = true
		}
	}
}

// one follows the only finger.
func (in *input) one(v *view.View, before finger) {
	f := &in.fingers[0]
	if f.x != before.x || f.y != before.y {
		in.tell(v, view.Move, *f, 0)
	}
	if math.Hypot(f.x-f.firstX, f.y-f.firstY) > steady {
		f.long = true
	}
	if !f.long && time.Since(f.since) >= longPress {
		f.long = true
		in.tell(v, view.Press, *f, 1)
		in.tell(v, view.Release, *f, 1)
	}
}

func (in *input) tell(v *view.View, kind view.PointerKind, f finger, button int) {
	v.Pointer(view.Pointer{Kind: kind, X: f.x, Y: f.y, Touch: true, Button: button})
}

func pinch(v *view.View, before, now []finger) {
	apart := func(f []finger) float64 { return max(1, math.Hypot(f[0].x-f[1].x, f[0].y-f[1].y)) }
	middle := func(f []finger) (x, y float64) { return (f[0].x + f[1].x) / 2, (f[0].y + f[1].y) / 2 }
	x0, y0 := middle(before)
	x, y := middle(now)
	scale := apart(now) / apart(before)
	if x == x0 && y == y0 && scale == 1 {
		return
	}
	v.Pointer(view.Pointer{Kind: view.Pinch, X: x, Y: y, DX: x - x0, DY: y - y0, Scale: scale, Touch: true})
}

// A key that is held counts again after a while, and then often.
const (
	firstRepeat = 400 * time.Millisecond
	nextRepeat  = 40 * time.Millisecond
)

func (in *input) keyboard(v *view.View) {
	if in.repeats == nil {
		in.repeats = map[ebiten.Key]time.Time{}
	}
	now := time.Now()
	in.keys = inpututil.AppendJustPressedKeys(in.keys[:0])
	for _, key := range in.keys {
		in.press(v, key)
		if keyNames[key] != "" {
			in.repeats[key] = now.Add(firstRepeat)
		}
	}
	for _, sign := range ebiten.AppendInputChars(nil) {
		if written(string(sign)) {
			v.Key(view.Key{Name: string(sign), Shift: ebiten.IsKeyPressed(ebiten.KeyShift)})
		}
	}
	for key, due := range in.repeats {
		switch {
		case !ebiten.IsKeyPressed(key):
			delete(in.repeats, key)
		case !now.Before(due) && repeating[key]:
			in.press(v, key)
			in.repeats[key] = now.Add(nextRepeat)
		case !repeating[key]:
			delete(in.repeats, key)
		}
	}
}

func (in *input) press(v *view.View, key ebiten.Key) {
	name := keyNames[key]
	if own := ebiten.KeyName(key); name == "" || len(name) == 1 && own != "" {
		name = own // as the person's own keyboard has it
	}
	ctrl := ebiten.IsKeyPressed(ebiten.KeyControl) || ebiten.IsKeyPressed(ebiten.KeyMeta)
	if name == "" || written(name) && !ctrl {
		return
	}
	v.Key(view.Key{Name: name, Shift: ebiten.IsKeyPressed(ebiten.KeyShift), Alt: ebiten.IsKeyPressed(ebiten.KeyAlt), Ctrl: ctrl})
}

// written reports whether a sign is taken as it is written, since it lies on another key, with Shift or without, on
// every keyboard: neither letter nor digit.
func written(sign string) bool {
	r, size := utf8.DecodeRuneInString(sign)
	return size == len(sign) && r > ' ' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
}

// keyNames are the names of keys that do not write what they are called.
var keyNames = map[ebiten.Key]string{
	ebiten.KeyTab: "Tab", ebiten.KeyEnter: "Enter", ebiten.KeyNumpadEnter: "Enter", ebiten.KeyEscape: "Escape", ebiten.KeySpace: "Space",
	ebiten.KeyBackspace: "Backspace", ebiten.KeyDelete: "Delete", ebiten.KeyUp: "Up", ebiten.KeyDown: "Down", ebiten.KeyLeft: "Left",
	ebiten.KeyRight: "Right", ebiten.KeyPageUp: "PageUp", ebiten.KeyPageDown: "PageDown", ebiten.KeyHome: "Home", ebiten.KeyEnd: "End",
	ebiten.KeyF1: "F1", ebiten.KeyNumpadAdd: "+", ebiten.KeyNumpadSubtract: "-", ebiten.KeyNumpadDecimal: ".",
	ebiten.KeyPeriod: ".", ebiten.KeyComma: ",", ebiten.KeyMinus: "-", ebiten.KeyEqual: "=", ebiten.KeySlash: "/",
}

// repeating are the keys that count again while they are held.
var repeating = map[ebiten.Key]bool{ebiten.KeyTab: true, ebiten.KeyUp: true, ebiten.KeyDown: true, ebiten.KeyLeft: true, ebiten.KeyRight: true,
	ebiten.KeyPageUp: true, ebiten.KeyPageDown: true, ebiten.KeyBackspace: true, ebiten.KeyDelete: true}

func init() {
	for i := range 26 {
		keyNames[ebiten.KeyA+ebiten.Key(i)] = string(rune('a' + i))
	}
	for i := range 10 {
		digit := string(rune('0' + i))
		keyNames[ebiten.KeyDigit0+ebiten.Key(i)] = digit
		keyNames[ebiten.KeyNumpad0+ebiten.Key(i)] = digit
	}
}
