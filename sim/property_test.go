package sim

// This file holds what must be true of every example with every single fault in several states: it comes to rest or
// says that it does not, every volt is a number, Kirchhoff's current law holds at every node, and the power that goes
// in comes out (Tellegen's theorem).

import (
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
	"underload/sim/fault"
	"underload/sim/part"
	"underload/solver"
)

// everything brings the main loads on; settings for parts that an example does not have are left out.
var everything = []string{"KEY=run", "SW3=on", "M1=on", "M5=on", "WM=on", "VALVES=on", "COMP=on", "FAN=on",
	"SW1=on", "TL=on", "BOLT=on", "LIGHTS=side", "STOP=on", "FLASH=hazard", "FOG=on"}

// sparing leaves faults out where each costs ten times as much, as under the race detector.
var sparing = flag.Int("sparing", 1, "lay only every so many-th fault")

// propertyStates are tried on each example. All faults are laid in the first; in the others every third will do. From
// the last the key is then turned on with the fault there, as a driver would.
var propertyStates = []struct {
	settings, then []string
	stride         int
}{
	{everything, nil, 1},
	{[]string{"KEY=crank"}, nil, 3},
	{[]string{"KEY=off"}, everything, 3},
}

// values completes the conditions that cannot stand alone.
func values(c *circuit.Circuit, place, condition string) []string {
	switch condition {
	case "strands":
		return []string{"1/16"}
	case "wrong-fuse":
		return []string{"3 A", "25 A"}
	case "short-to", "leaks-to":
		return []string{c.OfKind("battery")[0].Terminals[1].Name, c.Wires[len(c.Wires)/2].Name}
	case "swapped":
		if t := c.Terminal(place); t != nil {
			return others(c, t)
		}
	case "stuck":
		return sticks(c.Part(place))
	case "high":
		return []string{"1 mohm", "10 mohm", "0.1 ohm", "1 ohm", "10 ohm", "100 ohm", "1 kohm", "10 kohm", "100 kohm"}
	}
	return []string{""}
}

// others is one other terminal of the same owner, if there is one.
func others(c *circuit.Circuit, t *circuit.Terminal) []string {
	var siblings []*circuit.Terminal
	if p := c.Part(t.Owner); p != nil {
		siblings = p.Terminals
	} else {
		siblings = c.Connector(t.Owner).Cavities
	}
	for i, s := range siblings {
		if s == t && i > 0 {
			return []string{siblings[i-1].Name}
		}
	}
	return nil
}

func sticks(p *circuit.Part) []string {
	if p.Kind.Name == "relay" {
		return []string{"open", "closed"}
	}
	var at []string
	for _, throw := range p.Throws {
		at = append(at, throw.Name)
	}
	if p.Module != nil {
		for _, out := range p.Module.Outputs {
			at = append(at, out.Pin)
		}
	}
	return at
}

// everyFault lists all single faults of a circuit, in the words of the grammar.
func everyFault(t *testing.T, c *circuit.Circuit) []fault.Fault {
	var all []fault.Fault
	for _, place := range fault.Places(c) {
		conditions, err := fault.Conditions(c, place)
		if err != nil {
			t.Fatal(err)
		}
		for _, condition := range conditions {
			for _, value := range values(c, place, condition) {
				text := strings.TrimSpace(place + " " + condition + " " + value)
				f, err := fault.Parse(c, text)
				if err != nil {
					if strings.HasPrefix(value, place) { // a wire short to itself
						continue
					}
					t.Fatalf("%s: %v", text, err)
				}
				all = append(all, f)
			}
		}
	}
	return all
}

func TestEverySingleFaultObeysKirchhoff(t *testing.T) {
	names := circuits.Names()
	if len(names) == 0 {
		t.Fatal("no examples")
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c, err := circuits.Read(name)
			if err != nil {
				t.Fatal(err)
			}
			faults := everyFault(t, c)
			if len(faults) < 100 {
				t.Fatalf("only %d faults", len(faults))
			}
			for _, state := range propertyStates {
				b, taken := benchIn(t, c, state.settings)
				if len(taken) == 0 {
					continue
				}
				_, then := benchIn(t, c, state.then)
				everyFaultIn(t, b, faults, state.stride, then)
			}
		})
	}
}

// benchIn is a sound bench with those settings made that it takes.
func benchIn(t *testing.T, c *circuit.Circuit, settings []string) (b *Bench, taken []string) {
	b, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range settings {
		if b.Set(s) == nil {
			taken = append(taken, s)
		}
	}
	return b, taken
}

func everyFaultIn(t *testing.T, b *Bench, faults []fault.Fault, stride int, then []string) {
	sound, settings := map[*circuit.Part]*part.State{}, b.settings
	for p, s := range b.states {
		sound[p] = s.Clone()
	}
	for i := 0; i < len(faults); i += stride * *sparing {
		f := faults[i]
		for p, s := range sound {
			b.states[p] = s.Clone()
		}
		b.settings = settings
		err := b.lay([]fault.Fault{f})
		if err == nil {
			err = lawful(b)
		}
		for _, s := range then {
			if err == nil {
				err = b.Set(s)
			}
			if err == nil {
				err = lawful(b)
			}
		}
		if err != nil {
			t.Errorf("%v with %s: %v", settings, f, err)
		}
	}
}

// lawful holds the bench's solutions against the two laws.
func lawful(b *Bench) error {
	if err := balanced(b.w.net, b.sol); err != nil {
		return err
	}
	if b.kick != nil {
		if err := balanced(b.w.net, b.kick); err != nil {
			return fmt.Errorf("in the kick: %w", err)
		}
	}
	for _, m := range b.Modules() {
		if m.Mode == part.Booting {
			return fmt.Errorf("%s is left in its boot", m.Part.Name)
		}
	}
	return nil
}

func balanced(net *solver.Network, at *solver.Solution) error {
	into := make([]float64, net.Nodes())
	watts, supplied := 0.0, 0.0
	for i := range net.Branches() {
		br := solver.Branch(i)
		from, to := net.Ends(br)
		amps := at.Amps(br)
		if math.IsNaN(amps) || math.IsInf(amps, 0) {
			return fmt.Errorf("branch %d carries %g A", i, amps)
		}
		into[from] -= amps
		into[to] += amps
		w := at.Watts(br)
		watts += w
		supplied += math.Max(0, -w)
	}
	for node, amps := range into {
		if volts := at.Volts(solver.Node(node)); math.IsNaN(volts) || math.Abs(volts) > 1000 {
			return fmt.Errorf("node %d stands at %g V", node, volts)
		}
		if math.Abs(amps) > 1e-6 {
			return fmt.Errorf("%g A go missing at node %d", amps, node)
		}
	}
	if math.Abs(watts) > 1e-6*math.Max(supplied, 1) {
		return fmt.Errorf("%g W of %g W go missing", watts, supplied)
	}
	return nil
}
