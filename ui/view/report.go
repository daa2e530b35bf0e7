package view

// This file is what the screen says, for tests, for screen readers and for whoever drives a view without eyes.

import (
	"bytes"
	"slices"

	"underload/sim/meter"
	"underload/ui/drawing"
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
	Time          *Moment           `json:"time,omitempty"` // nil while time is at rest
	Controls      []Control         `json:"controls"`       // in the order of Tab
	Points        []Place           `json:"points"`         // of the drawing, where they are now
}

// Moment is how time stands.
type Moment struct {
	Seconds float64  `json:"seconds"`
	Running bool     `json:"running"`
	Rate    float64  `json:"rate"` // seconds of the circuit in one of the person's
	Cues    []string `json:"cues,omitempty"`
	Scope   []Trace  `json:"scope,omitempty"`
}

// Trace is what a channel of the scope shows on its screen.
type Trace struct {
	Watch string  `json:"watch"`
	Unit  string  `json:"unit"`
	Now   float64 `json:"now"` // at the right end
	Least float64 `json:"least"`
	Most  float64 `json:"most"`
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

// Report is what the screen says.
func (v *View) Report() Report {
	v.compose()
	s := &v.now
	r := Report{
		Title: v.title(), Role: s.role.String(), Theme: [...]string{"light", "dark"}[v.theme], Width: v.width, Height: v.height,
		Instrument: s.with, LeadA: s.leads[0], LeadB: s.leads[1], On: s.on, Selected: s.picked.name, Lit: v.litName(),
		Reading: s.live.reading, Waiting: s.live.waiting, Staircase: s.live.shown, StairsWaiting: s.live.stairsWaiting,
		Positions: map[string]string{}, AmbientC: s.ambient(v.c), Log: s.log, Tab: s.tab, Focus: v.focus, Dialog: v.menu, Note: v.note,
		Problems: v.problems, CanUndo: len(v.past) > 0, CanRedo: len(v.future) > 0,
	}
	for _, l := range v.levers() {
		switch {
		case !l.isAsked:
			r.Positions[l.name] = l.at
		case l.at == "on":
			r.Asked = append(r.Asked, l.name)
		}
	}
	r.Apart, r.Out = v.apartAndOut()
	if s.role == SetFaults {
		for _, f := range s.bench.Faults() {
			r.Faults = append(r.Faults, f.Text)
		}
	}
	r.Time = v.moment()
	v.reportPlaces(&r)
	return r
}

func (v *View) moment() *Moment {
	c := v.clock
	if c == nil {
		return nil
	}
	m := &Moment{Seconds: c.run.Seconds(), Running: c.running, Rate: paces[c.pace].rate}
	for _, cue := range c.run.Cues() {
		m.Cues = append(m.Cues, cue.Says)
	}
	shown, ok := c.scope.shown()
	if !ok {
		return m
	}
	for i, ch := range shown.Channels() {
		if got, ok := shown.Measure(i, shown.From, shown.To); ok {
			m.Scope = append(m.Scope, Trace{ch.Name, ch.Unit, got.End, got.Min, got.Max})
		}
	}
	return m
}

func (v *View) apartAndOut() (apart, out []string) {
	b := v.now.bench
	for _, con := range v.c.Connectors {
		if len(con.Cavities) > 0 && b.IsApart(con.Cavities[0]) {
			apart = append(apart, con.Name)
		}
	}
	for _, p := range v.c.Parts {
		if b.State(p).Out {
			out = append(out, p.Name)
		} else if slices.ContainsFunc(p.Terminals, b.IsApart) {
			apart = append(apart, p.Name)
		}
	}
	return apart, out
}

// reportPlaces says where everything is that can be pressed or probed, in px of the window.
func (v *View) reportPlaces(r *Report) {
	m := v.plan.magnify
	for _, c := range v.controls {
		r.Controls = append(r.Controls, Control{ID: c.id, Label: c.label, Off: c.off, On: c.on, X: c.at.midX() * m, Y: c.at.midY() * m, W: c.at.w * m, H: c.at.h * m})
	}
	for _, h := range v.strip().Hits {
		if h.Kind != drawing.OnPoint {
			continue
		}
		x, y := v.toWindow(h.At)
		r.Points = append(r.Points, Place{Name: h.Name, X: x * m, Y: y * m, Far: v.far(v.now.bench, h.Name)})
	}
}

// SVG is the whole window as a picture.
func (v *View) SVG() ([]byte, error) {
	scene := v.Scene()
	var out bytes.Buffer
	err := scene.WriteSVG(&out, v.title(), 0, scene.Width)
	return out.Bytes(), err
}
