package drawing

// This file gives every symbol and hub its height: distances that must be kept, things that belong on one level, and
// springs that share out what room is left. All sums are of whole numbers, so that every machine gets the same.

import (
	"slices"
)

// fine is the number of parts a pixel is cut into while springs work.
const fine = 64

// node is a symbol or hub as far as heights go.
type node struct {
	up, down int // half heights
	group    int // nodes of one group have one height
}

// rule keeps the lower group below the upper one.
type rule struct {
	upper, lower int // nodes
	least, wish  int // px between the two, when tight and at ease
	floor        int // px that stay when squeezed
	more         int // ease beyond that of all
	weight       int // of the spring; none: 0
}

// heights is the state of all nodes.
type heights struct {
	nodes  []node
	rules  []rule
	extra  []rule // found while tracks are laid
	y      []int  // of each group, in fine px
	ease   int    // 0 tightest, 100 at ease; squeezed below
	top    int    // px
	bottom int
	rail   int
	frame  int

	order []int // groups from top to bottom
	above [][]step
	below [][]step

	manner  manner
	faulty  bool  // not everything could be kept clear of everything else
	waiting []int // scratch
}

type step struct{ group, d, weight int }

// add makes a node with a group of its own.
func (h *heights) add(up, down int) int {
	h.nodes = append(h.nodes, node{up, down, len(h.nodes)})
	return len(h.nodes) - 1
}

// at is the height of a node in px.
func (h *heights) at(node int) int { return (h.y[h.nodes[node].group] + fine/2) / fine }

// distance is what a rule asks for at the present ease.
func (h *heights) distance(r rule) int {
	ease := h.ease + r.more
	gap := max(r.least, r.wish*ease/100)
	switch {
	case ease < 0 && r.least > 0:
		gap = max(r.least*(100+ease)/100, r.floor, min(r.least, 3))
	case r.wish >= terminalWish: // what is beside terminals gives way last
		gap = max(r.least, r.wish*min(100, ease*100/terminalEase)/100)
	}
	return h.nodes[r.upper].down + gap + h.nodes[r.lower].up
}

// index sorts the groups from top to bottom and gathers their rules; false where they run in a circle.
func (h *heights) index() bool {
	n := len(h.nodes)
	if len(h.above) != n {
		h.above, h.below, h.waiting = make([][]step, n), make([][]step, n), make([]int, n)
	}
	waiting := h.waiting
	for g := range n {
		h.above[g], h.below[g], waiting[g] = h.above[g][:0], h.below[g][:0], 0
	}
	for _, rules := range [][]rule{h.rules, h.extra} {
		for _, r := range rules {
			u, v, d := h.nodes[r.upper].group, h.nodes[r.lower].group, h.distance(r)*fine
			if u == v {
				return false
			}
			h.below[u] = append(h.below[u], step{v, d, r.weight})
			h.above[v] = append(h.above[v], step{u, d, r.weight})
			waiting[v]++
		}
	}
	h.order = h.order[:0]
	for g := range n {
		if waiting[g] == 0 {
			h.order = append(h.order, g)
		}
	}
	for i := 0; i < len(h.order); i++ {
		for _, s := range h.below[h.order[i]] {
			if waiting[s.group]--; waiting[s.group] == 0 {
				h.order = append(h.order, s.group)
			}
		}
	}
	return len(h.order) == n
}

// settle puts everything as high as it goes and gives the least height of all; false where rules contradict.
func (h *heights) settle() (int, bool) {
	if !h.index() {
		return 0, false
	}
	if len(h.y) != len(h.nodes) {
		h.y = make([]int, len(h.nodes))
	}
	deepest := 0
	for _, g := range h.order {
		y := h.top * fine
		for _, s := range h.above[g] {
			y = max(y, h.y[s.group]+s.d)
		}
		h.y[g] = y
		deepest = max(deepest, y)
	}
	for i, n := range h.nodes {
		deepest = max(deepest, h.y[n.group]+h.nodes[i].down*fine)
	}
	return (deepest + fine - 1) / fine, true
}

// together makes groups one where that neither contradicts a rule nor needs more room than there is.
func (h *heights) together(nodes []int, limit int) bool {
	all := true
	for _, n := range nodes[1:] {
		from, to := h.nodes[n].group, h.nodes[nodes[0]].group
		if from == to {
			continue
		}
		before := slices.Clone(h.nodes)
		for i := range h.nodes {
			if h.nodes[i].group == from {
				h.nodes[i].group = to
			}
		}
		if deep, ok := h.settle(); !ok || deep > limit {
			h.nodes = before
			h.settle()
			all = false
		}
	}
	return all
}

// loosen gives more ease to what is on no way down that has no room left.
func (h *heights) loosen() {
	h.tighten()
	deep, _ := h.settle()
	h.bottom = max(h.bottom, deep)
	stuck := make([]bool, len(h.rules))
	for ease := h.ease + 6; ease <= 100; ease += 6 {
		for i := range h.rules {
			if !stuck[i] {
				h.rules[i].more = ease - h.ease
			}
		}
		if deep, _ := h.settle(); deep <= h.bottom {
			continue
		}
		latest := h.latest()
		for i, r := range h.rules {
			upper, lower := h.nodes[r.upper].group, h.nodes[r.lower].group
			if !stuck[i] && h.y[upper]+h.distance(r)*fine > latest[lower] {
				stuck[i], h.rules[i].more = true, ease-6-h.ease
			}
		}
	}
	h.settle()
}

// tighten takes back what loosen gave.
func (h *heights) tighten() {
	for i := range h.rules {
		h.rules[i].more = 0
	}
}

// latest is how low each group may be, for all to be above the bottom.
func (h *heights) latest() []int {
	y := make([]int, len(h.nodes))
	for i := range y {
		y[i] = h.bottom * fine
	}
	for _, n := range h.nodes {
		y[n.group] = min(y[n.group], (h.bottom-n.down)*fine)
	}
	for _, g := range slices.Backward(h.order) {
		for _, s := range h.below[g] {
			y[g] = min(y[g], y[s.group]-s.d)
		}
	}
	return y
}

// spring shares the room out. What is at the rail and at the frame stays.
func (h *heights) spring() {
	h.loosen()
	defer h.tighten()
	fixed := map[int]bool{}
	if h.rail >= 0 {
		fixed[h.nodes[h.rail].group] = true
	}
	if h.frame >= 0 {
		g := h.nodes[h.frame].group
		h.y[g], fixed[g] = h.bottom*fine, true
	}
	const sweeps = 300
	for i := range sweeps {
		for j := range h.order {
			g := h.order[j]
			if i%2 == 0 {
				g = h.order[len(h.order)-1-j]
			}
			if !fixed[g] {
				h.relax(g)
			}
		}
	}
}

// relax moves a group to the weighted middle of its neighbours.
func (h *heights) relax(g int) {
	low, high := h.top*fine, h.bottom*fine
	sum, weight := 0, 0
	for _, s := range h.above[g] {
		low = max(low, h.y[s.group]+s.d)
		sum += s.weight * (h.y[s.group] + s.d)
		weight += s.weight
	}
	for _, s := range h.below[g] {
		high = min(high, h.y[s.group]-s.d)
		sum += s.weight * (h.y[s.group] - s.d)
		weight += s.weight
	}
	if weight > 0 {
		h.y[g] = max(low, min(high, sum/weight))
	}
}

// Half heights, px.
var symbolHalf = map[shape]int{fuse: 16, fusibleLink: 16, contact: 15, coil: 10, lamp: 18, motor: 21, heater: 19, resistor: 19, diode: 12,
	led: 14, terminator: 19, battery: 20, generator: 21, cavity: 12}

const (
	squeezed      = -62 // the least ease
	boxHalf       = 26
	throwsHalf    = 24
	satelliteHalf = 22
	groundedHalf  = 28 // of a satellite with pins above and below
)

// heightsOf makes nodes and rules of a net.
func (n *net) heightsOf(top, bottom int) *heights {
	h := &heights{top: top, bottom: bottom, ease: 100, rail: -1, frame: -1}
	for _, hub := range n.hubs {
		up, down := hub.half()
		hub.node = h.add(up, down)
	}
	if n.rail != nil {
		h.rail = n.rail.node
	}
	if n.frame != nil {
		h.frame = n.frame.node
	}
	for _, c := range n.chains {
		n.chainRules(h, c)
	}
	for _, hub := range n.hubs { // nothing lies below the frame or above the rail
		if hub != n.frame && n.frame != nil {
			h.rules = append(h.rules, rule{upper: hub.node, lower: n.frame.node, least: 8, wish: 8, floor: 8})
		}
		if hub != n.rail && n.rail != nil {
			h.rules = append(h.rules, rule{upper: n.rail.node, lower: hub.node, least: 8, wish: 8, floor: 8})
		}
	}
	n.signRules(h)
	return h
}

// half is how far a hub reaches up and down.
func (hub *hub) half() (up, down int) {
	switch hub.kind {
	case module:
		if hub.satellite && hub.grounded() {
			return groundedHalf, groundedHalf
		}
		if hub.satellite {
			return satelliteHalf, satelliteHalf
		}
		return boxHalf, boxHalf
	case throws:
		return throwsHalf, throwsHalf
	case frame, plate, bend:
		if hub.paired {
			return 8, 8
		}
		return 4, 4
	case open:
		return 4, 4
	case sign:
		return 6, 26
	}
	if hub.paired {
		return 9, 9
	}
	if hub.bar {
		return 4, 4
	}
	half := hub.lanes.half()
	return half, half
}

// grounded reports whether a satellite has pins below, too.
func (hub *hub) grounded() bool {
	for _, e := range hub.ends {
		if e.top {
			return true
		}
	}
	return false
}

// chainRules makes the rules along one column.
func (n *net) chainRules(h *heights, c *chain) {
	last, lastEnd, wired := c.top.hub.node, needOf(c.top.hub, c.top), false
	lastIs := c.top.kind(n)
	link := func(node int, need need, is string) {
		gap := rule{upper: last, lower: node, least: max(lastEnd.least, need.least), wish: max(lastEnd.wish, need.wish), floor: max(lastEnd.floor, need.floor)}
		if lastIs == "box" && is == "box" {
			gap.least, gap.wish, gap.floor = 44, 88, 34
		}
		if lastIs == "box" && is == "cavity" || lastIs == "cavity" && is == "box" {
			gap.least, gap.floor = gap.least+4, gap.floor+4 // the pin's number beside the connector's outline
		}
		if !wired {
			gap.least, gap.wish, gap.floor = 6, 12, min(gap.floor, 6)
			if is == "box" || lastIs == "box" || is == "throws" || lastIs == "throws" {
				gap.least, gap.wish, gap.floor = lastEnd.least, lastEnd.wish, lastEnd.floor
				if is == "box" || is == "throws" {
					gap.least, gap.wish, gap.floor = need.least, need.wish, need.floor
				}
			}
		}
		if is == "open" || lastIs == "open" {
			gap.least, gap.wish, gap.floor = 6, 6, 6
		}
		gap.weight = n.weight(c, lastIs, is)
		h.rules = append(h.rules, gap)
		last, lastEnd, wired, lastIs = node, need, false, is
	}
	for i := range c.items {
		it := &c.items[i]
		switch {
		case it.wire != nil:
			wired = true
		case it.splice != nil:
			it.node = h.add(5, 5)
			link(it.node, need{8, 20, 5}, "splice")
		default:
			it.symbol.node = h.add(symbolHalf[it.symbol.shape], symbolHalf[it.symbol.shape])
			link(it.symbol.node, needOfSymbol(it.symbol), it.symbol.word())
		}
	}
	link(c.bottom.hub.node, needOf(c.bottom.hub, c.bottom), c.bottom.kind(n))
}

// need is the length of wire wanted beside a thing.
type need struct{ least, wish, floor int }

// terminalWish is the wire wanted beside a terminal, for a gauge and the tag of a lead, px.
const terminalWish = 44

// terminalEase is the ease from which on every terminal has it.
const terminalEase = 50

func needOf(h *hub, e *end) need {
	switch h.kind {
	case module:
		return need{26, terminalWish, 16}
	case throws:
		return need{24, 30, 17}
	case frame, plate, sign:
		return need{16, 26, 10}
	case open:
		return need{10, 10, 10}
	case bend:
		return need{4, 8, 4}
	}
	if h.bar {
		return need{6, 12, 3}
	}
	return need{8, 18, 6}
}

func needOfSymbol(s *symbol) need {
	if s.shape == cavity {
		return need{14, terminalWish, 6}
	}
	return need{10, 26, 6}
}

// word is what a symbol is as far as springs go.
func (s *symbol) word() string {
	switch s.shape {
	case fuse, fusibleLink:
		return "fuse"
	case contact:
		return "switch"
	case coil, diode:
		return "relay"
	case cavity:
		return "cavity"
	}
	return "load"
}

func (e *end) kind(n *net) string {
	switch {
	case e.hub == n.rail:
		return "rail"
	case e.hub.kind == module:
		return "box"
	case e.hub.kind == throws:
		return "throws"
	case e.hub.kind == frame:
		return "frame"
	case e.hub.stud != nil:
		return "stud"
	case e.hub.kind == bend:
		return "bend"
	case e.hub.kind == sign:
		return "sign"
	case e.hub.kind == junction:
		return "splice"
	}
	return "open"
}

// springs are the weights between two things, the upper first.
var springs = map[string]int{
	"rail fuse": 80, "rail switch": 80, "rail throws": 80, "fuse switch": 30, "fuse relay": 30, "fuse splice": 30, "fuse throws": 30,
	"switch switch": 30, "switch splice": 30, "throws splice": 20, "throws fuse": 20, "box cavity": 15, "load cavity": 15,
	"cavity box": 12, "splice frame": 30, "stud frame": 600, "bend box": 40, "box bend": 40, "splice fuse": 20, "splice switch": 10,
	"box open": 80, "throws open": 80, "open box": 80,
}

func (n *net) weight(c *chain, upper, lower string) int {
	if c == n.source {
		return 10
	}
	w := springs[upper+" "+lower]
	if w == 0 {
		w = 5
		switch lower {
		case "frame":
			w = 4
		case "sign":
			w = 60
		}
	}
	if siblings := len(c.bottom.hub.ends); lower == "splice" && siblings > 2 {
		w = max(1, w/(siblings-1))
	}
	return w
}
