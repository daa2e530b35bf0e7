package command

// This file holds every refusal to its form: one sentence, status 2, nothing on Out, nothing half done.

import (
	"strings"
	"testing"
)

const refusals = "refusals"

var refusedRuns = [][]string{
	{"chekc", "orchard-sprayer"},
	{"frobnicate"},
	{"testdata/small.yaml"},
	{"orchard-sprayer", "--json"},
	{"chekc", "--json"},
	{"--frob"},
	{"help", "prob"},
	{"check"},
	{"check", "orchard-sprayer", "--jsn"},
	{"points"},
	{"points", "orchard-spray"},
	{"points", "testdata/smal.yaml"},
	{"points", "nothing-like-it"},
	{"points", "testdata"},
	{"points", "testdata/broken.yaml"},
	{"points", "orchard-sprayer", "--json=maybe"},
	{"points", "orchard-sprayer", "F7"},
	{"probe", "orchard-sprayer", "--wiht", "volts"},
	{"probe", "orchard-sprayer", "-w", "volts"},
	{"probe", "orchard-sprayer", "--with"},
	{"probe", "orchard-sprayer"},
	{"probe", "orchard-sprayer", "--with", "vlots", "--red", "F7.in", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "oscillograph", "--red", "F7.in", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "volts", "--red", "F7.in"},
	{"probe", "orchard-sprayer", "--with", "volts", "--red", "F7.inn", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "volts", "--red", "C14.4", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "volts", "--red", "PC1", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "volts", "--red", "W7", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "volts", "--red", "G1", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "volts", "--red", "PC1.8.pin", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "volts", "--red", "S2", "--black", "G1"},
	{"probe", "orchard-sprayer", "--with", "volts", "--on", "W7"},
	{"probe", "orchard-sprayer", "--with", "clamp", "--red", "F7.in"},
	{"probe", "orchard-sprayer", "--with", "clamp"},
	{"probe", "orchard-sprayer", "--with", "clamp", "--on", "W77"},
	{"probe", "orchard-sprayer", "--with", "drag", "--red", "C14.4"},
	{"probe", "orchard-sprayer", "--with", "drag", "--red", "C14.44", "--apart", "C14"},
	{"probe", "orchard-sprayer", "--with", "look", "--red", "C14.4"},
	{"probe", "orchard-sprayer", "--with", "amps", "--red", "F7.in", "--black", "F7.out"},
	{"probe", "orchard-sprayer", "--with", "look", "--set", "KEY"},
	{"probe", "orchard-sprayer", "--with", "look", "--set", "KEY=rnu"},
	{"probe", "orchard-sprayer", "--with", "look", "--set", "KYE=run"},
	{"probe", "orchard-sprayer", "--with", "look", "--set", "E3=on"},
	{"probe", "orchard-sprayer", "--with", "look", "--set", "F7=5"},
	{"probe", "orchard-sprayer", "--with", "look", "--apart", "F7"},
	{"probe", "orchard-sprayer", "--with", "look", "--apart", "C41"},
	{"probe", "orchard-sprayer", "--with", "look", "--fault", "C14.4"},
	{"probe", "orchard-sprayer", "--with", "look", "--fault", "C14.4 spred"},
	{"probe", "orchard-sprayer", "--with", "look", "--fault", "C14.4 spread 1.8"},
	{"probe", "orchard-sprayer", "--with", "look", "--fault", "C14 open"},
	{"probe", "orchard-sprayer", "--with", "look", "--act", "repair C14.44"},
	{"probe", "orchard-sprayer", "--with", "look", "--act", "polish C14.4"},
	{"staircase", "orchard-sprayer"},
	{"staircase", "orchard-sprayer", "--part", "PC2"},
	{"staircase", "orchard-sprayer", "--part", "F7"},
	{"staircase", "orchard-sprayer", "--part", "E3"},
	{"staircase", "orchard-sprayer", "--part", "PC1", "--with", "load-lamp"},
	{"staircase", "orchard-sprayer", "--part", "PC1", "--red", "PC1.1", "--black", "PC1.8"},
	{"staircase", "orchard-sprayer", "--with", "volts", "--red", "PC1.1", "--black", "PC1.8"},
	{"staircase", "orchard-sprayer", "--red", "PC1.8", "--black", "PC1.1"},
	{"staircase", "orchard-sprayer", "--part", "PC1", "--set", "KEY=run", "--svg", "stairs.png"},
	{"staircase", "orchard-sprayer", "--part", "PC1", "--set", "KEY=run", "--svg", "testdata/none/stairs.svg"},
	{"trace"},
	{"trace", "orchard-spray"},
	{"trace", "orchard-sprayer", "--do", "KEY=run"},
	{"trace", "orchard-sprayer", "--do", "0.2 KEY=run"},
	{"trace", "orchard-sprayer", "--do", "0.2"},
	{"trace", "orchard-sprayer", "--do", "-1s KEY=run"},
	{"trace", "orchard-sprayer", "--do", "0.2s KEY=rnu"},
	{"trace", "orchard-sprayer", "--do", "0.2s K1=on"},
	{"trace", "orchard-sprayer", "--do", "0.2s wigle C14"},
	{"trace", "orchard-sprayer", "--do", "0.2s break C14.4 spraed 6 ohm"},
	{"trace", "orchard-sprayer", "--do", "5s KEY=run", "--for", "3s"},
	{"trace", "orchard-sprayer", "--for", "3"},
	{"trace", "orchard-sprayer", "--for", "0s"},
	{"trace", "orchard-sprayer", "--for", "3 V"},
	{"trace", "orchard-sprayer", "--watch", "PC1"},
	{"trace", "orchard-sprayer", "--watch", "B1.ops"},
	{"trace", "orchard-sprayer", "--watch", "amp W3"},
	{"trace", "orchard-sprayer", "--watch", "speed PC1"},
	{"trace", "orchard-sprayer", "--watch", "amps W77"},
	{"trace", "orchard-sprayer", "--trigger", "B1.psoe falls through 9 V", "--watch", "B1.pos"},
	{"trace", "orchard-sprayer", "--trigger", "B1.pos falls through 9 A"},
	{"trace", "orchard-sprayer", "--trigger", "B1.pos goes below 9 V"},
	{"trace", "orchard-sprayer", "--trigger", "supply PC1 > 6.5V"},
	{"trace", "orchard-sprayer", "--trigger", "amps M1 rises through 9 A"},
	{"trace", "orchard-sprayer", "--do", "0.2s wiggle C14.4 50 %"},
	{"trace", "orchard-sprayer", "--do", "0.2s apart PC1.1"},
	{"trace", "orchard-sprayer", "--trigger", "mode PC1 rises through awkae", "--watch", "mode PC1"},
	{"trace", "orchard-sprayer", "--screen", "20ms"},
	{"trace", "orchard-sprayer", "--tolerance", "2"},
	{"trace", "orchard-sprayer", "--seed", "-1"},
	{"trace", "orchard-sprayer", "--svg", "trace.csv"},
	{"trace", "orchard-sprayer", "--csv", "trace.yaml"},
	{"trace", "orchard-sprayer", "--csv", "testdata/none/trace.csv"},
	{"feeds", "orchard-sprayer"},
	{"feeds", "orchard-sprayer", "PC11"},
	{"faults", "orchard-sprayer", "C14.44"},
	{"faults", "orchard-sprayer", "C14"},
	{"example", "orchard-spryer"},
	{"completion", "bsh"},
	{"completion"},
	{"schema", "now"},
}

func TestRefusals(t *testing.T) {
	var all strings.Builder
	for _, args := range refusedRuns {
		out, said, status := run(args...)
		if status != refused {
			t.Errorf("%q ends with %d", args, status)
		}
		if out != "" {
			t.Errorf("%q writes on Out: %s", args, out)
		}
		if !strings.HasPrefix(said, "underload: ") || strings.Count(said, "\n") != 1 || !strings.HasSuffix(said, "\n") {
			t.Errorf("%q does not say one sentence: %q", args, said)
		}
		all.WriteString(asSeen(args))
	}
	golden(t, refusals, all.String())
}
