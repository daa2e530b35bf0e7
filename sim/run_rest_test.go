package sim

// This file holds runs against the bench with every fault of every sheet, in the sheet's state: a run that starts at rest
// stays there, and one that starts with everything off and is then switched on comes to rest where the bench does.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
	"underload/sim/fault"
	"underload/sim/part"
)

// restCase is one fault of a sheet, or none, with the state that its tests are made in.
type restCase struct {
	name  string // quarry-tanker l3
	c     *circuit.Circuit
	lines []string
	state []string
}

func restCases(t *testing.T) []restCase {
	t.Helper()
	var cases []restCase
	for _, name := range circuits.Names() {
		c, err := circuits.Read(name)
		must(t, err)
		data, ok := circuits.Faults(name)
		if !ok {
			t.Fatalf("%s has no fault sheet", name)
		}
		sheet, problems := fault.ReadSheet(c, name+".yaml", data, nil)
		must(t, problems.Err())
		cases = append(cases, restCase{name + " sound", c, nil, sheet.State})
		for i := range sheet.Entries {
			e := &sheet.Entries[i]
			cases = append(cases, restCase{name + " " + e.ID, c, e.Lines(), sheet.StateOf(e, fault.Test{})})
		}
	}
	if len(cases) < 60 {
		t.Fatalf("only %d faults in all sheets", len(cases))
	}
	return cases
}

func (k *restCase) bench(t *testing.T) *Bench {
	t.Helper()
	b, err := New(k.c)
	must(t, err)
	must(t, b.Break(k.lines...))
	return b
}

func (k *restCase) set(t *testing.T, do func(setting string) error) {
	t.Helper()
	for _, s := range k.state {
		must(t, do(s))
	}
}

func (b *Bench) setOrPart(s string) error {
	if name, apart := strings.CutPrefix(s, "apart "); apart {
		return b.Apart(name)
	}
	return b.Set(s)
}

// How near a run is to the bench. A module's boot is a resistance behind a diode in time and a bare one on the bench.
const (
	restVolts   = 1e-3
	warmShare   = 1.6  // of what warm elements lose, see shift
	leakShare   = 1e-3 // of the volts of a load fed through kilohms: other leaks are beside it in time
	hungVolts   = 2.5e-3
	sagVolts    = 0.03 // a battery's own volts after some seconds, and
	sagShare    = 0.35 // of what its resistance loses, which takes a minute or two to show in full
	chargeVolts = 0.1  // the same while it is charged from rest, and
	layerVolts  = 0.2  // more while the layer at its plates builds up, which takes minutes
	crankVolts  = 0.1  // the mean while an engine is cranked, beside the sag
)

// calmSeconds is how long lamps that hardly glow take to grow warm, and motors to run down.
const calmSeconds = 30

// shift is by how much the elements of a run that grow warm, or are used up, lose other volts than those of the bench at
// the same current. Put in series with them, such volts would bring the bench to the run; and no point of a network of
// resistances is moved by more than what is put in. Modules, which draw the more the less they get, add up to half of it.
func (r *Run) shift(b *Bench) (volts, cells, sag float64) {
	v := r.age.run.Now()
	for br, l := range r.age.legs {
		if l.is != isElement {
			continue
		}
		volts += math.Abs(v.ElementVolts(l.element) - v.ElementAmps(l.element)*b.w.net.Ohms(br))
	}
	for _, m := range r.age.memories {
		name, what, _ := strings.Cut(m.key, " ")
		p := b.c.Part(name)
		switch {
		case p == nil:
		case what == "strip" && !b.states[p].Blown:
			volts += math.Abs(v.ElementVolts(m.id) - v.ElementAmps(m.id)*part.FuseOhms(p, part.Fitted(p, b.states[p])))
		case what == "cell":
			is := part.RestedOf(p, b.states[p], b.ambient, b.c.AmbientCelsius)
			rested, ohms := is.Volts, is.Ohms
			if b.states[p].Charge == part.Takes {
				rested, ohms = is.TakesVolts, is.ChargingOhms
			}
			cells += math.Abs(v.ElementVolts(m.id) - rested - ohms*v.ElementAmps(m.id))
			sag += sagVolts + sagShare*ohms*math.Abs(v.ElementAmps(m.id))
			if b.states[p].Charge != part.Gives {
				sag = chargeVolts
				if r.Seconds() > calmSeconds {
					sag += layerVolts
				}
			}
		case what == "motor" && math.Abs(v.ElementAmps(m.id)) < idleAmps:
			volts += math.Abs(v.ElementVolts(m.id))
		}
	}
	return volts + cells, cells, sag
}

// idleAmps are less than any motor needs to turn: one that has them still runs down.
const idleAmps = 1e-3

// compare holds a run at its instant against the bench.
func (k *restCase) compare(t *testing.T, b *Bench, r *Run, when string) {
	t.Helper()
	hung := false
	for _, p := range b.c.Parts {
		is, want := r.State(p), *b.states[p]
		if is.Mode == part.Asleep && want.Mode == part.Off { // one that sleeps goes on sleeping where another would not boot
			is.Mode = part.Off
		}
		if is.Mode != want.Mode || is.PulledIn != want.PulledIn || is.Blown != want.Blown {
			t.Errorf("%s, %s: %s is %v, pulled in %v, blown %v; on the bench %v, %v, %v", k.name, when, p.Name,
				is.Mode, is.PulledIn, is.Blown, want.Mode, want.PulledIn, want.Blown)
		}
		hung = hung || want.Mode == part.Hung
	}
	shift, cells, sag := r.shift(b)
	if cells > sag {
		t.Errorf("%s, %s: the battery's volts are %.3f V off, %.3f V allowed", k.name, when, cells, sag)
	}
	slack := restVolts
	if hung {
		slack = hungVolts
	}
	worst, at := 0.0, ""
	for _, p := range b.c.Points() {
		if off := math.Abs(r.age.run.Volts(r.age.at(p)) - b.Volts(p)); off > worst && !b.Floats(p) {
			worst, at = off, p.Name
		}
	}
	if testing.Verbose() {
		t.Logf("%s, %s: %s is off by most, %.2f mV; warm or used up %.1f mV, batteries %.1f mV", k.name, when, at, 1e3*worst, 1e3*shift, 1e3*cells)
	}
	cycled := len(b.modulesIn(part.Cycling)) > 0 && r.Seconds() > 1
	if !cycled && worst > slack+warmShare*shift {
		t.Errorf("%s, %s: %s is %.1f mV off; %.1f mV are allowed, %.1f mV of them for what is warm or used up", k.name, when, at,
			1e3*worst, 1e3*(slack+warmShare*shift), 1e3*shift)
	}
}

func (b *Bench) cranks() bool {
	for _, p := range b.c.OfKind("motor") {
		if _, amps := b.LoadVolts(p); p.Text("turns") == "engine" && amps > 1 {
			return true
		}
	}
	return false
}

// cranked holds the mean of the battery's volts over some seconds against the bench, which knows no compression.
func (k *restCase) cranked(t *testing.T, b *Bench, r *Run, when string) {
	t.Helper()
	post := watching(t, r, b.c.OfKind("battery")[0].Terminals[0].Name)
	point, err := b.c.Point(b.c.OfKind("battery")[0].Terminals[0].Name)
	must(t, err)
	from, last, was, sum := r.Seconds(), r.Seconds(), post.Read(), 0.0
	must(t, r.Advance(from+2, func() bool {
		now := post.Read()
		sum += (now + was) / 2 * (r.Seconds() - last)
		last, was = r.Seconds(), now
		return true
	}))
	_, _, sag := r.shift(b)
	if mean := sum / 2; math.Abs(mean-b.Volts(point)) > crankVolts+sag {
		t.Errorf("%s, %s: %.3f V while cranking, %.3f V on the bench", k.name, when, mean, b.Volts(point))
	}
	for _, p := range b.c.OfKind("relay") {
		if r.State(p).PulledIn != b.states[p].PulledIn {
			t.Errorf("%s, %s: %s is pulled in: %v, on the bench %v", k.name, when, p.Name, r.State(p).PulledIn, b.states[p].PulledIn)
		}
	}
}

// cycles waits for modules that cycle on the bench to have reset some times, and then to wait all together. Their volts are
// those of the bench only while they have waited for ever, as at a start.
func (k *restCase) cycles(t *testing.T, b *Bench, r *Run) {
	t.Helper()
	cycling := b.modulesIn(part.Cycling)
	if len(cycling) == 0 {
		return
	}
	resets := map[*circuit.Part]float64{}
	for _, p := range cycling {
		resets[p] = watching(t, r, "resets "+p.Name).Read()
	}
	must(t, r.Advance(r.Seconds()+3, nil))
	for _, p := range cycling {
		if n := watching(t, r, "resets "+p.Name).Read() - resets[p]; n < 2 {
			t.Errorf("%s: %s cycles on the bench, and resets %v times in 3 s", k.name, p.Name, n)
		}
	}
	must(t, r.Advance(r.Seconds()+10, func() bool { // to where all wait
		for _, p := range cycling {
			if r.State(p).Mode != part.Cycling {
				return true
			}
		}
		return false
	}))
}

func TestFaultsStayAtRest(t *testing.T) {
	t.Parallel()
	for _, k := range restCases(t) {
		b := k.bench(t)
		k.set(t, b.setOrPart)
		r := start(t, b, RunOptions{Seed: 1})
		if b.cranks() {
			k.cranked(t, b, r, "from rest")
			continue
		}
		k.compare(t, b, r, "at rest")
		must(t, r.Advance(0.03, nil)) // any module that waits still waits
		k.compare(t, b, r, "30 ms from rest")
		must(t, r.Advance(5, nil))
		k.cycles(t, b, r)
		k.compare(t, b, r, "5 s from rest")
	}
}

func TestFaultsComeToRest(t *testing.T) {
	t.Parallel()
	for _, k := range restCases(t) {
		r := start(t, k.bench(t), RunOptions{Seed: 1})
		b := k.bench(t)
		k.set(t, func(s string) error {
			must(t, r.Advance(r.Seconds()+0.3, nil))
			if err := r.Do(s); err != nil {
				return err
			}
			return b.setOrPart(s)
		})
		if len(b.modulesIn(part.Cycling)) == 0 {
			must(t, r.Advance(r.Seconds()+calmSeconds, nil))
		}
		if b.cranks() {
			k.cranked(t, b, r, "switched on")
			continue
		}
		k.cycles(t, b, r)
		k.compare(t, b, r, "switched on")
	}
}

// leastBlowShare is the share of its rating from which on a fuse melts in time, in the end. The bench goes by the time table
// of a data sheet, within 600 s, and asks for part.BlowShare.
const leastBlowShare = 1.2

// A short in mid-run blows the same fuses as on the bench. Only one that carries a little less than the bench asks of it
// may go as well.
func TestShortsBlowTheSameFuses(t *testing.T) {
	t.Parallel()
	blew := 0
	for _, name := range circuits.Names() {
		c, err := circuits.Read(name)
		must(t, err)
		for i, w := range c.Wires {
			ohms := []string{"20 mohm", "0.5 ohm", "", ""}[i%4]
			if ohms == "" {
				continue
			}
			short := w.Name + " short-to-ground " + ohms
			b, _ := benchIn(t, c, everything)
			r := start(t, b, RunOptions{MemoryBytes: -1})
			must(t, b.Break(short))
			must(t, r.Do("break "+short))
			must(t, r.Advance(600, nil))
			for _, p := range c.Parts {
				fuse, is := b.w.inner[p].(part.Fuse)
				want, got := b.states[p].Blown, r.State(p).Blown
				if got {
					blew++
				}
				near := is && fuse.Share(b.states[p], b.sol) > leastBlowShare
				if got != want && !(got && near) {
					t.Errorf("%s, %s: %s is blown: %v, on the bench %v", name, short, p.Name, got, want)
				}
			}
		}
	}
	if blew < 50 {
		t.Errorf("only %d fuses blew", blew)
	}
}

// A part that comes in mid-run comes from the shelf: another battery has not been loaded for long, so that it is above
// what the bench, where it has, says of it; and a generator that begins to turn builds its field up from nothing.
func TestNewPartsComeFromTheShelf(t *testing.T) {
	const weak = "BATT weak 11.9 V 90 mohm"
	b := benchOf(t, "quarry-tanker")
	must(t, b.Set("KEY=run"))
	r := start(t, b, RunOptions{})
	post := watching(t, r, "BATT.pos")
	must(t, r.Advance(1, nil))
	must(t, r.Do("break "+weak))
	must(t, b.Break(weak))
	point, err := b.c.Point("BATT.pos")
	must(t, err)
	must(t, r.Advance(1.05, nil))
	if now := post.Read(); now < b.Volts(point) || now > 11.9 {
		t.Errorf("another battery has %.2f V; at rest under its load it has %.2f V", now, b.Volts(point))
	}
	must(t, r.Do("repair BATT"))
	must(t, b.Mend("repair BATT"))
	most := 0.0
	must(t, r.Do("ALT=running"))
	must(t, b.Set("ALT=running"))
	must(t, r.Advance(3, func() bool {
		most = math.Max(most, post.Read())
		return true
	}))
	if settled := b.Volts(point); most > settled+0.1 || most < settled-0.3 {
		t.Errorf("with the generator running up to %.2f V; at rest %.2f V", most, settled)
	}
}

// An engine that idles: charge and lights ask for some 50 A, and the generator of 70 A gives half. Back at speed it gives all that
// is asked, after its moment of a tenth of a second.
func TestTheEngineIdles(t *testing.T) {
	b := benchOf(t, "quarry-tanker")
	must(t, b.Set("KEY=run"), b.Set("ALT=idling"))
	r := start(t, b, RunOptions{})
	amps, post := watching(t, r, "amps ALT.B+"), watching(t, r, "BATT.pos")
	point, err := b.c.Point("BATT.pos")
	must(t, err)
	for _, seconds := range []float64{0, 5} {
		must(t, r.Advance(seconds, nil))
		if got := math.Abs(amps.Read()); math.Abs(got-35) > 0.5 || math.Abs(post.Read()-b.Volts(point)) > 0.1 {
			t.Errorf("idling, after %v s: %.2f A, %.2f V; at rest 35 A and %.2f V", seconds, got, post.Read(), b.Volts(point))
		}
	}
	must(t, r.Do("ALT=running"), b.Set("ALT=running"), r.Advance(8, nil))
	if got := math.Abs(amps.Read()); got < 45 || got > 60 || math.Abs(post.Read()-b.Volts(point)) > 0.1 {
		t.Errorf("at speed: %.2f A, %.2f V; at rest %.2f V", got, post.Read(), b.Volts(point))
	}
	accounted(t, r)
}

// Made-up circuits and examples, with random faults, in random positions of their switches, are held against the bench as
// the sheets' faults are, but only where current flows: what hangs on leaks alone has other leaks in time.
func TestRandomFaultsStayAtRest(t *testing.T) {
	t.Parallel()
	loads := 0
	for i := range *runs / 2 {
		tr := newTrial(t, *firstRun+uint64(i))
		tr.settings = slices.DeleteFunc(tr.settings, func(s string) bool { // of which the bench knows less
			return strings.Contains(s, "support") || strings.Contains(s, "running") || strings.Contains(s, "idling") || strings.Contains(s, "ambient")
		})
		b, err := tr.bench()
		must(t, err)
		if b.cranks() || len(b.chatters) > 0 {
			continue
		}
		r := start(t, b, RunOptions{Seed: 1})
		k := restCase{name: fmt.Sprint(tr.seed, " ", tr.name, tr.faults, tr.settings), c: tr.c}
		loads += k.carrying(t, b, r, "at rest")
		if len(b.modulesIn(part.Cycling)) == 0 {
			must(t, r.Advance(1, nil))
			k.carrying(t, b, r, "a second from rest")
		}
	}
	if *runs >= enoughRuns && loads < *runs {
		t.Errorf("only %d loads", loads)
	}
}

// carrying compares modes, and the volts of all loads that carry current; it returns how many do.
func (k *restCase) carrying(t *testing.T, b *Bench, r *Run, when string) (loads int) {
	t.Helper()
	shift, _, _ := r.shift(b)
	for _, p := range b.c.Parts {
		is, want := r.State(p), *b.states[p]
		if is.Mode == part.Asleep && want.Mode == part.Off { // one that sleeps goes on sleeping where another would not boot
			is.Mode = part.Off
		}
		if is.Mode != want.Mode || is.PulledIn != want.PulledIn || is.Blown != want.Blown {
			t.Errorf("%s, %s: %s is %v, pulled in %v, blown %v; on the bench %v, %v, %v", k.name, when, p.Name,
				is.Mode, is.PulledIn, is.Blown, want.Mode, want.PulledIn, want.Blown)
		}
		if !p.Kind.Load || len(p.Terminals) != 2 {
			continue
		}
		volts, amps := b.LoadVolts(p)
		if math.Abs(amps) < idleAmps {
			continue
		}
		loads++
		in, out := b.w.joints[p.Terminals[0]].inside, b.w.joints[p.Terminals[1]].inside
		got := r.age.run.Volts(r.age.nodes[b.w.called[in]]) - r.age.run.Volts(r.age.nodes[b.w.called[out]])
		if slack := 2*restVolts + 2*warmShare*shift + leakShare*math.Abs(volts); math.Abs(got-volts) > slack {
			t.Errorf("%s, %s: %s has %.4f V, %.4f V on the bench; %.1f mV are allowed", k.name, when, p.Name, got, volts, 1e3*slack)
		}
	}
	return loads
}
