package circuit

// This file knows the words by which people call kinds and keys that have another name here.

import "strings"

// kindsMeant are other words for a kind of part.
var kindsMeant = map[string]string{
	"solenoid": "resistor", "valve": "resistor", "coil": "resistor", "injector": "resistor", "load": "resistor",
	"pump": "motor", "fan": "motor", "blower": "motor", "winch": "motor", "starter": "motor", "wiper": "motor",
	"bulb": "lamp", "light": "lamp", "headlamp": "lamp", "headlight": "lamp", "filament": "lamp",
	"controller": "module", "ecu": "module", "unit": "module", "computer": "module",
	"breaker": "fuse", "key": "switch", "ignition": "switch", "button": "switch", "heating": "heater", "accumulator": "battery",
}

// keysMeant are other words for the keys of a kind.
var keysMeant = map[string]map[string]string{
	"battery":  {"voltage": "volts", "resistance": "internal"},
	"fuse":     {"amps": "rating", "size": "rating", "rated": "rating"},
	"switch":   {"positions": "throws", "states": "throws", "resistance": "contact"},
	"relay":    {"resistance": "coil"},
	"lamp":     {"watts": "bulb", "power": "bulb", "rating": "bulb", "draws": "bulb"},
	"resistor": {"ohms": "resistance", "coil": "resistance"},
	"heater":   {"watts": "power", "volts": "at"},
	"motor":    {"amps": "draws", "current": "draws", "stall": "stalls at", "volts": "at"},
	"module":   {"draws": "awake", "amps": "awake", "current": "awake", "feed": "supply", "power": "supply", "earth": "ground", "can": "bus", "sleeps": "asleep"},
	"socket":   {"feed": "supply", "power": "supply", "earth": "ground", "can": "bus"},
	"led":      {"amps": "draws", "current": "draws"},
}

// askMeant is ask for a word that may be another word for one of those.
func (r *reader) askMeant(word string, meant map[string]string, among []string, otherwise string) string {
	if found, known := meant[strings.ToLower(word)]; known {
		return "Did you mean " + found + "?"
	}
	return r.ask(word, among, otherwise)
}
