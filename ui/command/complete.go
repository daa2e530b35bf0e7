package command

// This file completes names in a shell: circuits, points, instruments, parts, faults.

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuits"
	"underload/sim/fault"
	"underload/sim/meter"
)

// completer offers words out of the circuit that the command line names so far; typed is what stands before the cursor.
type completer func(c *circuit.Circuit, typed string) []string

// complete makes a flag offer words out of FILE.
func complete(cmd *cobra.Command, flag string, offer completer) {
	err := cmd.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return among(args[0], typed, offer)
	})
	if err != nil {
		panic("command: " + err.Error())
	}
}

// among offers the words of a circuit file that begin as typed.
func among(file, typed string, offer completer) ([]string, cobra.ShellCompDirective) {
	c, _ := read(file)
	if c == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return begun(offer(c, typed), typed), cobra.ShellCompDirectiveNoFileComp
}

// begun keeps the words that begin as typed.
func begun(words []string, typed string) []string {
	var fit []string
	for _, word := range words {
		if strings.HasPrefix(word, typed) {
			fit = append(fit, word)
		}
	}
	return fit
}

// completeFile offers examples and circuit files, and after the file the words of another argument.
func completeFile(then completer) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		switch {
		case len(args) == 1 && then != nil:
			return among(args[0], typed, then)
		case len(args) > 0:
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return fileOrExample(typed)
	}
}

func fileOrExample(typed string) ([]string, cobra.ShellCompDirective) {
	if examples := begun(circuits.Names(), typed); typed != "" && len(examples) > 0 {
		return examples, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}

func (s *state) complete(cmd *cobra.Command) {
	complete(cmd, "set", settings)
	complete(cmd, "apart", plugged)
	complete(cmd, "fault", faultLines)
	complete(cmd, "faults", sheetNames)
	complete(cmd, "act", func(c *circuit.Circuit, typed string) []string {
		var lines []string
		for _, verb := range []string{"repair", "clean", "replace"} {
			for _, place := range fault.Places(c) {
				lines = append(lines, verb+" "+place)
			}
		}
		for _, con := range c.Connectors {
			lines = append(lines, "reseat "+con.Name)
		}
		return lines
	})
}

func (l *leads) complete(cmd *cobra.Command) {
	complete(cmd, "red", pointNames)
	complete(cmd, "black", pointNames)
	err := cmd.RegisterFlagCompletionFunc("with", func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		names, says := meter.Instruments()
		for i := range names {
			names[i] += "\t" + says[i]
		}
		return begun(names, typed), cobra.ShellCompDirectiveNoFileComp
	})
	if err != nil {
		panic("command: " + err.Error())
	}
}

func pointNames(c *circuit.Circuit, _ string) []string {
	var names []string
	for _, p := range c.Points() {
		names = append(names, p.Name+"\t"+p.Says)
	}
	return names
}

func partNames(c *circuit.Circuit, _ string) []string {
	var names []string
	for _, p := range c.Parts {
		names = append(names, p.Name+"\t"+p.Kind.Name)
	}
	return names
}

func loadNames(c *circuit.Circuit, _ string) []string {
	var names []string
	for _, p := range c.Parts {
		if p.Kind.Load {
			names = append(names, p.Name+"\t"+p.Kind.Name)
		}
	}
	return names
}

func wireNames(c *circuit.Circuit, _ string) []string {
	var names []string
	for _, w := range c.Wires {
		names = append(names, w.Name)
	}
	return names
}

// toldFaults offers the faults of an example's sheet, then the places of the circuit.
func toldFaults(c *circuit.Circuit, _ string) []string {
	names := fault.Places(c)
	if sheet := sheetOf(strings.TrimSuffix(c.File, ".yaml"), c); sheet != nil {
		for i, e := range sheet.Entries {
			names = slices.Insert(names, i, e.ID+"\t"+e.Says)
		}
	}
	return names
}

// settings offers what --set can bring to a state.
func settings(c *circuit.Circuit, _ string) []string {
	var lines []string
	for _, p := range c.Parts {
		switch p.Kind.Name {
		case "switch":
			for _, throw := range p.Throws {
				lines = append(lines, p.Name+"="+throw.Name)
			}
		case "fuse":
			lines = append(lines, p.Name+"=out", p.Name+"=in")
		case "battery":
			lines = append(lines, p.Name+"=support", p.Name+"=alone")
		case "generator":
			lines = append(lines, p.Name+"=running", p.Name+"=idling", p.Name+"=still")
		case "module":
			for _, out := range p.Module.Outputs {
				lines = append(lines, out.For+"=on", out.For+"=off")
			}
		}
	}
	slices.Sort(lines)
	return slices.Compact(lines)
}

// plugged offers what --apart can take apart.
func plugged(c *circuit.Circuit, _ string) []string {
	var names []string
	for _, con := range c.Connectors {
		names = append(names, con.Name+"\tconnector")
	}
	for _, p := range c.Parts {
		if p.Kind.Plugged && p.Kind.Name != "fuse" || p.Kind.Name == "battery" {
			names = append(names, p.Name+"\t"+p.Kind.Name)
		}
	}
	return names
}

// faultLines offers places and, once one is typed, what can be wrong there.
func faultLines(c *circuit.Circuit, typed string) []string {
	place, _, chosen := strings.Cut(typed, " ")
	if !chosen {
		return fault.Places(c)
	}
	names, err := fault.Conditions(c, place)
	if err != nil {
		return nil
	}
	for i := range names {
		names[i] = place + " " + names[i]
	}
	return names
}

// doLines offers what can be done, once a time is typed.
func doLines(c *circuit.Circuit, typed string) []string {
	_, time, _, err := timed(typed + "x")
	if err != nil {
		return nil
	}
	rest := typed
	for range strings.Fields(time) {
		_, rest, _ = strings.Cut(strings.TrimLeft(rest, " "), " ")
	}
	when := strings.TrimSuffix(typed, rest) // as it was typed, and the space behind it
	var lines []string
	add := func(verb string, places []string) {
		for _, place := range places {
			name, _, _ := strings.Cut(place, "\t")
			lines = append(lines, when+strings.TrimLeft(verb+" "+name, " "))
		}
	}
	add("", settings(c, ""))
	for _, verb := range []string{"apart", "together", "reseat", "wiggle", "still", "disturb"} {
		add(verb, plugged(c, ""))
	}
	for _, verb := range []string{"repair", "clean", "replace"} {
		add(verb, fault.Places(c))
	}
	if broken, ok := strings.CutPrefix(typed[len(when):], "break "); ok {
		add("break", faultLines(c, broken))
	} else {
		add("break", fault.Places(c))
	}
	return lines
}

// watchLines offers what can be recorded.
func watchLines(c *circuit.Circuit, typed string) []string {
	lines := pointNames(c, "")
	if red, black, ok := strings.Cut(typed, " against "); ok && !strings.Contains(black, " ") {
		for _, p := range c.Points() {
			lines = append(lines, red+" against "+p.Name)
		}
	}
	of := func(word string, kinds ...string) {
		for _, p := range c.Parts {
			if slices.Contains(kinds, p.Kind.Name) {
				lines = append(lines, word+" "+p.Name)
			}
		}
	}
	of("supply", "module")
	of("mode", "module", "relay")
	of("resets", "module")
	of("light", "lamp")
	of("speed", "motor", "starter")
	of("charge", "battery")
	of("heat", "fuse", "lamp")
	of("amps", "battery", "motor", "starter", "lamp", "module")
	for _, w := range c.Wires {
		lines = append(lines, "amps "+w.Name)
	}
	for _, con := range c.Connectors {
		for _, t := range con.Cavities {
			lines = append(lines, "heat "+t.Name)
		}
	}
	return lines
}

// triggerLines offers edges of what can be recorded.
func triggerLines(c *circuit.Circuit, typed string) []string {
	var lines []string
	for _, line := range watchLines(c, typed) {
		name, _, _ := strings.Cut(line, "\t")
		lines = append(lines, name+" falls through", name+" rises through")
	}
	return lines
}
