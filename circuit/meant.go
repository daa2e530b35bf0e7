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

// coloursMeant are what diagrams write for colours beside the standard's codes.
var coloursMeant = map[string]string{
	"BR": "BN for brown", "BL": "BU for blue or BK for black", "GR": "GN for green or GY for grey", "OR": "OG for orange",
	"VI": "VT for violet", "PU": "VT for violet", "PR": "VT for violet", "YL": "YE for yellow", "YW": "YE for yellow", "WT": "WH for white",
	"LB": "BU for blue", "DB": "BU for blue", "LG": "GN for green", "DG": "GN for green", "TN": "BN for brown",
	"R": "RD for red", "W": "WH for white", "Y": "YE for yellow", "O": "OG for orange", "G": "GN for green or GY for grey", "B": "BK for black, BN for brown or BU for blue",
	"P": "PK for pink or VT for violet", "V": "VT for violet", "GRAY": "GY for grey", "PURPLE": "VT for violet", "TAN": "BN for brown",
}

// metalsMeant are other words for the metals of a wire.
var metalsMeant = map[string]string{"al": "aluminium", "alu": "aluminium", "cu": "copper"}

// askMeant is ask for a word that may be another word for one of those.
func (r *reader) askMeant(word string, meant map[string]string, among []string, otherwise string) string {
	if found, known := meant[strings.ToLower(word)]; known {
		return "Did you mean " + found + "?"
	}
	return r.ask(word, among, otherwise)
}
