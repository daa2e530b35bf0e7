package view

// This file is what the view and its host say to one another: options, pointer, keys, and what the view asks for.

import "underload/ui/drawing"

// Options are what a view is opened with.
type Options struct {
	File          string // the name of the circuit file, for titles and for names of files that are saved
	Theme         drawing.Theme
	Touch         bool     // fingers: targets of 44 px
	Faults        []string // laid over the circuit from the start, lines of the fault grammar
	Hide          bool     // hand the seat to a trainee: the faults are never shown and cannot be changed
	ReducedMotion bool     // everything at once, nothing moves by itself
	// Shelf lists what of a kind (circuit, faults, log) can be opened by its name; nil: nothing.
	Shelf func(kind string) []Shelved
	// Chooser says that the host can let a person choose a file of the device.
	Chooser bool
}

// Shelved is a file that the host can open by its name.
type Shelved struct {
	Name    string // of the file, or of the example
	Title   string // what is in it, in words; may be empty
	Example bool   // it came with the program
}

// PointerKind says what a pointer did.
type PointerKind int

// What a pointer can do.
const (
	Press PointerKind = iota
	Move
	Release
	Wheel // DX, DY: how far it was turned, px; up is negative
	Pinch // Scale: by how much two fingers have parted since the last event; DX, DY: how far they moved together
	Leave // the pointer has left the window, or is not meant any more: what it holds is let go without effect
)

// Pointer is one event of a mouse, pen or finger, in logical px of the window.
type Pointer struct {
	Kind   PointerKind
	X, Y   float64
	DX, DY float64
	Scale  float64
	Touch  bool
	Button int  // 0 is the main one; 1 the other, or a finger that stays: what is here; 2 the middle: moves the drawing
	Ctrl   bool // held while the wheel is turned: zoom
}

// Key is a key that was pressed. Letters and digits are named by themselves in lower case, others Tab, Enter, Escape,
// Space, Backspace, Delete, Up, Down, Left, Right, PageUp, PageDown, Home, End, F1.
type Key struct {
	Name             string
	Ctrl, Shift, Alt bool
}

// WantKind says what a view asks of its host.
type WantKind int

// What a view can ask for.
const (
	CopyText    WantKind = iota // Text to the clipboard
	SaveFile                    // Data under Name, wherever the person chooses
	SavePNG                     // what is on the screen, as a picture under Name
	OpenFile                    // let the person choose a file, then call Open with it; Text says which kind: log, faults, circuit
	Play                        // let Sound be heard, once
	OpenShelved                 // open what stands on the shelf under Name; Text is "example" where it is one
	Store                       // keep Data (see View.Session), to be given to View.Restore next time
)

// Want is one thing asked of the host.
type Want struct {
	Kind  WantKind
	Name  string
	Text  string
	Data  []byte
	Sound Sound
}

// Sound is a short sound.
type Sound int

// The sounds.
const (
	ClickIn  Sound = iota // a relay pulls in
	ClickOut              // a relay lets go
	Pop                   // a fuse
	Tone                  // anything else that is noticed
)

// Role is the seat a person sits in.
type Role int

// The roles.
const (
	Practise  Role = iota // the faults are hidden; only what was probed is drawn as known
	SetFaults             // everything is shown, and faults can be laid
)

// String is the role as it is stored and reported.
func (r Role) String() string { return [...]string{"practise", "set faults"}[r] }
