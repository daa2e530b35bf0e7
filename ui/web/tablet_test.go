//go:build linux

package web

import (
	"context"
	"net"
	"slices"
	"testing"
	"time"

	"underload/circuits"
	"underload/ui/internal/hands"
	"underload/ui/view"
)

// A trainee's tablet: two pixels of the device to one of the page, dark, and fingers; the fault of the case is hidden.
func TestTablet(t *testing.T) {
	b := newBrowser(t, 1024, 768)
	text, err := circuits.Source(hands.Example)
	if err != nil {
		t.Fatal(err)
	}
	s := New(Options{Name: hands.Example + ".yaml", Text: text, Faults: []string{"C14.4 spread 1.8 ohm"}, Hide: true})
	on, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, on) }()
	defer func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}()
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": 1024, "height": 768, "deviceScaleFactor": 2, "mobile": true}, nil)
	b.call("Emulation.setTouchEmulationEnabled", map[string]any{"enabled": true, "maxTouchPoints": 2}, nil)
	b.call("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": "dark"}}}, nil)
	b.open(Addresses(on.Addr(), false)[0])
	b.bench()
	f := face{b}
	f.Until("a dark bench of the page's size", func(r view.Report) bool { return r.Theme == "dark" && r.Width == 1024 && r.Height == 768 })
	r := f.Until("the trainee's seat", func(r view.Report) bool { return r.Role == view.Practise.String() })
	if i := slices.IndexFunc(r.Controls, func(c view.Control) bool { return c.ID == "role:set faults" }); i < 0 || r.Controls[i].Off == "" || len(r.Faults) > 0 {
		t.Errorf("a hidden case can be looked into: faults %q", r.Faults)
	}
	var pixels int
	if err := b.run("document.querySelector('canvas').width", &pixels); err != nil || pixels != 2048 {
		t.Errorf("the canvas is %d pixels wide (%v), want 2048", pixels, err)
	}
	touch := func(kind string, xy ...float64) {
		t.Helper()
		points := []map[string]float64{}
		for i := 0; i < len(xy); i += 2 {
			points = append(points, map[string]float64{"x": xy[i], "y": xy[i+1], "id": float64(i / 2)})
		}
		b.call("Input.dispatchTouchEvent", map[string]any{"type": kind, "touchPoints": points}, nil)
	}
	place := func(name string) view.Place {
		r := f.Until("points", func(r view.Report) bool { return len(r.Points) > 0 })
		i := slices.IndexFunc(r.Points, func(p view.Place) bool { return p.Name == name })
		if i < 0 {
			t.Fatalf("no point %s", name)
		}
		return r.Points[i]
	}
	for range 5 { // within one frame, as far as that can be had: nothing is waited for between the two
		help := f.control("help")
		b.tap(help.X, help.Y)
		f.Until("the keys explained", func(r view.Report) bool { return r.Dialog == "help" })
		shut := f.control("close")
		b.tap(shut.X, shut.Y)
		f.Until("the help gone", func(r view.Report) bool { return r.Dialog == "" })
	}
	b.keep("tablet")
	at := place("PC1.1")
	touch("touchStart", at.X, at.Y)
	touch("touchEnd")
	f.Until("the point that was tapped", func(r view.Report) bool { return r.Selected == "PC1.1" })
	b.keep("tablet-tapped")
	help := f.control("help")
	touch("touchStart", help.X, help.Y)
	time.Sleep(700 * time.Millisecond) // longer than a finger stays that means the button
	b.keep("tablet-held")
	touch("touchEnd")
	if r := f.Until("anything", func(view.Report) bool { return true }); r.Dialog != "" {
		t.Errorf("a button that was held opens %s", r.Dialog)
	}
	cold := f.Until("anything", func(view.Report) bool { return true }).AmbientC
	warmer := f.control("warmer")
	touch("touchStart", warmer.X, warmer.Y)
	f.Until("a button that is pressed again while it is held", func(r view.Report) bool { return r.AmbientC >= cold+15 })
	touch("touchEnd")
	before := place("B1.pos")
	far := place("PC1.8")
	x, y := (before.X+far.X)/2, (before.Y+far.Y)/2
	touch("touchStart", x-50, y, x+50, y)
	touch("touchMove", x-80, y, x+80, y)
	touch("touchMove", x-120, y, x+120, y)
	touch("touchEnd")
	f.Until("a drawing pinched larger", func(r view.Report) bool {
		i := slices.IndexFunc(r.Points, func(p view.Place) bool { return p.Name == "B1.pos" })
		return i >= 0 && r.Points[i].X < before.X-20
	})
	b.keep("tablet-pinched")
}

// Work on one case is not shown over another of the same circuit.
func TestCasesAreKeptApart(t *testing.T) {
	cases := map[string]bool{}
	for _, o := range []Options{{}, {Faults: []string{"F7 blown"}}, {Faults: []string{"F7 blown"}, Hide: true}, {Faults: []string{"F7 blown", "F1 blown"}}} {
		o.Name, o.Text = "lamp.yaml", circuitText
		cases[New(o).circuit.Case] = true
	}
	if len(cases) != 4 {
		t.Errorf("four cases go by %d names", len(cases))
	}
}
