package command

// This file is trace: the circuit in motion, and what is asked of a run.

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/record"
)

// due is one --do.
type due struct {
	seconds   float64
	when, act string
	written   string
}

// tracing is what the flags ask of a run.
type tracing struct {
	state                    state
	dos                      []due
	until                    string
	watches                  []string
	csv, svg                 string
	trigger, screen          string
	asJSON, minMax, plain    bool
	seed                     uint64
	tolerance                float64
	untilSeconds, screenTime float64
	hang                     hang
	puts                     []put
}

var aboutTrace = paragraphs(
	"Sets a circuit in motion from its state at rest, does what --do says at its time, and shows what --watch names: a plot in text, what was done and what a person "+
		"would have noticed, and a table of extremes. "+order+"; then time runs. FILE may be the bare name of an example.",
	"A time has its unit: 200 ms, 1.4 s, 40 min, 8 h. --do takes a time and then one of",
	`  KEY=run  F7=out  M1=on           as for --set
  apart C14, together C14          a connector or a plugged part
  break C14.4 spread 6 ohm         as for --fault
  repair C14.4, clean G2, replace F7, reseat C14
  wiggle C14 50 %, still C14       shaken from then on (what is fretted grows worse), and no longer
  disturb C14                      one nudge: bad contacts may read well for a while
  put test-lamp B1.pos G1          an instrument between two points, or "put clamp W3",
                                   until "take off"`,
	"--watch takes one of the following. Left out, it is every battery's posts and every module's supply.",
	`  B1.pos                        a point: volts against the first battery's −
  PC1.1 against PC1.8           volts between two points
  amps W3, amps F7.in, amps M1  of a wire, a terminal, a part
  supply PC1                    a module's own volts, between its own pins
  mode PC1, mode K2             what a module or a relay does
  resets PC1                    how often a module has reset
  light E3, speed M1            percent of a lamp's rated light, a motor's rad/s
  heat C14.4, heat G2, heat F7   °C of a joint, a stud, a fuse's body, a lamp, a wire
  charge B1                     percent that a battery holds`,
	"--trigger shows one moment closely, as a scope does, a quarter of --screen before it: plot, picture and table are then of that time. It takes \"B1.pos falls through 9 V\", "+
		"\"supply PC1 rises through 6.5 V\", or words of what happens, such as \"K2 clicks in\".",
	"--csv writes what was recorded (RFC 4180): a heading with units; seconds; a column for each --watch; and a column of what was done and noticed. Two rows of the same "+
		"second are a jump. Where more happens than there is room for, rows are left out, but never the smallest or largest value that a column has in a stretch.",
	"Ctrl+C ends the run early; what there is by then is shown and written.")

func traceCommand(p *page, to Streams) *cobra.Command {
	t := &tracing{}
	cmd := &cobra.Command{
		Use: "trace FILE [flags]", Short: "Let time run: what happens while you crank, unplug, wiggle, wait",
		Long: aboutTrace,
		Example: `  underload trace snow-groomer --set KEY=run --do "0.2s KEY=crank" --do "1.4s KEY=run" --for 3s \
    --watch BATT.pos --watch "supply ECU" --svg crank.svg
  underload trace cinema-van --for 8h --watch "amps BATT" --csv night.csv`,
		Args: exactly("FILE"), ValidArgsFunction: completeFile(nil),
		RunE: func(cmd *cobra.Command, args []string) error { return t.run(p, to, args[0]) },
	}
	t.state.flags(cmd)
	f := cmd.Flags()
	f.Var(each{`"TIME ACT"`, func(text string) { t.dos = append(t.dos, due{written: text}) }}, "do", `do something at a time: "0.2s KEY=crank"; may be repeated`)
	f.Var(word{&t.until, "TIME"}, "for", "how long time runs; left out, 3 s, or until a second after the last --do")
	f.Var(each{"WHAT", func(text string) { t.watches = append(t.watches, text) }}, "watch", "record this: B1.pos, PC1.8.pin, \"amps W3\"; may be repeated")
	f.Var(word{&t.trigger, "EVENT"}, "trigger", `show the moment when "B1.pos falls through 9 V", or when "K2 clicks in"`)
	f.Var(word{&t.screen, "TIME"}, "screen", "how much time is shown around --trigger; left out, a tenth of the run")
	f.BoolVar(&t.minMax, "min-max", false, "also what a hand-held meter that keeps the extremes would show: ordinary (100 ms) and in peak mode (1 ms)")
	f.Var(word{&t.csv, "OUT.csv"}, "csv", "write what was recorded into this file")
	f.Var(word{&t.svg, "OUT.svg"}, "svg", "draw the plot into this file")
	f.Uint64Var(&t.seed, "seed", 0, "of all that is left to chance, such as a loose contact that is wiggled: the same seed gives the same run")
	f.Float64Var(&t.tolerance, "tolerance", 0, "relative error of a step of the computation; left out, 0.0001")
	f.BoolVar(&t.plain, "plain", false, "draw with plain characters, also where the terminal has dots")
	f.BoolVar(&t.asJSON, "json", false, "write the table and what happened as JSON")
	complete(cmd, "do", doLines)
	complete(cmd, "watch", watchLines)
	complete(cmd, "trigger", triggerLines)
	return cmd
}

// run makes the run and tells of it.
func (t *tracing) run(p *page, to Streams, file string) error {
	if err := t.check(); err != nil {
		return err
	}
	c, err := open(file)
	if err != nil {
		return err
	}
	b, err := t.state.bench(c)
	if err != nil {
		return err
	}
	r, err := b.Run(sim.RunOptions{Seed: t.seed, Tolerance: t.tolerance, MemoryBytes: -1})
	if err != nil {
		return err
	}
	if err := t.schedule(b, r); err != nil {
		return err
	}
	taken, err := t.watch(c, b, r)
	if err != nil {
		return err
	}
	broke := taken.goOn(to) // what there is until then is written and told all the same
	if err := taken.write(); err != nil {
		return errors.Join(broke, err)
	}
	if t.asJSON {
		err = p.json(taken.report())
	} else {
		taken.tell(p, to)
	}
	if broke == nil && err == nil && taken.stopped {
		return errStopped
	}
	return errors.Join(broke, err)
}

// check reads the flags that can be read without a circuit.
func (t *tracing) check() error {
	if err := checkPicture(t.svg); err != nil {
		return err
	}
	if t.csv != "" && !strings.EqualFold(filepath.Ext(t.csv), ".csv") {
		return fmt.Errorf("--csv %s: the table's name has to end in .csv", t.csv)
	}
	if t.tolerance != 0 && !(t.tolerance >= leastTolerance && t.tolerance <= mostTolerance) {
		return fmt.Errorf("--tolerance %g: it is a share from 1e-9 to 0.01", t.tolerance)
	}
	last := 0.0
	for i := range t.dos {
		d := &t.dos[i]
		var err error
		if d.seconds, d.when, d.act, err = timed(d.written); err != nil {
			return err
		}
		last = max(last, d.seconds)
	}
	slices.SortStableFunc(t.dos, func(x, y due) int { return cmp.Compare(x.seconds, y.seconds) })
	t.untilSeconds = max(3, last+1)
	if t.until != "" {
		var err error
		if t.untilSeconds, err = span("for", t.until); err != nil {
			return err
		}
	}
	for _, d := range t.dos {
		if d.seconds > t.untilSeconds {
			return fmt.Errorf("--do %q: the run is over by then; make --for longer than %s", d.written, written(t.untilSeconds))
		}
	}
	if err := t.checkScreen(); err != nil {
		return err
	}
	for flag, name := range map[string]string{"csv": t.csv, "svg": t.svg} {
		if err := writable(flag, name); err != nil { // now, and not after a long run
			return err
		}
	}
	return nil
}

// writable refuses a name in whose place no file can be put.
func writable(flag, name string) error {
	if name == "" {
		return nil
	}
	beside, err := os.CreateTemp(filepath.Dir(name), ".underload-*")
	if err == nil {
		beside.Close()
		err = os.Remove(beside.Name())
	}
	var trouble *fs.PathError
	if errors.As(err, &trouble) {
		err = trouble.Err
	}
	if err != nil {
		return fmt.Errorf("--%s %s: cannot be written: %w", flag, name, err)
	}
	return nil
}

// Bounds of --tolerance: beyond them a step is a guess, or below what the arithmetic carries.
const leastTolerance, mostTolerance = 1e-9, 0.01

func (t *tracing) checkScreen() error {
	t.screenTime = t.untilSeconds / 10
	if t.screen == "" {
		return nil
	}
	if t.trigger == "" {
		return errors.New("--screen wants --trigger beside it: what is to be shown around which moment?")
	}
	var err error
	t.screenTime, err = span("screen", t.screen)
	return err
}

// span reads a length of time above 0.
func span(flag, text string) (float64, error) {
	seconds, err := quantity.Parse(text, quantity.Seconds)
	if err == nil && seconds <= 0 {
		err = fmt.Errorf("%q is no length of time: it has to be above 0", text)
	}
	if err != nil {
		return 0, fmt.Errorf("--%s: %w", flag, err)
	}
	return seconds, nil
}

// written is a length of time in words.
func written(seconds float64) string {
	switch {
	case seconds >= 7200:
		return quantity.Format(seconds/3600, quantity.Number, 0) + "\u00a0h"
	case seconds >= 600:
		return quantity.Format(seconds/60, quantity.Number, 0) + "\u00a0min"
	}
	return quantity.Format(seconds, quantity.Seconds, 0)
}

// timed takes a --do apart: the time, whose unit may stand off its number, and what is then done.
func timed(text string) (seconds float64, when, act string, err error) {
	words := strings.Fields(text)
	var wrong error
	for n := 1; n <= 2 && n < len(words); n++ {
		seconds, err := quantity.Parse(strings.Join(words[:n], " "), quantity.Seconds)
		if err == nil {
			if seconds < 0 {
				return 0, "", "", fmt.Errorf("--do %q: time begins at 0 s; what is so before is done with --set", text)
			}
			return seconds, strings.Join(words[:n], "\u00a0"), strings.Join(words[n:], " "), nil
		}
		if wrong == nil {
			wrong = err
		}
	}
	if len(words) > 0 && strings.ContainsAny(words[0][:1], "0123456789.+-−") && wrong != nil {
		return 0, "", "", fmt.Errorf("--do %q: %w", text, wrong)
	}
	return 0, "", "", fmt.Errorf(`--do %q: write when, then what is done: --do "0.2s KEY=crank"`, text)
}

// schedule has everything done at its time but what is done with an instrument, which is not part of the circuit.
func (t *tracing) schedule(b *sim.Bench, r *sim.Run) error {
	for _, d := range t.dos {
		if isPut(d.act) {
			if err := t.plan(b, d); err != nil {
				return fmt.Errorf("--do %q: %w", d.written, err)
			}
			continue
		}
		if err := r.At(d.seconds, d.act); err != nil {
			return fmt.Errorf("--do %q: %w", d.written, owner(b.Circuit(), d.act, err))
		}
	}
	return nil
}

// owner says of an act on a terminal what it may be done to, and else what is wrong in its own words.
func owner(c *circuit.Circuit, act string, wrong error) error {
	words := strings.Fields(act)
	if len(words) < 2 || !slices.Contains([]string{"apart", "together", "reseat", "wiggle", "still", "disturb"}, words[0]) {
		return wrong
	}
	terminal := c.Terminal(words[1])
	if point, err := c.Point(words[1]); err == nil && terminal == nil {
		terminal = point.Terminal
	}
	if terminal == nil {
		return wrong
	}
	return fmt.Errorf("%s is a terminal; its connector or part is %s: write %s", words[1], terminal.Owner, strings.Join(append([]string{words[0], terminal.Owner}, words[2:]...), " "))
}

// watch finds what is to be recorded, and the trigger among it.
func (t *tracing) watch(c *circuit.Circuit, b *sim.Bench, r *sim.Run) (*taken, error) {
	asked := t.watches
	if len(asked) == 0 {
		asked = usualWatches(c)
	}
	k := &taken{tracing: t, circuit: c, bench: b, run: r}
	var channels []record.Channel
	for _, text := range asked {
		ch, err := r.Watch(text)
		if err != nil {
			return nil, fmt.Errorf("--watch %q: %w", text, err)
		}
		k.watched = append(k.watched, ch)
		channels = append(channels, record.Channel{Name: ch.Name, Unit: ch.Unit, Words: ch.Words})
	}
	k.rec = record.New(channels, 0)
	var err error
	if t.hang, err = hung(t.trigger, channels, r); err != nil {
		return nil, err
	}
	k.feeding, err = t.feeds(b)
	return k, err
}

// usualWatches are every battery's posts and every module's supply.
func usualWatches(c *circuit.Circuit) []string {
	var all []string
	for i, p := range c.OfKind("battery") {
		if i == 0 {
			all = append(all, p.Terminals[0].Name)
			continue
		}
		all = append(all, p.Terminals[0].Name+" against "+p.Terminals[1].Name)
	}
	for _, p := range c.OfKind("module") {
		all = append(all, "supply "+p.Name)
	}
	return all
}
