// Package drawing lays out a circuit as a drawing, all by itself, and paints it as plain shapes with hit boxes. It opens no
// window and computes no volts: what is on, pulled out or measured is told to it, and never moves anything.
//
// A circuit is cut into columns (runs of things in series) and hubs (splices, bars, studs, boxes). A column is one straight
// line, a hub one level line or box, so that nothing has to be routed: layout is an order of columns and a height for
// everything.
package drawing

// This file is the way from a circuit to its layout.

import (
	"underload/circuit"
)

// Options are what a layout is made for.
type Options struct {
	Width, Height float64 // px of the window or page
	Touch         bool    // hit boxes of 44 px instead of 36
	NamesOnly     bool    // no second lines beside symbols
}

// Layout is a circuit with a place for everything. It does not change.
type Layout struct {
	Circuit *circuit.Circuit
	Options Options
	Width   int // px of the whole strip, at zoom 1
	Height  int
	Zoom    float64 // by which the strip is magnified to fill the window
	Sheets  []Sheet

	net        *net
	h          *heights
	amount     amount
	slotX      []int
	leftLabels map[*symbol]bool
	drawn      drawn
}

// Sheet is a part of the strip as wide as the window.
type Sheet struct {
	From, To int // px along the strip
}

// Room above the rail and below the frame, and beside the strip, px.
const (
	roomAbove, roomBelow = 34, 40
	roomBeside           = 20
)

// Lay lays a circuit out. Where before is not nil the drawing keeps its order and moves as little as it can.
// The same circuit, options and drawing before give the same layout, on every machine.
func Lay(c *circuit.Circuit, o Options, before *Layout) *Layout {
	n := build(c)
	n.pairUp()
	n.level()
	n.orient()
	l := &Layout{Circuit: c, Options: o, net: n, Zoom: 1}
	top, bottom := roomAbove, max(int(o.Height)-roomBelow, roomAbove+100)
	for _, hub := range n.hubs {
		hub.guessLanes()
	}
	l.h = n.heightsOf(top, bottom)
	n.arrange(l.h)
	old := n.oldSlots(before)
	n.order(l.h, old)
	n.apart(l.h)
	n.order(l.h, n.keep(old))
	n.apart(l.h)
	l.place()
	return l
}

// keep makes the present slots the old ones of a second pass.
func (n *net) keep(old map[*chain]int) map[*chain]int {
	if len(old) > 0 {
		return old
	}
	return nil
}

// oldSlots finds the columns of the drawing before in this one.
func (n *net) oldSlots(before *Layout) map[*chain]int {
	_ = before
	return nil
}

// place turns slots into pixels, with as many words as there is room for.
func (l *Layout) place() {
	l.findLeftLabels()
	room := int(l.Options.Width) - 2*roomBeside
	least := 0
	for _, a := range amounts {
		if l.Options.NamesOnly && a.details {
			continue
		}
		l.amount = a
		if least = l.layAcross(a); least <= room {
			break
		}
	}
	wide := l.stretch(least, room)
	l.Width = max(wide+2*roomBeside, int(l.Options.Width))
	l.Height = l.h.bottom + roomBelow
	shift := roomBeside + max(0, room-wide)/2
	for i := range l.slotX {
		l.slotX[i] += shift
	}
	for _, c := range l.net.chains {
		c.x = l.slotX[c.slot]
	}
	l.Sheets = []Sheet{{0, l.Width}}
	l.draw()
}
