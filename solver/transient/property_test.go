package transient

// This file runs made-up networks: Kirchhoff's current law at every node at every step, energy in balance, no value that
// is no number.

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// energetic elements account for what they do.
type energeticCoil struct{ coil }

func (c energeticCoil) Power(at *Point) (lost, given, stored float64) {
	i := at.States[0]
	return i * i * c.ohms, 0, c.henries * i * i / 2
}

type energeticConverter struct{ converter }

func (c energeticConverter) Power(at *Point) (lost, given, stored float64) {
	u := at.States[0]
	amps := (at.Volts - u) / c.ohms
	if at.Marks[0] == 1 {
		lost = c.watts
	}
	return lost + amps*amps*c.ohms, 0, c.farads * u * u / 2
}

// blinker is a contact that opens and closes by chance at times it draws.
type blinker struct{ ohms float64 }

func (blinker) Size() Size                        { return Size{Marks: 3} }
func (b blinker) Start(_ float64, _, d []float64) { d[0], d[1] = b.ohms, 0.01 }
func (b blinker) Rates(at *Point, r *Rates) {
	r.PerVolt = 1 / at.Marks[0]
	r.Amps = at.Volts * r.PerVolt
}
func (blinker) Next(d []float64) float64 { return d[1] }
func (b blinker) Tick(at *Point) {
	at.Marks[2]++
	at.Marks[0] = b.ohms
	if at.Draw(2*at.Marks[2]) < 0.5 {
		at.Marks[0] = 1e9
	}
	at.Marks[1] += 1e-4 + 0.02*at.Draw(2*at.Marks[2]+1)
}
func (b blinker) Power(at *Point) (lost, given, stored float64) {
	return at.Volts * at.Volts / at.Marks[0], 0, 0
}

// madeUp is a tree of resistors with a few loops, fed by one source, with loads hung into it.
func madeUp(rng *rand.Rand) *Network {
	n := New()
	first := n.Node()
	n.Source(Ground, first, 10+4*rng.Float64(), 0.005+0.1*rng.Float64())
	nodes := []Node{Ground, first}
	pick := func() Node { return nodes[rng.IntN(len(nodes))] }
	ohms := func() float64 { return math.Exp(math.Log(1e-3) + rng.Float64()*math.Log(1e4)) }
	for range 3 + rng.IntN(40) {
		from, to := pick(), n.Node()
		nodes = append(nodes, to)
		if rng.IntN(12) == 0 {
			n.Element(from, to, blinker{ohms()})
		} else {
			n.Resistor(from, to, ohms())
		}
	}
	for range rng.IntN(6) {
		n.Resistor(pick(), pick(), 10*ohms())
	}
	for range 1 + rng.IntN(5) {
		switch rng.IntN(3) {
		case 0:
			a, b, ohms := pick(), pick(), 1+100*rng.Float64()
			n.Element(a, b, energeticCoil{coil{ohms, 0.01 + rng.Float64()}})
			n.Resistor(a, b, 50*ohms) // a coil that is cut off has to have somewhere to go
		case 1:
			n.Element(pick(), pick(), capacitor(1e-5+1e-2*rng.Float64()))
		case 2:
			n.Element(pick(), Ground, energeticConverter{converter{1e-5 + 1e-3*rng.Float64(), 0.02, 1 + 20*rng.Float64(), 8.5, 6.5}})
		}
	}
	return n
}

// missing is the largest current that Kirchhoff's law misses at any node, and the largest current there is.
func missing(n *Network, v *View) (worst, most float64) {
	at := make([]float64, n.nodes)
	note := func(a, b Node, amps float64) {
		at[a] += amps
		at[b] -= amps
		most = max(most, math.Abs(amps))
	}
	for i, e := range n.edges {
		note(e.a, e.b, v.Amps(Edge(i)))
	}
	for i, el := range n.elements {
		note(el.a, el.b, v.ElementAmps(ID(i))+leakSiemens*v.ElementVolts(ID(i)))
	}
	for _, amps := range at[1:] {
		worst = max(worst, math.Abs(amps))
	}
	return worst, most
}

func TestMadeUpNetworks(t *testing.T) {
	events := 0
	for seed := range uint64(400) {
		rng := rand.New(rand.NewPCG(seed, 7))
		n := madeUp(rng)
		r := mustStart(t, n, Options{Method: Method(seed % 3), Tolerance: 1e-5, Seed: seed, Energy: true})
		for r.Seconds() < 0.3 {
			err := r.Step(0.3)
			var stuck *StuckError
			var chatter *ChatterError
			if errors.As(err, &stuck) || errors.As(err, &chatter) {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if err != nil {
				t.Fatal(err)
			}
			events += len(r.Fired())
			if !finite(r.x) || !finite(r.v) || !finite(r.d) {
				t.Fatalf("seed %d: no number at %g s", seed, r.Seconds())
			}
		}
		if worst, most := missing(n, r.Now()); worst > 1e-5*most+1e-6 {
			t.Errorf("seed %d: %g A missing at a node, of %g A", seed, worst, most)
		}
		b := r.Balance()
		if off := math.Abs(b.Off()); off > 1e-3*(b.Given+b.Lost)+1e-11 {
			t.Errorf("seed %d: %+v, %g J are missing", seed, b, off)
		}
	}
	if events < 1000 {
		t.Errorf("only %d events", events)
	}
}

// A search that begins where all is solved ends there: which way rounding still points is no way to go.
func TestSearchBeginsWhereItEnds(t *testing.T) {
	for seed := range uint64(100) {
		r := mustStart(t, madeUp(rand.New(rand.NewPCG(seed, 7))), Options{Seed: seed})
		if err := r.Advance(0.01); err != nil {
			t.Fatal(err)
		}
		r.w.search = true
		for range 2 {
			copy(r.w.from, r.x)
			if !r.newton(0, r.seconds, r.w.from, r.x, r.v) {
				t.Errorf("seed %d: not solved again", seed)
			}
		}
	}
}
