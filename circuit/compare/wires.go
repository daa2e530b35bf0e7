package compare

// This file tells wires apart, and what is joined without a wire.

import (
	"strconv"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
)

func (d *differ) wires() {
	was, now := d.sameEnds()
	both(was, now, func(w *circuit.Wire) string { return w.Name },
		func(w *circuit.Wire) { d.removed(w.Name, wireWords(w)) },
		func(w *circuit.Wire) { d.added(w.Name, wireWords(w)) },
		func(was, now *circuit.Wire) { d.wire(now.Name, was, now) })
}

// sameEnds finds wires that only go by another name now, tells that, and gives the others.
func (d *differ) sameEnds() (was, now []*circuit.Wire) {
	kept := map[string]bool{}
	for _, w := range d.now.Wires {
		kept[w.Name] = d.was.Wire(w.Name) != nil
	}
	free := map[string]*circuit.Wire{}
	ends := func(w *circuit.Wire) string { return w.From.Name + " " + w.To.Name }
	for _, w := range d.was.Wires {
		if _, taken := free[ends(w)]; !kept[w.Name] && !taken {
			free[ends(w)] = w
		}
	}
	again := map[*circuit.Wire]bool{}
	for _, w := range d.now.Wires {
		old := free[ends(w)]
		if kept[w.Name] || old == nil {
			now = append(now, w)
			continue
		}
		delete(free, ends(w))
		again[old] = true
		d.tell(w.Name, "name", w.Name, old.Name, "wire "+old.Name+" now called "+w.Name)
		d.wire(w.Name, old, w)
	}
	for _, w := range d.was.Wires {
		if !again[w] {
			was = append(was, w)
		}
	}
	return was, now
}

func (d *differ) wire(name string, was, now *circuit.Wire) {
	if now.From.Name != was.From.Name || now.To.Name != was.To.Name {
		d.value(name, "ends", name, ends(now), ends(was))
	}
	d.value(name, "colour", name, orPlain(now.Colour), orPlain(was.Colour))
	switch {
	case (now.AreaMM2 > 0) != (was.AreaMM2 > 0):
		d.value(name, "made", name, made(now), made(was))
	case now.AreaMM2 > 0:
		d.value(name, "size", name, size(now), size(was))
		d.value(name, "length", name, metres(now), metres(was))
	default:
		d.number(name, "resistance", name, now.Ohms, was.Ohms, quantity.Ohms)
	}
	d.value(name, "metal", name, now.Metal, was.Metal)
	before := now.Path
	if old, ok := d.renamed[before]; ok {
		before = old
	}
	if before != was.Path && !d.gone["path "+now.Path] && !d.gone["path "+was.Path] {
		d.value(name, "path", name+" on path", now.Path, was.Path)
	}
}

func ends(w *circuit.Wire) string { return "from " + w.From.Name + " to " + w.To.Name }

func orPlain(colour string) string {
	if colour == "" {
		return "without a colour"
	}
	return colour
}

// size is a wire's size as it was given.
func size(w *circuit.Wire) string {
	if name, ok := quantity.Gauge(w.AreaMM2); ok && w.AWG {
		return name
	}
	return quantity.Written(w.AreaMM2, quantity.SquareMillimetres)
}

// made is what a wire's resistance follows from.
func made(w *circuit.Wire) string {
	if w.AreaMM2 == 0 {
		return quantity.Written(w.Ohms, quantity.Ohms)
	}
	return size(w) + " " + metres(w)
}

// metres is a wire's length; nobody writes it in millimetres.
func metres(w *circuit.Wire) string { return strconv.FormatFloat(w.Metres, 'f', -1, 64) + " m" }

// wireWords is a wire that came or went: W7 RD/YE 0.75 mm2 2 m from F7.out to C14.1.a.
func wireWords(w *circuit.Wire) string {
	words := []string{"wire", w.Name, w.Colour, made(w)}
	if w.Metal == "aluminium" {
		words = append(words, w.Metal)
	}
	if !strings.Contains(w.Name, "~") { // a wire without a name of its own is called by its ends
		words = append(words, ends(w))
	}
	return strings.Join(strings.Fields(strings.Join(words, " ")), " ")
}

// joints tells what is joined metal to metal in one circuit only.
func (d *differ) joints() {
	was, now := joined(d.was), joined(d.now)
	both(was, now, func(j joint) string { return j[0] + " and " + j[1] },
		func(j joint) {
			if !d.apart(j) {
				d.tell(j[0], "joined", "", j[1], j[0]+" and "+j[1]+" no longer joined metal to metal")
			}
		},
		func(j joint) {
			if !d.apart(j) {
				d.tell(j[0], "joined", j[1], "", j[0]+" and "+j[1]+" now joined metal to metal")
			}
		},
		func(joint, joint) {})
}

// joint is two sides that are joined metal to metal, the lesser name first.
type joint [2]string

// apart says that one of the two came or went, which has been told.
func (d *differ) apart(j joint) bool {
	for _, end := range j {
		thing, _, _ := strings.Cut(end, ".")
		if d.gone[thing] || d.gone[end] || d.gone[strings.TrimSuffix(strings.TrimSuffix(end, ".a"), ".b")] {
			return true
		}
	}
	return false
}

func joined(c *circuit.Circuit) []joint {
	var found []joint
	for _, p := range c.Paths {
		for _, leg := range p.Legs() {
			if leg.Wire == nil {
				found = append(found, joint{min(leg.From, leg.To), max(leg.From, leg.To)})
			}
		}
	}
	return found
}
