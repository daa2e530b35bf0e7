package view

import (
	"reflect"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
)

// A log that is kept as a file and read back is the same log.
func TestLogRoundTrip(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.set("KEY=run")
	v.plug("PC1", true)
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "PC1.8")
	for _, name := range instruments() {
		v.choose(name)
		if v.now.live.reading != nil {
			v.logReading()
		}
	}
	v.Want()
	v.saveLog()
	wants := v.Want()
	if len(wants) != 1 || wants[0].Kind != SaveFile || wants[0].Name != "orchard-sprayer.readings" {
		t.Fatalf("saving the log asks for %+v", wants)
	}
	of, entries, err := ReadLog(wants[0].Name, wants[0].Data)
	if err != nil || of != "Orchard sprayer truck" || len(entries) < 6 {
		t.Fatalf("read back: %s, %d readings, %v", of, len(entries), err)
	}
	if !reflect.DeepEqual(entries, v.now.log) {
		t.Error("what was read back is not what was kept")
	}
	fresh := open(t, "orchard-sprayer", Options{})
	fresh.Open("a.readings", wants[0].Data)
	if r := fresh.Report(); !reflect.DeepEqual(r.Log, v.now.log) || r.Tab != tabLog {
		t.Errorf("opened, the log has %d readings: %s", len(r.Log), r.Note)
	}
}

// What is wrong with a log is told with file and line.
func TestLogErrorsNameTheLine(t *testing.T) {
	head := `{"underload_log":1,"circuit":"x"}` + "\n"
	good := `{"number":1,"reading":{"instrument":"volts"}}` + "\n"
	for text, want := range map[string]string{
		"":                                  "f:1:",
		"hello\n":                           "f:1:",
		`{"underload_log":2}` + "\n":        "f:1:",
		head + "{\n":                        "f:2:",
		head + good + `{"number":0}` + "\n": "f:3:",
		head + good + "\n" + `{"number":2,"colour":"red","reading":{"instrument":"volts"}}`: "f:4:",
	} {
		if _, _, err := ReadLog("f", []byte(text)); err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want one line that begins with %s", text, err, want)
		}
	}
}

func FuzzReadLog(f *testing.F) {
	f.Add([]byte(`{"underload_log":1,"circuit":"x"}` + "\n" + `{"number":1,"reading":{"instrument":"volts","value":12.6}}`))
	f.Add([]byte("\n\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		of, entries, err := ReadLog("f", data)
		if err != nil {
			return
		}
		again, err := WriteLog(of, entries)
		if err != nil {
			t.Fatal(err)
		}
		if of2, entries2, err := ReadLog("f", again); err != nil || of2 != of || !reflect.DeepEqual(entries2, entries) {
			t.Fatalf("written again it does not read the same: %v", err)
		}
	})
}

// Faults are kept as a file, one a line, and laid again from it; a slip is told with its line.
func TestFaultsFile(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.layFault("C14.4", looseGround)
	v.layFault("W7", "W7 high 0.4 ohm")
	v.saveFaults()
	file := v.Want()[0]
	fresh := open(t, "orchard-sprayer", Options{})
	fresh.set("KEY=run")
	fresh.Open(file.Name, file.Data)
	r := fresh.Report()
	if !reflect.DeepEqual(r.Faults, []string{looseGround, "W7 high 0.4 ohm"}) || r.Positions["KEY"] != "run" {
		t.Errorf("laid again: %v with the key at %s; %s", r.Faults, r.Positions["KEY"], r.Note)
	}
	fresh.Open("mine.faults", []byte("# ours\nC14.4 sprad\n"))
	if r := fresh.Report(); !strings.HasPrefix(r.Note, "mine.faults:2:") || len(r.Faults) != 2 {
		t.Errorf("a slip is told as %q, and leaves %v", r.Note, r.Faults)
	}
}

// The host is asked to store the work once something was done, and not again until more is.
func TestWorkIsStored(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	if w := v.Want(); len(w) != 0 {
		t.Errorf("freshly opened it asks for %+v", w)
	}
	v.set("KEY=run")
	w := v.Want()
	if len(w) != 1 || w[0].Kind != Store || !strings.Contains(string(w[0].Data), "KEY=run") {
		t.Errorf("after an act it asks for %+v", w)
	}
	if w := v.Want(); len(w) != 0 {
		t.Errorf("asked again it wants %+v", w)
	}
}

// What was set up, placed and logged outlives the window.
func TestSessionRestores(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	work(v)
	fresh := open(t, "orchard-sprayer", Options{})
	if err := fresh.Restore(v.Session()); err != nil {
		t.Fatal(err)
	}
	got, want := fresh.Report(), v.Report()
	for _, pair := range [][2]any{{got.LeadA, want.LeadA}, {got.LeadB, want.LeadB}, {got.Faults, want.Faults}, {got.Positions, want.Positions},
		{got.Apart, want.Apart}, {got.Log, want.Log}, {got.Role, want.Role}, {got.Reading.Seen, want.Reading.Seen}} {
		if !reflect.DeepEqual(pair[0], pair[1]) {
			t.Errorf("restored: %v, was: %v", pair[0], pair[1])
		}
	}
	if err := open(t, "street-sweeper", Options{}).Restore(v.Session()); err == nil {
		t.Error("a session of another circuit was taken")
	}
	for _, bad := range []string{"", "{}", `{"underload_session":9}`, "[1]"} {
		if err := fresh.Restore([]byte(bad)); err == nil {
			t.Errorf("%q was taken for a session", bad)
		}
	}
}

func work(v *View) {
	v.layFault("C14.4", looseGround)
	v.set("KEY=run")
	v.plug("PC1", true)
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "PC1.8")
	v.choose("load-lamp")
	v.logReading()
}

// A file that changes under the view loses nothing that still has its place; an error in it leaves everything as it is.
func TestReloadLosesNothing(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	work(v)
	before := v.Report()
	v.Reload(nil, "orchard-sprayer.yaml:12:3: there is no kind of part called fuze")
	if r := v.Report(); r.LeadA != "PC1.1" || !strings.Contains(r.Problems, ":12:3:") || len(r.Points) != len(before.Points) {
		t.Errorf("with an error in the file: lead A on %q, told %q", r.LeadA, r.Problems)
	}
	source, err := circuits.Source("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	v.Reload(nil, "orchard-sprayer.yaml:12:3: first\norchard-sprayer.yaml:13:3: second")
	v.Scene()
	seen := 0
	for _, s := range v.scene.Shapes {
		if strings.HasPrefix(s.Words, "orchard-sprayer.yaml:1") {
			seen++
		}
	}
	if seen != 2 {
		t.Errorf("of two errors %d begin a line", seen)
	}
	keys(v, "k")
	pass(v, 5)
	again, problems := circuit.Read("orchard-sprayer.yaml", source)
	if problems.Err() != nil {
		t.Fatal(problems.Err())
	}
	v.Reload(again, "") // put right again: nothing has changed
	if r := v.Report(); r.Problems != "" || r.Time == nil || !r.Time.Running || !r.CanUndo {
		t.Errorf("saved again as it was: %q, time %+v, undo %v", r.Problems, r.Time, r.CanUndo)
	}
	keys(v, "k")
	clickControl(t, v, "time-rest")
	changed, problems := circuit.Read("orchard-sprayer.yaml", []byte(strings.Replace(string(source), "0.75 mm2 2.0 m", "0.75 mm2 20 m", 1)))
	if problems.Err() != nil {
		t.Fatal(problems.Err())
	}
	v.Reload(changed, "")
	r := v.Report()
	if r.Problems != "" || r.LeadA != "PC1.1" || len(r.Log) != 1 || !reflect.DeepEqual(r.Faults, before.Faults) {
		t.Errorf("after the change: %q, lead A on %q, %d logged, faults %v", r.Problems, r.LeadA, len(r.Log), r.Faults)
	}
	if *r.Reading.Value >= *before.Reading.Value {
		t.Errorf("eighteen metres more of thin wire leave %g V of %g V", *r.Reading.Value, *before.Reading.Value)
	}
}

// The log shows its last line when one is added, unless somebody has turned back to earlier ones.
func TestTheLogFollowsItsEnd(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	work(v)
	v.showTab(tabLog)
	last := func() (shown bool) {
		v.Scene()
		words := number(len(v.now.log))
		for _, s := range v.scene.Shapes {
			shown = shown || s.Words == words && s.Size == 13 && v.panelBox().holds(s.Spots[0].X, s.Spots[0].Y)
		}
		return shown
	}
	for range 14 {
		v.logReading()
		if !last() {
			t.Fatalf("reading %d is logged out of sight", len(v.now.log))
		}
	}
	clickControl(t, v, "up:log")
	if last() {
		t.Fatal("turned back, the last reading is still in sight")
	}
	if v.logReading(); last() {
		t.Error("who has turned back is taken to the end by another reading")
	}
	clickControl(t, v, "down:log")
	if v.logReading(); !last() {
		t.Error("at the end again, the next reading is out of sight")
	}
}
