package command

// This file is staircase: the volts lost step by step along a load's path, as a table and as a picture.

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/sim/meter"
	"underload/ui/report"
)

func staircaseCommand(p *page) *cobra.Command {
	var s state
	var l leads
	var part, picture string
	var asJSON bool
	cmd := &cobra.Command{
		Use: "staircase FILE [flags]", Short: "Follow the volts step by step, light test and load side by side",
		Long: paragraphs("Moves a voltmeter step by step along the path from battery + to battery −, once with a light test and once under load, the healthy circuit beside it. The load is an instrument between two points (--red, --black, --with, a load lamp where left out), or the current that a part draws itself (--part), by the way that carries most of it; a supply or ground pin of a module in place of the part follows the way by that pin. A step ends where a lead can stand, as far as one can: the volts are those that a probe there reads.",
			order+". FILE may be the bare name of an example."),
		Example: `  underload staircase orchard-sprayer --set KEY=run --apart PC1 \
    --fault "C14.4 spread 1.8 ohm" --red PC1.1 --black PC1.8 --svg stairs.svg
  underload staircase orchard-sprayer --set KEY=run --fault "C14.4 spread 1.8 ohm" --part PC1`,
		Args: exactly("FILE"), ValidArgsFunction: completeFile(nil),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := checkPicture(picture); err != nil {
				return err
			}
			c, err := open(args[0])
			if err != nil {
				return err
			}
			b, err := s.bench(c)
			if err != nil {
				return err
			}
			stairs, err := meter.Stairs(b, meter.StairsRequest{Red: l.red, Black: l.black, With: l.with, Part: part, AnyReach: l.anyReach})
			if err != nil {
				return err
			}
			page := report.Page{Title: title(c), Setting: setting(s, l, part, stairs.Load), Stairs: stairs}
			if picture != "" {
				if err := savePicture(picture, page); err != nil {
					return err
				}
			}
			if asJSON {
				return p.json(stairs)
			}
			writeStairs(p, page)
			if picture != "" {
				p.say("\nThe picture is in %s", picture)
			}
			return nil
		},
	}
	l.flags(cmd, "what makes the current: load-lamp, test-lamp, or a plain load such as \"2.4 ohm\"")
	s.flags(cmd)
	cmd.Flags().Var(word{&part, "PART"}, "part", "follow this part's own current instead of a lamp's")
	cmd.Flags().Var(word{&picture, "OUT.svg"}, "svg", "draw the staircase into this file")
	cmd.Flags().BoolVar(&asJSON, "json", false, "write the staircase as JSON")
	complete(cmd, "part", loadNames)
	return cmd
}

func title(c *circuit.Circuit) string {
	if c.Title == "" {
		return c.File
	}
	return c.Title
}

// setting tells in a line what was done before the test and where it was made.
func setting(s state, l leads, part, load string) string {
	var told []string
	if part == "" {
		told = append(told, fmt.Sprintf("%s, red on %s, black on %s", load, l.red, l.black))
	} else {
		told = append(told, load+" with its own current")
		if part != load {
			told[0] += ", by " + part
		}
	}
	told = append(told, stated(s)...)
	return strings.Join(told, "; ")
}

// stated tells what the flags did to the bench.
func stated(s state) []string {
	var told []string
	for _, a := range s.acts {
		if a.flag == "apart" {
			told = append(told, a.text+" apart")
		} else {
			told = append(told, a.text)
		}
	}
	if len(s.faults) > 0 {
		told = append(told, "laid over it: "+strings.Join(s.faults, ", "))
	}
	for _, sheet := range s.sheets {
		told = append(told, "with the faults of "+sheet)
	}
	if len(s.mends) > 0 {
		told = append(told, "then "+strings.Join(s.mends, ", "))
	}
	return told
}

// writeStairs writes the table, the verdict and the cautions.
func writeStairs(p *page, page report.Page) {
	s := page.Stairs
	p.say("%s", p.strong(page.Title))
	p.prose(0, page.Setting)
	p.say("")
	lines := stairsTable(s).lines()
	for i, line := range lines {
		if i > 1 && s.Steps[i-2].Worst {
			line = p.strong(line)
		}
		p.say("%s", line)
	}
	p.say("")
	p.prose(0, totals(s))
	p.say("")
	p.hang(worstMark+" ", s.Verdict)
	if s.State != "" {
		p.prose(2, report.Hitch(s.State))
	}
	for _, caution := range s.Cautions {
		p.say("")
		p.hang("Caution: ", caution)
	}
}

// worstMark stands at the worst step, and at the words about it.
const worstMark = "►"

func stairsTable(s meter.Staircase) *table {
	t := &table{right: map[int]bool{4: true, 5: true, 6: true, 7: true, 8: true, 9: true, 10: true, 11: true}}
	t.add("", "", "", "", "light", "", "load", "", "", "", "healthy", "")
	t.add("", "step", "what it is", "lead on", "volts", "mV", "volts", "mV", "mΩ", "A", "mV", "mΩ")
	for _, st := range s.Steps {
		mark := ""
		if st.Worst {
			mark = worstMark
		}
		u := st.UnderLoad
		t.add(mark, st.Place, cmp.Or(st.Piece, st.Says), st.Point, level(st.Light), report.Millivolts(st.Light), level(u), report.Millivolts(u),
			report.Milliohms(u), current(u), report.Millivolts(st.Healthy), report.Milliohms(st.Healthy))
	}
	return t
}

// level is the volts behind a step, against the battery's minus.
func level(l meter.Level) string {
	if l.Missing {
		return report.NotTaken
	}
	return strings.Replace(fmt.Sprintf("%.2f", math.Round(l.Volts*100)/100+0), "-", "−", 1)
}

func current(l meter.Level) string {
	if l.Missing {
		return report.NotTaken
	}
	return fmt.Sprintf("%.2f", l.Amps)
}

// totals says what each pass was made with.
func totals(s meter.Staircase) string {
	told := func(amps float64) string {
		if text := ampsText(amps); text != ampsText(0) {
			return text
		}
		return "no current"
	}
	return fmt.Sprintf("Volts are against battery −, behind the step; mV is what the step loses. Light: %s, %s. Load: %s, %s. Healthy: the same load on the circuit without faults, %s.",
		s.LightLoad, told(s.LightAmps), s.Load, told(s.Amps),
		told(s.HealthyAmps))
}

// checkPicture refuses a name that is not a picture's, so that no circuit file is overwritten by a slip.
func checkPicture(name string) error {
	if name != "" && !strings.EqualFold(filepath.Ext(name), ".svg") {
		return fmt.Errorf("--svg %s: the picture's name has to end in .svg", name)
	}
	return nil
}

// savePicture draws the staircase into a file, which is never there by half: it is written beside and then renamed.
func savePicture(name string, page report.Page) error {
	return saveSVG(name, func(w io.Writer) error { return report.Draw(w, page) })
}

// savedAs puts a finished picture in the place of a file. Errors name the flag.
func savedAs(name string, picture []byte) error {
	err := replace(name, picture, 0o644) // as any new file; a temporary one is for its owner only
	var trouble *fs.PathError
	if errors.As(err, &trouble) {
		err = trouble.Err // the name that is known to the reader is the picture's
	}
	if err != nil {
		return fmt.Errorf("--svg %s: cannot be written: %w", name, err)
	}
	return nil
}

// replace puts data in the place of a file.
func replace(name string, data []byte, mode fs.FileMode) error {
	beside, err := os.CreateTemp(filepath.Dir(name), ".underload-*")
	if err != nil {
		return err
	}
	defer os.Remove(beside.Name()) // once renamed it is gone already
	_, err = beside.Write(data)
	if err == nil {
		err = beside.Chmod(mode)
	}
	if closing := beside.Close(); err == nil {
		err = closing
	}
	if err == nil {
		err = os.Rename(beside.Name(), name)
	}
	return err
}
