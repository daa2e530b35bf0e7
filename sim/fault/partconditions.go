package fault

// This file reads the conditions of whole parts: dead, shorted, stuck, worn, blown, weak.

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"underload/circuit/quantity"
	"underload/sim/part"
)

func (t *target) flaw(change func(*part.Flaw)) func(*Overlay) {
	return func(o *Overlay) {
		flaw := o.Flaws[t.part]
		change(&flaw)
		o.Flaws[t.part] = flaw
	}
}

func dead(f *Fault, t *target, value string) error {
	f.apply = t.flaw(func(w *part.Flaw) { w.Dead = true })
	return none(value)
}

// shortedOhms is a sensor with a short between its supply and its ground, where the fault does not say (common practice,
// no source).
const shortedOhms = 8

func shorted(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, shortedOhms)
	if err != nil {
		return err
	}
	f.Ohms = ohms
	f.apply = t.flaw(func(w *part.Flaw) { w.ShortOhms = ohms })
	return nil
}

// heldAwake is a module that something keeps from going to sleep.
func heldAwake(f *Fault, t *target, value string) error {
	f.apply = t.flaw(func(w *part.Flaw) { w.HeldAwake = true })
	return none(value)
}

// wakesEverySeconds is how often a module wakes that should sleep, where the fault does not say (common practice, no
// source).
const wakesEverySeconds = 900

// wakesEvery reads "20 min": a module that wakes by itself so often, and falls asleep again each time.
func wakesEvery(f *Fault, t *target, value string) error {
	seconds := float64(wakesEverySeconds)
	if value != "" {
		v, err := quantity.Parse(value, quantity.Seconds)
		if err != nil {
			return err
		}
		if v < 1 {
			return fmt.Errorf("%q: a second or more is wanted, such as \"20 min\"", value)
		}
		seconds = v
	}
	f.apply = t.flaw(func(w *part.Flaw) { w.WakesEvery = seconds })
	return nil
}

// diodeOhms is a generator's leaking diode, from its B+ to its case, where the fault does not say: some tenths of an
// ampere (common practice, no source).
const diodeOhms = 28

func leakyDiode(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, diodeOhms)
	if err != nil {
		return err
	}
	f.Ohms = ohms
	f.apply = t.flaw(func(w *part.Flaw) { w.ShortOhms = ohms })
	return nil
}

// slipAmps is what a generator with a slipping belt still gives, where the fault does not say (common practice, no source).
const slipAmps = 15

func slips(f *Fault, t *target, value string) error {
	amps := float64(slipAmps)
	if value != "" {
		v, err := quantity.Parse(value, quantity.Amperes)
		if err != nil {
			return err
		}
		if v <= 0 {
			return fmt.Errorf("%q: amps above zero are wanted, such as \"15 A\"", value)
		}
		amps = v
	}
	f.apply = t.flaw(func(w *part.Flaw) { w.LimitAmps = amps })
	return nil
}

func coilOpen(f *Fault, t *target, value string) error {
	f.apply = t.flaw(func(w *part.Flaw) { w.CoilOpen = true })
	return none(value)
}

// stiffFactor is what a stiff motor draws against a sound one, where the fault does not say (common practice, no source).
const stiffFactor = 1.5

func stiff(f *Fault, t *target, value string) error {
	factor := stiffFactor
	if value != "" {
		v, err := strconv.ParseFloat(strings.TrimPrefix(value, "x"), 64)
		if err != nil || v <= 1 || v > 20 {
			return fmt.Errorf("%q: how many times the amps are wanted, such as 1.5", value)
		}
		factor = v
	}
	f.apply = t.flaw(func(w *part.Flaw) { w.AmpsFactor = factor })
	return nil
}

// seized is a motor that cannot turn: its own bearings, or the engine, pump or fan that it should turn.
func seized(f *Fault, t *target, value string) error {
	f.apply = t.flaw(func(w *part.Flaw) { w.Seized = true })
	return none(value)
}

func wornContact(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, condition("burnt").CentralOhms)
	if err != nil {
		return err
	}
	f.Ohms = ohms
	f.apply = t.flaw(func(w *part.Flaw) { w.ContactOhms = ohms })
	return nil
}

func stuckRelay(f *Fault, t *target, value string) error {
	if value == "" {
		return errors.New("say how it sticks: open or closed")
	}
	if value != "open" && value != "closed" {
		return fmt.Errorf("%q: a relay sticks open or closed", value)
	}
	f.apply = t.flaw(func(w *part.Flaw) { w.StuckAt = value })
	return nil
}

func stuckSwitch(f *Fault, t *target, value string) error {
	var names []string
	for _, throw := range t.part.Throws {
		if throw.Name == value {
			f.apply = t.flaw(func(w *part.Flaw) { w.StuckAt = value })
			return nil
		}
		names = append(names, throw.Name)
	}
	if value == "" {
		return fmt.Errorf("say in which position it sticks: %s", strings.Join(names, ", "))
	}
	return fmt.Errorf("%q is no position of %s: it has %s", value, t.name, strings.Join(names, ", "))
}

// stuckOutput reads "PIN": a module's output that stays on whatever the module does.
func stuckOutput(f *Fault, t *target, value string) error {
	var names []string
	for _, out := range t.part.Module.Outputs {
		if out.Pin == value {
			f.apply = t.flaw(func(w *part.Flaw) { w.StuckAt = value })
			return nil
		}
		names = append(names, out.Pin)
	}
	if len(names) == 0 {
		return fmt.Errorf("%s has no outputs to stick", t.name)
	}
	if value == "" {
		return fmt.Errorf("say which output sticks: %s", strings.Join(names, ", "))
	}
	return fmt.Errorf("%q is no output of %s: it has %s", value, t.name, strings.Join(names, ", "))
}

func blown(f *Fault, t *target, value string) error {
	f.Ohms = open
	f.apply = func(o *Overlay) { o.Blown[t.part] = true }
	return none(value)
}

func wrongFuse(f *Fault, t *target, value string) error {
	if value == "" {
		return errors.New("say what the fuse is rated for, such as \"25 A\"")
	}
	amps, err := quantity.Parse(value, quantity.Amperes)
	if err != nil {
		return err
	}
	if amps <= 0 || amps > 1000 {
		return fmt.Errorf("%q: a fuse rating such as \"25 A\" is wanted", value)
	}
	f.apply = func(o *Overlay) { o.RatingAmps[t.part] = amps }
	return nil
}

// A worn battery half full, where the fault does not say (common practice, no source).
const weakVolts, weakOhms = 11.9, 0.090

// weakBattery reads rested volts and inner resistance, "11.9 V 90 mohm"; the resistance, or both, may be left out.
func weakBattery(f *Fault, t *target, value string) error {
	volts, inner, ok := weakVolts, weakOhms, value == ""
	words := strings.Fields(value)
	for cut := 1; cut <= len(words) && !ok; cut++ {
		var err error
		if volts, err = quantity.Parse(strings.Join(words[:cut], " "), quantity.Volts); err != nil {
			continue
		}
		inner, err = ohms(strings.Join(words[cut:], " "), weakOhms)
		ok = err == nil
	}
	if !ok || volts <= 0 {
		return fmt.Errorf("%q: rested volts and inner resistance are wanted, such as \"11.9 V 90 mohm\"", value)
	}
	f.apply = t.flaw(func(w *part.Flaw) { w.Volts, w.Ohms = volts, inner })
	return nil
}
