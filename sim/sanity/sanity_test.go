package sanity

// What a file accepts, what the examples are told, and circuits that have lost a part.

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"underload/circuit"
	"underload/circuits"
)

func TestAccepted(t *testing.T) {
	const accepted = "accepted:\n  - {rule: thin wire, at: %s, because: as drawn}\n"
	text := file("  F1: {is: fuse, rating: 15 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire W1: 0.75 mm2, S1, wire W2: 0.5 mm2 1 m, L1, G1]\n", "splices: {S1: {}}\n")
	for at, want := range map[string][]string{
		"":   {"warning F1 W2 1"},
		"F1": {"accepted F1 W2 1"},
		"W2": {"accepted F1 W2 0", "warning F1 W1 0"}, // the rest is told all the same
		"L1": {"warning F1 W2 1", "warning L1"},
	} {
		told := text
		if at != "" {
			told += fmt.Sprintf(accepted, at)
		}
		var got []string
		for _, f := range checked(t, "a.yaml", told).Findings {
			level := map[bool]string{true: "accepted", false: "warning"}[f.Accepted != nil]
			switch f.Rule {
			case "thin wire":
				got = append(got, fmt.Sprintf("%s %s %s %d", level, f.At, f.also[0], f.more))
			case Stale:
				got = append(got, level+" "+f.At)
				if want := `a.yaml:12:5: warning: accepted: nothing here needs "thin wire" accepted at L1. Take the line out`; f.String() != want {
					t.Errorf("got  %s\nwant %s", f, want)
				}
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("accepted at %q: %q, want %q", at, got, want)
		}
	}
	report := checked(t, "a.yaml", text+fmt.Sprintf(accepted, "F1"))
	if len(report.Warnings()) != 0 || len(report.Others()) != 1 || !strings.HasSuffix(report.Others()[0].String(), "(common practice, no source). Because: as drawn") {
		t.Errorf("%v", report.Findings)
	}
}

func TestExamplesAreSane(t *testing.T) {
	names := circuits.Names()
	if len(names) < 11 {
		t.Fatalf("%d examples", len(names))
	}
	for _, name := range names {
		source, err := circuits.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		report := checked(t, name+".yaml", string(source))
		for _, f := range report.Warnings() {
			t.Error(f)
		}
		if most := 60; report.Visits > most {
			t.Errorf("%s: %d states were set up, more than %d", name, report.Visits, most)
		}
	}
}

// otherLoad has the outputs of a module that were for one part be for another.
func otherLoad(of *yaml.Node, part, other string) {
	for _, child := range of.Content {
		if child.Kind == yaml.ScalarNode && child.Value == part {
			child.Value = other
		}
		otherLoad(child, part, other)
	}
}

func scalar(text string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: text} }

// without gives a circuit file without one part: where paths met it they meet a splice.
func without(t *testing.T, source []byte, part string) []byte {
	t.Helper()
	var document yaml.Node
	if err := yaml.Unmarshal(source, &document); err != nil {
		t.Fatal(err)
	}
	top, declared := document.Content[0], false
	for i := 0; i+1 < len(top.Content); i += 2 {
		key, value := top.Content[i].Value, top.Content[i+1]
		switch key {
		case "parts", "terminals":
			for j := 0; j+1 < len(value.Content); j += 2 {
				if name, _, _ := strings.Cut(value.Content[j].Value, "."); name == part {
					value.Content = slices.Delete(value.Content, j, j+2)
					j -= 2
				}
			}
			for j := 1; key == "parts" && j < len(value.Content); j += 2 {
				otherLoad(value.Content[j], part, value.Content[0].Value)
			}
		case "paths":
			for j := 1; j < len(value.Content); j += 2 {
				for _, step := range value.Content[j].Content {
					if name, _, _ := strings.Cut(step.Value, "."); step.Kind == yaml.ScalarNode && name == part {
						step.Value, step.Style = "WAS_"+part, 0
					}
				}
			}
		case "accepted":
			value.Content = nil
		case "splices":
			value.Content = append(value.Content, scalar("WAS_"+part), &yaml.Node{Kind: yaml.MappingNode})
			declared = true
		}
	}
	if !declared {
		top.Content = append(top.Content, scalar("splices"), &yaml.Node{Kind: yaml.MappingNode,
			Content: []*yaml.Node{scalar("WAS_" + part), {Kind: yaml.MappingNode}}})
	}
	out, err := yaml.Marshal(&document)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// No circuit makes a rule fail: every example without any one of its parts, as far as that can still be read. A load
// that is missing is a short circuit, so fuses blow and modules die.
func TestCircuitsThatLostAPart(t *testing.T) {
	read, tried, found := 0, 0, 0
	for _, name := range circuits.Names() {
		source, err := circuits.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		whole, problems := circuit.Read(name, source)
		if whole == nil {
			t.Fatal(problems)
		}
		for _, p := range whole.Parts {
			tried++
			c, _ := circuit.Read(name, without(t, source, p.Name))
			if c == nil {
				continue
			}
			read++
			report, _ := Check(c) // a circuit may not come to rest; what must not be is a panic
			found += len(report.Warnings())
			for _, f := range report.Findings {
				if f.Pos.Line == 0 || f.Text == "" || f.At == "" || f.File == "" {
					t.Errorf("%s without %s: %+v", name, p.Name, f)
				}
			}
		}
	}
	if read < 60 || found < 60 {
		t.Errorf("of %d circuits %d could be read, and %d warnings were found", tried, read, found)
	}
	t.Logf("%d of %d circuits could be read, %d warnings", read, tried, found)
}
