package catalog

import (
	"math"
	"regexp"
	"strings"
	"testing"
)

func TestTablesNameTheirSources(t *testing.T) {
	tables := Tables()
	if len(tables) < 15 {
		t.Fatalf("%d tables", len(tables))
	}
	for _, table := range tables {
		if table.Rows == 0 || len(table.Sources) == 0 {
			t.Errorf("%s: %d rows, %d sources", table.Name, table.Rows, len(table.Sources))
		}
		for _, s := range table.Sources {
			if s.Seen == "" || (s.Name == "") != (s.Seen == Practice) {
				t.Errorf("%s: poor source %+v", table.Name, s)
			}
		}
	}
	if got := relaySource.String(); !strings.HasSuffix(got, "(read)") {
		t.Errorf("source printed as %q", got)
	}
	if got := fromPractice.String(); got != "common practice, no source" {
		t.Errorf("practice printed as %q", got)
	}
}

func TestBulbs(t *testing.T) {
	seen := map[string]bool{}
	for _, b := range Bulbs() {
		if got, err := BulbNamed(strings.ToLower(b.Name)); err != nil || got != b || seen[b.Name] {
			t.Errorf("%s: found %+v, %v", b.Name, got, err)
		}
		seen[b.Name] = true
		if b.TestWatts < b.RatedWatts || b.TestWatts > 1.45*b.RatedWatts && b.Name != "P21/5W 24 V dim" || b.TestVolts < b.RatedVolts || b.Lumens > 30*b.TestWatts {
			t.Errorf("%s: not believable: %+v", b.Name, b)
		}
	}
	for text, amps := range map[string]float64{
		"55 W": 4.394, "h7": 4.394, "3 W": 0.25, "21 W": 1.852, "P21W": 1.852, "5W": 0.407, "P21/5W  dim": 0.444, "100 W": 100.0 / 12, "1.2 W": 0.1,
		"21 W 24V": 1, "p21w 24 v": 1, "P21/5W 24 V bright": 1, "P21/5W 24V dim": 10.0 / 28, "70 W 24 V": 75.0 / 28, "3 W 24 V": 0.125, "48 W 24 V": 2,
	} {
		if b, err := BulbOf(text); err != nil || math.Abs(b.Amps()-amps) > 0.0006 {
			t.Errorf("BulbOf(%q) takes %.4f A, %v; want %g", text, b.Amps(), err, amps)
		}
	}
	for text, part := range map[string]string{
		"H4": "H4 main or H4 dipped", "h4 24v": "H4 24 V main or H4 24 V dipped", "p21/5w": "P21/5W bright or P21/5W dim", "P12W": "did you mean", "9 kW": "not believed", "9 kW 24 V": "not believed", "24 V": "give its watts", "\u0250 24 V": "did you mean", "55 V 24 V": "give its watts", "": "give its watts", "lamp": "give its watts", "21": "like 21 W",
	} {
		if _, err := BulbOf(text); err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("BulbOf(%q): %v; want words on %q", text, err, part)
		}
	}
	for volts, types := range byWatts {
		for watts := range types {
			if b, err := BulbOfWatts(watts, volts); err != nil || b.RatedWatts != watts || b.RatedVolts != volts || b.LightVolts() != volts {
				t.Errorf("%g W at %g V: %+v, %v", watts, volts, b, err)
			}
		}
	}
	if _, err := BulbOfWatts(math.NaN(), 12); err == nil {
		t.Error("NaN watts were accepted")
	}
}

// Drag: makers' product specifications 108-20090 (2.5 N) and 108-2043 (1, 2, 3
// lbf at the sixth withdrawal), both read.
func TestTerminals(t *testing.T) {
	const lbf = 4.44822
	for mm, newtons := range map[float64]float64{0.64: 2.5, 1.5: 2.5, 2.8: 1 * lbf, 4.8: 2 * lbf, 6.3: 3 * lbf} {
		if size, err := TerminalOf(mm); err != nil || math.Abs(size.DragNewtons-newtons) > 0.06 {
			t.Errorf("%g mm: %+v, %v", mm, size, err)
		}
	}
	last := TerminalSize{PairOhms: 1, ActOhms: 1}
	for _, size := range terminalSizes {
		if got, err := TerminalNamed(" " + strings.ToUpper(size.Name)); err != nil || got != size {
			t.Errorf("%s: %+v, %v", size.Name, got, err)
		}
		if size.ActOhms < 2*size.PairOhms || size.CrimpAct < 2*size.CrimpOhms {
			t.Errorf("%s: act-at is too near to sound: %+v", size.Name, size)
		}
		if size.BladeMM > 0 && (size.PairOhms >= last.PairOhms || size.ActOhms >= last.ActOhms || size.DragNewtons < last.DragNewtons) {
			t.Errorf("%s: a larger blade must not be worse", size.Name)
		}
		last = size
	}
	if size, err := TerminalOf(3); err != nil || size.PairOhms != 0.002 || size.BladeMM != 3 {
		t.Errorf("3 mm: %+v, %v", size, err)
	}
	for _, mm := range []float64{0, -1, 100, math.NaN(), math.Inf(1)} {
		if _, err := TerminalOf(mm); err == nil {
			t.Errorf("a blade of %g mm was accepted", mm)
		}
	}
	if _, err := TerminalNamed("7 mm"); err == nil || !strings.Contains(err.Error(), "fuse slot") {
		t.Errorf("unknown size: %v", err)
	}
}

// Spread: under four tenths of a sound terminal's drag (common practice).
func TestConditions(t *testing.T) {
	for _, c := range conditions {
		if !(c.LowOhms > 0 && c.LowOhms <= c.CentralOhms && c.CentralOhms <= c.HighOhms) {
			t.Errorf("%s: %g, %g, %g ohm", c.Name, c.LowOhms, c.CentralOhms, c.HighOhms)
		}
		if c.DragShare < 0 || c.DragShare > 1 || c.Unplug.Heals < 0 || c.Unplug.Heals > 1 || c.Unplug.Says == "" {
			t.Errorf("%s: %+v", c.Name, c)
		}
		if got, err := ConditionNamed(strings.ToUpper(c.Name)); err != nil || got != c {
			t.Errorf("%s: %+v, %v", c.Name, got, err)
		}
	}
	if c, err := ConditionNamed("spread"); err != nil || c.DragShare >= 0.4 {
		t.Errorf("spread: %+v, %v", c, err)
	}
	if _, err := ConditionNamed("sprad"); err == nil || !strings.Contains(err.Error(), `"spread"`) {
		t.Errorf("sprad: %v", err)
	}
	if _, err := ConditionNamed("bewitched"); err == nil || !strings.Contains(err.Error(), "spread, fretted") {
		t.Errorf("bewitched: %v", err)
	}
}

// 12 V through the data sheet's 85 Ω is 141 mA (worked out).
func TestRelayAndInstruments(t *testing.T) {
	r := PlugInRelay
	if ma := 12 / r.CoilOhms * 1000; math.Abs(ma-141) > 0.5 || r.ReleaseVolts >= r.PullInVolts || r.ContactOhms >= r.ContactActOhms {
		t.Errorf("relay: %+v", r)
	}
	for i, limit := range DropLimits {
		if i > 0 && limit.Volts <= DropLimits[i-1].Volts {
			t.Errorf("%s: out of order", limit.Part)
		}
	}
	// The sheet's own example: 0.1 Ω on a 0.1 Ω digit is ± 0.2 Ω.
	low := Ohmmeter.Ranges[0]
	if within := 0.1*Ohmmeter.Accuracy.Share + Ohmmeter.Accuracy.Counts*low.Resolution; math.Abs(within-0.2) > 0.001 {
		t.Errorf("ohmmeter reads 0.1 Ω within %g", within)
	}
	for _, m := range []Meter{Voltmeter, Ohmmeter, Ammeter, Clamp} {
		for i, r := range m.Ranges {
			if r.Resolution <= 0 || r.FullScale/r.Resolution > 1e5 || (i > 0 && r.FullScale <= m.Ranges[i-1].FullScale) {
				t.Errorf("%s: range %+v", m.Source, r)
			}
		}
	}
	if amps := (12 - LEDLightVolts) / LEDLightOhms; math.Abs(amps-0.010) > 1e-12 {
		t.Errorf("LED light takes %g A", amps)
	}
	// Adding 430 Ω takes three tenths of the LED light's current (worked out in one line: 10 V over 1430 Ω).
	if amps := (12 - LEDLightVolts) / (LEDLightOhms + 430); math.Abs(amps/0.010-0.70) > 0.005 {
		t.Errorf("LED light with 430 Ω: %g A", amps)
	}
	if m := OrdinaryModule; m.ResetsBelow >= m.RunsAbove || m.AsleepAmps >= m.LockedAmps || m.LockedAmps >= m.AwakeAmps {
		t.Errorf("module: %+v", m)
	}
}

func TestActsAndColours(t *testing.T) {
	names := map[string]bool{}
	for _, act := range acts {
		if act.Low <= 0 || act.Low > act.Central || act.Central > act.High || names[act.Name] {
			t.Errorf("%+v", act)
		}
		names[act.Name] = true
		if got := Minutes(act.Name); got != act.Central {
			t.Errorf("Minutes(%q) = %g", act.Name, got)
		}
	}
	func() {
		defer func() {
			if recover() == nil {
				t.Error("an unknown act has minutes")
			}
		}()
		Minutes("polish the bonnet")
	}()
	code := regexp.MustCompile(`^[A-Z]{2}$`)
	for _, c := range Colours() {
		if !code.MatchString(c.Code) || c.Name == "" {
			t.Errorf("%+v", c)
		}
	}
}
