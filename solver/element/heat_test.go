package element

// This file holds strips and contacts to SciPy's Radau (testdata/time, heat.py and heat.csv).

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"underload/solver/transient"
)

// heatCase is a source behind some ohms, which change at some times, and one element.
type heatCase struct {
	volts  float64
	pieces [][2]float64 // until, ohms
	what   transient.Element
	names  []string // of its states
}

func heatCases() map[string]heatCase {
	strip := func(heatOhms float64, pieces ...[2]float64) heatCase {
		s := testStrip()
		s.HeatOhms = heatOhms
		return heatCase{12, pieces, s, []string{"neck", "body", "melted"}}
	}
	joint := func(ohms, until float64, change func(*Joint)) heatCase {
		j := testJoint()
		j.FilmPerSecond, j.FretPerSecond = 0, 0
		change(j)
		return heatCase{12.6, [][2]float64{{until, ohms}}, j, []string{"body", "lnmetal", "lnfilm"}}
	}
	return map[string]heatCase{
		"strip at 12 V and 0.2 ohm":       strip(0, [2]float64{5, 0.2}),
		"strip warms and cools":           strip(0, [2]float64{20, 1}, [2]float64{40, 2}, [2]float64{60, 0.75}),
		"strip melts in part and freezes": strip(0, [2]float64{0.09, 0.40}, [2]float64{4, 2}, [2]float64{90, 0.42}),
		"strip beside a hot slot":         strip(0.020, [2]float64{600, 0.9}),
		"film breaks down":                joint(20, 100, func(j *Joint) { j.Touches, j.FilmOhms, j.MetalOhms = false, 20, 1 }),
		"film grows until it breaks down": joint(200, 6000, func(j *Joint) { j.Touches, j.FilmOhms, j.FilmPerSecond, j.MetalOhms = false, 5, 2e-4, 1 }),
		"metal creeps":                    joint(0.5, 600, func(j *Joint) { j.MetalOhms, j.FilmOhms = 0.008, 1e3 }),
		"metal is fretted":                joint(12, 4000, func(j *Joint) { j.FretPerSecond, j.FilmPerSecond = 2e-3, 1e-4 }),
	}
}

type heatRow struct {
	seconds float64
	name    string
	value   float64
}

func heatRows(t *testing.T) map[string][]heatRow {
	t.Helper()
	file, err := os.Open("../../testdata/time/heat.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string][]heatRow{}
	for _, line := range lines[1:] {
		seconds, err1 := strconv.ParseFloat(line[1], 64)
		value, err2 := strconv.ParseFloat(line[3], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("%v", line)
		}
		rows[line[0]] = append(rows[line[0]], heatRow{seconds, line[2], value})
	}
	return rows
}

// At a tolerance of 1e-4 instants, temperatures and volts are good to that; at 1e-6 to 5e-6 (a tolerance is for one step).
func TestHeatAgainstRadau(t *testing.T) {
	cases, rows := heatCases(), heatRows(t)
	if len(rows) != len(cases) {
		t.Fatalf("%d cases in the file, %d here", len(rows), len(cases))
	}
	for name, c := range cases {
		for _, tolerance := range []float64{1e-4, 1e-6} {
			worst, where := 0.0, ""
			note := func(off float64, row heatRow) {
				if !(off <= worst) {
					worst, where = off, fmt.Sprintf("%s at %v s", row.name, row.seconds)
				}
			}
			n := transient.New()
			top := n.Node()
			source := n.Source(transient.Ground, top, c.volts, c.pieces[0][1])
			id := n.Element(top, transient.Ground, c.what)
			r := mustStart(t, n, transient.Options{Tolerance: tolerance, Energy: true})
			expected := rows[name]
			var fired []transient.Firing
			fired = append(fired, r.Fired()...)
			piece := 0
			for _, row := range expected {
				if row.name == "event" {
					continue
				}
				for r.Seconds() < row.seconds {
					until := math.Min(row.seconds, c.pieces[piece][0])
					for r.Seconds() < until {
						if err := r.Step(until); err != nil {
							t.Fatalf("%s: %v", name, err)
						}
						fired = append(fired, r.Fired()...)
					}
					if r.Seconds() >= c.pieces[piece][0] && piece+1 < len(c.pieces) && row.seconds > r.Seconds() {
						piece++
						r.SetOhms(source, c.pieces[piece][1])
						if err := r.Settle(); err != nil {
							t.Fatal(err)
						}
					}
				}
				note(offOf(r, id, top, c.names, row), row)
			}
			for end := c.pieces[len(c.pieces)-1][0]; r.Seconds() < end; {
				if piece+1 < len(c.pieces) && r.Seconds() >= c.pieces[piece][0] {
					piece++
					r.SetOhms(source, c.pieces[piece][1])
					if err := r.Settle(); err != nil {
						t.Fatal(err)
					}
				}
				if err := r.Step(c.pieces[piece][0]); err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				fired = append(fired, r.Fired()...)
			}
			at := 0
			for _, row := range expected {
				if row.name != "event" {
					continue
				}
				if at >= len(fired) || float64(fired[at].Event) != row.value {
					t.Fatalf("%s: events %v, wanted %v at %v s", name, fired, row.value, row.seconds)
				}
				note(math.Abs(fired[at].Seconds-row.seconds)/math.Max(row.seconds, 1e-3), row)
				at++
			}
			if at != len(fired) {
				t.Errorf("%s: events %v, %d wanted", name, fired, at)
			}
			t.Logf("%s at %.0e: worst %.1e, %s; %d steps; energy off by %.1e of %.3g J", name, tolerance, worst, where,
				r.Stats().Steps, r.Balance().Off(), r.Balance().Given)
			if !(worst <= max(tolerance, 5e-6)) {
				t.Errorf("%s at %.0e: off by %.2e, %s", name, tolerance, worst, where)
			}
			if b := r.Balance(); !(math.Abs(b.Off()) <= 0.05*tolerance*b.Given) {
				t.Errorf("%s at %.0e: energy off by %v of %v J", name, tolerance, b.Off(), b.Given)
			}
		}
	}
}

// offOf is the relative error of one quantity; of a logarithm, the error of its number.
func offOf(r *transient.Run, id transient.ID, top transient.Node, names []string, row heatRow) float64 {
	switch row.name {
	case "amps":
		return math.Abs(r.ElementAmps(id)/row.value - 1)
	case "volts":
		return math.Abs(r.Volts(top)/row.value - 1)
	}
	for k, name := range names {
		if name == row.name {
			off := math.Abs(r.States(id)[k] - row.value)
			if name == "neck" || name == "body" {
				off /= row.value
			}
			return off
		}
	}
	return math.NaN()
}

// Heat that comes into a strip from the contacts beside it was given by the source, once: what is given is the source's
// volts times the charge that flowed, and it is all lost or stored.
func TestHeatFromContactsIsGivenOnce(t *testing.T) {
	const volts, contactOhms, seconds, parts = 12.6, 0.045, 120, 1200
	s := testStrip()
	s.HeatOhms = contactOhms / 2
	n := transient.New()
	post, in := n.Node(), n.Node()
	n.Source(transient.Ground, post, volts, 1.8)
	n.Resistor(post, in, contactOhms)
	id := n.Element(in, transient.Ground, s)
	r := mustStart(t, n, transient.Options{Tolerance: 1e-6, Energy: true})
	coulombs, before := 0.0, r.ElementAmps(id)
	for k := range parts {
		mustAdvance(t, r, seconds*(float64(k)+0.5)/parts)
		middle := r.ElementAmps(id)
		mustAdvance(t, r, seconds*float64(k+1)/parts)
		after := r.ElementAmps(id)
		coulombs += (before + 4*middle + after) * seconds / parts / 6 // Simpson's rule
		before = after
	}
	b := r.Balance()
	if want := volts * coulombs; math.Abs(b.Given/want-1) > 1e-5 {
		t.Errorf("given %v J, the source gave %v J", b.Given, want)
	}
	if math.Abs(b.Off()) > 1e-6*b.Given || s.HeatOhms*before*before < 0.9 {
		t.Errorf("%+v, off by %v J", b, b.Off())
	}
}
