package meter

// This file holds staircases of a module with several feeds.

import (
	"math"
	"strings"
	"testing"
)

// twoFeeds is a module with a feed by a fuse and one by a relay, and two grounds.
const twoFeeds = `underload: 1
parts:
  B1: {is: battery, volts: 12.6 V}
  F1: {is: fuse, rating: 10 A}
  K5: {is: relay}
  LIFT: {is: module, supply: [A1, A2], ground: [B1, B2]}
connectors:
  C7: {}
paths:
  always: [B1.pos, F1, wire W1: 100 mohm, C7.1, wire W2: 10 mohm, LIFT.A1]
  load: [B1.pos, wire W3: 10 mohm, K5.30-87, wire W4: 30 mohm, C7.2, wire W5: 10 mohm, LIFT.A2]
  coil: [B1.pos, wire W6: 1 ohm, K5.86-85, wire W7: 10 mohm, G1]
  ground: [LIFT.B1, wire W8: 10 mohm, C7.3, wire W9: 10 mohm, G1]
  ground2: [LIFT.B2, wire W10: 10 mohm, C7.4, wire W11: 40 mohm, G1]
grounds:
  G1: {to: B1.neg}
`

// A staircase says by which pins it goes, clears no others, and does not say of a way that brings nothing that its load has its current there.
func TestOneWayOfSeveral(t *testing.T) {
	for _, row := range []struct {
		part, fault string
		says, not   []string
	}{
		{"LIFT", "C7.1 open", []string{"no step on this way loses more", "by LIFT.A2, LIFT.B1", "not judged here: LIFT.A1, LIFT.B2"}, nil},
		{"LIFT.A1", "C7.1 open", []string{"passes LIFT.A1", "650 mA another way", "C7.1 is open", "by LIFT.A1, LIFT.B1"}, []string{"no step"}},
		{"LIFT.B2", "C7.4 open", []string{"passes LIFT.B2", "C7.4 is open", "by LIFT.A2, LIFT.B2"}, []string{"no step"}},
		{"LIFT", "K5 coil-open", []string{"passes LIFT.A2", "650 mA another way", "K5 is open"}, []string{"no current passes, and all"}},
		{"LIFT.A1", "F1 blown", []string{"passes LIFT.A1", "F1 is blown"}, []string{"no current passes it"}},
		{"LIFT.A1", "C7.1 spread 4 ohm", []string{"Under load C7.1 loses", "not judged here: LIFT.A2, LIFT.B2"}, nil},
	} {
		b := laid(t, twoFeeds)
		if err := b.Break(row.fault); err != nil {
			t.Fatal(err)
		}
		s, err := Stairs(b, StairsRequest{Part: row.part})
		if err != nil {
			t.Errorf("%s, %s: %v", row.part, row.fault, err)
			continue
		}
		words := plainly(s.Verdict)
		for _, want := range row.says {
			if !strings.Contains(words, want) {
				t.Errorf("%s, %s: %q lacks %q", row.part, row.fault, words, want)
			}
		}
		for _, not := range row.not {
			if strings.Contains(words, not) {
				t.Errorf("%s, %s: %q says %q", row.part, row.fault, words, not)
			}
		}
		volts := s.OpenVolts
		for _, st := range s.Steps {
			volts -= st.UnderLoad.Lost
		}
		if math.Abs(volts) > 1e-6 {
			t.Errorf("%s, %s: %g V of the way go missing", row.part, row.fault, volts)
		}
	}
	for part, want := range map[string]string{"LIFT.A9": "there is no load LIFT.A9", "K5.86": "K5 is a relay", "C7.1": "there is no load C7.1"} {
		if _, err := Stairs(laid(t, twoFeeds), StairsRequest{Part: part}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("--part %s: %v", part, err)
		}
	}
}
