package drawing

// These tests judge finished drawings: of every example, of made-up vehicles and of circuits that make no sense.

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/invented"
)

var tangles = flag.Int("tangles", 100, "how many made-up circuits to draw")

var (
	page  = Options{Width: 1072, Height: 516}
	small = Options{Width: 680, Height: 400, Touch: true}
)

// demand fails on whatever no drawing may have.
func demand(t *testing.T, name string, l *Layout) counts {
	t.Helper()
	c := count(l)
	for what, found := range map[string][]string{"lines through symbols": c.through, "words on words or symbols": c.overlaps,
		"names missing": c.missing, "points that cannot be hit": c.pointless, "words off the paper": c.outside, "words on lines": c.onLines,
		"words nearer to another wire": c.misplaced} {
		if len(found) > 0 {
			t.Errorf("%s: %d %s: %s", name, len(found), what, strings.Join(found[:min(3, len(found))], "; "))
		}
	}
	if c.unbridged > 0 {
		t.Errorf("%s: %d crossings look like joins", name, c.unbridged)
	}
	saysTheSame(t, name, l)
	return c
}

// Every example, on a page and in a small window.
func TestExamples(t *testing.T) {
	crossings, wires, unlabelled, unlabelledSmall := 0, 0, 0, 0
	for _, name := range examples(t) {
		got := demand(t, name, laidOut(t, name, page))
		crossings += got.crossings
		wires, unlabelled = wires+got.wires, unlabelled+got.unlabelled
		if 100*got.unlabelled > 15*got.wires {
			t.Errorf("%s: %d of %d wires are not labelled", name, got.unlabelled, got.wires)
		}
		if got.cutBoxes > 0 || got.mostFlagged > mostFlags {
			t.Errorf("%s: %d boxes cut, %d flags at one edge", name, got.cutBoxes, got.mostFlagged)
		}
		unlabelledSmall += demand(t, name+", small", laidOut(t, name, small)).unlabelled
	}
	t.Logf("%d crossings; of %d wires %d are labelled, in a small window %d", crossings, wires, wires-unlabelled, wires-unlabelledSmall)
	const mostCrossings = 9
	if crossings > mostCrossings {
		t.Errorf("%d crossings in all examples", crossings)
	}
	if 100*unlabelled > 5*wires || 100*unlabelledSmall > 20*wires {
		t.Errorf("of %d wires %d are not labelled, in a small window %d", wires, unlabelled, unlabelledSmall)
	}
}

// Most circuits need no crossing at all. Where three things are each joined to three others, at least one cannot be avoided
// (Kuratowski 1930: such a net does not lie in a plane). In the library van BODY, DASH and the rail are each joined to
// S11, to S12 and, the rail through STEP, to the bus. In the vineyard harvester the controller, S5 and SG are each joined to
// four sensors, which takes two (Zarankiewicz's number of three and four; proved by Kleitman 1970). In the donor bus five
// controllers are each joined to the rail, to S15 and to the bus, which takes four. All from memory.
func TestExamplesDoNotCross(t *testing.T) {
	needed := map[string]int{"library-van": 1, "vineyard-harvester": 2, "donor-bus": 4, "cinema-van": 5} // the last as found
	for _, name := range examples(t) {
		if got := count(laidOut(t, name, page)); got.points > needed[name] {
			t.Errorf("lines cross at %d places of %s", got.points, name)
		}
	}
}

func TestVehicles(t *testing.T) {
	for _, size := range []struct{ parts, crossings, sheets int }{{60, 5, 3}, {150, 20, 9}} {
		for seed := uint64(1); seed <= 5; seed++ {
			t.Run(fmt.Sprintf("%d parts, %d", size.parts, seed), func(t *testing.T) {
				t.Parallel()
				l := Lay(madeUp(t, "vehicle", invented.Vehicle(seed, size.parts)), page, nil)
				got := demand(t, "vehicle", l)
				if got.crossings > size.crossings || len(l.Sheets) > size.sheets {
					t.Errorf("%d crossings, %d sheets", got.crossings, len(l.Sheets))
				}
				if l.Height > int(page.Height) {
					t.Errorf("%d px high", l.Height)
				}
				if 10*got.unlabelled > got.wires {
					t.Errorf("%d of %d wires are not labelled", got.unlabelled, got.wires)
				}
				if got.cutBoxes > 0 {
					t.Errorf("%d boxes cut", got.cutBoxes)
				}
			})
		}
	}
}

// What makes no sense is drawn without a fault too. With -tangles 1000 there are more of them.
func TestTangles(t *testing.T) {
	for seed := range uint64(*tangles) {
		name := fmt.Sprintf("tangle %d", seed)
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			demand(t, name, Lay(madeUp(t, name, invented.Tangle(seed)), page, nil))
		})
	}
}

// The same circuit gives the same drawing.
func TestSameBytes(t *testing.T) {
	for _, c := range []*circuit.Circuit{example(t, "donor-bus"), madeUp(t, "v", invented.Vehicle(4, 60)), madeUp(t, "t", invented.Tangle(7))} {
		want := svgOf(t, Lay(c, page, nil), Showing{})
		for range 2 {
			if svgOf(t, Lay(c, page, nil), Showing{}) != want {
				t.Fatalf("%s: two drawings of one circuit differ", c.File)
			}
		}
	}
}

func svgOf(t *testing.T, l *Layout, s Showing) string {
	t.Helper()
	var b strings.Builder
	scene := l.Scene(s)
	if err := scene.WriteSVG(&b, "", 0, scene.Width); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Whatever is switched, pulled out, measured or selected: nothing moves but the blades of switches, gauges and tags.
func TestValuesMoveNothing(t *testing.T) {
	for _, name := range examples(t) {
		l := laidOut(t, name, page)
		before := l.Scene(Showing{})
		after := l.Scene(everything(l.Circuit))
		if len(before.Hits) != len(after.Hits) {
			t.Fatalf("%s: hit boxes come and go", name)
		}
		for i, h := range before.Hits {
			if after.Hits[i] != h {
				t.Errorf("%s: %s moved from %v to %v", name, h.Name, h.At, after.Hits[i].At)
			}
		}
		for _, words := range []func(Shape) bool{func(s Shape) bool { return s.Form == Text && s.Bold && s.Size == nameSize*l.Zoom }} {
			if a, b := places(before, words), places(after, words); !contains(b, a) {
				t.Errorf("%s: names moved", name)
			}
		}
	}
}

// everything switches, pulls out and measures all there is.
func everything(c *circuit.Circuit) Showing {
	s := Showing{Positions: map[string]string{}, PulledIn: map[string]bool{}, Apart: map[string]bool{}, Out: map[string]bool{}, Lit: map[string]float64{},
		Amps: map[string]float64{}, Levels: map[string]Level{}, Path: map[string]bool{}, Gauges: true, LeadA: c.Points()[0].Name, LeadB: c.Points()[3].Name}
	for _, p := range c.Parts {
		s.PulledIn[p.Name], s.Apart[p.Name], s.Out[p.Name], s.Lit[p.Name], s.Path[p.Name] = true, true, true, 1, true
		if len(p.Throws) > 0 {
			s.Positions[p.Name] = p.Throws[len(p.Throws)-1].Name
		}
	}
	for i, w := range c.Wires {
		s.Amps[w.Name] = float64(i) * 10
	}
	for _, p := range c.Points() {
		s.Levels[p.Name] = Level{Now: 0.4, Healthy: 0.9, Alert: true}
	}
	return s
}

func places(s *Scene, wanted func(Shape) bool) []string {
	var all []string
	for _, shape := range s.Shapes {
		if wanted(shape) {
			all = append(all, fmt.Sprint(shape.Words, shape.Spots))
		}
	}
	return all
}

func contains(all, some []string) bool {
	for _, s := range some {
		if !slices.Contains(all, s) {
			return false
		}
	}
	return true
}

// withAnother adds a fuse and a lamp to the rail and a ground.
func withAnother(t *testing.T, name, text string, l *Layout) *circuit.Circuit {
	t.Helper()
	c := l.Circuit
	rail := l.net.rail.name
	if rail == "" {
		rail = l.net.rail.terminals[0].Name
	}
	text = strings.Replace(text, "\nparts:\n", "\nparts:\n  FX: {is: fuse, rating: 10 A}\n  LX: {is: lamp, bulb: 21 W}\n", 1)
	path := fmt.Sprintf("\npaths:\n  added: [%s, wire, FX, wire: RD 1 mm2 1 m, LX, wire: BN 1 mm2 1 m, %s]\n", rail, c.Studs[len(c.Studs)-1].Name)
	return madeUp(t, name, strings.Replace(text, "\npaths:\n", path, 1))
}

// One circuit more turns no two columns round and moves little.
func TestEdit(t *testing.T) {
	texts := map[string]string{"vehicle of 60 parts": invented.Vehicle(2, 60), "vehicle of 150 parts": invented.Vehicle(4, 150)}
	for _, name := range examples(t) {
		texts[name] = string(source(t, name))
	}
	for name, text := range texts {
		before := Lay(madeUp(t, name, text), page, nil)
		after := Lay(withAnother(t, name, text, before), page, before)
		demand(t, name+", edited", after)
		turned, pairs, sideways, upright := inversions(before, after)
		moved := 0 // columns that are on another sheet
		for _, c := range after.net.chains {
			if slot, known := after.net.oldSlots(before)[c]; known && before.slotX[slot]/before.width() != c.x/after.width() {
				moved++
			}
		}
		t.Logf("%s: %d of %d pairs turned, %.0f px sideways, %.0f px upright, %d columns to other sheets", name, turned, pairs, sideways, upright, moved)
		if turned > 0 || moved > 3 {
			t.Errorf("%s: %d of %d pairs of columns turned round, %d columns went to other sheets", name, turned, pairs, moved)
		}
		if sideways > 60 {
			t.Errorf("%s: everything moved %.0f px sideways on average", name, sideways)
		}
		if upright > 24 {
			t.Errorf("%s: everything moved %.0f px up or down on average", name, upright)
		}
	}
}

// Of what stood in an order, as few places are forgotten as will do where some has moved.
func TestForgetMoved(t *testing.T) {
	for _, row := range [][2][]int{{{0, 10, 50, 20, 0, 30}, {0, 10, 0, 20, 0, 30}}, {{10, 20, 30}, {10, 20, 30}}, {{30, 10, 20}, {0, 10, 20}}, {{0, 0}, {0, 0}}} {
		got := slices.Clone(row[0])
		if forgetMoved(got); !slices.Equal(got, row[1]) {
			t.Errorf("of %v %v is left, not %v", row[0], got, row[1])
		}
	}
}

// Laid out again from itself, a drawing stays as it is.
func TestWarmFromItself(t *testing.T) {
	for _, name := range examples(t) {
		cold := laidOut(t, name, page)
		warm := Lay(cold.Circuit, page, cold)
		turned, _, sideways, upright := inversions(cold, warm)
		if turned > 0 || upright > 12 || sideways > 3 {
			t.Errorf("%s: %d turned, %.1f px sideways, %.1f px upright", name, turned, sideways, upright)
		}
	}
}

// At a small window the drawing does not run out below, up to twenty parts.
func TestSmallWindowIsNotTooLow(t *testing.T) {
	for _, name := range examples(t) {
		if l := laidOut(t, name, small); len(l.Circuit.Parts) <= 20 && l.Height > int(small.Height) {
			t.Errorf("%s: %d px high", name, l.Height)
		}
	}
}

// Every order of the file's paths gives a drawing without a fault.
func TestShuffledFile(t *testing.T) {
	text := string(source(t, "orchard-sprayer"))
	head, rest, _ := strings.Cut(text, "\npaths:\n")
	body, tail, _ := strings.Cut(rest, "\ngrounds:\n")
	blocks := strings.Split("\n"+body, "\n  ")
	var all []string
	for _, b := range blocks {
		switch {
		case strings.HasPrefix(b, "  ") && len(all) > 0:
			all[len(all)-1] += "\n  " + b
		case strings.TrimSpace(b) != "":
			all = append(all, b)
		}
	}
	if len(all) < 6 {
		t.Fatalf("found %d paths", len(all))
	}
	r := rand.New(rand.NewPCG(3, 3))
	for range 5 {
		r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		shuffled := head + "\npaths:\n  " + strings.Join(all, "\n  ") + "\ngrounds:\n" + tail
		demand(t, "shuffled", Lay(madeUp(t, "shuffled", shuffled), page, nil))
	}
}
