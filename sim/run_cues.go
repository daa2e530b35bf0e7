package sim

// This file is what a person beside the vehicle would notice: clicks, lamps, motors, a display that starts again, a smell.

import (
	"fmt"
	"math"
	"slices"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim/live"
	"underload/sim/part"
)

// Cue is something that a person would notice, in words.
type Cue struct {
	Seconds float64
	Place   string // K2, F7, PC1, C14.4
	Says    string // "K2 clicks in"
}

// Cues is what a person would have noticed so far, in the order of time.
func (r *Run) Cues() []Cue { return r.cues }

// What a person notices. All are common practice, no source; below which share of its light at 12 V a lamp is dark, and from
// which on it is bright, is as for instruments.
const (
	flarePercent = 240.0 // of its light at 12 V
	eyeSeconds   = 0.15  // an eye sees no state that is shorter
	earSeconds   = 0.25  // over which an ear hears how fast a motor turns, whatever the strokes of an engine make of it
	slowSeconds  = 1     // and it is slow only if it goes on being so
	smellAgain   = 20    // kelvin that a place must cool before its smell is told anew
	tellAgain    = 0.2   // seconds within which the same is not told twice
	lampMoves    = 5     // kelvin of a filament's temperature that make one look again
)

// Where plastic begins to smell: the housing of a terminal, the insulation of a wire; and a fuse, whose metal is that hot
// long before its body is.
const (
	smellCelsius     = 130
	fuseSmellCelsius = 220
)

const (
	smells   = "smells of hot plastic"
	resets   = "resets"
	burnsOut = "burns out"
)

// mostCues is from where on what comes again soon is told no more.
const mostCues = 20000

// look is how a lamp looks, or a motor sounds.
type look int

const (
	dark look = iota
	dim
	bright
	flaring
	still // and from here on the paces of a motor
	slow  = still + look(part.Slow)
)

var lookSays = [...]string{"goes dark", "glows dimly", "is bright", "flares", "stops"}

// says is how a load looks or sounds, in words.
func (l look) says(p *circuit.Part) string {
	if l > still {
		return part.Pace(l - still).Says(p)
	}
	return lookSays[l]
}

// loadSense is what is known of a lamp or motor.
type loadSense struct {
	told, seen look
	since      float64 // seconds, when it began to look as seen
	celsius    float64 // of a lamp, when last looked at
	turns      float64 // of a motor, share of its speed as heard
}

// fate is what has become of a part.
type fate struct {
	pulledIn, blown bool
	mode            part.Mode
	resets          float64
}

// senses is what was noticed last. Snapshots share its slices, so that one is never changed once it is there; loads,
// which change all the time, are copied.
type senses struct {
	fates  []fate
	loads  []loadSense
	smells []string // the places that smell
	last   float64  // seconds
}

func (s *senses) clone() senses { return senses{s.fates, slices.Clone(s.loads), s.smells, s.last} }

func (r *Run) fateOf(p *circuit.Part, v live.View) fate {
	s := r.age.plan.states[p]
	f := fate{pulledIn: s.PulledIn, blown: s.Blown, mode: s.Mode}
	if reading, ok := r.age.parts[p].Readings["resets"]; ok {
		f.resets = reading.Read(v)
	}
	return f
}

// begin takes in how things are, without a word.
func (s *senses) begin(r *Run) {
	r.fates()
	v := view{r.age.run.Now()}
	for _, p := range r.Circuit().Parts {
		s.fates = append(s.fates, r.fateOf(p, v))
		l := loadSense{celsius: math.Inf(-1)}
		switch p.Kind.Name {
		case "lamp":
			l.seen = r.looks(p, v)
		case "motor":
			l.turns = r.turns(p, v)
			l.seen = still + look(part.PaceAt(l.turns))
		}
		l.told = l.seen
		s.loads = append(s.loads, l)
	}
	for _, h := range r.age.hot {
		if h.heat.Read(v) > h.smells {
			s.smells = append(s.smells, h.place)
		}
	}
}

// notice compares with what was noticed last, and tells.
func (s *senses) notice(r *Run) {
	v := view{r.age.run.Now()}
	happened := len(r.age.run.Fired()) > 0
	if happened {
		r.fates()
	}
	for i, p := range r.Circuit().Parts { // they have changed on the way, the rest just now
		switch p.Kind.Name {
		case "lamp":
			s.lamp(r, p, &s.loads[i], v)
		case "motor":
			s.motor(r, p, &s.loads[i], v)
		}
	}
	for i, p := range r.Circuit().Parts {
		if happened && r.age.parts[p].Fate != nil {
			s.fate(r, p, i, v)
		}
	}
	s.last = r.Seconds()
	for _, h := range r.age.hot {
		s.smell(r, h, v)
	}
}

// tell adds a cue. What took an eye its time to see is not told before what was told meanwhile.
func (r *Run) tell(seconds float64, place, says string) {
	if n := len(r.cues); n > 0 {
		seconds = max(seconds, r.cues[n-1].Seconds)
	}
	if says == resets && len(r.cues) < mostCues { // every one counts
		r.cues = append(r.cues, Cue{seconds, place, place + " " + says})
		return
	}
	for i := len(r.cues) - 1; i >= 0 && seconds-r.cues[i].Seconds < tellAgain; i-- {
		if r.cues[i].Place == place && r.cues[i].Says == place+" "+says {
			return
		}
	}
	r.cues = append(r.cues, Cue{seconds, place, place + " " + says})
}

// fate tells what has become of a part.
func (s *senses) fate(r *Run, p *circuit.Part, i int, v live.View) {
	was, is, now := s.fates[i], r.fateOf(p, v), r.Seconds()
	if was == is {
		return
	}
	switch {
	case was.pulledIn != is.pulledIn && is.pulledIn:
		r.tell(now, p.Name, "clicks in")
	case was.pulledIn != is.pulledIn:
		r.tell(now, p.Name, "clicks out")
	case !was.blown && is.blown && p.Kind.Name == "lamp":
		r.tell(now, p.Name, burnsOut)
	case !was.blown && is.blown:
		r.tell(now, p.Name, "blows")
	case is.resets > was.resets:
		r.tell(now, p.Name, resets)
	case was.mode != is.mode:
		if says := modeSays(was.mode, is.mode); says != "" {
			r.tell(now, p.Name, says)
		}
	}
	s.fates = slices.Clone(s.fates)
	s.fates[i] = is
}

func modeSays(was, is part.Mode) string {
	switch is {
	case part.Booting:
		return "boots"
	case part.Awake:
		return "is up"
	case part.Hung:
		return "hangs"
	case part.Asleep:
		if was == part.Awake || was == part.Hung || was == part.Booting {
			return "falls asleep"
		}
	}
	return ""
}

// looks is how a lamp looks to an eye.
func (r *Run) looks(p *circuit.Part, v live.View) look {
	reading := r.age.parts[p].Readings["light"]
	bulb := part.Bulb(p)
	usual := 100 * part.Filament(bulb, r.age.w.ambient).LightShare(bulb.LightVolts())
	switch percent := 100 * reading.Read(v) / usual; {
	case percent < 100*catalog.DimAbove:
		return dark
	case percent < 100*catalog.BrightAbove:
		return dim
	case percent < flarePercent:
		return bright
	}
	return flaring
}

func (s *senses) lamp(r *Run, p *circuit.Part, l *loadSense, v live.View) {
	celsius := r.age.parts[p].Readings["heat"].Read(v)
	if math.Abs(celsius-l.celsius) >= lampMoves {
		l.celsius = celsius
		if seen := r.looks(p, v); seen != l.seen {
			changed := r.sawChange(p, s.last, l.seen)
			s.see(r, p, l, changed) // it may have looked so for long enough since the last step
			l.seen, l.since = seen, changed
		}
	}
	s.see(r, p, l, r.Seconds())
}

func (r *Run) turns(p *circuit.Part, v live.View) float64 {
	if turns := r.age.parts[p].Turns; turns != nil {
		return turns(v)
	}
	return 0
}

// motor hears how fast a motor turns on the average, and that it stands.
func (s *senses) motor(r *Run, p *circuit.Part, l *loadSense, v live.View) {
	now, turns := r.Seconds(), r.turns(p, v)
	l.turns += (turns - l.turns) * -math.Expm1((s.last-now)/earSeconds)
	pace := max(part.PaceAt(l.turns), part.Slow)
	if part.PaceAt(turns) == part.Stands {
		pace, l.turns = part.Stands, turns
	}
	is := still + look(pace)
	s.see(r, p, l, now) // it has sounded so for long enough, perhaps, whatever it does now
	if is != l.seen {
		l.seen, l.since = is, now
	}
}

// see tells how a load looks once it has looked so for long enough until a time.
func (s *senses) see(r *Run, p *circuit.Part, l *loadSense, until float64) {
	takes := eyeSeconds
	if l.seen == slow {
		takes = slowSeconds
	}
	if l.seen != l.told && until-l.since >= takes {
		r.tell(l.since, p.Name, l.seen.says(p))
		l.told = l.seen
	}
}

// sawChange is when, since a time at which it looked as before, a load began to look otherwise.
func (r *Run) sawChange(p *circuit.Part, from float64, before look) float64 {
	to := r.Seconds()
	for range 20 {
		middle := from + (to-from)/2
		if r.looks(p, view{r.age.run.Look(middle)}) == before {
			from = middle
		} else {
			to = middle
		}
	}
	return to
}

func (s *senses) smell(r *Run, h hotspot, v live.View) {
	at := slices.Index(s.smells, h.place)
	warm := func(spot hotspot) bool { // a splice has one for each leg
		return spot.place == h.place && spot.heat.Read(v) >= spot.smells-smellAgain
	}
	switch celsius := h.heat.Read(v); {
	case celsius > h.smells && at < 0:
		s.smells = append(slices.Clone(s.smells), h.place)
		r.tell(r.Seconds(), h.place, smells)
	case at >= 0 && !slices.ContainsFunc(r.age.hot, warm):
		s.smells = slices.Delete(slices.Clone(s.smells), at, at+1)
	}
}

// spoken is a time in words.
func spoken(seconds float64) string {
	return fmt.Sprint(quantity.Format(seconds, quantity.Seconds, 4))
}
