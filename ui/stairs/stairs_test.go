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

// made is a staircase of volts on paper: 12 V, a wire and a joint on either side of the load, a worst step that may be large.
func made(worst float64) meter.Staircase {
	step := func(place string, volts, lost, healthyVolts, healthyLost float64) meter.Step {
		l := meter.Level{Volts: volts, Lost: lost, Amps: 10, Ohms: lost / 10}
		return meter.Step{Place: place, Light: l, UnderLoad: l, HealthyLight: l, Healthy: meter.Level{Volts: healthyVolts, Lost: healthyLost, Amps: 5, Ohms: healthyLost / 5}}
	}
	s := meter.Staircase{Battery: "B", OpenVolts: 12, Steps: []meter.Step{step("B", 11.9, 0.1, 11.95, 0.05), step("W1", 11.5, 0.4, 11.85, 0.1),
		step("L", 1.5+worst, 10-worst, 0.55, 11.3), step("C1", 1.5, worst, 0.5, 0.05), step("W2", 0, 1.5, 0, 0.5)}}
	s.Steps[1].Spread, s.Steps[4].Spread, s.Steps[2].Load, s.Steps[3].Worst = true, true, true, true
	return s
}

// placed gives the columns 100 px each.
func placed(s meter.Staircase) []*Column {
	columns := Single(s)
	for i, c := range columns {
		c.X, c.W = float64(i)*100, 100
	}
	return columns
}

// reach is how high and how low an outline is at an x.
func reach(outline []Spot, x float64) (top, foot float64) {
	top, foot = math.Inf(1), math.Inf(-1)
	for _, at := range outline {
		if at.X == x {
			top, foot = min(top, at.Y), max(foot, at.Y)
		}
	}
	return top, foot
}

// The healthy band is 30 % of what is lost up to there, counted from the battery before the load and from zero behind it.
func TestBandIsAsWideAsItSays(t *testing.T) {
	columns := placed(made(0.5))
	sc := Scale{Plot: Area(0, 0, 500, 1200), From: 12, To: 0} // 100 px a volt
	band := WholeBand(columns, 12, sc)
	for _, row := range []struct{ x, volts, half float64 }{{200, 11.85, 0.30 * 0.15}, {400, 0.5, 0.30 * 0.5}, {500, 0, 0.03}} {
		if top, foot := reach(band, row.x); math.Abs(sc.Y(row.volts)-top-100*row.half) > 0.01 || math.Abs(foot-sc.Y(row.volts)-100*row.half) > 0.01 {
			t.Errorf("at %g px the band is from %.2f to %.2f px around %.2f, and should be %.2f either way", row.x, top, foot, sc.Y(row.volts), 100*row.half)
		}
	}
}

// The magnified band is what the healthy circuit's ohms would lose at the amps that flow now, 30 % more or less.
func TestMagnifiedBandIsAsWideAsItSays(t *testing.T) {
	columns := placed(made(0.5))
	MarkOmitted(columns)
	sc := Scale{Plot: Area(0, 0, 500, 1000), From: 0, To: 1} // 1000 px a volt, downwards
	bands := LostBand(Sides(columns)[0], sc)
	if len(bands) != 2 { // around the battery, which is left out
		t.Fatalf("%d pieces", len(bands))
	}
	if top, foot := reach(bands[1], 200); math.Abs(top-(1000*0.7*0.2-2.5)) > 0.01 || math.Abs(foot-(1000*1.3*0.2+2.5)) > 0.01 {
		t.Errorf("behind W1 the band is from %.2f to %.2f px", top, foot)
	}
}

// The worst step stays in the magnified form as long as it is no larger than all the rest.
func TestSmallWorstStepStays(t *testing.T) {
	for _, row := range []struct {
		worst float64
		omit  bool
	}{{0.5, false}, {1.4, false}, {1.6, true}} {
		columns := placed(made(row.worst))
		if MarkOmitted(columns); columns[3].Omit != row.omit {
			t.Errorf("a step of %g V beside 1.5 V is left out: %v", row.worst, columns[3].Omit)
		}
	}
}

// The axis reaches to the highest and the lowest volts before and behind any step.
func TestHighestAndLowest(t *testing.T) {
	s := made(0.5)
	if Highest(s) != 12 || Lowest(s) != 0 {
		t.Errorf("from %g to %g V", Lowest(s), Highest(s))
	}
	s.Steps[1].Light = meter.Level{Volts: 13, Lost: 1.5}
	s.Steps[4].UnderLoad.Volts = -0.25
	if Highest(s) != 14.5 || Lowest(s) != -0.25 {
		t.Errorf("from %g to %g V", Lowest(s), Highest(s))
	}
}
