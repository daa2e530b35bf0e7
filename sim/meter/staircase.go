package meter

// This file is the drop staircase: a voltmeter moved step by step along a load's path from the battery's plus to its
// minus, once with a light test and once under load, the healthy circuit beside the faulty one.

import (
	"fmt"
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim"
)

// Step is one thing on the path and what it loses. A thing with a point on which a lead can stand between its pieces, as
// the fuse top between a fuse and its slot, is a step a piece.
type Step struct {
	Place  string `json:"place"`           // a wire, a terminal, a part; the load itself where Load is set
	Says   string `json:"says"`            // what it is
	Piece  string `json:"piece,omitempty"` // which piece of it, where it has several
	Point  string `json:"point"`           // where a lead can touch behind it; empty where none can
	Load   bool   `json:"load,omitempty"`
	Spread bool   `json:"spread,omitempty"` // the loss is along a length of wire, not in one place

	Light        Level `json:"light"`
	UnderLoad    Level `json:"under_load"`
	HealthyLight Level `json:"healthy_light"`
	Healthy      Level `json:"healthy"` // under load

	Worst bool `json:"worst,omitempty"`

	blown  bool // a fuse that has melted
	source bool // a further battery
}

// Level is what one pass reads at a step. NaN never appears: what is not on the path of a pass is left at zero with
// Missing set.
type Level struct {
	Volts   float64 `json:"volts"` // behind the step, against the battery's minus
	Lost    float64 `json:"lost"`  // volts over the step
	Amps    float64 `json:"amps"`  // through the step
	Ohms    float64 `json:"ohms"`  // Lost over Amps
	Missing bool    `json:"missing,omitempty"`
}

// Staircase is a whole path.
type Staircase struct {
	Battery     string   `json:"battery"`
	OpenVolts   float64  `json:"open_volts"`
	Load        string   `json:"load"`       // what makes the current: a lamp, a part
	LightLoad   string   `json:"light_load"` // what the light pass is made with
	LightAmps   float64  `json:"light_amps"`
	Amps        float64  `json:"amps"`
	HealthyAmps float64  `json:"healthy_amps"`
	Steps       []Step   `json:"steps"`
	State       string   `json:"state,omitempty"`
	Verdict     string   `json:"verdict"`
	Cautions    []string `json:"cautions,omitempty"`

	lamp catalog.Bulb // of the light pass
	ways ways
}

// idleAmps is a current under which a load is not at work: a sleeping module, a lamp that is off.
const idleAmps = 0.005

// cliffVolts is the least excess over the healthy circuit that is worth a mark.
const cliffVolts = 0.020

// noAmps is a current below which no resistance is told.
const noAmps = 1e-6

// StairsRequest asks for a staircase, either through a load put between two points or through a part's own current.
type StairsRequest struct {
	Red, Black, With string // With is an instrument that draws current, or a plain resistance; load-lamp where empty
	Part             string // or a supply or ground pin of a module, for the way by it
	AnyReach         bool
}

// pass is one bench with its load on, ready to be read hop by hop, or a run at an instant in its place.
type pass struct {
	bench *sim.Bench
	run   *sim.Run
	amps  float64
}

func (p pass) ends(h sim.Hop) (before, after, amps float64) {
	if p.run != nil {
		return p.run.Ends(h)
	}
	return p.bench.Ends(h, true)
}

func (p pass) blown(f *circuit.Part) bool {
	if p.run != nil {
		return p.run.State(f).Blown
	}
	return p.bench.State(f).Blown
}

// Stairs climbs the staircase. The bench itself is not changed.
func Stairs(b *sim.Bench, q StairsRequest) (Staircase, error) {
	c, err := Climb(b, q)
	if err != nil {
		return Staircase{}, err
	}
	return c.Staircase(), nil
}

// climb reads every hop of the way on the four benches and gathers hops of one place into a step.
func (s *Staircase) climb(b *sim.Bench, way sim.Way, passes [4]pass, load string) {
	s.Battery, s.lamp = way.Battery.Name, smallLamp(b.Circuit())
	s.LightAmps, s.Amps, s.HealthyAmps = passes[0].amps, passes[1].amps, passes[3].amps
	if s.State = ""; passes[1].run == nil {
		s.State = unhappy(passes[1].bench, passes[3].bench)
	}
	s.OpenVolts, _, _ = passes[1].ends(way.Up[0])
	for _, group := range groups(b, way.Up) {
		s.Steps = append(s.Steps, readStep(b, group, passes, load))
	}
	s.Steps = append(s.Steps, loadStep(way, passes, load))
	for _, group := range groups(b, way.Down) {
		s.Steps = append(s.Steps, readStep(b, group, passes, load))
	}
	// A generator's minus is not at 0 V.
	s.OpenVolts -= s.Steps[len(s.Steps)-1].UnderLoad.Volts
	s.markWorst()
	s.Verdict = s.verdict()
}

// groups gathers neighbouring hops of one place, as far as no lead can come between them.
func groups(b *sim.Bench, hops []sim.Hop) [][]sim.Hop {
	var all [][]sim.Hop
	for i, h := range hops {
		if i > 0 && h.Place == hops[i-1].Place && lead(b, hops[i-1]) == "" {
			all[len(all)-1] = append(all[len(all)-1], h)
			continue
		}
		all = append(all, []sim.Hop{h})
	}
	return all
}

// lead is the point on which a lead can stand behind a hop, or nothing.
func lead(b *sim.Bench, h sim.Hop) string {
	for _, point := range h.Points {
		if reachable(b, point) == nil {
			return point.Name
		}
	}
	return ""
}

func readStep(b *sim.Bench, group []sim.Hop, passes [4]pass, load string) Step {
	c := b.Circuit()
	st := Step{Place: group[0].Place, Piece: group[0].Piece, Point: lead(b, group[len(group)-1])}
	for _, h := range group {
		if h.Piece != st.Piece {
			st.Piece = ""
		}
	}
	st.Says, st.Spread = describe(c, st.Place)
	if st.Place == load {
		st.Says = "inside"
	}
	if p := c.Part(st.Place); p != nil && st.Piece == "" && passes[1].blown(p) {
		st.blown = true
	}
	for i, level := range st.levels() {
		*level = passes[i].over(group)
	}
	if p := c.Part(st.Place); p != nil && p.Kind.Name == "battery" && st.UnderLoad.Lost < 0 {
		st.gives()
	}
	return st
}

// gives makes a step one of a further battery in series: it adds volts, and no resistance can be told of it.
func (st *Step) gives() {
	st.source, st.Says = true, "inside, gives"
	for _, level := range st.levels() {
		level.Ohms = 0
	}
}

// over reads the hops of one place. Where the path divides in it, as in a splice, each hop has its own amps: the ohms are
// those of the hops, added up.
func (p pass) over(group []sim.Hop) Level {
	before, _, amps := p.ends(group[0])
	_, after, _ := p.ends(group[len(group)-1])
	level := levelOf(before, after, amps)
	if level.Missing || level.Ohms == 0 {
		return level
	}
	level.Ohms = 0
	for _, hop := range group {
		level.Ohms += levelOf(p.ends(hop)).Ohms
	}
	return level
}

func loadStep(way sim.Way, passes [4]pass, load string) Step {
	st := Step{Place: load, Says: "the load", Load: true}
	for i, level := range st.levels() {
		_, before, _ := passes[i].ends(way.Up[len(way.Up)-1])
		after, _, _ := passes[i].ends(way.Down[0])
		*level = levelOf(before, after, passes[i].amps)
	}
	return st
}

func (st *Step) levels() [4]*Level {
	return [4]*Level{&st.Light, &st.UnderLoad, &st.HealthyLight, &st.Healthy}
}

func levelOf(before, after, amps float64) Level {
	if math.IsNaN(before) || math.IsNaN(after) {
		return Level{Missing: true}
	}
	l := Level{Volts: after, Lost: before - after, Amps: amps}
	if amps > noAmps {
		l.Ohms = l.Lost / amps
	}
	return l
}

// markWorst marks the step that loses most beyond what a sound one would lose at the same current.
func (s *Staircase) markWorst() {
	worst, most := -1, cliffVolts
	for i, st := range s.Steps {
		if st.Load || st.UnderLoad.Missing {
			continue
		}
		if excess := st.Excess(); excess > most {
			worst, most = i, excess
		}
	}
	if worst >= 0 {
		s.Steps[worst].Worst = true
	}
}

// Excess is what the step loses under load beyond what a sound one would lose at the same current.
func (st Step) Excess() float64 { return st.UnderLoad.Lost - st.Healthy.Ohms*st.UnderLoad.Amps }

// Worst is the marked step, or nil where the path is sound.
func (s *Staircase) Worst() *Step {
	for i := range s.Steps {
		if s.Steps[i].Worst {
			return &s.Steps[i]
		}
	}
	return nil
}

func (s *Staircase) verdict() string {
	if dead := s.deadWay(); dead != "" {
		return dead + s.ways.words()
	}
	return s.judged() + s.ways.words()
}

func (s *Staircase) judged() string {
	worst := s.Worst()
	if worst == nil && s.Amps < idleAmps && s.Load != testLamp.name {
		return fmt.Sprintf("%s draws only %s: there is no load here to judge the path by. See first what wakes it, or what switches it on.", s.Load, amps(s.Amps))
	}
	if worst == nil {
		if limit := s.sideOver(); limit != "" {
			return limit
		}
		return fmt.Sprintf("At %s no step%s loses more than a sound one would.", amps(s.Amps), s.ways.only())
	}
	if worst.blown {
		return fmt.Sprintf("%s is blown: no current passes it. Find what blew it before another one is fitted.", worst.Place)
	}
	if worst.UnderLoad.Amps < noAmps {
		return fmt.Sprintf("%s is open: no current passes, and all %s stand across it.", worst.named(), volts(worst.UnderLoad.Lost))
	}
	if s.Amps < idleAmps && s.HealthyAmps >= idleAmps {
		return s.idleVerdict(worst)
	}
	return fmt.Sprintf("Under load %s; %s.", worst.says(), s.lightSays(worst))
}

// named is the place of a step, and its piece where that is not what a terminal is there for.
func (st *Step) named() string {
	if st.Piece == "" || st.Piece == "contact" {
		return st.Place
	}
	return st.Place + " (" + st.Piece + ")"
}

// says is what a step loses, and what a sound one has.
func (st *Step) says() string {
	return fmt.Sprintf("%s loses %s: %s at %s, where a sound one has %s",
		st.named(), volts(st.UnderLoad.Lost), ohmsText(st.UnderLoad.Ohms), amps(st.UnderLoad.Amps), ohmsText(st.Healthy.Ohms))
}

// idleVerdict tells of a load that does not work as it does in the healthy circuit: what its path loses is no test of it
// under load, and may be lost to other current.
func (s *Staircase) idleVerdict(worst *Step) string {
	told := fmt.Sprintf("%s draws only %s, where it draws %s in the healthy circuit: this is not a test under load.", s.Load, amps(s.Amps), amps(s.HealthyAmps))
	if worst.UnderLoad.Amps > 2*s.Amps+noAmps {
		return fmt.Sprintf("%s Other current shares its path: to that %s.", told, worst.says())
	}
	return fmt.Sprintf("%s Even so %s.", told, worst.says())
}

// lightSays is what the light pass shows of a step: of a lamp what the eye makes of it, of a load at rest what a meter does.
func (s *Staircase) lightSays(worst *Step) string {
	lost := worst.Light.Lost
	if s.LightLoad != testLamp.name {
		switch {
		case lost > dropVolts && worst.Light.Amps > 2*s.LightAmps+noAmps:
			return fmt.Sprintf("with %s it still loses %s to other current, which a voltmeter shows", s.LightLoad, volts(lost))
		case lost > dropVolts:
			return fmt.Sprintf("with %s it still loses %s, which a voltmeter shows", s.LightLoad, volts(lost))
		case lost > cliffVolts:
			return fmt.Sprintf("with %s it loses only %s", s.LightLoad, volts(lost))
		}
		return fmt.Sprintf("with %s nothing shows there", s.LightLoad)
	}
	if lost <= cliffVolts {
		return "the light test shows nothing there"
	}
	for _, st := range s.Steps {
		if word := lightWord(s.lamp.Light(st.Light.Lost)); st.Load && word != "bright" {
			return fmt.Sprintf("the light test loses %s there, and its lamp is %s", volts(lost), word)
		}
	}
	return fmt.Sprintf("the light test loses %s there, which no eye sees", volts(lost))
}

// sideOver tells a whole side that loses more than practice allows, though no step on it is worse than in the healthy
// circuit. What the battery loses inside itself is not the side's.
func (s *Staircase) sideOver() string {
	lost, side, most := 0.0, "battery + side", &s.Steps[0]
	for i := range s.Steps {
		st := &s.Steps[i]
		if st.Load {
			if lost > catalog.SideLimitVolts {
				break
			}
			lost, side, most = 0, "battery − side", st
			continue
		}
		if st.Place == s.Battery || st.source {
			continue
		}
		lost += st.UnderLoad.Lost
		if most.Load || most.Place == s.Battery || st.UnderLoad.Lost > most.UnderLoad.Lost {
			most = st
		}
	}
	if lost <= catalog.SideLimitVolts {
		return ""
	}
	told := fmt.Sprintf("The %s loses %s in all outside the battery at %s, over the %s that practice allows", side, volts(lost), amps(s.Amps), volts(catalog.SideLimitVolts))
	if most.UnderLoad.Lost > lost/2 && !most.Spread {
		return fmt.Sprintf("%s; %s of it at %s (%s): %s, as in the healthy circuit, so it is how the circuit is made: small for this load.",
			told, volts(most.UnderLoad.Lost), most.named(), most.Says, ohmsText(most.UnderLoad.Ohms))
	}
	if most.UnderLoad.Lost > lost/2 {
		return fmt.Sprintf("%s; %s of it along %s, as in the healthy circuit: long or thin wire for this load.", told, volts(most.UnderLoad.Lost), most.Place)
	}
	return told + ", with no single bad step: long or thin wire for this load."
}

// describe says what a place of the path is, and whether its loss is spread along a length.
func describe(c *circuit.Circuit, place string) (says string, spread bool) {
	if w := c.Wire(place); w != nil {
		return sentence(w.Colour, w.Size()), true
	}
	switch {
	case c.Terminal(place) != nil:
		return "terminal", false
	case c.Splice(place) != nil:
		return "splice", false
	case c.Stud(place) != nil:
		return "stud", false
	}
	if p := c.Part(place); p != nil {
		switch p.Kind.Name {
		case "battery", "generator":
			return "inside", false
		case "fuse", "fusible link":
			return amps(p.Value("rating")), false
		}
		return p.Kind.Name, false
	}
	return "frame", true
}
