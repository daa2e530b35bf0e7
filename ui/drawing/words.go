package drawing

// This file holds the words beside symbols and wires.

import (
	"math"
	"strconv"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
)

// value writes a quantity without more digits than it has.
func value(v float64, d quantity.Dimension) string {
	return quantity.Format(math.Round(v*1e4)/1e4, d, 0)
}

// detail is the second line beside a symbol.
func (s *symbol) detail() string {
	p := s.part
	if p == nil {
		return ""
	}
	switch s.shape {
	case fuse, fusibleLink:
		return value(p.Value("rating"), quantity.Amperes)
	case lamp:
		return p.Text("bulb")
	case battery, generator:
		return value(p.Value("volts"), quantity.Volts)
	case heater:
		return value(p.Value("power"), quantity.Watts)
	case resistor, terminator:
		return value(p.Value("resistance"), quantity.Ohms)
	case motor:
		return value(p.Value("draws"), quantity.Amperes)
	case contact:
		if p.Kind.Name == "switch" {
			return longest(positions(p))
		}
		return "at rest" // or pulled in
	}
	return ""
}

// positions lists the position names of a switch.
func positions(p *circuit.Part) []string {
	names := make([]string, len(p.Throws))
	for i, t := range p.Throws {
		names[i] = t.Name
	}
	return names
}

func longest(words []string) string {
	best := ""
	for _, w := range words {
		if textWidth(w, 12, false) > textWidth(best, 12, false) {
			best = w
		}
	}
	return best
}

// labels of a wire, the fullest first. Half wires are labelled once.
func wireLabels(w *circuit.Wire) []string {
	size := ""
	if w.AreaMM2 > 0 {
		size = trim(w.AreaMM2)
	}
	var all []string
	add := func(parts ...string) {
		var kept []string
		for _, p := range parts {
			if p != "" {
				kept = append(kept, p)
			}
		}
		if words := strings.Join(kept, "\u00a0"); words != "" && (len(all) == 0 || all[len(all)-1] != words) {
			all = append(all, words)
		}
	}
	name := w.Name
	if strings.Contains(name, "~") {
		name = ""
	}
	add(name, w.Colour, size)
	add(w.Colour, size)
	if w.Colour != "" {
		add(w.Colour)
	}
	return all
}

// trim writes a cross-section as people do: 0.5, 1.0, 2.5, 16.
func trim(mm2 float64) string {
	text := strconv.FormatFloat(math.Round(mm2*100)/100, 'f', -1, 64)
	if mm2 < 5 && !strings.Contains(text, ".") {
		text += ".0"
	}
	return text
}
