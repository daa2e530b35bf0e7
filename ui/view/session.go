package view

// This file keeps the work: as bytes for the host to store, and over a change of the circuit's file.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"underload/sim"
	"underload/sim/fault"
	"underload/ui/drawing"
)

// session is the work as it is kept. Faults of a hidden case are not in it.
type session struct {
	Version    int      `json:"underload_session"`
	Circuit    string   `json:"circuit"`
	Role       string   `json:"role"`
	Faults     []string `json:"faults,omitempty"`
	Setup      []string `json:"setup,omitempty"`
	Leads      []string `json:"leads"`
	Instrument string   `json:"instrument"`
	On         string   `json:"on,omitempty"`
	Probed     []string `json:"probed,omitempty"`
	Log        []Entry  `json:"log,omitempty"`
	Tab        string   `json:"tab"`
	Dark       bool     `json:"dark,omitempty"`
}

const sessionVersion = 1

func (v *View) session() session {
	s := &v.now
	kept := session{Version: sessionVersion, Circuit: v.title(), Role: s.role.String(), Setup: s.setup, Leads: s.leads[:], Instrument: s.with,
		On: s.on, Log: s.log, Tab: s.tab, Dark: v.theme == drawing.Dark}
	kept.Leads = slices.Clone(kept.Leads)
	for _, p := range v.c.Points() {
		if s.probed[p.Name] {
			kept.Probed = append(kept.Probed, p.Name)
		}
	}
	for _, f := range s.bench.Faults() {
		kept.Faults = append(kept.Faults, f.Text)
	}
	return kept
}

// Session is the state of the work, to be kept by the host.
func (v *View) Session() []byte {
	kept := v.session()
	if v.o.Hide {
		kept.Faults = nil
	}
	data, err := json.Marshal(kept)
	if err != nil {
		panic("view: a session cannot be written: " + err.Error()) // it has nothing that could not
	}
	return data
}

// Restore brings back what Session gave; what the circuit has no place for any more is left out and told. The error says
// that the bytes are no session of this circuit.
func (v *View) Restore(data []byte) error {
	var kept session
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&kept); err != nil {
		return fmt.Errorf("this is no kept session: %w", err)
	}
	if kept.Version != sessionVersion {
		return fmt.Errorf("the session is of form %d, and this program keeps form %d", kept.Version, sessionVersion)
	}
	if kept.Circuit != v.title() {
		return fmt.Errorf("the session is of another circuit: %s", kept.Circuit)
	}
	if v.o.Hide {
		kept.Faults = nil
		for _, f := range v.now.bench.Faults() {
			kept.Faults = append(kept.Faults, f.Text)
		}
	}
	if kept.Dark {
		v.SetTheme(drawing.Dark)
	}
	if lost := v.resume(kept); len(lost) > 0 {
		v.tell("No longer in the file: " + strings.Join(lost, ", ") + ".")
	}
	return nil
}

// resume brings a fresh state to where a session was, and lists what it has no place for.
func (v *View) resume(kept session) (lost []string) {
	v.stopTime()
	s := v.now
	if b, err := sim.New(v.c); err == nil {
		s.bench = b
	}
	s.setup, s.probed, s.picked, s.place = nil, nil, pick{}, ""
	lost = append(lost, v.redoFaults(&s, kept.Faults)...)
	lost = append(lost, v.redoSetup(&s, kept.Setup)...)
	s.role = Practise
	if kept.Role == SetFaults.String() && !v.o.Hide {
		s.role = SetFaults
	}
	for i := range min(2, len(kept.Leads)) {
		if name := kept.Leads[i]; name != "" && v.far(s.bench, name) == "" {
			s.leads[i] = name
		} else if name != "" {
			lost = append(lost, name)
			s.leads[i] = ""
		}
	}
	if slices.Contains(instruments(), kept.Instrument) {
		s.with = kept.Instrument
	}
	if s.on = kept.On; s.on != "" && v.c.Wire(s.on) == nil {
		lost, s.on = append(lost, s.on), ""
	}
	s.probed = map[string]bool{}
	for _, name := range kept.Probed {
		if _, err := v.c.Point(name); err == nil {
			s.probed[name] = true
		}
	}
	s.log = kept.Log
	if slices.Contains(tabs, kept.Tab) {
		s.tab = kept.Tab
	}
	v.past, v.future = nil, nil
	v.follow(&s)
	v.settle(s)
	v.easing.rest()
	return lost
}

// redoFaults lays what still fits, one by one.
func (v *View) redoFaults(s *state, lines []string) (lost []string) {
	for _, line := range lines {
		if err := onBench(s, func(b *sim.Bench) error { return b.Break(line) }); err != nil {
			lost = append(lost, line)
		}
	}
	return lost
}

// redoSetup sets what can still be set, in its order.
func (v *View) redoSetup(s *state, setup []string) (lost []string) {
	for _, text := range setup {
		err := onBench(s, func(b *sim.Bench) error {
			if name, ok := strings.CutSuffix(text, " apart"); ok {
				return b.Apart(name)
			}
			if name, ok := strings.CutSuffix(text, " together"); ok {
				return b.Together(name)
			}
			if isMending(text) {
				return b.Mend(text)
			}
			return b.Set(text)
		})
		if err != nil {
			lost = append(lost, text)
			continue
		}
		s.setup = append(s.setup, text)
	}
	return lost
}

// fits says whether a line is a fault of this circuit.
func (v *View) fits(line string) error {
	_, err := fault.Parse(v.c, line)
	return err
}

// relay lays other faults instead of those that are there: a fresh bench, brought to the same settings.
func (v *View) relay(s *state, lines []string) error {
	fresh, err := sim.New(v.c)
	if err != nil {
		return err
	}
	if err := fresh.Break(lines...); err != nil {
		return err
	}
	setup := slices.DeleteFunc(slices.Clone(s.setup), isMending) // what was mended then is not these faults
	s.bench, s.setup = fresh, nil
	v.redoSetup(s, setup)
	return nil
}
