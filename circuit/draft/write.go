package draft

// This file writes a plan as a circuit file, and says in a few lines what it comes to.

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/circuit/tidy"
)

// page is a file while it is written.
type page struct{ strings.Builder }

func (w *page) line(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }

const mark = "CHANGE"

// What the wires of a draft may lose, so that with its joints a side stays below the half volt of common practice.
const (
	mainVolts = 0.05
	sideVolts = 0.15
)

// text is the circuit file.
func (p *plan) text() string {
	w := &page{}
	w.line("# A start, not yet your vehicle. Put in what your diagram says where %s stands, and the colour,", mark)
	w.line("# size and length of each wire, such as RD/GY 1.0 mm2 2.8 m. Then: underload check FILE")
	w.line("underload: 1")
	w.line("title: %s", tidy.Scalar(p.title(), false))
	w.line("")
	w.line("parts:")
	w.line("  %s: {is: battery, volts: 12.6 V} # %s: the rested volts at its posts; in a 24 V vehicle 25.2 V, and bulbs, coils and motors of 24 V", battery, mark)
	w.line("  %s: {is: fuse, rating: %s} # %s: the main fuse", mainFuse, plain(p.mainAmps(), quantity.Amperes), mark)
	w.line("  %s: {is: fuse, rating: %s}", word(p.feed.fuse), plain(p.feed.amps, quantity.Amperes))
	if p.keyed {
		w.line("  %s: {is: fuse, rating: %s}", word(p.wake.fuse), plain(p.wake.amps, quantity.Amperes))
		w.line("  %s: {is: switch, throws: {off: [], run: [b-ign]}}", key)
	}
	if p.switchName != "" {
		w.line("  %s: {is: switch, throws: {off: [], on: [1-2]}}", word(p.switchName))
	}
	p.silentPart(w)
	for _, s := range p.sharers {
		w.line("  %s: {is: fuse, rating: %s} # %s: the fuse of %s", word(s.fuse), plain(fuseFor(s.load.amps), quantity.Amperes), mark, s.name)
		w.line("  %s: {is: switch, throws: {off: [], on: [1-2]}}", word(s.switchName))
		w.line("  %s: {%s}%s", word(s.name), s.load.keys(), s.load.remark())
	}
	p.connectors(w)
	p.paths(w)
	w.line("")
	w.line("grounds:")
	w.line("  %s: {place: %s, to: %s.neg}", word(p.stud), tidy.Scalar(p.place, true), battery)
	w.line("")
	w.line("splices:")
	w.line("  %s: {place: bar in the fuse box, reach: open}", bar)
	if p.splice != "" {
		w.line("  %s: {}", word(p.splice))
	}
	return w.String()
}

func (p *plan) title() string {
	title := []rune(p.vehicle + ", " + p.silent + " is silent")
	title[0] = unicode.ToUpper(title[0])
	return string(title)
}

// silentPart writes the part that the file is about.
func (p *plan) silentPart(w *page) {
	if p.kind != module {
		w.line("  %s: {%s}%s", word(p.name), p.load.keys(), p.load.remark())
		return
	}
	w.line("  %s:", word(p.name))
	w.line("    is: module")
	w.line("    supply: [%s]", word(p.feedPin))
	if p.keyed {
		w.line("    wake: [%s]", word(p.wakePin))
	}
	w.line("    ground: [%s]", word(p.groundPin))
	w.line("    awake: %s%s", p.load.text, p.load.remark())
	boots := catalog.OrdinaryModule.BootOhms
	if p.load.known { // it boots on about what it draws awake
		boots = catalog.OrdinaryModule.AtVolts / p.load.amps
	}
	w.line("    boots as: %s # %s: an ordinary value", plain(boots, quantity.Ohms), mark)
}

// keys are those of a load's part.
func (l load) keys() string {
	switch l.kind {
	case lamp:
		return "is: lamp, bulb: " + tidy.Scalar(l.text, true)
	case heater:
		return "is: heater, power: " + l.text
	}
	return "is: motor, draws: " + l.text
}

func (l load) remark() string {
	if l.known {
		return ""
	}
	return " # " + mark + ": not known, an ordinary value"
}

// connectors declares all connectors: those with one cavity in use must be.
func (p *plan) connectors(w *page) {
	seen := map[string]bool{}
	for _, cavities := range [][]string{p.feed.cavities, p.wake.cavities, p.ground} {
		for _, cavity := range cavities {
			connector, _, _ := strings.Cut(cavity, ".")
			if seen[connector] {
				continue
			}
			if len(seen) == 0 {
				w.line("")
				w.line("connectors:")
			}
			seen[connector] = true
			w.line("  %s: {place: not known} # %s: where it sits", word(connector), mark)
		}
	}
}

// paths writes how everything is wired.
func (p *plan) paths(w *page) {
	w.line("")
	w.line("paths:")
	w.line("  main feed:")
	w.line("    - %s.pos", battery)
	main := wireFor(p.mainAmps(), p.totalAmps(), 2, mainVolts)
	w.wire(main, 0.5)
	w.line("    - %s", mainFuse)
	w.wire(main, 1.5)
	w.line("    - %s", bar)
	w.line("  %s feed:", p.name)
	behind := 2 + float64(len(p.feed.cavities)) // metres
	if p.switchName != "" {
		behind += 2
	}
	area := wireFor(p.feed.amps, p.load.amps, math.Max(behind, 2+float64(len(p.ground))), sideVolts)
	w.way(p.feed, area, "")
	if p.kind == module {
		w.line("    - %s.%s", word(p.name), p.feedPin)
		if p.keyed {
			w.line("  %s key feed:", p.name)
			w.way(p.wake, wireFor(p.wake.amps, 0, 0, sideVolts), key+".b-ign")
			w.line("    - %s.%s", word(p.name), p.wakePin)
		}
		w.line("  %s ground:", p.name)
		w.line("    - %s.%s", word(p.name), p.groundPin)
	} else {
		if p.switchName != "" {
			w.line("    - %s", word(p.switchName))
			w.wire(area, 2)
		}
		w.line("    - %s", word(p.name))
	}
	w.wire(area, 1)
	for _, cavity := range p.ground {
		w.line("    - %s", cavity)
		w.wire(area, 1)
	}
	if p.splice != "" {
		w.line("    - %s", word(p.splice))
		w.wire(math.Max(area, wireFor(p.totalAmps(), p.totalAmps(), 1, sideVolts/2)), 1)
	}
	w.line("    - %s", word(p.stud))
	joint := p.stud
	if p.splice != "" {
		joint = p.splice
	}
	for _, s := range p.sharers {
		amps := fuseFor(s.load.amps)
		area := wireFor(amps, s.load.amps, 3, sideVolts)
		w.line("  %s:", word(s.name))
		w.way(way{fuse: s.fuse, amps: amps}, area, word(s.switchName))
		w.line("    - %s", word(s.name))
		w.wire(area, 1)
		w.line("    - %s", word(joint))
	}
}

// way writes a feed from the bar on, through a switch where one is given, up to the wire before its end.
func (w *page) way(from way, areaMM2 float64, switchStep string) {
	w.line("    - %s", bar)
	w.line("    - %s", word(from.fuse))
	w.wire(areaMM2, 2)
	if switchStep != "" {
		w.line("    - %s", switchStep)
		w.wire(areaMM2, 1)
	}
	for _, cavity := range from.cavities {
		w.line("    - %s", cavity)
		w.wire(areaMM2, 1)
	}
}

func (w *page) wire(areaMM2, metres float64) { w.line("    - wire: %g mm2 %g m", areaMM2, metres) }

// word writes a name so that YAML takes it for a word.
func word(name string) string { return tidy.Scalar(name, true) }

// summary says what the answers come to.
func (p *plan) summary() []string {
	through := func(cavities []string) string {
		if len(cavities) == 0 {
			return ""
		}
		return " through " + strings.Join(cavities, ", ")
	}
	fed := fmt.Sprintf("%s is fed by %s (%s)%s", p.name, p.feed.fuse, plain(p.feed.amps, quantity.Amperes), through(p.feed.cavities))
	switch {
	case p.keyed:
		fed += fmt.Sprintf(", and woken by %s (%s)%s with the key in run", p.wake.fuse, plain(p.wake.amps, quantity.Amperes), through(p.wake.cavities))
	case p.switchName != "":
		fed += ", switched by " + p.switchName
	}
	ground := fmt.Sprintf("Its ground goes%s", through(p.ground))
	if p.splice != "" {
		ground += " and splice " + p.splice
	}
	ground += fmt.Sprintf(" to %s (%s)", p.stud, p.place)
	for i, s := range p.sharers {
		lead := ", which it shares with "
		if i > 0 {
			lead = ", "
		}
		ground += lead + s.name + " (" + s.load.text + ")"
	}
	draws := fmt.Sprintf("It draws %s", p.load.text)
	if !p.load.known {
		draws += ", an ordinary value since it is not known"
	}
	return []string{p.title() + ".", fed + ".", strings.Replace(ground, "goes and", "goes through", 1) + ".", draws + "."}
}

// fileName makes a name of the vehicle's words.
func (p *plan) fileName() string {
	var b strings.Builder
	for _, c := range strings.ToLower(strings.TrimPrefix(strings.TrimPrefix(p.vehicle, "the "), "a ")) {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			b.WriteRune(c)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() >= 40 {
			break
		}
	}
	name := strings.Trim(b.String(), "-")
	if name == "" {
		name = "circuit"
	}
	return name + ".yaml"
}
