// Package draft starts circuit files: from the answers to plain questions, or from a pattern. What it writes is read
// without an error, and says in comments what to change.
package draft

// This file is what the answers add up to: one silent thing, its feed, its key feed, its ground, and who shares that.

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// The kinds of thing that can be silent.
const (
	module = "module"
	lamp   = "lamp"
	motor  = "motor"
	heater = "heater"
)

// Names that every draft uses.
const (
	battery  = "BATT"
	mainFuse = "MF1"
	bar      = "FB"
	key      = "KEY"
)

// way is how a pin is fed: a fuse, and the cavities passed behind it.
type way struct {
	fuse     string
	amps     float64
	cavities []string
}

// sharer is a further load on the same ground, with a fuse and a switch of its own.
type sharer struct {
	name, fuse, switchName string
	load                   load
}

// load is what something draws.
type load struct {
	kind  string
	text  string // as the file writes it: 21 W, 5 A
	amps  float64
	known bool
}

// plan is all that the answers say.
type plan struct {
	vehicle, silent string
	kind, name      string

	feedPin, wakePin, groundPin string // modules only
	feed                        way
	keyed                       bool
	wake                        way
	switchName                  string // other kinds only; may be empty

	ground      []string // cavities
	splice      string   // may be empty
	stud, place string
	sharers     []sharer
	load        load

	claimed map[string]string // names, and what each is
	used    map[string]bool   // cavities
}

func newPlan() *plan {
	return &plan{
		claimed: map[string]string{battery: "the battery", mainFuse: "the main fuse", bar: "the bar in the fuse box", key: "the key switch"},
		used:    map[string]bool{},
	}
}

var nameForm = regexp.MustCompile(fmt.Sprintf(`^[\p{L}\p{Nd}_+]{1,%d}$`, circuit.MostNameLetters))

// claim takes a name for one thing. The error is one sentence.
func (p *plan) claim(name, as string) error {
	switch before, taken := p.claimed[name]; {
	case !nameForm.MatchString(name):
		return fmt.Errorf("%q cannot be a name: it has letters, digits, _ and + only, %d at most", name, circuit.MostNameLetters)
	case name == "wire":
		return fmt.Errorf("wire is the one word that cannot be a name")
	case taken:
		return fmt.Errorf("%s is already %s: give this one a name of its own", name, before)
	}
	p.claimed[name] = as
	return nil
}

// free gives the first name of a series that is not taken: F1, F2, ...
func (p *plan) free(letters string) string {
	for i := 1; ; i++ {
		if name := letters + strconv.Itoa(i); p.claimed[name] == "" {
			return name
		}
	}
}

const connectorClaim = "a connector"

// cavities reads "C1.1, C4.2", or none.
func (p *plan) cavities(text string) ([]string, error) {
	var found []string
	if isNone(text) {
		return nil, nil
	}
	for _, word := range listed(text) {
		connector, cavity, dotted := strings.Cut(word, ".")
		switch {
		case !dotted || !nameForm.MatchString(cavity):
			return nil, fmt.Errorf("%q does not say connector and cavity: write it like C1.4", word)
		case p.used[word]:
			return nil, fmt.Errorf("cavity %s is already used: a cavity holds one wire a side", word)
		case p.claimed[connector] != connectorClaim:
			if err := p.claim(connector, connectorClaim); err != nil {
				return nil, err
			}
		}
		p.used[word] = true
		found = append(found, word)
	}
	return found, nil
}

// nextCavity is a free cavity of the connector that the feed passes, or none.
func (p *plan) nextCavity() string {
	if len(p.feed.cavities) == 0 {
		return "none"
	}
	connector, _, _ := strings.Cut(p.feed.cavities[0], ".")
	for i := 1; ; i++ {
		if name := connector + "." + strconv.Itoa(i); !p.used[name] {
			return name
		}
	}
}

func isNone(text string) bool {
	return slices.Contains([]string{"none", "no", "nothing", "nobody", "-"}, strings.ToLower(text))
}

// listed cuts a text at its commas.
func listed(text string) []string {
	var words []string
	for _, word := range strings.Split(text, ",") {
		if word = strings.TrimSpace(word); word != "" {
			words = append(words, word)
		}
	}
	return words
}

// measured reads a value; a bare number is of the unit that the question asked for.
func measured(text string, d quantity.Dimension) (float64, error) {
	if _, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64); err == nil {
		text += " " + d.Symbol()
	}
	value, err := quantity.Parse(text, d)
	if err == nil && value <= 0 {
		err = fmt.Errorf("%s is not above zero", text)
	}
	return value, err
}

// rating reads the rated amps of a fuse.
func rating(text string) (float64, error) {
	amps, err := measured(text, quantity.Amperes)
	if err != nil {
		return 0, err
	}
	_, err = catalog.FuseOf(catalog.UsualFuseType(amps), amps)
	return amps, err
}

// unknownLoads are what stands for a load of which nothing is known: common practice, no source.
var unknownLoads = map[string]load{
	module: {kind: module, text: "650 mA", amps: catalog.OrdinaryModule.AwakeAmps},
	lamp:   {kind: lamp, text: "21 W", amps: 1.85},
	motor:  {kind: motor, text: "5 A", amps: 5},
	heater: {kind: heater, text: "60 W", amps: 4.5},
}

// loadOf reads what a kind of thing draws.
func loadOf(kind, text string) (load, error) {
	l := load{kind: kind, known: true}
	var value float64
	var err error
	switch kind {
	case lamp:
		bulb, wrong := catalog.BulbOf(text)
		if watts, bare := measured(text, quantity.Watts); wrong != nil && bare == nil {
			text = plain(watts, quantity.Watts)
			bulb, wrong = catalog.BulbOf(text)
		}
		l.text, l.amps, err = text, bulb.Amps(), wrong
	case heater:
		value, err = measured(text, quantity.Watts)
		l.text, l.amps = plain(value, quantity.Watts), value/13.5
	default:
		value, err = measured(text, quantity.Amperes)
		l.text, l.amps = plain(value, quantity.Amperes), value
	}
	if err == nil && kind == module && l.amps <= 2*catalog.OrdinaryModule.LockedAmps {
		err = fmt.Errorf("%s is what a module draws asleep: what does it draw awake?", l.text)
	}
	return l, err
}

// plain writes a value as a keyboard can, to three figures.
func plain(value float64, d quantity.Dimension) string {
	three, err := strconv.ParseFloat(strconv.FormatFloat(value, 'g', 3, 64), 64)
	if err != nil {
		three = value
	}
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ", "Ω", "ohm", "µ", "u", "²", "2").Replace(quantity.Format(three, d, 0))
}

// ordinary is the load that stands for one that is not known: half of what its fuse carries where that is less.
func (p *plan) ordinary() load {
	l := unknownLoads[p.kind]
	if half := p.feed.amps / 2; half < l.amps {
		l.amps = half
		switch p.kind {
		case lamp, heater:
			l.text = plain(12*half, quantity.Watts)
		default:
			l.text = plain(half, quantity.Amperes)
		}
	}
	return l
}

// What a plain switch, and one fuse of a fuse box, carry for long: common practice, no source.
const (
	mostSwitchedAmps = 15
	mostAmps         = 30
)

// modest says that a load needs no relay and no cable of its own.
func (l load) modest(name string, switched bool) error {
	switch {
	case l.amps > mostAmps:
		return fmt.Errorf("%s at %s is more than this start is made for: see the pattern starter", name, plain(l.amps, quantity.Amperes))
	case switched && l.amps > mostSwitchedAmps:
		return fmt.Errorf("%s at %s is more than a plain switch carries: see the pattern relay-fed-load", name, plain(l.amps, quantity.Amperes))
	}
	return nil
}

// fits says that a fuse, and a switch where there is one, carry what stands behind them for long.
func (p *plan) fits(l load) error {
	if err := l.modest(p.name, p.switchName != ""); err != nil {
		return err
	}
	if l.amps > p.feed.amps {
		return fmt.Errorf("that is %s, and %s would blow at %s: go back with < if it is another fuse",
			plain(l.amps, quantity.Amperes), p.feed.fuse, plain(p.feed.amps, quantity.Amperes))
	}
	return nil
}

// usualAmps are the ratings that a fuse box is made up of.
var usualAmps = []float64{5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 150, 200, 250, 300}

// fuseFor is the least usual rating with room for a load, half as much again.
func fuseFor(amps float64) float64 {
	for _, rated := range usualAmps {
		if rated >= 1.5*amps {
			return rated
		}
	}
	return usualAmps[len(usualAmps)-1]
}

// wireFor is the least usual wire that a fuse protects and that loses no more than these volts over its length.
func wireFor(fuseAmps, loadAmps, metres, volts float64) float64 {
	areas := []float64{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50}
	for _, areaMM2 := range areas {
		use, ok := catalog.UseOf(areaMM2)
		if ok && use.FuseMaxAmps >= fuseAmps && catalog.WireOhmsPerMetre(areaMM2, catalog.Copper, 20)*metres*loadAmps <= volts {
			return areaMM2
		}
	}
	return areas[len(areas)-1]
}

// sharersOf reads "E1 21 W, M1 5 A": watts make a lamp, amps a motor.
func (p *plan) sharersOf(text string) ([]sharer, error) {
	if isNone(text) {
		return nil, nil
	}
	var found []sharer
	for _, word := range listed(text) {
		name, draws, _ := strings.Cut(word, " ")
		draws = strings.TrimSpace(draws)
		s := sharer{name: name, load: unknownLoads[lamp]}
		if draws != "" {
			var err error
			if _, notAmps := quantity.Parse(draws, quantity.Amperes); notAmps == nil {
				s.load, err = loadOf(motor, draws)
			} else if _, notWatts := quantity.Parse(draws, quantity.Watts); notWatts == nil {
				s.load, err = loadOf(lamp, draws)
			} else {
				err = fmt.Errorf("%q does not say what %s draws: write watts for a lamp or amps for a motor, like %s 21 W", draws, name, name)
			}
			if err != nil {
				return nil, err
			}
		}
		if err := s.load.modest(name, true); err != nil {
			return nil, err
		}
		if err := p.claim(name, "on this ground"); err != nil {
			return nil, err
		}
		found = append(found, s)
	}
	for i := range found {
		s := &found[i]
		s.fuse, s.switchName = p.free("F"), p.free("SW")
		p.claimed[s.fuse], p.claimed[s.switchName] = "the fuse of "+s.name, "the switch of "+s.name
	}
	return found, nil
}

// totalAmps is what everything draws together.
func (p *plan) totalAmps() float64 {
	total := p.load.amps
	for _, s := range p.sharers {
		total += s.load.amps
	}
	return total
}

// mainAmps is a main fuse with room for everything.
func (p *plan) mainAmps() float64 { return fuseFor(math.Max(p.totalAmps(), 40)) }
