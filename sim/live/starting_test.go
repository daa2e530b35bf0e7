package live

// This file cranks an engine over the supply of a module as ISO 16750-2 has it, and looks at what its thresholds make of
// that.

import (
	"testing"

	"underload/sim/part"
	"underload/solver/element"
	"underload/solver/transient"
)

// A module that resets below 6.5 V and starts above 9 V, on the starting profile's levels I to IV for 12 V systems (ISO
// 16750-2, edition 2023, facts of a public repository: see element.StartingLevels). Level I dips to 8 V: it goes on as
// if nothing had been. II (4.5 V), III (3 V) and IV (6 V) dip below 6.5 V for 15 ms, longer than its capacitor carries
// 8 W: one reset each cycle. In the plateau of II and IV (6.5 to 8.5 V) and of III (5 to 7 V) it cannot start, since it
// needs 9 V, and it boots once the supply comes back. One that resets below 4 V and starts above 4.4 V lives through the 4.5 V
// of II, and not through the 3 V of III, after which it is up in the plateau; one that resets below 5 V does not live through II.
func TestModuleOnStartingLevels(t *testing.T) {
	for _, row := range []struct {
		level              string
		resets, runs       float64
		wantResets, wantUp float64 // a cycle; and whether it is up in the plateau
	}{
		{"I", 6.5, 9, 0, 1},
		{"II", 6.5, 9, 1, 0},
		{"III", 6.5, 9, 1, 0},
		{"IV", 6.5, 9, 1, 0},
		{"II", 4, 4.4, 0, 1},
		{"IV", 5.5, 6.4, 0, 1},
		{"III", 4, 4.4, 1, 1},
		{"II", 5, 6.4, 1, 1},
	} {
		m := ordinary()
		m.RunsAbove, m.ResetsBelow, m.KneeVolts = row.runs, row.resets, 0.8*row.resets
		m.WakePins, m.Began = 0, part.Awake
		var level element.Starting
		for _, l := range element.StartingLevels {
			if l.Level == row.level {
				level = l
			}
		}
		const cycles = 3
		profile := level.Profile(cycles, 0.01)
		n := transient.New()
		plus := n.Node()
		n.Element(plus, transient.Ground, profile)
		id := n.Element(plus, transient.Ground, m)
		volts := make([]float64, 2)
		volts[plus] = 12
		r, err := n.Start(transient.Options{Volts: volts, Energy: true})
		if err != nil {
			t.Fatal(err)
		}
		at := 0.0
		for cycle := range cycles {
			plateau := at + element.StartingPause + 0.070 + 0.95*level.RippleSeconds
			at += element.StartingPause + 0.070 + level.RippleSeconds + level.RecoverySeconds
			if err := r.Advance(plateau); err != nil {
				t.Fatalf("level %s: %v", row.level, err)
			}
			if up := modeOf(r.Marks(id)) == part.Awake; up != (row.wantUp == 1) {
				t.Errorf("level %s, resets below %v V, runs above %v V, cycle %d: up in the plateau is %v at %.2f V", row.level, row.resets, row.runs, cycle, up, r.Volts(plus))
			}
			if err := r.Advance(at + 0.9*element.StartingPause); err != nil {
				t.Fatal(err)
			}
			if got := r.Marks(id)[ResetsMark]; got != row.wantResets*float64(cycle+1) {
				t.Errorf("level %s, resets below %v V, runs above %v V: %v resets after %d cycles, want %v each", row.level, row.resets, row.runs, got, cycle+1, row.wantResets)
			}
			if modeOf(r.Marks(id)) != part.Awake {
				t.Errorf("level %s, cycle %d: %v long after the crank", row.level, cycle, modeOf(r.Marks(id)))
			}
		}
		if b := r.Balance(); b.Off() > 1e-3*b.Given || b.Off() < -1e-3*b.Given {
			t.Errorf("level %s: %+v leaves %v J", row.level, b, b.Off())
		}
	}
}
