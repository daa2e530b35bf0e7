package view

// This file is what the screen says, for tests, for screen readers and for whoever drives a view without eyes.

import (
	"underload/sim/meter"
)

// Report is what is on the screen. It names no fault that the screen does not show.
type Report struct {
	Title         string            `json:"title"`
	Role          string            `json:"role"`
	Theme         string            `json:"theme"`
	Width         float64           `json:"width"` // px of the window
	Height        float64           `json:"height"`
	Instrument    string            `json:"instrument"`
	LeadA         string            `json:"lead_a,omitempty"`
	LeadB         string            `json:"lead_b,omitempty"`
	On            string            `json:"on,omitempty"` // the wire in the clamp
	Selected      string            `json:"selected,omitempty"`
	Lit           string            `json:"lit,omitempty"` // what the pointer lights up, in the drawing and the staircase
	Reading       *meter.Reading    `json:"reading"`
	Waiting       string            `json:"waiting,omitempty"` // why there is no reading, and what to do
	Staircase     *meter.Staircase  `json:"staircase,omitempty"`
	StairsWaiting string            `json:"stairs_waiting,omitempty"`
	Positions     map[string]string `json:"positions,omitempty"` // of switches
	Asked         []string          `json:"asked,omitempty"`     // loads asked to run
	Apart         []string          `json:"apart,omitempty"`
	Out           []string          `json:"out,omitempty"` // fuses
	AmbientC      float64           `json:"ambient_celsius"`
	Faults        []string          `json:"faults,omitempty"` // none while they are hidden
	Log           []Entry           `json:"log,omitempty"`
	Tab           string            `json:"tab"`
	Focus         string            `json:"focus,omitempty"`
	Dialog        string            `json:"dialog,omitempty"` // the menu or sheet that is open
	Note          string            `json:"note,omitempty"`   // one line of news
	Problems      string            `json:"problems,omitempty"`
	CanUndo       bool              `json:"can_undo"`
	CanRedo       bool              `json:"can_redo"`
	Controls      []Control         `json:"controls"` // in the order of Tab
	Points        []Place           `json:"points"`   // of the drawing, where they are now
}

// Control is something that can be pressed, and where, in px of the window.
type Control struct {
	ID    string  `json:"id"`
	Label string  `json:"label"`
	Off   string  `json:"off,omitempty"` // why it cannot be pressed now
	On    bool    `json:"on,omitempty"`  // chosen, or switched on
	X     float64 `json:"x"`             // of its middle
	Y     float64 `json:"y"`
	W     float64 `json:"w"`
	H     float64 `json:"h"`
}

// Place is a point of the circuit and where it is in the window.
type Place struct {
	Name string  `json:"name"`
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Far  string  `json:"far,omitempty"` // why a lead cannot get there now, and how it could
}
