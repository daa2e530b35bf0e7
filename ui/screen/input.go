package screen

// This file hands mouse, wheel and keys over to the view.

import (
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"underload/ui/view"
)

// input is what is held down, and where.
type input struct {
	x, y    float64                  // of the mouse, logical px
	repeats map[ebiten.Key]time.Time // when a key that is held will count again
	keys    []ebiten.Key
	fingers
}

// holding reports whether time alone will make something of what is held.
func (in *input) holding() bool { return len(in.repeats) > 0 || in.mayGrowLong() }

func (in *input) read(v *view.View, scale float64) {
	for _, down := range in.touched() {
		in.touch(v, time.Now(), down)
	}
	in.wait(v, time.Now())
	if len(in.down) == 0 {
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
		v.Pointer(view.Pointer{Kind: view.Wheel, X: x, Y: y, DX: -dx * notch, DY: -dy * notch, Ctrl: held(ebiten.KeyControl)})
	}
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
			v.Key(view.Key{Name: string(sign), Shift: held(ebiten.KeyShift)})
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

// held reports whether a key that changes others is down, or was for a moment since the last round: fast hands, or a slow
// machine, have let it go before the key that it belongs to is looked at.
func held(key ebiten.Key) bool {
	if ebiten.IsKeyPressed(key) {
		return true
	}
	for _, side := range sides[key] { // only a key of one side is known to have been let go
		if inpututil.IsKeyJustReleased(side) {
			return true
		}
	}
	return false
}

var sides = map[ebiten.Key][]ebiten.Key{
	ebiten.KeyControl: {ebiten.KeyControlLeft, ebiten.KeyControlRight}, ebiten.KeyShift: {ebiten.KeyShiftLeft, ebiten.KeyShiftRight},
	ebiten.KeyAlt: {ebiten.KeyAltLeft, ebiten.KeyAltRight}, ebiten.KeyMeta: {ebiten.KeyMetaLeft, ebiten.KeyMetaRight},
}

func (in *input) press(v *view.View, key ebiten.Key) {
	name := keyNames[key]
	if own := ebiten.KeyName(key); name == "" || len(name) == 1 && own != "" {
		name = own // as the person's own keyboard has it
	}
	ctrl := held(ebiten.KeyControl) || held(ebiten.KeyMeta)
	if name == "" || written(name) && !ctrl {
		return
	}
	v.Key(view.Key{Name: name, Shift: held(ebiten.KeyShift), Alt: held(ebiten.KeyAlt), Ctrl: ctrl})
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
