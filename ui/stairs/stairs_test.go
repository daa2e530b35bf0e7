package stairs

import (
	"math"
	"slices"
	"testing"

	"underload/circuits"
	"underload/sim"
	"underload/sim/meter"
)

// sprayer is the staircase of the orchard sprayer's load lamp with a loose ground terminal.
func sprayer(t *testing.T) meter.Staircase {
	t.Helper()
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{b.Break("C14.4 spread 1.8 ohm"), b.Set("KEY=run"), b.Apart("PC1")} {
		if err != nil {
			t.Fatal(err)
		}
	}
	s, err := meter.Stairs(b, meter.StairsRequest{Red: "PC1.1", Black: "PC1.8"})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Folding keeps every step in its order, and never hides the load, the worst step, the battery or a step that loses much.
func TestFoldKeepsWhatCounts(t *testing.T) {
	s := sprayer(t)
	for most := len(s.Steps); most > 0; most-- {
		columns := Single(s)
		Fold(&columns, func() bool { return len(columns) > most })
		var steps []meter.Step
		for _, c := range columns {
			steps = append(steps, c.Steps...)
			if !c.Folded() {
				continue
			}
			for _, st := range c.Steps {
				if st.Load || st.Worst || st.Place == s.Battery || st.UnderLoad.Lost >= FoldBelowVolts {
					t.Errorf("in %d columns %s is folded away", most, st.Place)
				}
			}
		}
		if !slices.Equal(steps, s.Steps) {
			t.Errorf("in %d columns the steps are not those of the path", most)
		}
		if len(columns) > most && CanFold(columns) {
			t.Errorf("%d columns are left of %d, and more could be folded", len(columns), most)
		}
	}
}

// Each trace goes from the battery's open volts to zero without a jump, and what it falls is what the steps lose.
func TestTracesAddUp(t *testing.T) {
	s := sprayer(t)
	columns := Single(s)
	for i, c := range columns {
		c.X, c.W = float64(i)*10, 10
	}
	sc := Scale{Plot: Area(0, 0, 100, 1000), From: 20, To: 0}
	for _, of := range []Pass{LightPass, LoadPass, HealthyPass, HealthyLightPass} {
		pieces := WholeTrace(columns, of, sc)
		if len(pieces) != 1 {
			t.Fatalf("%d pieces", len(pieces))
		}
		line := pieces[0]
		first, last := line[0], line[len(line)-1]
		if math.Abs(first.Y-sc.Y(s.OpenVolts)) > 0.5 || math.Abs(last.Y-sc.Y(0)) > 0.5 {
			t.Errorf("the trace goes from %g to %g px; %g to %g were meant", first.Y, last.Y, sc.Y(s.OpenVolts), sc.Y(0))
		}
		for i := 1; i < len(line); i++ {
			if line[i].X < line[i-1].X || line[i].Y < line[i-1].Y-1e-6 {
				t.Errorf("at spot %d the trace goes back, or up", i)
			}
		}
	}
	total := 0.0
	for _, sd := range Sides(columns) {
		total += sd.Lost(LostOf(LoadPass))
	}
	for _, c := range columns {
		if c.Load() {
			total += c.Level(LoadPass).Lost
		}
	}
	if math.Abs(total-s.OpenVolts) > 1e-6 {
		t.Errorf("all steps lose %.6f V of %.6f V", total, s.OpenVolts)
	}
}

// The worst step is left out of the magnified form where it would crush the rest, and so is the battery's inside.
func TestOmitted(t *testing.T) {
	s := sprayer(t)
	columns := Single(s)
	MarkOmitted(columns)
	var omitted []string
	for _, c := range columns {
		if c.Omit {
			omitted = append(omitted, c.Steps[0].Place)
		}
	}
	if !slices.Equal(omitted, []string{"B1", "C14.4"}) {
		t.Errorf("left out are %v", omitted)
	}
	if w := WorstOf(columns); w == nil || w.Steps[0].Place != "C14.4" {
		t.Errorf("the worst column is %v", w)
	}
}

func TestTicksAreRound(t *testing.T) {
	for _, row := range []struct {
		from, to float64
		want     []float64
	}{{0, 12.6, []float64{0, 3, 6, 9, 12}}, {-0.01, 0.11, []float64{0, 0.03, 0.06, 0.09}}, {0, 1, []float64{0, 0.2, 0.4, 0.6, 0.8, 1}}} {
		got := Ticks(row.from, row.to)
		if len(got) != len(row.want) {
			t.Errorf("from %g to %g: %v, want %v", row.from, row.to, got, row.want)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-row.want[i]) > 1e-12 {
				t.Errorf("from %g to %g: %v, want %v", row.from, row.to, got, row.want)
			}
		}
	}
}
