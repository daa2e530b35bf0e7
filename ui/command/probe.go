package command

// This file is probe: one reading with one instrument.

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit/quantity"
	"underload/sim/meter"
	"underload/ui/report"
)

func probeCommand(p *page) *cobra.Command {
	var s state
	var l leads
	var on string
	var asJSON bool
	names, says := meter.Instruments()
	list := &table{}
	for i, name := range names {
		list.add("  "+name, says[i])
	}
	cmd := &cobra.Command{
		Use: "probe FILE --with INSTRUMENT [flags]", Short: "Take one reading with one instrument",
		Long: paragraphs("Takes one reading. "+order+", then the instrument goes on. INSTRUMENT is one of",
			strings.Join(list.lines(), "\n"),
			"or a resistance such as \"2.4 ohm\" as a plain load. FILE may be the bare name of an example."),
		Example: `  underload probe orchard-sprayer --set KEY=run --apart PC1 \
    --fault "C14.4 spread 1.8 ohm" --with load-lamp --red PC1.1 --black PC1.8`,
		Args: exactly("FILE"), ValidArgsFunction: completeFile(nil),
		RunE: func(_ *cobra.Command, args []string) error {
			c, err := open(args[0])
			if err != nil {
				return err
			}
			if l.with == "" {
				return fmt.Errorf("say which instrument with --with: one of %s", strings.Join(names, ", "))
			}
			b, err := s.bench(c)
			if err != nil {
				return err
			}
			ask := meter.Request{With: l.with, Red: l.red, Black: l.black, On: on, AnyReach: l.anyReach}
			r, err := meter.Take(b, ask)
			if err != nil {
				return err
			}
			if asJSON {
				return p.json(r)
			}
			reading(p, r)
			return nil
		},
	}
	l.flags(cmd, "the instrument, see above")
	s.flags(cmd)
	cmd.Flags().Var(word{&on, "WIRE"}, "on", "the wire that the clamp goes around")
	cmd.Flags().BoolVar(&asJSON, "json", false, "write the reading as JSON")
	complete(cmd, "on", wireNames)
	return cmd
}

// reading writes a reading for people: what it shows, the healthy circuit beside it, and what it is worth.
// One that only the model can take is marked.
func reading(p *page, r meter.Reading) {
	place := ""
	switch {
	case r.Red != "" && r.Black != "":
		place = fmt.Sprintf(", red on %s, black on %s", r.Red, r.Black)
	case r.Red != "":
		place = " on " + r.Red
	case r.On != "":
		place = " around " + r.On
	}
	p.say("%s%s", p.strong(r.Instrument), place)
	p.say("")
	p.hang("  reads      ", p.strong(shows(r)))
	if r.Instrument == "roll-call" {
		for _, line := range r.Lines {
			p.hang("             ", line)
		}
	}
	p.hang("  healthy    ", healthyShows(r))
	if r.Kick != nil && r.Value != nil && math.Abs(*r.Kick-*r.Value) > 0.01 && !strings.Contains(r.Seen, "kicks") {
		p.hang("  kicks to   ", r.Text(*r.Kick))
	}
	if len(r.BeyondReach) > 0 {
		p.hang("  reach      ", strings.Join(r.BeyondReach, ", ")+": the model knows this, a person could not measure it here")
	}
	if r.State != "" {
		p.hang("  state      ", report.Hitch(r.State))
	}
	if r.Effect != "" {
		p.hang("  the test   ", r.Effect)
	}
	p.hang("  takes      ", minutes(r.Minutes)+" (common practice)")
	p.say("")
	p.prose(2, r.Meaning)
	for _, caution := range r.Cautions {
		p.say("")
		p.hang("  Caution: ", caution)
	}
}

// shows is the value as a display shows it and what is seen.
func shows(r meter.Reading) string {
	if r.Value == nil {
		return r.Seen
	}
	text := r.NearestText()
	if r.Amps != nil {
		text += ", " + ampsText(*r.Amps)
	}
	if r.LightPercent != nil {
		text += fmt.Sprintf(", %.0f\u00a0%% light", *r.LightPercent)
	}
	return beside(text, r.Text(*r.Value), r.Seen)
}

// ampsText writes a current; of less than a microampere no instrument shows anything.
func ampsText(amps float64) string {
	if math.Abs(amps) < 1e-6 {
		amps = 0
	}
	return quantity.Format(amps, quantity.Amperes, 3)
}

// beside joins a figure and what was seen, which may begin with the figure itself.
func beside(text, figure, seen string) string {
	if rest, ok := strings.CutPrefix(seen, figure); ok {
		return text + rest
	}
	return text + ": " + seen
}

func healthyShows(r meter.Reading) string {
	if r.Healthy == nil {
		return r.HealthySeen
	}
	figure := r.Text(*r.Healthy)
	return beside(figure, figure, r.HealthySeen)
}

func minutes(m float64) string { return fmt.Sprintf("%.3g\u00a0min", m) }
