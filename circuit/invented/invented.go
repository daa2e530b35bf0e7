// Package invented makes circuit files up, for tests: vehicles as a workshop meets them, and tangles that no workshop
// does. The same seed always gives the same text.
package invented

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// invention writes a circuit file.
type invention struct {
	*rand.Rand
	parts, paths strings.Builder
	count        int // parts
	number       int // for names
	studs        int
	colour       int
	bus          []string
}

var inks = []string{"RD", "BN", "BU", "GN/WH", "VT", "GY/BK", "OG", "YE/RD", "WH", "BK", "PK/WH", "RD/BU"}

func (v *invention) name(letter string) string {
	v.number++
	if letter == "B" && v.number == 15 { // the rail has that name
		v.number++
	}
	return fmt.Sprintf("%s%d", letter, v.number)
}

func (v *invention) part(letter, text string) string {
	name := v.name(letter)
	v.count++
	fmt.Fprintf(&v.parts, "  %s: {%s}\n", name, text)
	return name
}

func (v *invention) path(steps ...string) {
	v.number++
	fmt.Fprintf(&v.paths, "  path %d: [%s]\n", v.number, strings.Join(steps, ", "))
}

func (v *invention) wire() string {
	v.colour++
	return fmt.Sprintf("wire: %s %s mm2 %d m", inks[v.colour%len(inks)], []string{"0.5", "0.75", "1.0", "2.5"}[v.IntN(4)], 1+v.IntN(4))
}

func (v *invention) stud() string { return fmt.Sprintf("G%d", 1+v.IntN(v.studs)) }

func (v *invention) fuse() string {
	return v.part("F", fmt.Sprintf("is: fuse, rating: %d A, place: fuse box", []int{5, 10, 15, 20}[v.IntN(4)]))
}

// plug adds a cavity of one of a few connectors, now and then.
func (v *invention) plug(steps []string, plugs map[string]int) []string {
	if v.IntN(3) > 0 {
		return steps
	}
	k := fmt.Sprintf("C%d", 90+v.IntN(4))
	plugs[k]++
	return append(steps, fmt.Sprintf("%s.%d", k, plugs[k]), v.wire())
}

// Vehicle makes up a vehicle of about so many parts.
func Vehicle(seed uint64, parts int) string {
	v := &invention{Rand: rand.New(rand.NewPCG(seed, 1)), studs: 2 + parts/20}
	plugs := map[string]int{}
	v.parts.WriteString("  BATT: {is: battery, place: locker}\n  MF: {is: fuse, rating: 80 A, place: locker}\n  KEY: {is: switch, place: dash, throws: {off: [], acc: [b-acc], run: [b-acc, b-ign]}}\n")
	v.count = 3
	v.path("BATT.pos", "wire: RD 16 mm2 1 m", "MF", "wire: RD 16 mm2 2 m", "FB")
	v.path("FB", v.fuse(), v.wire(), "KEY.b-ign", v.wire(), "B15")
	v.path("KEY.acc", v.wire(), v.part("L", "is: lamp, bulb: 5 W"), v.wire(), "G1")
	v.path("B15", v.fuse(), v.wire(), v.part("E", "is: heater, power: 60 W"), v.wire(), "G1")
	v.path("G0", "wire: BK 25 mm2 1 m", "BATT.neg")
	for v.count < parts {
		switch v.IntN(5) {
		case 0, 1:
			v.lamps(plugs)
		case 2, 3:
			v.relay(plugs)
		default:
			v.module(plugs)
		}
	}
	for len(v.bus) == 1 {
		v.module(plugs)
	}
	v.wireBus()
	return v.text(plugs)
}

func (v *invention) feed(plugs map[string]int) []string {
	rail := "FB"
	if v.IntN(3) == 0 {
		rail = "B15"
	}
	return v.plug([]string{rail, v.fuse(), v.wire()}, plugs)
}

func (v *invention) lamps(plugs map[string]int) {
	steps := v.feed(plugs)
	if v.IntN(2) == 0 {
		steps = append(steps, v.part("SW", "is: switch, place: dash, throws: {off: [], on: [1-2]}"), v.wire())
	}
	lamp := func() string { return v.part("L", fmt.Sprintf("is: lamp, bulb: %d W", []int{5, 21, 55}[v.IntN(3)])) }
	n := 1 + v.IntN(4)
	if n == 1 {
		v.path(append(steps, lamp(), v.wire(), v.stud())...)
		return
	}
	s := v.name("S")
	v.path(append(steps, s)...)
	back := v.stud()
	if v.IntN(2) == 0 {
		back = v.name("SG")
		v.path(append(v.plug([]string{back, v.wire()}, plugs), v.stud())...)
	}
	for range n {
		v.path(s, v.wire(), lamp(), v.wire(), back)
	}
}

func (v *invention) relay(plugs map[string]int) {
	k := v.part("K", "is: relay, place: fuse box")
	steps := v.feed(plugs)
	load := v.part("M", "is: motor, draws: 8 A, place: front")
	v.path(append(v.plug(append(steps, k+".30-87", v.wire()), plugs), load, v.wire(), v.stud())...)
	v.path(append(v.feed(plugs), k+".86-85", v.wire(), v.part("SW", "is: switch, place: dash, throws: {off: [], on: [1-2]}"), v.wire(), v.stud())...)
}

func (v *invention) module(plugs map[string]int) {
	m := v.name("U")
	v.count++
	outputs, sensors := "", ""
	for i := range v.IntN(3) {
		pin := fmt.Sprint(10 + i)
		load := v.part("Y", "is: resistor, resistance: 20 ohm, place: valve block")
		if outputs != "" {
			outputs += ", "
		}
		outputs += fmt.Sprintf("%s: {pulls to: ground, for: %s}", pin, load)
		v.path(append(v.feed(plugs), load, v.wire(), m+"."+pin)...)
	}
	if outputs != "" {
		outputs = fmt.Sprintf(", outputs: {%s}", outputs)
	}
	if v.IntN(3) == 0 {
		b := v.part("B", "is: sensor, place: tank")
		sensors = `, reference: ["20"], sensor ground: ["21"], signals: ["22"]`
		v.path(m+".20", v.wire(), b+".supply")
		v.path(b+".signal", v.wire(), m+".22")
		v.path(b+".ground", v.wire(), m+".21")
	}
	fmt.Fprintf(&v.parts, "  %s: {is: module, place: cab, supply: [\"1\"], wake: [\"2\"], ground: [\"4\"], bus: [H, L]%s%s}\n", m, outputs, sensors)
	v.path(append(v.feed(plugs), m+".1")...)
	v.path("B15", v.wire(), m+".2")
	v.path(m+".4", v.wire(), v.stud())
	v.bus = append(v.bus, m)
}

// wireBus joins all modules by a pair: the first and last at its ends, the others at splices.
func (v *invention) wireBus() {
	if len(v.bus) < 2 {
		return
	}
	for _, wire := range []string{"H", "L"} {
		last := v.bus[0] + "." + wire
		ink := "wire: " + map[string]string{"H": "WH/GN", "L": "BN/WH"}[wire] + " 0.35 mm2 1 m"
		for _, m := range v.bus[1 : len(v.bus)-1] {
			s := "T" + m[1:] + wire
			v.path(last, ink, s)
			v.path(s, ink, m+"."+wire)
			last = s
		}
		v.path(last, ink, v.bus[len(v.bus)-1]+"."+wire)
	}
}

func (v *invention) text(plugs map[string]int) string {
	text := "underload: 1\ntitle: made up\nparts:\n" + v.parts.String() + "paths:\n" + v.paths.String() + "splices:\n  FB: {reach: open}\n  B15: {reach: open}\n"
	text += "grounds:\n  G0: {place: by the battery}\n"
	for i := 1; i <= v.studs; i++ {
		if s := fmt.Sprintf("G%d", i); strings.Contains(v.paths.String(), s+"]") {
			text += fmt.Sprintf("  %s: {place: frame %d, to: G0}\n", s, i)
		}
	}
	if len(plugs) > 0 {
		text += "connectors:\n"
		for i := 90; i < 94; i++ {
			if k := fmt.Sprintf("C%d", i); plugs[k] > 0 {
				text += fmt.Sprintf("  %s: {place: bulkhead}\n", k)
			}
		}
	}
	return text
}

// Tangle makes up a circuit that makes no sense: parts between any two of the rail, splices and studs.
func Tangle(seed uint64) string {
	v := &invention{Rand: rand.New(rand.NewPCG(seed, 2)), studs: 1 + int(seed%4)}
	plugs := map[string]int{}
	v.parts.WriteString("  BATT: {is: battery}\n")
	v.path("BATT.pos", "wire: RD 16 mm2 1 m", "FB")
	v.path("FB", v.fuse(), v.wire(), "B15")
	v.path("B15", v.wire(), v.part("L", "is: lamp, bulb: 5 W"), v.wire(), "G1")
	v.path("G0", "wire: BK 25 mm2 1 m", "BATT.neg")
	for i := range v.studs {
		v.path("FB", v.fuse(), v.wire(), v.part("L", "is: lamp, bulb: 5 W"), v.wire(), fmt.Sprintf("G%d", i+1))
	}
	places := []string{"FB", "B15"}
	for i := range 2 + v.IntN(6) {
		s := fmt.Sprintf("S%d", 900+i)
		v.path(places[v.IntN(len(places))], v.wire(), s)
		v.path(s, v.wire(), v.thing(), v.wire(), v.stud())
		places = append(places, s)
	}
	for range 3 + v.IntN(25) {
		a, b := places[v.IntN(len(places))], places[v.IntN(len(places))]
		if a == b || v.IntN(2) == 0 {
			b = v.stud()
		}
		steps := v.plug([]string{a, v.wire()}, plugs)
		for range 1 + v.IntN(2) {
			steps = append(steps, v.thing(), v.wire())
		}
		v.path(append(steps, b)...)
	}
	for range v.IntN(3) {
		v.module(plugs)
	}
	if len(v.bus) == 1 {
		v.module(plugs)
	}
	v.wireBus()
	return v.text(plugs)
}

// thing is a part of any kind with two ends, or a relay's contact with its coil elsewhere.
func (v *invention) thing() string {
	switch v.IntN(9) {
	case 0, 1:
		return v.part("L", "is: lamp, bulb: 21 W")
	case 2:
		return v.part("M", "is: motor, draws: 5 A")
	case 3:
		return v.part("R", "is: resistor, resistance: 10 ohm")
	case 4:
		return v.part("D", "is: diode")
	case 5:
		return v.part("SW", "is: switch, throws: {off: [], on: [1-2]}")
	case 6:
		return v.part("J", "is: led")
	case 7:
		return v.part("F", "is: fuse, rating: 10 A")
	}
	k := v.part("K", "is: relay")
	v.path("B15", v.wire(), k+".86-85", v.wire(), v.stud())
	return k + ".30-87"
}
