package command

// This file is an instrument put on a circuit in motion, as a --do of trace.

import (
	"errors"
	"fmt"
	"strings"

	"underload/sim"
	"underload/sim/meter"
)

// The words that an instrument is put on and taken off with.
const (
	putWord = "put"
	takeOff = "take off"
)

// put is an instrument to be put on at a time; without a name, one to be taken off.
type put struct {
	seconds float64
	request meter.Request
}

func isPut(act string) bool {
	return act == takeOff || act == putWord || strings.HasPrefix(act, putWord+" ")
}

// plan reads an act with an instrument and tries it on a run of its own, so that what cannot be done is said at once.
func (t *tracing) plan(b *sim.Bench, d due) error {
	p := put{seconds: d.seconds}
	if d.act != takeOff {
		words := strings.Fields(d.act)
		n := len(words)
		switch {
		case n == 3 && words[1] == "clamp":
			p.request = meter.Request{With: words[1], On: words[2]}
		case n < 4:
			return errors.New(`write the instrument and two points, "put test-lamp B1.pos G1", or "put clamp" and a wire`)
		default:
			p.request = meter.Request{With: strings.Join(words[1:n-2], " "), Red: words[n-2], Black: words[n-1], AnyReach: true}
		}
		trial, err := b.Run(sim.RunOptions{MemoryBytes: -1})
		if err != nil {
			return err
		}
		if _, err := meter.Move(trial, b, p.request); err != nil {
			return err
		}
	}
	t.puts = append(t.puts, p)
	return nil
}

// put does it at the present instant.
func (k *taken) put(p put) (err error) {
	k.moving = nil
	if p.request.With == "" {
		return k.run.Attach()
	}
	k.moving, err = meter.Move(k.run, k.bench, p.request)
	return err
}

// left tells what the instrument that is still on shows at the end.
func (k *taken) left() string {
	if k.moving == nil {
		return ""
	}
	r := k.moving.Reading()
	if r.On != "" {
		return fmt.Sprintf("In the end the %s around %s shows %s", r.Instrument, r.On, shows(r))
	}
	return fmt.Sprintf("In the end the %s on %s and %s shows %s", r.Instrument, r.Red, r.Black, shows(r))
}
