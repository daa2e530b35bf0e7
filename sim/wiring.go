package sim

// This file makes a network of a circuit: a node for every place that can be at its own volts, a branch for every
// crimp, contact, length of wire and inside of a part, and the values of those branches from the state of the bench.

import (
	"fmt"
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim/fault"
	"underload/sim/part"
	"underload/solver"
)

// Link is one branch with the place it belongs to, as a person names it: a wire, a terminal, a part.
type Link struct {
	Branch solver.Branch
	Place  string
	piece  string // which piece of its place it is, where leads can come between
}

// ShortAt stands before the name of the place where a short has its path.
const ShortAt = "short at "

// joint is a terminal in the network: tail, crimp, harness side, contact, pin side, and what lies behind.
// Of an in-line terminal, the inside is the tail of the .b half.
type joint struct {
	tail, harness, pin, inside solver.Node
	crimp, contact, behind     solver.Branch
}

// run is a wire: one branch, or two with a node between them where a short sits in its middle.
type run struct {
	first, second solver.Branch
	mid           solver.Node
	split         bool
	legs          []legBranch
}

type legBranch struct {
	leg    fault.Leg
	branch solver.Branch
}

type stud struct {
	metal       solver.Node
	contact, by solver.Branch
	hasBy       bool
}

// wiring is a circuit as a network.
type wiring struct {
	circuit  *circuit.Circuit
	ambient  float64 // °C
	net      *solver.Network
	spots    []solver.Node
	joints   map[*circuit.Terminal]*joint
	runs     map[*circuit.Wire]*run
	studs    map[*circuit.Stud]*stud
	inner    map[*circuit.Part]part.Inner
	links    []Link
	inside   map[solver.Branch]bool     // the branches inside of parts
	branches map[string][]solver.Branch // the same by place
	attached []solver.Branch
	names    map[string]solver.Node // every node by a name that is the same on every bench of this circuit
	called   []string               // the other way round
}

// wire builds the network. What it lays out depends on the shorts and swaps of the overlay and on what is attached;
// everything else is set by adjust.
func wire(c *circuit.Circuit, o *fault.Overlay, ambientCelsius float64) *wiring {
	w := &wiring{
		circuit: c, ambient: ambientCelsius, net: solver.NewNetwork(), spots: make([]solver.Node, c.Spots),
		joints: map[*circuit.Terminal]*joint{}, runs: map[*circuit.Wire]*run{},
		studs: map[*circuit.Stud]*stud{}, inner: map[*circuit.Part]part.Inner{},
		branches: map[string][]solver.Branch{}, inside: map[solver.Branch]bool{},
		names: map[string]solver.Node{"0 V": solver.Ground}, called: []string{"0 V"},
	}
	for i := range w.spots {
		w.spots[i] = w.node(fmt.Sprintf("spot %d", i))
	}
	for _, p := range c.Parts {
		for _, t := range p.Terminals {
			w.addJoint(t, o.WireOf[t], placeOfTerminal(p, t), w.insideOf(p, t))
		}
	}
	for _, con := range c.Connectors {
		for _, t := range con.Cavities {
			w.addJoint(t, o.WireOf[t], t.Name, w.spot(t.FarSpot))
		}
	}
	for _, s := range c.Studs {
		w.addStud(s)
	}
	w.joinStuds()
	short := map[*circuit.Wire]bool{}
	for _, s := range o.Shorts {
		short[s.FromWire] = true
		if to := c.Wire(s.To); to != nil {
			short[to] = true
		}
	}
	for _, cw := range c.Wires {
		w.addRun(cw, short[cw])
	}
	for _, p := range c.Parts {
		w.inner[p] = part.Build(p, &part.Place{
			Net: w.net, AmbientCelsius: ambientCelsius, FileCelsius: c.AmbientCelsius,
			Inside: func(pin string) solver.Node { return w.joints[p.Terminal(pin)].inside },
			Node:   func(name string) solver.Node { return w.node(p.Name + " " + name) },
			Tag: func(b solver.Branch) {
				w.tag(b, p.Name)
				w.inside[b] = true
			},
		})
	}
	for _, s := range o.Shorts {
		w.addShort(s)
	}
	return w
}

// placeOfTerminal is where a loss in a terminal is told: at the pin of a module, sensor or battery, which has many or
// far apart ones, and at the part itself where its terminals sit side by side.
func placeOfTerminal(p *circuit.Part, t *circuit.Terminal) string {
	switch p.Kind.Name {
	case "module", "sensor", "socket", "battery", "generator":
		return t.Name
	}
	return p.Name
}

func (w *wiring) insideOf(p *circuit.Part, t *circuit.Terminal) solver.Node {
	// The lowest battery's minus is 0 V, behind its post.
	if p == w.circuit.Lowest() && t == p.Terminals[1] {
		return solver.Ground
	}
	return w.node(t.Name + " inside")
}

// node adds a node under a name of its own.
func (w *wiring) node(name string) solver.Node {
	n := w.net.AddNode()
	w.names[name] = n
	w.called = append(w.called, name)
	return n
}

func (w *wiring) tag(b solver.Branch, place string) {
	w.links = append(w.links, Link{Branch: b, Place: place})
	w.branches[place] = append(w.branches[place], b)
}

func (w *wiring) spot(s circuit.Spot) solver.Node { return w.spots[s] }

// tail is the node of a terminal's tail: the spot it is wired to, or one of its own.
func (w *wiring) tail(t *circuit.Terminal) solver.Node {
	if t.Spot == circuit.NoSpot {
		return w.node(t.Name + " tail")
	}
	return w.spots[t.Spot]
}

func (w *wiring) resistor(a, b solver.Node, ohms float64, place string) solver.Branch {
	br := w.net.AddResistor(a, b, ohms)
	w.tag(br, place)
	return br
}

func (w *wiring) addJoint(t, wireOf *circuit.Terminal, place string, inside solver.Node) {
	from := t
	if wireOf != nil {
		from = wireOf
	}
	j := &joint{tail: w.tail(from), harness: w.node(t.Name + " harness"), pin: w.node(t.Name + " pin"), inside: inside}
	j.crimp = w.resistor(j.tail, j.harness, t.CrimpOhms, place)
	j.contact = w.resistor(j.harness, j.pin, t.ContactOhms, place)
	j.behind = w.resistor(j.pin, j.inside, t.BehindOhms, place)
	w.joints[t] = j
	crimp, contact, behind := w.piecesOf(t, place)
	for i, piece := range []string{crimp, contact, behind} {
		w.links[len(w.links)-3+i].piece = piece
	}
}

// piecesOf names what a lead on a terminal comes between. On a fuse it stands on the top, so that all of the slot lies on
// one side.
func (w *wiring) piecesOf(t *circuit.Terminal, place string) (crimp, contact, behind string) {
	if t.Inline {
		return "crimp at a", "contact", "crimp at b"
	}
	switch kind := w.circuit.Part(t.Owner).Kind.Name; {
	case kind == "battery" || kind == "generator":
		return "crimp", "contact", "post"
	case place == t.Name:
		return "crimp", "contact", "contact"
	case kind == "fuse":
		return "slot at " + t.Pin, "slot at " + t.Pin, ""
	}
	return "crimp at " + t.Pin, "", ""
}

func (w *wiring) addStud(s *circuit.Stud) {
	st := &stud{metal: w.node(s.Name + " metal")}
	st.contact = w.resistor(w.spot(s.Spot), st.metal, s.ContactOhms, s.Name)
	w.studs[s] = st
}

func (w *wiring) joinStuds() {
	for _, s := range w.circuit.Studs {
		if s.To == "" {
			continue
		}
		var to solver.Node
		if other := w.circuit.Stud(s.To); other != nil {
			to = w.studs[other].metal
		} else {
			to = w.joints[w.circuit.Terminal(s.To)].tail
		}
		st := w.studs[s]
		st.by, st.hasBy = w.resistor(st.metal, to, s.ByOhms, s.Name+" to "+s.To), true
	}
}

func (w *wiring) addRun(cw *circuit.Wire, split bool) {
	r := &run{split: split}
	from, to := w.end(r, cw, cw.From), w.end(r, cw, cw.To)
	if split {
		r.mid = w.node(cw.Name + " middle")
		r.first = w.resistor(from, r.mid, cw.Ohms/2, cw.Name)
		r.second = w.resistor(r.mid, to, cw.Ohms/2, cw.Name)
	} else {
		r.first = w.resistor(from, to, cw.Ohms, cw.Name)
	}
	w.runs[cw] = r
}

func (w *wiring) end(r *run, cw *circuit.Wire, e circuit.End) solver.Node {
	at := w.spot(e.Spot)
	if e.Splice == nil {
		return at
	}
	n := w.node("leg " + e.Splice.Name + " " + cw.Name)
	b := w.resistor(at, n, e.Splice.LegOhms, e.Splice.Name)
	r.legs = append(r.legs, legBranch{fault.Leg{Splice: e.Splice, Wire: cw}, b})
	return n
}

// body is the metal that a chafed wire touches: that of the first stud, or the battery's minus.
func (w *wiring) body() solver.Node {
	if len(w.circuit.Studs) > 0 {
		return w.studs[w.circuit.Studs[0]].metal
	}
	return solver.Ground
}

func (w *wiring) addShort(s fault.Short) {
	var from solver.Node
	place := ""
	if s.FromWire != nil {
		from, place = w.runs[s.FromWire].mid, s.FromWire.Name
	} else {
		from, place = w.joints[s.FromTerminal].harness, s.FromTerminal.Name
	}
	to := w.body()
	if s.To != "" {
		to = w.anywhere(s.To)
	}
	w.resistor(from, to, s.Ohms, ShortAt+place)
}

// anywhere is the node of a terminal, wire, splice or stud by name.
func (w *wiring) anywhere(name string) solver.Node {
	c := w.circuit
	if t := c.Terminal(name); t != nil {
		return w.joints[t].harness
	}
	if cw := c.Wire(name); cw != nil {
		return w.runs[cw].mid
	}
	if p, err := c.Point(name); err == nil {
		return w.at(p, nil)
	}
	return w.body()
}

// at is the node that a lead on the point touches. A lead on a fuse touches its top, or the empty slot when it is out.
func (w *wiring) at(p circuit.Point, states map[*circuit.Part]*part.State) solver.Node {
	switch {
	case p.Splice != nil:
		return w.spot(p.Splice.Spot)
	case p.Stud != nil && p.Side == circuit.Metal:
		return w.studs[p.Stud].metal
	case p.Stud != nil:
		return w.spot(p.Stud.Spot)
	}
	j := w.joints[p.Terminal]
	if owner := w.circuit.Part(p.Terminal.Owner); owner != nil && owner.Kind.Name == "fuse" {
		if s := states[owner]; s != nil && s.Out {
			return j.harness
		}
		return j.pin
	}
	if p.Side == circuit.PinSide {
		return j.pin
	}
	return j.harness
}

// adjust sets every branch from the overlay and the state of the bench.
func (w *wiring) adjust(o *fault.Overlay, wiped map[*circuit.Terminal]float64, apart map[string]bool, states map[*circuit.Part]*part.State) {
	for _, p := range w.circuit.Parts {
		for _, t := range p.Terminals {
			w.adjustJoint(t, o, wiped, apart[p.Name] || apart[t.Name] || states[p].Out)
		}
		w.inner[p].Adjust(states[p])
	}
	for _, con := range w.circuit.Connectors {
		for _, t := range con.Cavities {
			w.adjustJoint(t, o, wiped, apart[con.Name])
		}
	}
	for _, s := range w.circuit.Studs {
		ohms := s.ContactOhms
		if bad, ok := o.Stud[s]; ok {
			ohms = bad
		}
		w.net.SetOhms(w.studs[s].contact, ohms)
	}
	for _, cw := range w.circuit.Wires {
		r := w.runs[cw]
		ohms, added := cw.Ohms*w.warmth(cw), o.WireAdded[cw]
		if r.split {
			w.net.SetOhms(r.first, ohms/2+added)
			w.net.SetOhms(r.second, ohms/2)
		} else {
			w.net.SetOhms(r.first, ohms+added)
		}
		for _, l := range r.legs {
			w.net.SetOhms(l.branch, l.leg.Splice.LegOhms+o.LegAdded[l.leg])
		}
	}
}

// warmth is what a wire has now of its resistance at the file's ambient temperature.
func (w *wiring) warmth(cw *circuit.Wire) float64 {
	_, perKelvin := catalog.Metal(cw.Metal).Resistivity()
	return (1 + perKelvin*(w.ambient-20)) / (1 + perKelvin*(w.circuit.AmbientCelsius-20))
}

func (w *wiring) adjustJoint(t *circuit.Terminal, o *fault.Overlay, wiped map[*circuit.Terminal]float64, apart bool) {
	j := w.joints[t]
	w.net.SetOhms(j.crimp, pick(o.Crimp, t, t.CrimpOhms))
	w.net.SetOhms(j.behind, pick(o.FarCrimp, t, t.BehindOhms))
	contact := pick(wiped, t, pick(o.Contact, t, t.ContactOhms))
	if apart {
		contact = math.Inf(1)
	}
	w.net.SetOhms(j.contact, contact)
}

func pick(of map[*circuit.Terminal]float64, t *circuit.Terminal, sound float64) float64 {
	if v, ok := of[t]; ok {
		return v
	}
	return sound
}
