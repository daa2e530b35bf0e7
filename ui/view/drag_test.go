package view

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"underload/circuit"
	"underload/sim"
	"underload/ui/drawing"
)

// vehicle is a made-up circuit of about so many parts: feeds with a fuse, a plug and a lamp each, from one bar to one frame.
func vehicle(t testing.TB, parts int) *circuit.Circuit {
	t.Helper()
	feeds := (parts - 1) / 3
	var head, paths strings.Builder
	head.WriteString("underload: 1\ntitle: Many lamps\nparts:\n  B1: {is: battery, volts: 12.6 V, internal: 10 mohm}\n")
	paths.WriteString("paths:\n  strap:\n    - G1\n    - wire: BK 25 mm2 0.5 m\n    - B1.neg\n  main:\n    - B1.pos\n    - wire: RD 25 mm2 1 m\n    - S1\n")
	for i := range feeds {
		fmt.Fprintf(&head, "  F%d: {is: fuse, rating: 10 A}\n  SW%d: {is: switch, throws: {on: [1-2], off: []}}\n  E%d: {is: lamp, bulb: 5 W}\n", i, i, i)
		fmt.Fprintf(&paths, "  feed %d:\n    - S1\n    - F%d\n    - wire: OG 1 mm2 2 m\n    - C%d.%d\n    - wire: OG 1 mm2 1 m\n    - SW%d\n    - wire: OG 1 mm2 1 m\n    - E%d\n    - wire: BK 1 mm2 0.5 m\n    - G1\n",
			i, i, i/8, i%8+1, i, i)
	}
	c, problems := circuit.Read("vehicle.yaml", []byte(head.String()+paths.String()+"grounds:\n  G1: {place: frame}\nsplices:\n  S1: {reach: open}\n"))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

// The drag of the slider on a circuit of 300 parts: what one move costs with everything that follows it and the picture,
// as a share of a frame of 60 Hz, beside the share of laying the fault anew and taking the readings afresh.
func BenchmarkDragOf300Parts(b *testing.B) {
	c := vehicle(b, 301)
	v, err := New(c, Options{ReducedMotion: true})
	if err != nil {
		b.Fatal(err)
	}
	v.lay = drawing.Lay(c, drawing.Options{Width: v.plan.area.w, Height: v.plan.area.h}, nil)
	v.laidFor = v.plan.area
	v.placeLead(0, "F0.out")
	v.placeLead(1, "G1")
	v.choose("load-lamp")
	v.layFault("C0.1", "C0.1 spread 1 ohm")
	v.pickFault("C0.1")
	v.compose()
	slider := v.find("slider")
	v.beginSlide(slider)
	const frame = 1.0 / 60
	b.ResetTimer()
	began := time.Now()
	for i := range b.N {
		v.turnFault(0.3 + 0.4*float64(i%50)/50)
		v.Scene()
	}
	each := time.Since(began).Seconds() / float64(b.N)
	b.StopTimer()
	b.ReportMetric(100*each/frame, "%frame")
	began = time.Now()
	for range 3 { // a plain full solve: wired anew and solved from nothing
		if _, err := v.now.bench.Clone(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(100*time.Since(began).Seconds()/3/frame, "%frame-full-solve")
	began = time.Now()
	for i := range 3 {
		s := v.now
		if err := onBench(&s, func(on *sim.Bench) error { return on.Turn("C0.1", 0.5+float64(i)) }); err != nil {
			b.Fatal(err)
		}
		v.follow(&s)
	}
	b.ReportMetric(100*time.Since(began).Seconds()/3/frame, "%frame-anew")
}
