package command

// This file is faults: what can be wrong, and where, since nobody can guess the grammar.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim/fault"
)

func faultsCommand(p *page) *cobra.Command {
	var file string
	cmd := &cobra.Command{
		Use: "faults FILE [PLACE|ID] [--faults SHEET]", Short: "List what can be wrong, and where",
		Long: paragraphs("Lists the places of a circuit and the conditions each can be in, or, for one place, every condition as it is written for --fault: PLACE CONDITION [VALUE]. A condition that brings a resistance takes an ordinary one where no value is given. FILE may be the bare name of an example.",
			"Of an example the faults that it teaches come first, and ID tells one of them, with the ordinary tests that it passes and a good sequence that finds it. --faults does the same with a fault sheet of your own, and says what is wrong with it."),
		Args: between(1, "FILE", "PLACE or ID"), ValidArgsFunction: completeFile(toldFaults),
		RunE: func(_ *cobra.Command, args []string) error {
			c, err := open(args[0])
			if err != nil {
				return err
			}
			sheet := sheetOf(args[0], c)
			if file != "" {
				if sheet, err = sheetIn(c, file); err != nil {
					return err
				}
			}
			if len(args) == 2 {
				return tellFault(p, c, sheet, args[1])
			}
			if sheet != nil {
				listSheet(p, sheet, args[0], file)
			}
			return allFaults(p, c)
		},
	}
	cmd.Flags().Var(word{&file, "SHEET"}, "faults", "a fault sheet of your own")
	return cmd
}

// tellFault tells a fault of the sheet, or what can be wrong at a place.
func tellFault(p *page, c *circuit.Circuit, sheet *fault.Sheet, asked string) error {
	if sheet == nil {
		return faultsAt(p, c, asked)
	}
	e, wrong := sheet.Entry(asked)
	if wrong == nil {
		tellEntry(p, sheet, e)
		return nil
	}
	err := faultsAt(p, c, asked)
	if err != nil && slices.ContainsFunc(sheet.IDs(), func(id string) bool { return len(id) == len(asked) && id[0] == asked[0] }) {
		return wrong // a9 is more like a1 than like S9
	}
	return err
}

// allFaults lists the conditions once for all places that share them.
func allFaults(p *page, c *circuit.Circuit) error {
	var order []string
	places := map[string][]string{}
	for _, place := range fault.Places(c) {
		conditions, err := fault.Conditions(c, place)
		if err != nil {
			return err
		}
		key := strings.Join(conditions, ", ")
		if key == "" {
			continue
		}
		if places[key] == nil {
			order = append(order, key)
		}
		places[key] = append(places[key], place)
	}
	for _, key := range order {
		p.prose(0, strings.Join(places[key], " "))
		p.prose(4, key)
		p.say("")
	}
	p.prose(0, "An in-line terminal's two crimps are NAME.a and NAME.b, one leg of a splice is SPLICE.WIRE. How a line is written at one place: underload faults FILE PLACE")
	return nil
}

// faultsAt lists every condition of one place as a line for --fault.
func faultsAt(p *page, c *circuit.Circuit, place string) error {
	conditions, err := fault.Conditions(c, place)
	if err != nil {
		return err
	}
	if len(conditions) == 0 {
		p.say("Nothing can be wrong with %s itself; its terminals are places of their own.", place)
		return nil
	}
	rows := &table{}
	for _, name := range conditions {
		f, line, err := sample(c, place, name)
		if err != nil {
			continue // there is nothing here that it could be done with: no second cavity, no output
		}
		rows.add(fmt.Sprintf("--fault %q", line), meaning(f))
	}
	p.table(rows)
	return nil
}

// does tells what the conditions do that are not the state of a joint.
var does = map[string]string{
	"blown": "its element is parted", "wrong-fuse": "of another rating than marked", "dead": "it does nothing at all",
	"stuck": "it stays so, whatever is asked", "awake": "it does not go to sleep", "wakes-every": "it wakes by itself so often, and falls asleep again",
	"slips": "its belt slips: the most amps it still gives", "leaks": "a bad diode, from B+ to its case", "worn": "burnt contacts", "coil-open": "it never pulls in",
	"stiff": "it draws so many times its amps", "seized": "it cannot turn, and takes its stall amps", "weak": "rested volts and inner resistance of a worn battery",
	"filmed": "it holds back small volts, and breaks through from half a volt on", "strands": "strands left of all strands, over 10\u00a0mm", "swapped": "the two wires sit in each other's cavity",
	"short-to": "touches another conductor", "leaks-to": "water or dirt between two conductors",
	"short-to-ground": "touches the body", "short-to-supply": "touches a battery feed", "loose": "the ring can be turned by hand",
}

// meaning is the ohms that a fault brings and what an eye would notice.
func meaning(f fault.Fault) string {
	var told []string
	switch {
	case math.IsInf(f.Ohms, 1):
		told = append(told, "open")
	case f.Ohms > 0:
		told = append(told, quantity.Format(f.Ohms, quantity.Ohms, 2))
	}
	if known, err := catalog.ConditionNamed(f.Condition); err == nil && known.Looks != "" {
		told = append(told, known.Looks)
	}
	if says := does[f.Condition]; says != "" {
		told = append(told, says)
	}
	return strings.Join(told, "; ")
}

// sample is a line that a condition can be written as at a place: in its plainest form, or with the first value that
// it takes.
func sample(c *circuit.Circuit, place, condition string) (fault.Fault, string, error) {
	line := place + " " + condition
	f, err := fault.Parse(c, line)
	for _, value := range values(c, place) {
		if err == nil {
			break
		}
		line = place + " " + condition + " " + value
		f, err = fault.Parse(c, line)
	}
	return f, line, err
}

// values are what may have to follow a condition: strands, amps, a state to stick in, another terminal, a pin.
func values(c *circuit.Circuit, place string) []string {
	all := []string{"1/16", "25 A", "closed"}
	if p := c.Part(place); p != nil {
		for _, throw := range p.Throws {
			all = append(all, throw.Name)
		}
		if p.Module != nil {
			for _, out := range p.Module.Outputs {
				all = append(all, out.Pin)
			}
		}
	}
	if t := c.Terminal(place); t != nil {
		all = append(all, neighbours(c, t)...)
	}
	for _, s := range c.Studs {
		all = append(all, s.Name)
	}
	return all
}

func neighbours(c *circuit.Circuit, t *circuit.Terminal) []string {
	var among []*circuit.Terminal
	if con := c.Connector(t.Owner); con != nil {
		among = con.Cavities
	} else if p := c.Part(t.Owner); p != nil {
		among = p.Terminals
	}
	var names []string
	for _, other := range among {
		if other != t {
			names = append(names, other.Name)
		}
	}
	return names
}
