package meter

// This file takes a reading: it checks that the instrument can be used there, puts it on the bench and on the sound
// circuit, and tells the two apart.

import (
	"fmt"
	"math"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/circuit/spelling"
	"underload/sim"
	"underload/sim/part"
)

// leads is what an instrument has to be given.
type leads int

const (
	twoLeads leads = iota
	oneCavity
	oneWire
	noLeads
)

// instrument is one instrument: measure puts it on a bench and reads; tell puts words to what it read.
type instrument struct {
	name    string
	leads   leads
	says    string // for help: how it loads the circuit
	minutes float64
	blows   string // what is seen once its own fuse has melted; empty of one without a fuse
	plain   bool   // a resistance in place of a lamp, which gives no light
	measure func(b *sim.Bench, q Request) (raw, error)
	tell    func(t telling) (seen, meaning string)
}

// raw is what an instrument has read on one bench.
type raw struct {
	has     bool // it gives a number
	value   float64
	amps    float64
	light   float64 // share of the lamp's light at 12 V
	kick    *float64
	seen    string     // where the words do not come from the number
	lines   []string   // longer lists
	called  int        // modules that were called
	silent  int        // of them, those that do not answer
	changed []string   // what it made the circuit do, where that is the point of it
	misuse  string     // of the instrument: what it has just done
	after   *sim.Bench // with the instrument on it
	known   *strained  // what a load has shown of its path, of a bench that stays as it is
}

// telling is all that the words of a reading are made from.
type telling struct {
	request      Request
	got, healthy raw
	bench        *sim.Bench // as it was before
	load         string     // what the circuit between the leads has to carry, in words
}

var instruments = []instrument{
	voltmeter, ohmmeter, ammeter, clampMeter, testLamp, ledLight, loadLamp, jumper, dragGauge, rollCall, look,
}

// Instruments lists the names and what each is.
func Instruments() (names, says []string) {
	for _, i := range instruments {
		names, says = append(names, i.name), append(says, i.says)
	}
	return names, says
}

func named(name string) (instrument, error) {
	var names []string
	for _, i := range instruments {
		if i.name == name {
			return i, nil
		}
		names = append(names, i.name)
	}
	if ohms, err := quantity.Parse(name, quantity.Ohms); err == nil {
		if ohms < leastLoadOhms || ohms > mostLoadOhms {
			return instrument{}, fmt.Errorf("%s is no load to test with: between 10 mohm and 10 Mohm is wanted, such as \"2.4 ohm\"", name)
		}
		return plainLoad(name, ohms), nil
	}
	if near, ok := spelling.Nearest(name, names); ok {
		return instrument{}, fmt.Errorf("there is no instrument %q: did you mean %s?", name, near)
	}
	return instrument{}, fmt.Errorf("there is no instrument %q: choose one of %s, or a plain load such as \"2.4 ohm\"", name, strings.Join(names, ", "))
}

// A plain load below these is a short, and above them a meter.
const leastLoadOhms, mostLoadOhms = 0.010, 10e6

// Take makes one test. The bench itself is not changed. Errors say in one sentence what cannot be done and what can.
func Take(b *sim.Bench, q Request) (Reading, error) {
	h, err := Hold(b, q)
	if err != nil {
		return Reading{}, err
	}
	return h.Reading(), nil
}

func (i instrument) reading(t telling, minutes float64) Reading {
	r := Reading{Instrument: i.name, Red: t.request.Red, Black: t.request.Black, On: t.request.On, BeyondReach: t.request.beyond, Kick: t.got.kick, Lines: t.got.lines}
	r.Minutes = minutes + i.minutes
	r.Unit, r.Resolution, r.Uncertainty = i.scale(t.got.value)
	if t.got.has {
		r.Value = p(t.got.value)
	} else {
		r.Uncertainty = nil
	}
	if t.healthy.has {
		r.Healthy = p(t.healthy.value)
	}
	if i.isLamp() {
		r.Amps = p(math.Abs(t.got.amps)) // a lamp has no sign
	}
	if i.isLamp() && !i.plain {
		r.LightPercent = p(100 * t.got.light)
	}
	r.Seen, r.Meaning = i.tell(t)
	mirrored := t
	mirrored.got = t.healthy
	r.HealthySeen, _ = i.tell(mirrored)
	r.State = unhappy(t.got.after, t.healthy.after)
	r.Effect = effect(i, t)
	r.Cautions = cautionsFor(t.bench, t.request, i)
	if t.got.misuse != "" {
		r.Cautions = append(r.Cautions, t.got.misuse)
	}
	return r
}

// check holds the leads against the instrument and the circuit, and prices getting there.
func (i instrument) check(b *sim.Bench, q *Request) (minutes float64, err error) {
	switch i.leads {
	case twoLeads:
		if q.On != "" {
			return 0, fmt.Errorf("%s has two leads: use --red and --black; --on is for the clamp", i.name)
		}
		return i.checkTwo(b, q)
	case oneCavity:
		if q.Black != "" || q.On != "" || q.Red == "" {
			return 0, fmt.Errorf("%s takes one terminal, apart: --red C14.4", i.name)
		}
	case oneWire:
		if q.Red != "" || q.Black != "" {
			return 0, fmt.Errorf("%s goes around one wire: use --on WIRE instead of --red and --black", i.name)
		}
		if q.On == "" {
			return 0, fmt.Errorf("%s goes around one wire: say which with --on WIRE", i.name)
		}
		if b.Circuit().Wire(q.On) == nil {
			var names []string
			for _, w := range b.Circuit().Wires {
				names = append(names, w.Name)
			}
			return 0, unknown("wire", q.On, names)
		}
	case noLeads:
		if q.Red != "" || q.Black != "" || q.On != "" {
			return 0, fmt.Errorf("%s takes no leads", i.name)
		}
	}
	return 0, nil
}

func (i instrument) checkTwo(b *sim.Bench, q *Request) (minutes float64, err error) {
	if q.Red == "" || q.Black == "" {
		return 0, fmt.Errorf("%s has two leads: say where with --red POINT and --black POINT", i.name)
	}
	for _, name := range []string{q.Red, q.Black} {
		point, err := b.Circuit().Point(name)
		if err != nil {
			return 0, err
		}
		if err := reachable(b, point); err != nil {
			if !q.AnyReach {
				return 0, err
			}
			q.beyond = append(q.beyond, name)
		}
		minutes += point.Minutes
	}
	if q.Red == q.Black {
		return 0, fmt.Errorf("both leads are on %s: put them on two points", q.Red)
	}
	return minutes, nil
}

// reachable says whether a lead can get to a point in this state, and if not, how.
func reachable(b *sim.Bench, point circuit.Point) error {
	switch point.Reach {
	case circuit.Apart:
		if !b.IsApart(point.Terminal) {
			return fmt.Errorf("%s can be touched only with the connector apart: add --apart %s, or --any-reach to see what the model knows", point.Name, point.Terminal.Owner)
		}
	case circuit.InLoom, circuit.Nowhere:
		return fmt.Errorf("%s is out of reach (%s): measure at the points on both sides of it, or add --any-reach to see what the model knows", point.Name, point.Reach.Says())
	}
	return nil
}

func unknown(what, name string, known []string) error {
	if near, ok := spelling.Nearest(name, known); ok {
		return fmt.Errorf("there is no %s %s in this circuit: did you mean %s?", what, name, near)
	}
	return fmt.Errorf("there is no %s %s in this circuit: it has %s", what, name, strings.Join(known, ", "))
}

// unhappy is the mode of the first module that is in another mode than in the healthy circuit, or that a relay
// chatters which there does not.
func unhappy(b, healthy *sim.Bench) string {
	if b == nil || healthy == nil {
		return ""
	}
	sound := healthy.Modules()
	for i, m := range b.Modules() {
		switch {
		case m.Mode == part.Dead: // that it is the module itself no reading can tell
			return "silent"
		case m.Mode != sound[i].Mode:
			return m.Mode.String()
		}
	}
	for _, p := range b.Circuit().OfKind("relay") {
		if b.Chatters(p) && !healthy.Chatters(p) {
			return "chattering"
		}
	}
	return ""
}

// effect says what the instrument did to the circuit.
func effect(i instrument, t telling) string {
	var told []string
	switch {
	case i.leads != twoLeads:
		told = append(told, "Nothing: it does not touch the circuit.")
	case i.isLamp() || i.name == ledLight.name:
		told = append(told, fmt.Sprintf("It drew %s.", amps(math.Abs(t.got.amps))))
	case i.name == ohmmeter.name:
		told = append(told, "A milliamp or less of its own, at 3.2 V or less.")
	case i.name == voltmeter.name:
		told = append(told, "Next to nothing: 10 MΩ between the leads.")
	case t.got.seen != "":
		told = append(told, "It bridged its leads until its fuse blew.")
	default:
		told = append(told, fmt.Sprintf("It bridges its leads: %s passed.", amps(math.Abs(t.got.amps))))
	}
	if t.got.after != nil {
		for _, m := range t.got.after.Moved() {
			told = append(told, m+".")
		}
	}
	return strings.Join(told, " ")
}

// demand says what the module nearest to the leads has to be fed with.
func demand(b *sim.Bench, q Request) string {
	for _, name := range []string{q.Red, q.Black} {
		point, err := b.Circuit().Point(name)
		if err != nil || point.Terminal == nil {
			continue
		}
		owner := b.Circuit().Part(point.Terminal.Owner)
		if owner == nil || owner.Kind.Name != "module" {
			continue
		}
		boot := bootVolts / owner.Value("boots as")
		return fmt.Sprintf("%s takes %s to boot", owner.Name, amps(boot))
	}
	return ""
}

// bootVolts is what a module's boot current is told at.
const bootVolts = 12.5

// amps writes a current for people, to whom a thousandth of what any clamp or meter shows is nothing.
func amps(v float64) string {
	if math.Abs(v) < noAmps {
		v = 0
	}
	return quantity.Format(v, quantity.Amperes, 2)
}

func volts(v float64) string {
	if v > -1 && v < 1 {
		return quantity.Format(v, quantity.Volts, 2)
	}
	return quantity.Format(v, quantity.Volts, 3)
}
