package command

// This file keeps account of how long a module stood below a level that matters while something fed it. With the key off
// its volts are gone too, and that is no news.

import (
	"strings"

	"underload/sim"
	"underload/ui/plot"
)

// feeding is which modules have a feed from a moment on.
type feeding struct {
	seconds float64
	fed     map[string]bool
}

// leastFeedVolts is what a module has to get, once all is at rest, to be called fed.
const leastFeedVolts = 0.5

// refillSeconds is how long a module that is fed again has until its low volts count: a relay has to pull in first, and
// the module to fill what it stores.
const refillSeconds = 0.050

// reseatSeconds is how long a run has a connector apart while it is reseated.
const reseatSeconds = 1.0

// feeds does what --do says on a bench at rest, and looks after each act which modules are fed. A contact that opens by
// itself, or is shaken, does not show there: the volts that are then missing do count.
func (t *tracing) feeds(b *sim.Bench) ([]feeding, error) {
	own, err := b.Clone()
	if err != nil {
		return nil, err
	}
	all := []feeding{{0, fedNow(own)}}
	for _, d := range t.dos {
		if place, ok := strings.CutPrefix(d.act, "reseat "); ok {
			off, err := own.Clone()
			if err != nil {
				return nil, err
			}
			if off.Apart(strings.TrimSpace(place)) == nil {
				all = append(all, feeding{d.seconds, fedNow(off)})
				d.seconds += reseatSeconds
			}
		}
		if isPut(d.act) || atRest(own, d.act) != nil { // what cannot be done at rest changes no feed
			continue
		}
		all = append(all, feeding{d.seconds, fedNow(own)})
	}
	return all, nil
}

// atRest does to a bench what an act does to a run. What only a run can do is an error.
func atRest(b *sim.Bench, act string) error {
	verb, place, _ := strings.Cut(act, " ")
	switch verb {
	case "apart":
		return b.Apart(place)
	case "together":
		return b.Together(place)
	case "break":
		return b.Break(place)
	}
	if strings.Contains(act, "=") {
		return b.Set(act)
	}
	return b.Mend(act)
}

func fedNow(b *sim.Bench) map[string]bool {
	fed := map[string]bool{}
	for _, m := range b.Modules() {
		fed[m.Part.Name] = m.SupplyVolts >= leastFeedVolts
	}
	return fed
}

// below is how long a level was undercut, while something fed the module and while nothing did.
func (k *taken) below(l plot.Level, from, to float64) (whileFed, unfed, within float64) {
	all, within := k.rec.Below(l.Channel, l.Value, from, to)
	name := k.rec.Channels()[l.Channel].Name[len(supplyOf):]
	was := true
	for i, f := range k.feeding {
		since, until := f.seconds, to
		if i+1 < len(k.feeding) {
			until = k.feeding[i+1].seconds
		}
		if f.fed[name] && !was {
			since += refillSeconds
		}
		was = f.fed[name]
		if since, until = max(since, from), min(until, to); was && since < until {
			seconds, _ := k.rec.Below(l.Channel, l.Value, since, until)
			whileFed += seconds
		}
	}
	return whileFed, max(0, all-whileFed), within
}
