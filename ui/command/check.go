package command

// This file is check: what is wrong with a circuit file, or what the circuit is.

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/meter"
	"underload/sim/sanity"
)

func checkCommand(p *page) *cobra.Command {
	all := false
	cmd := &cobra.Command{
		Use: "check FILE...", Short: "Say what is wrong with a circuit file, or what the circuit is",
		Long: paragraphs("Says what is wrong with each circuit file, as file:line:column: what. what to do. Of a sound file it tells what the circuit is and what its switches do. FILE may be the bare name of an example, such as orchard-sprayer.",
			"A circuit that can be read may still be odd: a fuse too large for its wire, a joint that loses too many volts, a switch that changes nothing. Each such warning begins with the name of its rule. Where it is right, the file can accept it with the reason; --all tells those too, and what is good to know and no warning. The page on the format has the rules.",
			"The exit status is 1 where any file has an error; a warning is told and is no error."),
		Args: func(cmd *cobra.Command, args []string) error {
			return between(1, slices.Repeat([]string{"FILE"}, max(1, len(args)))...)(cmd, args)
		},
		ValidArgsFunction: func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			return fileOrExample(typed)
		},
		RunE: func(_ *cobra.Command, args []string) error { return check(p, args, all) },
	}
	cmd.Flags().BoolVar(&all, "all", false, "tell accepted warnings and notes as well")
	return cmd
}

func check(p *page, files []string, all bool) error {
	var faulty error
	for i, file := range files {
		if i > 0 {
			p.say("")
		}
		c, problems := read(file)
		if !tell(p, file, c, problems, all) {
			faulty = errFaulty
		}
	}
	return faulty
}

// tell writes what there is to say of one file, and whether it is sound. A warning leaves it sound.
func tell(p *page, file string, c *circuit.Circuit, problems circuit.Problems, all bool) bool {
	for _, problem := range problems {
		p.say("%v", problem)
	}
	if c == nil {
		return false
	}
	if told := oddities(p, c, all); told || len(problems) > 0 {
		p.say("")
	}
	if err := describe(p, file, c); err != nil {
		p.say("%s: %v", file, err)
		return false
	}
	return true
}

// oddities tells what is odd about a circuit, and whether anything was said. Where the circuit cannot be brought on the
// bench, what it is says so too.
func oddities(p *page, c *circuit.Circuit, all bool) bool {
	report, _ := sanity.Check(c)
	warnings, others := report.Warnings(), report.Others()
	told := warnings
	if all {
		told = report.Findings
	}
	tellFindings(p, told)
	if !all && len(others) > 0 {
		p.say("%s told with --all", untold(others))
	}
	return len(told)+len(others) > 0
}

// mostOfARule is how many findings of one rule are told one by one: a slip in a whole family of wires is seen by then.
const mostOfARule = 20

// tellFindings writes findings in their order, and of each rule that has too many how many more there are.
func tellFindings(p *page, findings []sanity.Finding) {
	of := map[string]int{}
	for _, finding := range findings {
		of[finding.Rule]++
	}
	said := map[string]int{}
	for _, finding := range findings {
		said[finding.Rule]++
		switch left := of[finding.Rule] - mostOfARule; {
		case said[finding.Rule] <= mostOfARule:
			p.say("%v", finding)
		case said[finding.Rule] == mostOfARule+1:
			p.say("%s: %s: and %s more", finding.File, finding.Rule, quantity.Format(float64(left), quantity.Number, 0))
		}
	}
}

// untold counts what is told only when it is asked for.
func untold(findings []sanity.Finding) string {
	accepted := 0
	for _, f := range findings {
		if f.Accepted != nil {
			accepted++
		}
	}
	var parts []string
	if accepted > 0 {
		parts = append(parts, counted(accepted, "accepted warning"))
	}
	if notes := len(findings) - accepted; notes > 0 {
		parts = append(parts, counted(notes, "note"))
	}
	return strings.Join(parts, " and ")
}

// describe tells what a circuit is. The error says why it cannot be brought on the bench.
func describe(p *page, file string, c *circuit.Circuit) error {
	title := c.Title
	if title == "" {
		title = "A circuit without a title"
	}
	p.say("%s (%s)", p.strong(title), file)
	if c.Complaint != "" {
		p.hang("  complaint  ", c.Complaint)
	}
	p.hang("  parts      ", countedKinds(c))
	p.hang("  wiring     ", wiring(c))
	for _, m := range c.OfKind("module") {
		p.hang("  module     ", placed(m.Name, m.Place)+": "+pins(m.Module))
	}
	for _, s := range c.OfKind("switch") {
		if err := positions(p, c, s); err != nil {
			return err
		}
	}
	tags := slices.Clone(c.Tags)
	for _, part := range c.Parts {
		tags = append(tags, part.Tags...)
	}
	for _, connector := range c.Connectors {
		tags = append(tags, connector.Tags...)
	}
	for _, caution := range meter.CautionsOf(tags) {
		p.hang("  caution    ", caution)
	}
	return nil
}

func placed(name, place string) string {
	if place == "" {
		return name
	}
	return name + ", " + place
}

// countedKinds lists how many parts there are of each kind.
func countedKinds(c *circuit.Circuit) string {
	var kinds []string
	for _, k := range circuit.Kinds {
		if n := len(c.OfKind(k.Name)); n > 0 {
			kinds = append(kinds, counted(n, k.Name))
		}
	}
	return fmt.Sprintf("%d: %s", len(c.Parts), strings.Join(kinds, ", "))
}

// wiring counts what joins the parts.
func wiring(c *circuit.Circuit) string {
	told := []string{counted(len(c.Wires), "wire")}
	if len(c.Connectors) > 0 {
		told = append(told, connectors(c))
	}
	if len(c.Splices) > 0 {
		told = append(told, counted(len(c.Splices), "splice"))
	}
	if len(c.Studs) > 0 {
		told = append(told, counted(len(c.Studs), "ground stud"))
	}
	return strings.Join(told, ", ") + ", at " + quantity.Format(c.AmbientCelsius, quantity.Celsius, 0)
}

func connectors(c *circuit.Circuit) string {
	text := counted(len(c.Connectors), "in-line connector")
	var each []string
	for _, con := range c.Connectors {
		each = append(each, fmt.Sprintf("%s with %s", con.Name, counted(len(con.Cavities), "terminal")))
	}
	if len(each) > 0 && len(each) <= 6 {
		text += " (" + strings.Join(each, ", ") + ")"
	}
	return text
}

// pins lists what the pins of a module are for.
func pins(m *circuit.Module) string {
	var told []string
	for _, use := range []struct {
		says string
		pins []string
	}{
		{"supply", m.Supply}, {"wake", m.Wake}, {"ground", m.Ground}, {"sensor ground", m.SensorGround},
		{"reference", m.Reference}, {"signals", m.Signals}, {"bus", m.Bus},
	} {
		if len(use.pins) > 0 {
			told = append(told, use.says+" "+strings.Join(use.pins, " "))
		}
	}
	for _, out := range m.Outputs {
		text := "output " + out.Pin + " pulls to " + out.To
		if out.For != "" {
			text += " for " + out.For
		}
		told = append(told, text)
	}
	return strings.Join(told, "; ")
}

// positions tells what each position of a switch changes against its first one, all else at rest.
func positions(p *page, c *circuit.Circuit, s *circuit.Part) error {
	rest, err := sim.New(c)
	if err != nil {
		return err
	}
	before, err := noticed(rest)
	if err != nil {
		return err
	}
	for i, throw := range s.Throws {
		if i == 0 {
			p.hang("  switch     ", fmt.Sprintf("%s: %s at rest", placed(s.Name, s.Place), throw.Name))
			continue
		}
		told := "nothing changes"
		changed, err := turned(c, s.Name+"="+throw.Name, before)
		if err != nil {
			return err
		}
		if len(changed) > 0 {
			told = strings.Join(changed, "; ")
		}
		p.hang(fmt.Sprintf("             %s: ", throw.Name), told)
	}
	return nil
}

// turned lists what a setting changes on a bench at rest.
func turned(c *circuit.Circuit, setting string, before []string) ([]string, error) {
	b, err := sim.New(c)
	if err != nil {
		return nil, err
	}
	if err := b.Set(setting); err != nil {
		return nil, err
	}
	changed := slices.Clone(b.Moved())
	after, err := noticed(b)
	for _, line := range after {
		if !slices.Contains(before, line) && !strings.Contains(line, " is pulled in") { // its click is told already
			changed = append(changed, line)
		}
	}
	return changed, err
}

// noticed is what a person notices of the loads and relays.
func noticed(b *sim.Bench) ([]string, error) {
	r, err := meter.Take(b, meter.Request{With: "look"})
	return r.Lines, err
}
