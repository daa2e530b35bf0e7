package command

// This file is fault sheets: the faults an example teaches, listed, told one by one, and laid with --faults.

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuits"
	"underload/sim/fault"
	"underload/sim/meter"
)

// sheetLines gives the fault lines that --faults asks for: a file or an example's sheet, all of it or one fault (#id).
func sheetLines(c *circuit.Circuit, asked string) ([]string, error) {
	name, id, _ := strings.Cut(asked, "#")
	data, err := sheetSource(name)
	if err != nil {
		return nil, err
	}
	return fault.Load(c, name, data, id)
}

// sheetSource is the text of a file of faults or, where there is no such file, of the sheet of an example.
func sheetSource(name string) ([]byte, error) {
	if sheet, ok := circuits.Faults(name); ok {
		if _, err := os.Stat(name); err != nil {
			return sheet, nil
		}
	}
	data, err := readWhole(name)
	var missing circuit.Problem
	if errors.As(err, &missing) {
		return nil, fmt.Errorf("--faults %s: there is no such file, and no example of that name has a fault sheet", name)
	}
	if err != nil {
		return nil, fmt.Errorf("--faults %w", err)
	}
	return data, nil
}

// sheetOf is the sheet of an example, or nil where FILE is none or has none.
func sheetOf(file string, c *circuit.Circuit) *fault.Sheet {
	if !slices.Contains(circuits.Names(), strings.TrimSuffix(c.File, ".yaml")) || c.File != file+".yaml" {
		return nil
	}
	data, ok := circuits.Faults(file)
	if !ok {
		return nil
	}
	instruments, _ := meter.Instruments()
	sheet, problems := fault.ReadSheet(c, file, data, instruments)
	if problems.Err() != nil {
		return nil
	}
	return sheet
}

// sheetIn is the sheet in a file of one's own. The error is all that is wrong with it.
func sheetIn(c *circuit.Circuit, name string) (*fault.Sheet, error) {
	data, err := sheetSource(name)
	if err != nil {
		return nil, err
	}
	if !fault.IsSheet(data) {
		return nil, fmt.Errorf("--faults %s: it is a plain list of faults, to be laid and not told: underload probe FILE --faults %s", name, name)
	}
	instruments, _ := meter.Instruments()
	sheet, problems := fault.ReadSheet(c, name, data, instruments)
	return sheet, problems.Err()
}

// listSheet lists the faults of a sheet of a circuit: its own, or that in a file.
func listSheet(p *page, s *fault.Sheet, circuit, file string) {
	first, how, lay := s.Headline().ID, "", circuit
	if file != "" {
		how, lay = " --faults "+file, file
	}
	p.prose(0, fmt.Sprintf("What %s teaches (underload faults %s %s%s tells one, --faults %s#%s lays it):", s.Circuit, circuit, first, how, lay, first))
	p.say("")
	for _, e := range s.Entries {
		says := e.Says
		if e.Headline {
			says += " (the complaint)"
		}
		p.hang("  "+e.ID+"  ", says)
		p.prose(6, strings.Join(e.Lines(), ", "))
	}
	p.say("")
	if len(s.LeftOut) > 0 {
		p.prose(0, "Left out:")
		for _, l := range s.LeftOut {
			p.hang("  - ", l.What+": "+l.Because)
		}
		p.say("")
	}
}

// tellEntry tells one fault of a sheet: what it passes and what finds it.
func tellEntry(p *page, s *fault.Sheet, e *fault.Entry) {
	p.hang(e.ID+"  ", e.Says)
	p.hang("  lay        ", strings.Join(e.Lines(), ", "))
	p.hang("  state      ", strings.Join(s.StateOf(e, fault.Test{}), ", "))
	p.say("")
	p.prose(0, "Ordinary tests that it passes, and what one then believes:")
	for _, pass := range e.Passes {
		p.hang("  - ", beSaid(s, e, pass.Test)+": "+pass.Fools)
	}
	p.say("")
	p.prose(0, fmt.Sprintf("A good sequence, %s (common practice):", minutes(e.Minutes())))
	for i, step := range e.Sequence {
		p.hang(fmt.Sprintf("  %d. ", i+1), fmt.Sprintf("%s: %s (%s)", beSaid(s, e, step.Test), step.Tells, minutes(step.Minutes)))
	}
}

// beSaid writes a test for people, with its state where that is not the fault's own.
func beSaid(s *fault.Sheet, e *fault.Entry, t fault.Test) string {
	text := t.With
	switch {
	case t.On != "":
		text += " around " + t.On
	case t.Red != "" && t.Black != "":
		text += ", red on " + t.Red + ", black on " + t.Black
	case t.Red != "":
		text += " on " + t.Red
	}
	if t.State != nil {
		text += " (" + strings.Join(s.StateOf(e, t), ", ") + ")"
	}
	return text
}

// sheetNames offers the faults of the circuit's own sheet for --faults.
func sheetNames(c *circuit.Circuit, _ string) []string {
	name := strings.TrimSuffix(filepath.Base(c.File), ".yaml")
	data, ok := circuits.Faults(name)
	if !ok {
		return nil
	}
	sheet, problems := fault.ReadSheet(c, name, data, nil)
	if problems.Err() != nil {
		return nil
	}
	names := []string{}
	for _, e := range sheet.Entries {
		names = append(names, name+"#"+e.ID+"\t"+e.Says)
	}
	return names
}
