package command

// This file reads --trigger.

import (
	"fmt"
	"slices"
	"strings"

	"underload/circuit/quantity"
	"underload/circuit/spelling"
	"underload/sim"
	"underload/sim/record"
)

// hang is what --trigger says.
type hang struct {
	channel int // -1: on a cue
	slope   record.Slope
	level   float64
	cue     string
}

// watcher tells whether something can be watched.
type watcher interface {
	Watch(text string) (sim.Channel, error)
}

// hung reads --trigger: a channel that falls or rises through a level, or words that a cue holds.
func hung(text string, channels []record.Channel, r watcher) (hang, error) {
	for words, slope := range map[string]record.Slope{falls: record.Falling, rises: record.Rising} {
		name, level, ok := strings.Cut(text, words)
		if !ok {
			continue
		}
		var names []string
		for i, ch := range channels {
			if ch.Name == name {
				v, err := levelOf(ch, level)
				if err != nil {
					return hang{}, fmt.Errorf("--trigger %q: %w", text, err)
				}
				return hang{channel: i, slope: slope, level: v}, nil
			}
			names = append(names, ch.Name)
		}
		hint := "watched are " + strings.Join(names, ", ")
		if near, ok := spelling.Nearest(name, names); ok {
			hint = "did you mean " + near + "?"
		} else if ch, err := r.Watch(name); err == nil {
			hint = fmt.Sprintf("add --watch %q", ch.Name)
		}
		return hang{}, fmt.Errorf("--trigger %q: %s is not watched: %s", text, name, hint)
	}
	if meant := throughLevel(text, r); meant != "" {
		return hang{}, fmt.Errorf("--trigger %q: a level is written %q", text, meant)
	}
	return hang{channel: -1, cue: text}, nil
}

// What stands between a channel and the level of a trigger.
const falls, rises = " falls through ", " rises through "

// throughLevel is a trigger as it has to be written, where the words begin with what can be watched and end with a level,
// as no cue does; else nothing.
func throughLevel(text string, r watcher) string {
	words := strings.Fields(strings.NewReplacer("<", " < ", ">", " > ").Replace(text))
	for from := 1; from < len(words); from++ { // the level is what is left of the words
		level := strings.Join(words[from:], " ")
		if !strings.ContainsAny(level[:1], "0123456789.-") {
			continue
		}
		for n := min(3, from-1); n > 0; n-- {
			ch, err := r.Watch(strings.Join(words[:n], " "))
			if err != nil {
				continue
			}
			if _, err := levelOf(record.Channel{Name: ch.Name, Unit: ch.Unit, Words: ch.Words}, level); err != nil {
				return ""
			}
			slope := rises
			for _, said := range words[n:from] {
				if slices.Contains([]string{"below", "under", "less", "falls", "drops", "dips", "sinks", "down", "<"}, said) {
					slope = falls
				}
			}
			return ch.Name + slope + level
		}
	}
	return ""
}

// levelOf reads a level in a channel's unit, or the word of a mode.
func levelOf(ch record.Channel, text string) (float64, error) {
	if len(ch.Words) > 0 {
		if i := slices.Index(ch.Words, text); i >= 0 {
			return float64(i), nil
		}
		return 0, unknown("mode", text, ch.Words)
	}
	d := map[string]quantity.Dimension{"V": quantity.Volts, "A": quantity.Amperes, "°C": quantity.Celsius, "%": quantity.Percent}[ch.Unit]
	if ch.Unit == "" || ch.Unit == "rad/s" {
		d = quantity.Number
	}
	v, err := quantity.Parse(text, d)
	if d == quantity.Percent {
		v *= 100
	}
	return v, err
}
