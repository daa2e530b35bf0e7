package circuits_test

// What each fault of each sheet does to the light test, the load test, the drop test and the roll call, against values
// worked out apart from the program: testdata/cases/work.py solves plain netlists with NumPy and SciPy and knows nothing
// of this program.

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"underload/circuits"
	"underload/sim/fault"
)

const worked = "../testdata/cases/results.csv"

// notWorked are faults that the script leaves out, "vehicle fault", each with the reason.
var notWorked = map[string]string{}

// How far program and script may be apart, by instrument: a share of the value, or a floor where that is larger. Ohms,
// laws and rules are the same on both sides, so what is left is what the script leaves out: the protection diodes of
// modules (a microampere each), the rounded corners of limited sources, and tungsten by straight lines between the rows
// of its table instead of a curve.
var apartBy = map[string]struct{ share, floor float64 }{
	"volts":     {0.002, 0.0005}, // V
	"test-lamp": {0.001, 0.001},  // V
	"load-lamp": {0.001, 0.001},  // V
	"clamp":     {0.001, 0.001},  // A
	"ohms":      {0.0005, 0.01},  // ohm
}

// powerApart is how far a reading may be from the script's with lamps by the published power law, in its unit. The law
// holds where a filament glows; where one is nearly cold it knows no heat lost by gas and leads, and gives it more ohms.
// With a trailer that has lost its ground, all of it goes home through such filaments: there the two are furthest apart.
const powerApart = 0.65

// caseRow is one line of the script's results.
type caseRow struct {
	vehicle, fault, row, test, state string
	value, kick, other, otherKick    *float64
	seen                             string
}

func readCases(t *testing.T) []caseRow {
	t.Helper()
	file, err := os.Open(worked)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	lines, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(text string) *float64 {
		if text == "" {
			return nil
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		return &v
	}
	var rows []caseRow
	for _, l := range lines[1:] {
		rows = append(rows, caseRow{l[0], l[1], l[2], l[3], l[4], number(l[5]), number(l[6]), number(l[8]), number(l[9]), l[7]})
	}
	return rows
}

func TestFaultsAgainstScript(t *testing.T) {
	rows := readCases(t)
	if len(rows) < 300 {
		t.Fatalf("only %d rows in %s", len(rows), worked)
	}
	shops := map[string]*workshop{}
	for _, name := range circuits.Names() {
		shops[name] = workshopFor(t, name)
	}
	seen := map[string]bool{}
	worst := map[string]furthest{}
	for _, row := range rows {
		w := shops[row.vehicle]
		if w == nil {
			t.Fatalf("%s is no example", row.vehicle)
		}
		e, test := w.worked(row)
		seen[row.vehicle+" "+row.fault+" "+row.row] = true
		r := w.take(e, test, w.sheet.StateOf(nil, test))
		at := fmt.Sprintf("%s %s, %s (%s; %s)", row.vehicle, row.fault, row.row, row.test, row.state)
		for _, pair := range []struct {
			what             string
			got, want, other *float64
		}{{"", r.Value, row.value, row.other}, {" at its kick", r.Kick, row.kick, row.otherKick}} {
			if (pair.got == nil) != (pair.want == nil) {
				t.Errorf("%s%s: program %s, script %s", at, pair.what, amount(pair.got), amount(pair.want))
				continue
			}
			if pair.got == nil {
				continue
			}
			by := apartBy[test.With]
			off, allowed := math.Abs(*pair.got-*pair.want), max(by.share*math.Abs(*pair.want), by.floor)
			if !(off <= allowed) {
				t.Errorf("%s%s: program %.6g, script %.6g: %.3g apart, %.3g allowed", at, pair.what, *pair.got, *pair.want, off, allowed)
			}
			keep(worst, test.With, off/allowed, fmt.Sprintf("%s%s: program %.6g, script %.6g", at, pair.what, *pair.got, *pair.want))
			if far := math.Abs(*pair.got - *pair.other); !(far <= powerApart) {
				t.Errorf("%s%s: program %.6g, by the power law %.6g", at, pair.what, *pair.got, *pair.other)
			} else {
				keep(worst, test.With+", power law", far/powerApart, fmt.Sprintf("%s%s: program %.6g, script %.6g", at, pair.what, *pair.got, *pair.other))
			}
		}
		if row.seen != "" && r.Seen != row.seen {
			t.Errorf("%s: program %q, script %q", at, r.Seen, row.seen)
		}
	}
	for what, f := range worst {
		t.Logf("%s: %.0f %% of what is allowed at %s", what, 100*f.share, f.says)
	}
	complete(t, shops, seen)
}

// worked is the fault and the test that a row of the script belongs to; the two must describe the same test.
func (w *workshop) worked(row caseRow) (*fault.Entry, fault.Test) {
	w.t.Helper()
	var e *fault.Entry
	if row.fault != "" {
		var err error
		if e, err = w.sheet.Entry(row.fault); err != nil {
			w.t.Fatal(err)
		}
	}
	for _, r := range w.sheet.Table {
		if r.Name != row.row {
			continue
		}
		test := strings.Join(strings.Fields(strings.Join([]string{r.With, r.Red, r.On, r.Black}, " ")), " ")
		state := strings.ReplaceAll(strings.Join(w.sheet.StateOf(nil, r.Test), " "), "apart ", "-")
		if test != row.test || state != row.state {
			w.t.Fatalf("%s, %s: the sheet has %q in %q, the script %q in %q", row.vehicle, row.row, test, state, row.test, row.state)
		}
		return e, r.Test
	}
	w.t.Fatalf("%s has no row %s in its table", row.vehicle, row.row)
	return nil, fault.Test{}
}

// furthest is the reading that is furthest off among those of one instrument, as a share of what is allowed.
type furthest struct {
	share float64
	says  string
}

func keep(worst map[string]furthest, what string, share float64, says string) {
	if share >= worst[what].share {
		worst[what] = furthest{share, says}
	}
}

func amount(v *float64) string {
	if v == nil {
		return "nothing"
	}
	return fmt.Sprintf("%.6g", *v)
}

// complete insists that every fault of every sheet and the healthy circuit is in the results with every row of the
// table, or listed with the reason why not.
func complete(t *testing.T, shops map[string]*workshop, seen map[string]bool) {
	t.Helper()
	faults := 0
	for name, w := range shops {
		ids := append([]string{""}, w.sheet.IDs()...)
		for _, id := range ids {
			faults++
			missing := 0
			for _, row := range w.sheet.Table {
				if !seen[name+" "+id+" "+row.Name] {
					missing++
				}
			}
			why, left := notWorked[name+" "+id]
			switch {
			case missing > 0 && !left:
				t.Errorf("%s %s: %d rows of the table are not worked out, and no reason stands in notWorked", name, id, missing)
			case missing == 0 && left:
				t.Errorf("%s %s is worked out after all (%s)", name, id, why)
			}
		}
	}
	if faults < 60 {
		t.Errorf("only %d faults", faults)
	}
}
