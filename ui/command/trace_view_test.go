package command

// This file holds time on the screen against trace: the same case, done at the same instants.

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuits"
	"underload/ui/view"
)

func TestTheViewSaysWhatTraceSays(t *testing.T) {
	const fault = "C14.4 spread 1.8 ohm"
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	v, err := view.New(c, view.Options{ReducedMotion: true, Faults: []string{fault}})
	if err != nil {
		t.Fatal(err)
	}
	press := func(id string) {
		t.Helper()
		all := v.Report().Controls
		i := slices.IndexFunc(all, func(c view.Control) bool { return c.ID == id && c.Off == "" })
		if i < 0 {
			t.Fatalf("there is no control %s", id)
		}
		for _, kind := range []view.PointerKind{view.Move, view.Press, view.Release} {
			v.Pointer(view.Pointer{Kind: kind, X: all[i].X, Y: all[i].Y})
		}
	}
	point := func(name string) {
		t.Helper()
		all := v.Report().Points
		i := slices.IndexFunc(all, func(p view.Place) bool { return p.Name == name })
		if i < 0 {
			t.Fatalf("there is no point %s", name)
		}
		for _, kind := range []view.PointerKind{view.Move, view.Press, view.Release} {
			v.Pointer(view.Pointer{Kind: kind, X: all[i].X, Y: all[i].Y})
		}
	}
	press("lead-a")
	point("PC1.1")
	press("lead-b")
	point("PC1.8")
	press("tab:scope")
	press("time")
	pass := func(frames int) {
		for range frames {
			v.Tick(1.0 / 60)
		}
	}
	pass(30)
	on := v.Report().Time.Seconds
	press("set:KEY:run")
	pass(40)
	asked := v.Report().Time.Seconds
	press("set:M1")
	pass(80)
	press("time-play")
	screen := v.Report()

	out, said, status := run("trace", "orchard-sprayer", "--fault", fault, "--do", fmt.Sprintf("%.9fs KEY=run", on), "--do", fmt.Sprintf("%.9fs M1=on", asked),
		"--for", fmt.Sprintf("%.9fs", screen.Time.Seconds), "--watch", "PC1.1", "--watch", "PC1.8", "--json")
	if status != done {
		t.Fatal(said)
	}
	var told traceReport
	if err := json.Unmarshal([]byte(out), &told); err != nil {
		t.Fatal(err)
	}
	if len(told.Channels) != 2 || len(screen.Time.Scope) != 2 {
		t.Fatalf("trace tells of %d channels, the screen of %d", len(told.Channels), len(screen.Time.Scope))
	}
	const apart = 2e-3 // of the value: the two stop at other instants on their way
	for i, ch := range told.Channels {
		shown := screen.Time.Scope[i]
		for _, pair := range [][2]float64{{shown.Now, ch.End}, {shown.Least, ch.Min}, {shown.Most, ch.Max}} {
			if math.Abs(pair[0]-pair[1]) > apart*math.Abs(pair[1])+1e-3 {
				t.Errorf("%s: the screen shows %+v, trace tells %+v", ch.Name, shown, ch)
			}
		}
	}
	var noticed []string
	for _, m := range told.Happened {
		if !m.Done {
			noticed = append(noticed, m.Says)
		}
	}
	if !slices.Equal(noticed, screen.Time.Cues) || len(noticed) == 0 {
		t.Errorf("noticed on the screen: %s; by trace: %s", strings.Join(screen.Time.Cues, "; "), strings.Join(noticed, "; "))
	}
}
