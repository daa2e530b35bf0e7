package fault

// This file is the fault sheet: what an example teaches, as data. A sheet lists faults of one circuit, each with the
// ordinary tests that it passes and with the good sequence of tests that finds it.

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/circuit/spelling"
)

// Sheet is a file of faults of one circuit.
type Sheet struct {
	File    string
	Circuit string   // the circuit it belongs to, by its file's name without the ending
	State   []string // brings the circuit to the state of the complaint: "KEY=run", "apart C7"
	Table   []Row    // the same tests for every fault
	Entries []Entry  // in the order of the file
	LeftOut []LeftOut
}

// Entry is one fault of a sheet, which may be laid by several lines.
type Entry struct {
	ID       string
	Says     string // what it is, in one sentence without a full stop
	Headline bool   // the fault of the complaint; one in each sheet
	Faults   []Fault
	State    []string // in place of the sheet's
	Passes   []Pass
	Sequence []Step
	Like     []Like // faults that the sequence does not tell from this one
	Pos      circuit.Pos
}

// Test is one reading to be taken: an instrument, its leads, and the state it is taken in.
type Test struct {
	With, Red, Black, On string
	State                []string // in place of the fault's
	Pos                  circuit.Pos
}

// Row is a test that is made for every fault of a sheet.
type Row struct {
	Name string
	Test
}

// Pass is an ordinary test that the fault passes: it looks as in the healthy circuit, and misleads.
type Pass struct {
	Test
	Looks string // what is seen, where that is words: bright
	Fools string // what a person then believes
}

// Step is one test of the good sequence.
type Step struct {
	Test
	Tells     string // what a person learns from it
	Looks     string // words that the reading has
	Reads     *Amount
	Kicks     *Amount  // what a meter that keeps the extremes catches
	AsHealthy bool     // it reads as in the healthy circuit
	Clears    []string // faults of the sheet under which it would read otherwise
	Minutes   float64  // with getting there; common practice, no source
}

// Amount is a figure with the unit that readings give it in: V, A, ohm, N.
type Amount struct {
	Value float64
	Unit  string
}

// Like is a fault that a sequence does not tell from its own, and why.
type Like struct{ ID, Because string }

// LeftOut is something that the vehicle could teach and the sheet does not.
type LeftOut struct{ What, Because string }

// Entry finds a fault by its id, or gives the nearest id in the error.
func (s *Sheet) Entry(id string) (*Entry, error) {
	for i := range s.Entries {
		if s.Entries[i].ID == id {
			return &s.Entries[i], nil
		}
	}
	return nil, s.noSuch(id)
}

func (s *Sheet) noSuch(id string) error {
	ids := s.IDs()
	if near, ok := spelling.Nearest(id, ids); ok {
		return fmt.Errorf("there is no fault %s in %s: did you mean %s?", short(id), s.File, near)
	}
	return fmt.Errorf("there is no fault %s in %s: it has %s", short(id), s.File, strings.Join(ids, ", "))
}

// IDs lists the faults of the sheet in its order.
func (s *Sheet) IDs() []string {
	ids := make([]string, len(s.Entries))
	for i, e := range s.Entries {
		ids[i] = e.ID
	}
	return ids
}

// Headline is the fault of the complaint.
func (s *Sheet) Headline() *Entry {
	for i := range s.Entries {
		if s.Entries[i].Headline {
			return &s.Entries[i]
		}
	}
	panic("fault: a sheet without a headline was let through")
}

// StateOf is the state that a test of an entry is taken in.
func (s *Sheet) StateOf(e *Entry, t Test) []string {
	switch {
	case t.State != nil:
		return t.State
	case e != nil && e.State != nil:
		return e.State
	}
	return s.State
}

// Minutes is what the whole sequence takes.
func (e *Entry) Minutes() (sum float64) {
	for _, step := range e.Sequence {
		sum += step.Minutes
	}
	return sum
}

// Lines are the fault lines of an entry.
func (e *Entry) Lines() []string {
	lines := make([]string, len(e.Faults))
	for i, f := range e.Faults {
		lines[i] = f.Text
	}
	return lines
}

// Load reads a file of faults and gives the fault lines in it: all of a plain list; of a sheet those of its headline, or of
// the fault with the id. A plain list has a fault a line; # begins a comment.
func Load(c *circuit.Circuit, file string, data []byte, id string) ([]string, error) {
	if !IsSheet(data) {
		if id != "" {
			return nil, fmt.Errorf("%s is a plain list of faults: it has no ids such as %s", file, short(id))
		}
		return list(c, file, data)
	}
	sheet, problems := ReadSheet(c, file, data, nil)
	if err := problems.Err(); err != nil {
		return nil, err
	}
	if id != "" {
		e, err := sheet.Entry(id)
		if err != nil {
			return nil, err
		}
		return e.Lines(), nil
	}
	return sheet.Headline().Lines(), nil
}

// IsSheet tells a sheet from a plain list by its first line that says something: a fault line has no colon.
func IsSheet(data []byte) bool {
	for line := range strings.Lines(string(data[:min(len(data), MostBytes)])) {
		if text := uncommented(line); text != "" {
			return strings.Contains(text, ":")
		}
	}
	return false
}

func uncommented(line string) string {
	text, _, _ := strings.Cut(line, "#")
	return strings.TrimSpace(strings.TrimPrefix(text, "\ufeff"))
}

// list reads a plain list of faults.
func list(c *circuit.Circuit, file string, data []byte) ([]string, error) {
	r := &sheetReader{file: file, circuit: c}
	if !r.text(data) {
		return nil, r.found().Err()
	}
	var lines []string
	number := 0
	for line := range strings.Lines(string(data)) {
		number++
		text := uncommented(line)
		if text == "" {
			continue
		}
		if _, err := Parse(c, text); err != nil {
			r.wrong(circuit.Pos{Line: number, Column: 1 + len([]rune(line)) - len([]rune(strings.TrimLeft(line, " \t")))}, err.Error(), "")
			continue
		}
		lines = append(lines, text)
	}
	if len(lines) == 0 && len(r.problems) == 0 {
		r.wrong(circuit.Pos{Line: 1, Column: 1}, "there is no fault in the file", "Write one a line, such as C14.4 spread 1.8 ohm")
	}
	return lines, r.found().Err()
}

// ReadSheet reads a fault sheet and holds it against its circuit. The names of instruments are checked where they are
// given. The sheet is nil when anything is wrong; every error has its place. Whatever the bytes are, it does not panic.
func ReadSheet(c *circuit.Circuit, file string, data []byte, instruments []string) (*Sheet, circuit.Problems) {
	r := &sheetReader{file: file, circuit: c, instruments: instruments}
	s := &Sheet{File: file}
	if top := r.parse(data); top != nil {
		r.sheet(s, top)
	}
	if len(r.problems) > 0 {
		return nil, r.found()
	}
	return s, nil
}

var sheetKeys = []string{"underload faults", "circuit", "state", "table", "faults", "left out"}

func (r *sheetReader) sheet(s *Sheet, top *yaml.Node) {
	found := r.fields(top, "a fault sheet", sheetKeys, "underload faults", "circuit", "faults")
	if version := found["underload faults"]; version != nil && version.Value != "1" {
		r.wrong(at(version), "this program reads version 1 of a fault sheet, not "+short(version.Value), "Write underload faults: 1")
		return
	}
	s.Circuit = r.word(found["circuit"])
	if name := strings.TrimSuffix(filepath.Base(r.circuit.File), filepath.Ext(r.circuit.File)); s.Circuit != "" && s.Circuit != name {
		r.wrong(at(found["circuit"]), fmt.Sprintf("these are faults of %s, and the circuit is %s", short(s.Circuit), short(name)), "")
	}
	s.State = r.state(found["state"])
	for _, e := range r.pairs(found["table"], "table") {
		if e.key != "" {
			s.Table = append(s.Table, Row{Name: e.key, Test: r.test(e.value, nil)})
		}
	}
	for _, e := range r.pairs(found["faults"], "faults") {
		if strings.ContainsAny(e.key, "# \t") {
			r.wrong(e.at, short(e.key)+" is no id of a fault", "Write letters and digits, such as a1")
		}
		s.Entries = append(s.Entries, r.entry(e.key, e.at, e.value))
	}
	for _, node := range r.items(found["left out"], "left out") {
		f := r.fields(node, "what is left out", []string{"what", "because"}, "what", "because")
		s.LeftOut = append(s.LeftOut, LeftOut{r.word(f["what"]), r.word(f["because"])})
	}
	r.together(s, found["faults"])
}

// together checks what needs all faults.
func (r *sheetReader) together(s *Sheet, faults *yaml.Node) {
	if faults == nil {
		return
	}
	headlines := 0
	for i := range s.Entries {
		if s.Entries[i].Headline {
			if headlines++; headlines > 1 {
				r.wrong(s.Entries[i].Pos, "there is more than one headline", "One fault is that of the complaint")
			}
		}
	}
	if headlines == 0 && len(s.Entries) > 0 {
		r.wrong(at(faults), "no fault is the headline", "Write headline: true at the fault of the complaint")
	}
	if len(s.Entries) == 0 {
		r.wrong(at(faults), "there is no fault in the sheet", "Write one like a1: {says: ..., lay: [C14.4 spread 1.8 ohm], ...}")
	}
	ids := s.IDs()
	for _, asked := range r.ids {
		if !slices.Contains(ids, asked.key) {
			r.wrong(asked.at, "there is no fault "+short(asked.key)+" in this sheet", r.nearest(asked.key, ids))
		}
	}
}

var entryKeys = []string{"says", "headline", "lay", "state", "passes", "sequence", "like"}

func (r *sheetReader) entry(id string, pos circuit.Pos, node *yaml.Node) Entry {
	e := Entry{ID: id, Pos: pos}
	f := r.fields(node, "a fault", entryKeys, "says", "lay", "passes", "sequence")
	e.Says = r.word(f["says"])
	e.Headline = r.yes(f["headline"])
	for _, line := range r.items(f["lay"], "lay") {
		laid, err := Parse(r.circuit, r.word(line))
		if err != nil {
			r.wrong(at(line), err.Error(), "")
			continue
		}
		e.Faults = append(e.Faults, laid)
	}
	e.State = r.state(f["state"])
	for _, item := range r.items(f["passes"], "passes") {
		more := map[string]*yaml.Node{"looks": nil, "fools": nil}
		p := Pass{Test: r.test(item, more, "fools")}
		p.Looks, p.Fools = r.word(more["looks"]), r.word(more["fools"])
		e.Passes = append(e.Passes, p)
	}
	for _, item := range r.items(f["sequence"], "sequence") {
		e.Sequence = append(e.Sequence, r.step(item))
	}
	for _, pair := range r.pairs(f["like"], "like") {
		e.Like = append(e.Like, Like{pair.key, r.word(pair.value)})
		r.ids = append(r.ids, pair)
	}
	return e
}

func (r *sheetReader) step(node *yaml.Node) Step {
	more := map[string]*yaml.Node{"tells": nil, "looks": nil, "reads": nil, "kicks": nil, "as healthy": nil, "clears": nil, "minutes": nil}
	s := Step{Test: r.test(node, more, "tells", "minutes")}
	s.Tells, s.Looks = r.word(more["tells"]), r.word(more["looks"])
	s.Reads, s.Kicks = r.amount(more["reads"]), r.amount(more["kicks"])
	s.AsHealthy = r.yes(more["as healthy"])
	s.Minutes = r.minutes(more["minutes"])
	for _, id := range r.items(more["clears"], "clears") {
		s.Clears = append(s.Clears, r.word(id))
		r.ids = append(r.ids, pair{key: r.word(id), at: at(id)})
	}
	return s
}

// test reads the keys of a test; the nodes of further keys go into more, of which those that are needed are named.
func (r *sheetReader) test(node *yaml.Node, more map[string]*yaml.Node, needed ...string) Test {
	keys := []string{"with", "red", "black", "on", "state"}
	for _, key := range []string{"tells", "looks", "fools", "reads", "kicks", "as healthy", "clears", "minutes"} {
		if _, ok := more[key]; ok {
			keys = append(keys, key)
		}
	}
	f := r.fields(node, "a test", keys, append([]string{"with"}, needed...)...)
	for key := range more {
		more[key] = f[key]
	}
	t := Test{With: r.word(f["with"]), Red: r.word(f["red"]), Black: r.word(f["black"]), On: r.word(f["on"]), State: r.state(f["state"])}
	if node != nil {
		t.Pos = at(node)
	}
	r.instrument(f["with"])
	for _, key := range []string{"red", "black"} {
		r.point(f[key], t.With)
	}
	if on := f["on"]; on != nil && r.circuit.Wire(on.Value) == nil {
		var names []string
		for _, w := range r.circuit.Wires {
			names = append(names, w.Name)
		}
		r.wrong(at(on), "there is no wire "+short(on.Value), r.nearest(on.Value, names))
	}
	return t
}

// point checks a lead's point. A drag gauge goes into a terminal, which is none.
func (r *sheetReader) point(node *yaml.Node, with string) {
	if node == nil || with == "drag" && r.circuit.Terminal(node.Value) != nil {
		return
	}
	if _, err := r.circuit.Point(node.Value); err != nil {
		r.wrong(at(node), err.Error(), "")
	}
}

func (r *sheetReader) instrument(node *yaml.Node) {
	if node == nil || r.instruments == nil || slices.Contains(r.instruments, node.Value) {
		return
	}
	if _, err := quantity.Parse(node.Value, quantity.Ohms); err == nil {
		return
	}
	r.wrong(at(node), "there is no instrument "+short(node.Value), r.nearest(node.Value, r.instruments))
}
