package sim

// This file is the talk on a two-wire bus in a run, as a scope on its pins shows it: frames of bits, each module that is
// awake in its turn. The levels are those of the circuit, with all its joints, terminators and shorts.

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"underload/circuit"
	"underload/sim/live"
	"underload/sim/part"
	"underload/solver"
	"underload/solver/transient"
)

// Figures of the talk. 500 kbit/s, a message of each module every 10 ms and its turn are common practice, no source; the
// shape of a frame of eight bytes (ISO 11898-1, from memory): one dominant bit first, never more than five equal bits in
// a row, recessive at the end.
const (
	bitSeconds   = 2e-6
	turnSeconds  = 250e-6
	cycleSeconds = 10e-3
	frameBits    = 108
	endBits      = 10
	mostEqual    = 5
	dominantBits = frameBits - endBits
)

// talk is who speaks on the bus, in turn.
type talk struct {
	speakers []talker
	cycle    float64                 // seconds in which everybody has had a turn
	lines    map[transient.Node]bool // nodes of the pair, wherever it goes
	seed     uint64
	last     struct { // frame made
		is      bool
		speaker int
		message uint64
		bits    [frameBits]bool
	}
}

type talker struct {
	part  *circuit.Part
	mode  live.Reading
	speak func(live.View)
}

// talkOf finds the speakers and the nodes that their lines reach over wires and contacts.
func (a *age) talkOf(seed uint64) *talk {
	t := &talk{lines: map[transient.Node]bool{}, seed: seed}
	near := map[solver.Node][]solver.Node{}
	for _, l := range a.w.links {
		if a.w.inside[l.Branch] || l.Place == Instrument || strings.HasPrefix(l.Place, ShortAt) || math.IsInf(a.w.net.Ohms(l.Branch), 1) {
			continue
		}
		from, to := a.w.net.Ends(l.Branch)
		near[from] = append(near[from], to)
		near[to] = append(near[to], from)
	}
	var reach func(n solver.Node)
	reach = func(n solver.Node) {
		if t.lines[transient.Node(n)] {
			return
		}
		t.lines[transient.Node(n)] = true
		for _, next := range near[n] {
			reach(next)
		}
	}
	for _, p := range a.w.circuit.OfKind("module") {
		made := a.parts[p]
		if made.Speak == nil {
			continue
		}
		t.speakers = append(t.speakers, talker{p, made.Readings["mode"], made.Speak})
		for _, pin := range p.Module.Bus {
			reach(a.w.joints[p.Terminal(pin)].inside)
		}
	}
	t.cycle = max(cycleSeconds, float64(len(t.speakers))*turnSeconds)
	return t
}

// talking is the talk of an age, found when somebody first listens.
func (a *age) talking(seed uint64) *talk {
	if a.talk == nil {
		a.talk = a.talkOf(seed)
	}
	return a.talk
}

// turn is whose turn it is at a time, which of his messages it is, and how far into it.
func (t *talk) turn(seconds float64) (speaker int, message uint64, into float64) {
	cycle := math.Floor(seconds / t.cycle)
	into = seconds - cycle*t.cycle
	speaker = int(into / turnSeconds)
	return speaker, uint64(cycle), into - float64(speaker)*turnSeconds
}

// frame is the bits of a message, true for dominant.
func (t *talk) frame(speaker int, message uint64) *[frameBits]bool {
	if t.last.is && t.last.speaker == speaker && t.last.message == message {
		return &t.last.bits
	}
	t.last.is, t.last.speaker, t.last.message = true, speaker, message
	bits := &t.last.bits
	*bits = [frameBits]bool{0: true}
	draw := rand.New(rand.NewPCG(t.seed, message<<16|uint64(speaker)))
	for i, run := 1, 1; i < dominantBits; i++ {
		bits[i] = draw.IntN(2) == 0
		if bits[i] == bits[i-1] && run == mostEqual {
			bits[i] = !bits[i]
		}
		if run++; bits[i] != bits[i-1] {
			run = 1
		}
	}
	return bits
}

// speaking is who drives the pair at a time, nil for nobody. A module that is not awake misses its turn.
func (t *talk) speaking(seconds float64, v live.View) func(live.View) {
	who, message, into := t.turn(seconds)
	bit := int(into / bitSeconds)
	if who >= len(t.speakers) || bit >= frameBits || !t.frame(who, message)[bit] {
		return nil
	}
	if part.Mode(t.speakers[who].mode.Read(v)) != part.Awake {
		return nil
	}
	return t.speakers[who].speak
}

// Moments lists times after one and up to another at which a channel of a bus should be read so that its talk is seen:
// every bit where fine is shorter than some bits, else one recessive and one dominant bit for every stretch of fine. For
// any other channel there are none. Both times must lie inside the last step.
func (c Channel) Moments(from, to, fine float64) []float64 {
	if !c.onBus() {
		return nil
	}
	t := c.run.age.talking(c.run.options.Seed)
	var at []float64
	if fine < 8*bitSeconds {
		for bit := math.Ceil(from / bitSeconds); bit*bitSeconds < to; bit++ {
			at = append(at, bit*bitSeconds-bitSeconds/100, bit*bitSeconds+bitSeconds/100)
		}
		return within(at, from, to)
	}
	stretch := max(fine, turnSeconds)
	for s := math.Floor(from/stretch) * stretch; s < to; s += stretch {
		for who := range t.speakers { // the first whose turn begins in this stretch
			begin := math.Ceil((s-float64(who)*turnSeconds)/t.cycle)*t.cycle + float64(who)*turnSeconds
			if begin+bitSeconds/2 < s+stretch {
				at = append(at, begin-bitSeconds/100, begin+bitSeconds/2, begin+frameBits*bitSeconds)
				break
			}
		}
	}
	slices.Sort(at)
	return within(at, from, to)
}

func within(at []float64, from, to float64) []float64 {
	return slices.DeleteFunc(at, func(s float64) bool { return s <= from || s >= to })
}

// onBus reports whether the channel shows volts of the pair.
func (c Channel) onBus() bool {
	for _, p := range c.points {
		if c.run.age.talking(c.run.options.Seed).lines[c.run.age.at(p)] {
			return true
		}
	}
	return false
}

// heard is the view in which whoever speaks at its time is heard.
func (c Channel) heard(v *transient.View) live.View {
	if len(c.points) == 0 || !c.onBus() {
		return view{v}
	}
	speak := c.run.age.talking(c.run.options.Seed).speaking(v.Seconds, view{v})
	if speak == nil {
		return view{v}
	}
	return view{c.run.age.run.Suppose(v.Seconds, func(v *transient.View) { speak(view{v}) })}
}
