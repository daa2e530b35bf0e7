package sim

// This file is what is done to a circuit in motion. Every act wires the circuit anew, as it then is; what parts and joints
// remember, their heat and charge and mode, goes over.

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"underload/circuit/quantity"
	"underload/circuit/spelling"
)

// act is one thing to do.
type act struct {
	seconds     float64
	number      int
	verb, place string
	text        string // as it was written
}

// actVerbs are the words an act may begin with; anything else is a setting.
var actVerbs = []string{"apart", "together", "break", "repair", "clean", "replace", "reseat", "wiggle", "still", "disturb"}

// reseatSeconds is how long a connector is apart while it is reseated.
const reseatSeconds = 1.0

// read takes an act apart and refuses what can be refused beforehand, by trying it on a copy.
func (r *Run) read(text string) (act, error) {
	text = strings.TrimSpace(text)
	verb, place, _ := strings.Cut(text, " ")
	place = strings.TrimSpace(place)
	a := act{text: text, verb: "set", place: text}
	if slices.Contains(actVerbs, verb) {
		if place == "" {
			return act{}, fmt.Errorf("%q: say what to %s", text, verb)
		}
		a.verb, a.place = verb, place
	} else if !strings.Contains(text, "=") {
		if near, ok := spelling.Nearest(verb, actVerbs); ok {
			return act{}, fmt.Errorf("%q is no act: did you mean %s?", text, near)
		}
		return act{}, fmt.Errorf("%q is no act: write NAME=STATE, such as KEY=run, or one of %s and a place", text, strings.Join(actVerbs, ", "))
	}
	plan, shaken := r.age.plan.clonePlan(), maps.Clone(r.age.shaken)
	return a, a.apply(plan, shaken)
}

// perform does an act at the present instant.
func (r *Run) perform(a act) error {
	if a.verb == "disturb" {
		return r.nudge(a.place)
	}
	before := r.acts
	if a.verb == "reseat" {
		r.schedule(act{seconds: r.Seconds() + reseatSeconds, verb: "together", place: a.place, text: "together " + a.place})
	}
	err := r.change(a.apply)
	if err != nil {
		r.acts = before
	}
	return err
}

// nudge disturbs contacts, which changes nothing of the plan.
func (r *Run) nudge(place string) error {
	r.age.disturb(place)
	if err := r.age.run.Settle(); err != nil {
		return r.stuck(err)
	}
	r.age.feel()
	r.senses.notice(r)
	r.trail.leave(r)
	return nil
}

// change wires the circuit anew after something is changed. On an error all is as before.
func (r *Run) change(apply func(plan *Bench, shaken map[string]float64) error) error {
	r.fates()
	was := r.age
	plan, shaken := was.plan.clonePlan(), maps.Clone(was.shaken)
	for w := range plan.glowing {
		plan.glowing[w] = r.warm.celsius(w, was.w.ambient, r.Seconds())
	}
	if err := apply(plan, shaken); err != nil {
		return err
	}
	a := newAge(plan, shaken)
	if err := a.follow(was, r.options, renewed(was.plan, plan)); err != nil {
		return r.stuck(a.placed(err))
	}
	r.age = a
	r.warm.move(was.w.ambient - a.w.ambient)
	r.warm.read(r)
	r.senses.notice(r)
	r.trail.leave(r)
	return nil
}

// renewed reports which elements are others than before an act, so that they remember nothing. Elements of a part are
// called after it.
func renewed(before, after *Bench) func(key string) bool {
	other := map[string]bool{}
	for _, p := range before.c.Parts {
		was, is := before.states[p], after.states[p]
		if was.Blown != is.Blown || was.RatingAmps != is.RatingAmps || was.Flaw.Dead != is.Flaw.Dead ||
			was.Flaw.Volts != is.Flaw.Volts || was.Flaw.Ohms != is.Flaw.Ohms {
			other[p.Name] = true
		}
	}
	return func(key string) bool {
		name, _, _ := strings.Cut(key, " ")
		return other[name]
	}
}

// apply does an act to a plan.
func (a act) apply(plan *Bench, shaken map[string]float64) error {
	switch a.verb {
	case "set":
		return plan.set(a.text)
	case "apart", "together":
		return plan.plug(a.place, a.verb == "apart")
	case "break":
		faults, err := plan.broken(a.place)
		if err == nil {
			plan.take(faults)
		}
		return err
	case "repair", "clean", "replace":
		faults, err := plan.mended(a.verb, a.place)
		if err == nil {
			plan.take(faults)
		}
		return err
	case "disturb":
		_, err := plan.terminalsOf(a.place)
		return err
	case "reseat":
		if _, err := plan.wipe(a.place); err != nil {
			return err
		}
		return plan.plug(a.place, true)
	}
	return shake(plan, shaken, a.verb, a.place)
}

// shake begins or ends the wiggling of a connector or part.
func shake(plan *Bench, shaken map[string]float64, verb, text string) error {
	place, much, given := strings.Cut(text, " ")
	if plan.c.Connector(place) == nil && plan.c.Part(place) == nil {
		return plan.unknown(place, "connector or part")
	}
	if verb == "still" {
		delete(shaken, place)
		return nil
	}
	strength := 1.0
	if given {
		v, err := quantity.Parse(much, quantity.Percent)
		if err != nil || v <= 0 || v > 1 {
			return fmt.Errorf("%q: how hard is told in percent, up to 100 %%", much)
		}
		strength = v
	}
	shaken[place] = strength
	return nil
}
