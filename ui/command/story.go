package command

// This file is story: how a light test says "good" on the orchard sprayer, and what a load shows.

import (
	"fmt"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/circuits"
	"underload/sim/meter"
	"underload/ui/report"
)

// The case that is told.
const (
	storyFile  = "orchard-sprayer"
	storyFault = "C14.4 spread 1.8 ohm"
	storyMend  = "repair C14.4"
	storyRed   = "PC1.1"
	storyBlack = "PC1.8"
)

// scene is a test of the story: what is done to the bench before it, and the test.
type scene struct {
	state state
	ask   meter.Request
}

// teller tells the story until something goes wrong.
type teller struct {
	page    *page
	circuit *circuit.Circuit
	err     error
}

func storyCommand(p *page) *cobra.Command {
	return &cobra.Command{
		Use: "story", Short: "Tell how a light test says \"good\", and what a load shows, on an example",
		Long: paragraphs("Tells the story of the orchard sprayer, whose controller is silent though a light test said \"good\": six tests, each with what it shows and what it proves."),
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error { return tellStory(p) },
	}
}

func tellStory(p *page) error {
	c, err := circuits.Read(storyFile)
	if err != nil {
		return err
	}
	t := &teller{page: p, circuit: c}
	p.say("%s", p.strong(c.Title))
	p.hang(`  "`, c.Complaint+`"`)
	t.head(1, "Who answers? Key on, everything plugged in.")
	t.test(scene{ask: meter.Request{With: "roll-call"}})
	t.head(2, fmt.Sprintf("The light test: plug of PC1 apart, red on %s, black on %s.", storyRed, storyBlack))
	t.test(lampScene("test-lamp", false))
	p.prose(5, "Bright. \"Power and ground are good.\" They are, for a quarter of an amp.")
	t.head(3, "The same two points, under load.")
	loaded := t.test(lampScene("load-lamp", false))
	p.prose(5, loaded.Meaning)
	t.head(4, "Where are the volts lost? A voltmeter, step by step, in both tests.")
	t.stairs()
	t.head(5, "Is it the terminal? C14 apart, a test pin pulled out of cavity 4.")
	t.test(scene{state: apart("C14"), ask: meter.Request{With: "drag", Red: "C14.4"}})
	t.head(6, "The terminal is replaced, then the same tests again.")
	t.test(lampScene("load-lamp", true))
	t.test(scene{state: state{mends: []string{storyMend}}, ask: meter.Request{With: "roll-call"}})
	p.prose(5, "No controller was needed.")
	p.say("")
	t.closing(loaded.Cautions)
	return t.err
}

func apart(name string) state { return state{acts: []act{{"apart", name}}} }

func lampScene(lamp string, mended bool) scene {
	s := scene{apart("PC1"), meter.Request{With: lamp, Red: storyRed, Black: storyBlack}}
	if mended {
		s.state.mends = []string{storyMend}
	}
	return s
}

func (t *teller) head(n int, words string) {
	t.page.say("")
	t.page.say("%s", t.page.strong(fmt.Sprintf("%d  %s", n, words)))
}

// ready is the state of a scene with the key on and the fault laid.
func ready(s state) state {
	s.faults = []string{storyFault}
	s.acts = append([]act{{"set", "KEY=run"}}, s.acts...)
	return s
}

// test makes a test and writes what it shows. After a mistake it does nothing.
func (t *teller) test(s scene) (r meter.Reading) {
	if t.err != nil {
		return r
	}
	before := ready(s.state)
	b, err := before.bench(t.circuit)
	if err == nil {
		r, err = meter.Take(b, s.ask)
	}
	if t.err = err; err != nil {
		return r
	}
	t.page.hang(fmt.Sprintf("     %-10s  ", r.Instrument), t.page.strong(brief(r)))
	t.page.hang("     healthy     ", healthyShows(r))
	return r
}

// brief is what a reading shows, in few words.
func brief(r meter.Reading) string {
	switch {
	case r.Value == nil, r.Instrument == "drag":
		return r.Seen
	case r.Amps != nil:
		return fmt.Sprintf("%s, %s: %s", r.Text(*r.Value), quantity.Format(*r.Amps, quantity.Amperes, 2), r.Seen)
	}
	return r.Text(*r.Value) + ": " + r.Seen
}

// stairs draws both staircases side by side, a line a step: what is lost there, and the volts left behind it.
func (t *teller) stairs() {
	if t.err != nil {
		return
	}
	before := ready(apart("PC1"))
	b, err := before.bench(t.circuit)
	var s meter.Staircase
	if err == nil {
		s, err = meter.Stairs(b, meter.StairsRequest{Red: storyRed, Black: storyBlack})
	}
	if t.err = err; err != nil {
		return
	}
	const lines, bar = 11, 15
	rows := &table{right: map[int]bool{2: true, 4: true, 6: true}}
	rows.add("", "battery + at the top", "mV", "light test", "mV", "load lamp", "mΩ")
	for _, l := range report.Bars(s, lines, bar) {
		mark := ""
		if l.Worst {
			mark = worstMark
		}
		rows.add(mark, l.Name, l.LightMV, l.LightBar, l.LoadMV, l.LoadBar, l.LoadMohm)
	}
	t.page.table(rows)
	t.page.prose(3, "mV is what a step loses, mΩ what it has under load; a bar is the volts left behind it.")
	t.page.hang(worstMark+"  ", s.Verdict)
}

func (t *teller) closing(cautions []string) {
	t.page.prose(0, "A light shows that something connects. Only the load's own current shows what it costs.")
	t.page.say("")
	t.page.hang("Try it:  ", "underload help probe; underload feeds orchard-sprayer PC1; underload example orchard-sprayer > my.yaml")
	t.page.say("")
	for _, caution := range cautions {
		t.page.hang("Caution: ", caution)
	}
	t.page.hang("Caution: ", "This is a model, a help to thinking. The vehicle maker's procedure, local law and licensed practice come first.")
}
