// Package drawing lays out a circuit as a drawing, all by itself, and paints it as plain shapes with hit boxes. It opens no
// window and computes no volts: what is on, pulled out or measured is told to it, and never moves anything.
//
// A circuit is cut into columns (runs of things in series) and hubs (splices, bars, studs, boxes). A column is one straight
// line, a hub one level line or box, so that nothing has to be routed: layout is an order of columns and a height for
// everything.
package drawing

// This file is the way from a circuit to its layout.

import (
	"slices"

	"underload/circuit"
)

// Options are what a layout is made for.
type Options struct {
	Width, Height float64 // px of the window or page
	Touch         bool    // hit boxes of 44 px instead of 36
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
	least      int     // px that the columns need
	pitches    [][]int // least distance of any two slots
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
	roomBeside           = 28
	lowWindow            = 440 // below this height there is less
	lowAbove, lowBelow   = 22, 26
	leastWidth           = 280 // a smaller window is laid out as one of this size
	leastHeight          = 200
)

// Lay lays a circuit out. Where before is not nil the drawing keeps its order and moves as little as it can.
// The same circuit, options and drawing before give the same layout, on every machine.
func Lay(c *circuit.Circuit, o Options, before *Layout) *Layout {
	if before != nil && before.Zoom > 1 {
		if l := lay(c, o, before, before.Zoom, true); l.roomy(true) {
			return l
		}
	}
	l := lay(c, o, before, 1, true)
	if before == nil && len(c.Parts) <= mostMagnified {
		for _, zoom := range []float64{1.4, 1.25, 1.12} {
			if !l.mayMagnify(zoom) {
				continue
			}
			if larger := lay(c, o, nil, zoom, true); larger.roomy(false) {
				return larger
			}
		}
	}
	if !l.net.busesInOrder() {
		l = lay(c, o, before, 1, false)
	}
	return l
}

// mayMagnify reports whether a drawing at zoom 1 leaves so much of the window that it is worth trying to magnify it.
func (l *Layout) mayMagnify(zoom float64) bool {
	const slack = 120 // px: at another zoom the columns may stand closer
	return len(l.Sheets) == 1 && l.amount.tags && l.h.ease >= terminalEase && float64(l.least+anotherColumn-slack) <= l.Options.Width/zoom-2*roomBeside
}

// anotherColumn is room kept free where a drawing is magnified, so that an edit does not shrink everything, px.
const anotherColumn = 90

// mostMagnified is the number of parts up to which it is worth trying whether a drawing can be magnified.
const mostMagnified = 16

// mostShared is the number of parts up to which a stud is drawn once, however far apart its wires are, unless they cross lines.
const mostShared = 40

// mostLanes is the number of wires up to which that goes.
const mostLanes = 8

// mostLifts is how often it is looked for studs to draw again.
const mostLifts = 3

// mostRepairs is how often the order is sought again where heights have moved a column into a box.
const mostRepairs = 8

// trespass reports whether a column passes a box that it does not end on, or stands in the place of another.
func (n *net) trespass(h *heights) bool {
	for _, hub := range n.hubs {
		if hub.kind != module && hub.kind != throws {
			continue
		}
		y, up, down := h.at(hub.node), h.nodes[hub.node].up, h.nodes[hub.node].down
		for _, c := range n.chains {
			top, bottom := h.extent(c)
			if c.slot >= hub.span.from && c.slot <= hub.span.to && c.top.hub != hub && c.bottom.hub != hub && top < y+down && bottom > y-up {
				return true
			}
		}
	}
	for i, a := range n.chains {
		at, ab := h.extent(a)
		for _, b := range n.chains[i+1:] {
			if bt, bb := h.extent(b); a.slot == b.slot && at < bb && bt < ab {
				return true
			}
		}
	}
	return false
}

// present is the order as it stands.
func (n *net) present() map[*chain]int {
	slots := map[*chain]int{}
	for _, c := range n.chains {
		slots[c] = c.slot
	}
	return slots
}

// roomy reports whether a layout has all its words and ease.
// It is content with less where that keeps the zoom of the drawing before.
func (l *Layout) roomy(keep bool) bool {
	if keep {
		return len(l.Sheets) == 1 && l.h.ease >= 25 && l.Height <= l.height() && l.net.busesInOrder()
	}
	return len(l.Sheets) == 1 && l.least+anotherColumn <= l.width()-2*roomBeside && l.amount.tags && l.amount.gap == amounts[0].gap && l.h.ease >= terminalEase && len(l.drawn.missing) == 0 && float64(l.Height) <= l.Options.Height/l.Zoom+1
}

// lay lays out at one zoom; with trunks, a bus over several pairs of splices is one line.
func lay(c *circuit.Circuit, o Options, before *Layout, zoom float64, trunks bool) *Layout {
	n := build(c)
	switch {
	case before != nil:
	case len(c.Parts) > mostShared:
		n.splitStuds(2)
	default:
		n.splitStuds(mostLanes)
	}
	n.pairUp(trunks)
	n.level()
	n.orient()
	if before != nil {
		n.likeBefore(before)
	}
	l := &Layout{Circuit: c, Options: o, net: n, Zoom: zoom}
	top, bottom := roomAbove, max(l.height()-roomBelow, roomAbove+100)
	if l.height() < lowWindow {
		top, bottom = lowAbove, max(l.height()-lowBelow, lowAbove+100)
	}
	old := n.oldSlots(before)
	n.stack(l, top, bottom)
	n.order(l.h, old)
	n.apart(l.h)
	if before != nil {
		n.order(l.h, old)
		n.apart(l.h)
	} else {
		n.drawStuds(l, top, bottom)
	}
	for i := range mostRepairs {
		if !n.trespass(l.h) {
			break
		}
		if n.firm = true; i%2 == 0 {
			n.order(l.h, n.present())
		} else {
			n.order(l.h, nil) // the present order leads nowhere
		}
		n.apart(l.h)
	}
	l.place(old, before)
	return l
}

// drawStuds seeks, with the order of the columns, how often each stud is best drawn.
func (n *net) drawStuds(l *Layout, top, bottom int) {
	for i := range mostLifts {
		if n.lift(l.h) {
			n.stack(l, top, bottom)
		} else if i > 0 {
			break
		}
		n.order(l.h, nil)
		n.apart(l.h)
	}
	lifted, lowered := n.lift(l.h), n.lower(l.h)
	if joined := n.rejoin(); lifted || lowered || joined {
		n.stack(l, top, bottom)
		n.apart(l.h)
	}
	for s := n.signInTheWay(l.h, bottom); s != nil; s = n.signInTheWay(l.h, bottom) {
		n.toFrame(s)
		n.stack(l, top, bottom)
		n.apart(l.h)
	}
}

// stack gives everything a height.
func (n *net) stack(l *Layout, top, bottom int) {
	for _, hub := range n.hubs {
		hub.guessLanes()
	}
	l.h = n.heightsOf(top, bottom)
	n.arrange(l.h)
}

// The window in px of the drawing, which zoom magnifies.
func (l *Layout) width() int  { return max(int(l.Options.Width/l.Zoom), leastWidth) }
func (l *Layout) height() int { return max(int(l.Options.Height/l.Zoom), leastHeight) }

// place turns slots into pixels, with as many words as there is room for.
func (l *Layout) place(old map[*chain]int, before *Layout) {
	l.findLeftLabels()
	room := l.width() - 2*roomBeside
	least := 0
	for _, a := range l.amounts(before) {
		l.amount = a
		if least = l.layAcross(a); least <= room {
			break
		}
		if a.details && !a.gauges { // the last that shows second lines: give up only those that stand in the way
			if least = l.dropDetails(least, room); least <= room {
				break
			}
		}
	}
	l.least = least
	l.Height = l.h.bottom + roomBelow
	if l.height() < lowWindow {
		l.Height = l.h.bottom + lowBelow
	}
	l.Width = l.width()
	switch wish := l.wishes(old, before); {
	case least > room:
		l.manySheets(before, wish)
	case before != nil && len(before.Sheets) == 1 && l.settleX(wish, 0, len(l.slotX)-1, roomBeside, roomBeside+room):
		l.Sheets = []Sheet{{0, l.Width}}
	default:
		wide := l.stretch(least, room)
		shift := roomBeside + max(0, room-wide)/2
		for i := range l.slotX {
			l.slotX[i] += shift
		}
		l.Sheets = []Sheet{{0, l.Width}}
	}
	for _, c := range l.net.chains {
		c.x = l.slotX[c.slot]
	}
	l.draw()
}

// amounts are those that may be shown. After an edit columns may stand closer than otherwise before there is one sheet more.
func (l *Layout) amounts(before *Layout) []amount {
	if before != nil {
		return append(slices.Clone(amounts), amount{gap: 0})
	}
	return amounts
}

// manySheets shows as much as goes on hardly more sheets than names alone would need.
func (l *Layout) manySheets(before *Layout, wish []int) {
	all := l.amounts(before)
	fewest := len(l.sheetsWith(all[len(all)-1]))
	most := fewest + fewest/8
	for _, a := range all[1:] {
		l.amount = a
		l.layAcross(a)
		if len(l.sheetsWith(a)) <= most || a.details && !a.gauges && l.dropWidest(most) {
			break
		}
	}
	l.paginate(wish)
}
