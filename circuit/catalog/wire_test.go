package catalog

import (
	"math"
	"testing"

	"underload/circuit/quantity"
)

// A cable holds a little less metal than its nominal area and its strands are
// laid slantwise, so R·A is a little above copper's resistivity, never below.
func TestWireTablesAreCopper(t *testing.T) {
	for name, table := range map[string][]WireSize{"road": RoadWires(), "class 5": Class5Wires()} {
		if len(table) < 10 {
			t.Fatalf("%s: only %d sizes", name, len(table))
		}
		for i, size := range table {
			if ratio := size.OhmPerMetre * 1000 * size.AreaMM2 / 17.2414; ratio < 1.00 || ratio > 1.16 {
				t.Errorf("%s %g mm²: R·A is %.3f of copper", name, size.AreaMM2, ratio)
			}
			if i > 0 && (size.AreaMM2 <= table[i-1].AreaMM2 || size.OhmPerMetre >= table[i-1].OhmPerMetre) {
				t.Errorf("%s %g mm²: not between its neighbours", name, size.AreaMM2)
			}
		}
	}
}

// Where both tables have a size they must agree within the 7 % by which the
// finer strands of class 5 may be longer (common sense check of the table from
// memory against the one that was read).
func TestRoadWiresAgainstClass5(t *testing.T) {
	both := 0
	for _, read := range Class5Wires() {
		if known, ok := roadWire(read.AreaMM2); ok {
			both++
			if ratio := read.OhmPerMetre / known.OhmPerMetre; ratio < 1 || ratio > 1.07 {
				t.Errorf("%g mm²: class 5 over road-vehicle is %.3f", read.AreaMM2, ratio)
			}
		}
	}
	if both < 10 {
		t.Errorf("only %d sizes in both tables", both)
	}
}

// A component catalogue lists these (read); the second column is °C.
func TestWireOhmsPerMetre(t *testing.T) {
	awg := quantity.GaugeArea
	for _, c := range []struct {
		area, celsius float64
		metal         Metal
		milliohms     float64
		within        float64
	}{
		{awg(10), 20, Copper, 3.277, 5e-4}, {awg(12), 20, Copper, 5.211, 5e-4}, {awg(14), 20, Copper, 8.286, 5e-4}, {awg(16), 20, Copper, 13.17, 5e-4},
		{0.75, 20, Copper, 24.7, 1e-12}, {6, 20, Copper, 3.14, 1e-12},
		{0.75, 85, Copper, 24.7 * 1.25545, 1e-9}, {0.75, -20, Copper, 24.7 * 0.8428, 1e-9},
		{10, 20, Aluminium, 2.8264, 1e-12}, {10, 120, Aluminium, 2.8264 * 1.403, 1e-12},
	} {
		if got := WireOhmsPerMetre(c.area, c.metal, c.celsius) * 1000; math.Abs(got-c.milliohms) > c.within*c.milliohms {
			t.Errorf("%g mm² %s at %g °C: %v mΩ/m, want %v", c.area, c.metal, c.celsius, got, c.milliohms)
		}
	}
	if !math.IsInf(WireOhmsPerMetre(0, Copper, 20), 1) || !math.IsInf(WireOhmsPerMetre(-1, Copper, 20), 1) {
		t.Error("no metal must be an open wire")
	}
	if !math.IsNaN(WireOhmsPerMetre(1, "gold", 20)) || !math.IsNaN(WireOhmsPerMetre(math.NaN(), Copper, 20)) {
		t.Error("nonsense must not pass for a number")
	}
}

func TestUseOf(t *testing.T) {
	if _, ok := UseOf(0.22); ok {
		t.Error("0.22 mm² is below the table")
	}
	if use, ok := UseOf(2.081); !ok || use.AreaMM2 != 1.5 {
		t.Errorf("14 AWG: %+v, %v", use, ok)
	}
	for i, use := range wireUses {
		if use.MaxAmps > use.FuseMaxAmps || use.FuseAmps > use.FuseMaxAmps {
			t.Errorf("%g mm²: the fuse would not bear its load: %+v", use.AreaMM2, use)
		}
		if got, _ := UseOf(use.AreaMM2); got != use {
			t.Errorf("UseOf(%g) = %+v", use.AreaMM2, got)
		}
		if i > 0 && (use.MaxAmps <= wireUses[i-1].MaxAmps || use.FuseMaxAmps <= wireUses[i-1].FuseMaxAmps) {
			t.Errorf("%g mm²: not above the size before", use.AreaMM2)
		}
	}
}
