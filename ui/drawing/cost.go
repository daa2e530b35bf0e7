package drawing

// This file says how good an order of columns is.

import "math/bits"

// Prices, in tenths.
const (
	priceCross     = 100  // a column crosses the line of a hub that is not its own
	priceSign      = 40   // a stud is drawn once more, so that nothing is crossed
	priceLane      = 15   // for each further wire crossed there
	priceBox       = 2000 // a column passes a box
	priceOverlap   = 3000 // two columns in one place
	priceLevel     = 40   // two lines at one height over the same slots
	priceBoxLevel  = 2500
	priceSlot      = 30
	priceSpan      = 7
	priceBoxSpan   = 12
	priceDash      = 20 // for each slot between coil and contact
	priceUnderDash = 20
	priceDashLeft  = 10
	priceDashSame  = 500
	priceForeign   = 10 // a foreign slot inside a connector
	priceFileOrder = 2
	priceBusOrder  = 1500
	priceKink      = 60 // nothing runs straight through a splice
	priceInvert    = 300
	priceParted    = 80
	priceMerged    = 60
	priceAside     = 300_000 // a part is not on the side of another where the file wants it
	priceNear      = 2       // for each sixteenth of a slot between the two
)

// puzzle is one group while its order is sought. Chains and hubs are indices.
type puzzle struct {
	slots   []int // of each chain
	hubs    []puzzleHub
	clashes []set    // of each chain: earlier ones that may not have its slot
	levels  [][2]int // hubs at one height
	dashes  []dash
	plugs   [][]int // chains through each connector
	asides  [][2][]int
	old     []int // slot in the drawing before, or -1
	known   []int // the order so far, or none
	warm    bool
	reach   int  // how many earlier columns of the file each is held against
	firm    bool // a fault was left the last time
	faulty  bool // one is left in the order whose cost was taken last
	shelves shelves
	taken   []int // scratch
	spans   []span
	lifted  set // those that would get a ground sign of their own
}

type puzzleHub struct {
	ends   []int  // chains, an entry each end
	tops   []bool // whether the hub is at the upper end of each
	cover  set    // chains that would cross it
	low    set    // of those: the ones that would rather end above it
	parts  bool   // a stud: may be drawn several times
	box    bool
	edge   bool  // reaches back to the battery
	places []int // of ends, on a bus
}

type dash struct {
	coil, contact int
	under         []int // chains whose height the dash passes
}

// cost is the price of the present slots.
func (p *puzzle) cost() int {
	used := p.fill()
	p.faulty = false
	clear(p.lifted)
	sum := used*priceSlot + p.overlaps()*p.firmly()
	for i := range p.hubs {
		sum += p.hubCost(i)
	}
	sum += p.lifted.meets(p.lifted) * priceSign
	for _, pair := range p.levels {
		a, b := p.spans[pair[0]], p.spans[pair[1]]
		if a.from <= b.to && b.from <= a.to {
			if p.hubs[pair[0]].box && p.hubs[pair[1]].box {
				sum += priceBoxLevel
				p.faulty = true
			} else {
				sum += priceLevel
			}
		}
	}
	return sum + p.dashCost() + p.plugCost() + p.orderCost() + p.asideCost()
}

// fill puts chains into their slots and closes gaps; it gives the number of slots in use.
func (p *puzzle) fill() int {
	clear(p.taken)
	for _, slot := range p.slots {
		p.taken[slot] = 1
	}
	used := 0
	for slot, taken := range p.taken {
		p.taken[slot] = used
		used += taken
	}
	for c, slot := range p.slots {
		p.slots[c] = p.taken[slot]
	}
	p.shelves.fill(p.slots, used)
	return used
}

// firmly is how much more a fault counts where the order of the drawing before counts too, or where a fault was left.
func (p *puzzle) firmly() int {
	if p.warm || p.firm {
		return 20
	}
	return 1
}

func (p *puzzle) overlaps() int {
	count := 0
	for c, slot := range p.slots {
		count += p.shelves.count(p.clashes[c], slot, slot)
	}
	p.faulty = p.faulty || count > 0
	return count * priceOverlap
}

func (p *puzzle) hubCost(i int) int {
	h := &p.hubs[i]
	s := span{1 << 30, -1}
	for _, c := range h.ends {
		s.from, s.to = min(s.from, p.slots[c]), max(s.to, p.slots[c])
	}
	if h.edge {
		s.from = -1
	}
	p.spans[i] = s
	sum := (s.to - s.from) * priceSpan
	if h.box {
		sum = (s.to - s.from) * priceBoxSpan
	}
	if h.parts {
		return sum + p.ringCost(h, s)
	}
	if h.box {
		passed := p.shelves.count(h.cover, max(s.from, 0), s.to)
		p.faulty = p.faulty || passed > 0
		return sum + passed*priceBox*p.firmly() + p.busCost(h)
	}
	if s.to-s.from > 1 {
		for i, word := range p.shelves.among(h.low, s.from+1, s.to-1) {
			p.lifted[i] |= word
		}
		sum += p.crossCost(h, s)
	}
	if h.tops != nil && !p.straight(h) {
		sum += priceKink
	}
	return sum + p.busCost(h)
}

// crossCost is the price of the columns that cross a line.
func (p *puzzle) crossCost(h *puzzleHub, s span) int {
	sum := 0
	for i, word := range p.shelves.among(h.cover, s.from+1, s.to-1) {
		for ; word != 0; word &= word - 1 {
			at, left := p.slots[64*i+bits.TrailingZeros64(word)], 0
			for _, e := range h.ends {
				if p.slots[e] < at {
					left++
				}
			}
			sum += priceCross + priceLane*(min(left, len(h.ends)-left)-1)
		}
	}
	return sum
}

// ringCost is the price of drawing a stud again after each gap between its wires that something passes.
func (p *puzzle) ringCost(h *puzzleHub, s span) int {
	sum := 0
	for from := s.from; from < s.to; {
		next := s.to
		for _, e := range h.ends {
			if at := p.slots[e]; at > from {
				next = min(next, at)
			}
		}
		if next-from > 1 && p.shelves.count(h.cover, from+1, next-1) > 0 {
			sum += priceSign
		}
		from = next
	}
	return sum
}

// straight reports whether a column above a splice goes on below it, in the same slot.
func (p *puzzle) straight(h *puzzleHub) bool {
	for i, a := range h.ends {
		for j, b := range h.ends[:i] {
			if h.tops[i] != h.tops[j] && p.slots[a] == p.slots[b] {
				return true
			}
		}
	}
	return false
}

// busCost keeps what leaves a bus at one place together, and the places in the order of the wires.
func (p *puzzle) busCost(h *puzzleHub) int {
	up, down := 0, 0
	for i, a := range h.places {
		for j := i + 1; j < len(h.places); j++ {
			b := h.places[j]
			d := p.slots[h.ends[i]] - p.slots[h.ends[j]]
			if a == b {
				continue
			}
			if d == 0 {
				up, down = up+1, down+1
				continue
			}
			if (a < b) == (d < 0) {
				up++
			} else {
				down++
			}
		}
	}
	p.faulty = p.faulty || min(up, down) > 0
	return min(up, down) * priceBusOrder
}

func (p *puzzle) dashCost() int {
	sum := 0
	for _, d := range p.dashes {
		a, b := p.slots[d.coil], p.slots[d.contact]
		if a == b {
			sum += priceDashSame
			continue
		}
		if b < a {
			a, b = b, a
			sum += priceDashLeft
		}
		sum += (b - a) * priceDash
		for _, c := range d.under {
			if at := p.slots[c]; at > a && at < b {
				sum += priceUnderDash
			}
		}
	}
	return sum
}

func (p *puzzle) plugCost() int {
	sum := 0
	for _, chains := range p.plugs {
		from, to := 1<<30, -1
		for _, c := range chains {
			from, to = min(from, p.slots[c]), max(to, p.slots[c])
		}
		sum += (to - from + 1 - len(chains)) * priceForeign
	}
	return sum
}

// orderCost holds on to the file's order a little, and to the order of the drawing before a lot.
func (p *puzzle) orderCost() int {
	sum := 0
	if !p.warm {
		for c, slot := range p.slots {
			for _, earlier := range p.slots[max(0, c-p.reach):c] {
				if slot < earlier {
					sum += priceFileOrder
				}
			}
		}
		return sum
	}
	for a, oldA := range p.old {
		if oldA < 0 {
			continue
		}
		for b := a + 1; b < len(p.old); b++ {
			oldB := p.old[b]
			if oldB < 0 {
				continue
			}
			was, is := oldA-oldB, p.slots[a]-p.slots[b]
			switch {
			case was == 0 && is != 0:
				sum += priceParted
			case was != 0 && is == 0:
				sum += priceMerged
			case was < 0 && is > 0 || was > 0 && is < 0:
				sum += priceInvert
			}
		}
	}
	return sum
}
