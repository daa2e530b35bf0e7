package command

// This file tests what trace says of a module's low volts: they are news only while something feeds it.

import (
	"math"
	"strings"
	"testing"
)

func TestLowVoltsCountWhileFed(t *testing.T) {
	for name, c := range map[string]struct {
		args       []string
		fed, unfed [2]float64 // seconds, from and to
		says       string
	}{
		"key off for a second": {[]string{"--set", "KEY=run", "--do", "0.5s KEY=off", "--do", "1.5s KEY=run"}, [2]float64{0, 0}, [2]float64{0.9, 1.01}, "only while nothing fed it"},
		"key on after half":    {[]string{"--do", "0.5s KEY=run"}, [2]float64{0, 0}, [2]float64{0.5, 0.52}, "only while nothing fed it"},
		"key never on":         {nil, [2]float64{0, 0}, [2]float64{3, 3}, "was not fed"},
		"never low":            {[]string{"--set", "KEY=run"}, [2]float64{0, 0}, [2]float64{0, 0}, "stayed 6.0 V above"},
		"lamps on a rusty stud": {[]string{"--set", "KEY=run", "--fault", "G2 rust 0.9 ohm", "--do", "0.5s SW3=on", "--do", "1.5s SW3=off"},
			[2]float64{0.9, 1.01}, [2]float64{0, 0}, "where it resets, for"},
		"lamps on a rusty stud, then key off": {[]string{"--set", "KEY=run", "--fault", "G2 rust 0.9 ohm", "--do", "0.5s SW3=on", "--do", "1.5s SW3=off", "--do", "2s KEY=off"},
			[2]float64{0.9, 1.01}, [2]float64{0.9, 1.01}, "no feed at all"},
		"its plug reseated":            {[]string{"--set", "KEY=run", "--do", "0.5s reseat C12"}, [2]float64{0, 0}, [2]float64{0.9, 1.03}, "only while nothing fed it"},
		"a feed that was never enough": {[]string{"--set", "KEY=run", "--fault", "S7.S7~C12.4.a corroded 50 kohm"}, [2]float64{3, 3}, [2]float64{0, 0}, "all the time"},
	} {
		args := append([]string{"trace", "mist-blower", "--for", "3s", "--watch", "supply BOOM"}, c.args...)
		out, said, status := run(args...)
		if words := strings.Join(strings.Fields(strings.ReplaceAll(out, "\u00a0", " ")), " "); status != done || !strings.Contains(words, c.says) {
			t.Errorf("%s: status %d, %s%s, want words on %q", name, status, said, words, c.says)
			continue
		}
		below := traced(t, args...).Channels[0].Below[0]
		in := func(v float64, of [2]float64) bool { return v >= of[0]-1e-9 && v <= of[1]+1e-9 && !math.IsNaN(v) }
		if below.Level != 6.5 || !in(below.Seconds, c.fed) || !in(below.Unfed, c.unfed) {
			t.Errorf("%s: below %g V for %g s fed and %g s unfed, want %v and %v", name, below.Level, below.Seconds, below.Unfed, c.fed, c.unfed)
		}
	}
}

// What a channel shows from the start on is told from the start on, and what is left on an unfed module is a flat line.
func TestExtremesAreTheFirstShown(t *testing.T) {
	out, said, status := run("trace", "mist-blower", "--do", "2.2s KEY=run", "--watch", "supply BOOM", "--watch", "amps BOOM")
	if status != done {
		t.Fatal(said)
	}
	for name, want := range map[string]string{"supply BOOM": "0.00 V 0.00 V 0.000 s", "amps BOOM": "0.0 A 0.0 A 0.000 s"} {
		told := ""
		for _, line := range strings.Split(out, "\n") {
			if words, ok := strings.CutPrefix(line, name+"  "); ok {
				told = strings.Join(strings.Fields(strings.ReplaceAll(words, "\u00a0", " ")), " ")
			}
		}
		if !strings.HasPrefix(told, want) {
			t.Errorf("%s: %q, want %q", name, told, want)
		}
	}
	out, _, _ = run("trace", "mist-blower", "--watch", "supply BOOM")
	plotted, _, _ := strings.Cut(out, "Nothing was done")
	if rows := strings.Count(plotted, "_") + strings.Count(plotted, "'"); rows == 0 || strings.Contains(plotted, "'") && strings.Contains(plotted, "_") {
		t.Errorf("an unfed supply is drawn as\n%s", plotted)
	}
}
