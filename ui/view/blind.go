package view

// This file says what of a staircase may be drawn: in a blind case only what lies between points that were probed.

import (
	"strings"

	"underload/sim/meter"
)

// shownStairs is the staircase as it may be shown, or nil.
func (v *View) shownStairs(s *state) *meter.Staircase {
	if s.live.stairs == nil {
		return nil
	}
	shown := *s.live.stairs
	if !s.blind() {
		return &shown
	}
	shown.Steps = v.blindSteps(s, shown)
	shown.Verdict, shown.State = "", ""
	if v.c.Part(shown.Load) != nil { // a part's own amps are for the clamp to find
		shown.Amps, shown.LightAmps, shown.HealthyAmps = 0, 0, 0
	}
	if s.live.climbed != nil && s.with == "test-lamp" && !s.taken {
		for i := range shown.Steps {
			st := &shown.Steps[i]
			st.UnderLoad = meter.Level{Missing: true}
			st.Worst = false
		}
		shown.Amps = 0
	}
	return &shown
}

// blindSteps joins the steps between two probed points into one, and hides what lies beyond the outermost.
func (v *View) blindSteps(s *state, stairs meter.Staircase) []meter.Step {
	known := v.knownEdges(s, stairs)
	var steps []meter.Step
	from := 0
	for i := range stairs.Steps {
		if !known[i+1] && i < len(stairs.Steps)-1 {
			continue
		}
		group := stairs.Steps[from : i+1]
		steps = append(steps, together(group, known[from] && known[i+1]))
		from = i + 1
	}
	markWorst(steps)
	return steps
}

// knownEdges tells of the edges between steps, the first before all of them, which have been probed.
func (v *View) knownEdges(s *state, stairs meter.Staircase) []bool {
	known := make([]bool, len(stairs.Steps)+1)
	for i, st := range stairs.Steps {
		if s.probed[st.Point] {
			known[i+1] = true
		}
		if st.Load && s.live.climbed != nil && v.c.Part(st.Place) == nil { // a lamp between the leads
			known[i], known[i+1] = true, true
		}
	}
	return known
}

// together makes one step of several.
func together(group []meter.Step, known bool) meter.Step {
	first, last := group[0], group[len(group)-1]
	one := first
	one.Worst = false
	if len(group) > 1 {
		one.Place, one.Says, one.Spread = between(first.Place, last.Place), "between points", true
	}
	for _, st := range group[1:] {
		one.Load = one.Load || st.Load
		add(&one.Light, st.Light)
		add(&one.UnderLoad, st.UnderLoad)
		add(&one.HealthyLight, st.HealthyLight)
		add(&one.Healthy, st.Healthy)
	}
	one.Point = last.Point
	if !known {
		one.Light, one.UnderLoad = meter.Level{Missing: true}, meter.Level{Missing: true}
		one.Says = "not probed"
	}
	return one
}

// between names what lies from one place to another; a wire without a name of its own goes by its end.
func between(first, last string) string {
	from, _, _ := strings.Cut(first, "~")
	if _, end, unnamed := strings.Cut(last, "~"); unnamed {
		last, _, _ = strings.Cut(end, "#")
	}
	return from + " to " + last
}

func add(to *meter.Level, l meter.Level) {
	to.Volts = l.Volts
	to.Lost += l.Lost
	to.Ohms += l.Ohms
	to.Amps = max(to.Amps, l.Amps)
	to.Missing = to.Missing || l.Missing
}

// markWorst marks what loses most beyond a sound circuit, as far as it is known.
func markWorst(steps []meter.Step) {
	const cliffVolts = 0.020 // as sim/meter has it
	worst, most := -1, cliffVolts
	for i, st := range steps {
		if st.Load || st.UnderLoad.Missing {
			continue
		}
		if excess := st.Excess(); excess > most {
			worst, most = i, excess
		}
	}
	if worst >= 0 {
		steps[worst].Worst = true
	}
}
