package drawing

// This file says how good an order of columns is.

// Prices, in tenths.
const (
	priceCross     = 100  // a column crosses the line of a hub that is not its own
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
)

// puzzle is one group while its order is sought. Chains and hubs are indices.
type puzzle struct {
	slots   []int // of each chain
	hubs    []puzzleHub
	share   [][]bool // two chains may have one slot
	levels  [][2]int // hubs at one height
	dashes  []dash
	plugs   [][]int // chains through each connector
	old     []int   // slot in the drawing before, or -1
	warm    bool
	firm    bool    // a fault was left the last time
	buckets [][]int // chains in each slot
	spans   []span
}

type puzzleHub struct {
	ends   []int  // chains, an entry each end
	tops   []bool // whether the hub is at the upper end of each
	cover  []int  // chains that would cross it
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
	sum := used*priceSlot + p.overlaps()*p.firmly()
	for i := range p.hubs {
		sum += p.hubCost(i)
	}
	for _, pair := range p.levels {
		a, b := p.spans[pair[0]], p.spans[pair[1]]
		if a.from <= b.to && b.from <= a.to {
			if p.hubs[pair[0]].box && p.hubs[pair[1]].box {
				sum += priceBoxLevel
			} else {
				sum += priceLevel
			}
		}
	}
	return sum + p.dashCost() + p.plugCost() + p.orderCost()
}

// fill puts chains in their buckets and closes gaps; it gives the number of slots in use.
func (p *puzzle) fill() int {
	n := len(p.slots)
	for i := range p.buckets {
		p.buckets[i] = p.buckets[i][:0]
	}
	for c, slot := range p.slots {
		p.buckets[slot] = append(p.buckets[slot], c)
	}
	used := 0
	for slot := range 2 * n {
		if len(p.buckets[slot]) == 0 {
			continue
		}
		if slot != used {
			p.buckets[used], p.buckets[slot] = p.buckets[slot], p.buckets[used]
			for _, c := range p.buckets[used] {
				p.slots[c] = used
			}
		}
		used++
	}
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
	sum := 0
	for _, bucket := range p.buckets {
		for i, a := range bucket {
			for _, b := range bucket[i+1:] {
				if !p.share[a][b] {
					sum += priceOverlap
				}
			}
		}
	}
	return sum
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
	for _, c := range h.cover {
		at := p.slots[c]
		switch {
		case h.box && at >= s.from && at <= s.to:
			sum += priceBox * p.firmly()
		case !h.box && at > s.from && at < s.to:
			left := 0
			for _, e := range h.ends {
				if p.slots[e] < at {
					left++
				}
			}
			sum += priceCross + priceLane*(min(left, len(h.ends)-left)-1)
		}
	}
	if h.tops != nil && !p.straight(h) {
		sum += priceKink
	}
	return sum + p.busCost(h)
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
		for c := 1; c < len(p.slots); c++ {
			if p.slots[c] < p.slots[c-1] {
				sum += priceFileOrder
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
