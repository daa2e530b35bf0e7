package schema

// This file describes the steps of a path, and what a wire says of itself.

import (
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// steps are the rules for paths, their steps and their wires.
func steps() entries {
	const gap = `[ \t]`
	side := `\.(?:a|b|a-b|b-a)`
	met := name + `(?:\.` + name + `(?:-` + name + "|" + side + ")?)?"
	wire := `wire(?: +` + name + `)? *`
	return entries{
		{"path", &rule{
			Type: "array", MinItems: 2, Items: ref("step"),
			AllOf: []*rule{{PrefixItems: []*rule{{
				Not:     &rule{AnyOf: []*rule{{Type: "string", Pattern: "^wire(?: |$)"}, {Type: "object"}}},
				Message: "a path begins where its first wire comes from",
			}}}},
		}},
		{"step", &rule{
			Description: "F7 through a part, PC1.8 a terminal, K2.30-87 through two of them, C14.4 a cavity, S1 a splice, G2 a ground, or a wire",
			Type:        append([]string{"object"}, word...), Minimum: &zero,
			Pattern: "^(?:" + met + "|" + wire + ")$", PatternMessage: "a step is a name, or a wire: F7, C14.4, K2.30-87, or wire: RD 1.0 mm2 2.8 m",
			MinProperties: 1, MaxProperties: 1,
			PropertyNames: &rule{Pattern: "^" + wire + "$", PatternMessage: "only a wire has something after a colon: wire: RD 1.0 mm2 2.8 m, or wire W7: RD"},
			Others:        ref("wire"),
		}},
		{"wire", wireRule(gap)},
	}
}

// wireRule says what stands after "wire": words in any order, each kind of them once.
func wireRule(gap string) *rule {
	var codes []string
	for _, c := range catalog.Colours() {
		codes = append(codes, c.Code)
	}
	code := "(?:" + strings.Join(codes, "|") + ")"
	colour := "(?:GNYE|" + code + "(?:/" + code + ")?)"
	metal := "(?:" + strings.Join(circuit.Metals(), "|") + ")"
	size, length, ohms := quantity.WordPattern(quantity.SquareMillimetres), quantity.WordPattern(quantity.Metres), quantity.WordPattern(quantity.Ohms)
	words := "^(?:(?:^|" + gap + "+)(?:" + strings.Join([]string{colour, metal, size, length, ohms}, "|") + "))*" + gap + "*$"
	after := func(first, second string) *rule {
		return &rule{Type: "string", Pattern: "(?:^|" + gap + ")" + first + gap + "(?:.*" + gap + ")?" + second + "(?:" + gap + "|$)"}
	}
	never := func(message string, pairs ...*rule) *rule {
		return &rule{Not: &rule{AnyOf: pairs}, Message: message}
	}
	other := "(?:" + strings.Join([]string{metal, size, length}, "|") + ")"
	return &rule{
		Description: "colour, size, length and metal in any order, or colour and ohms: RD/GY 1.0 mm2 2.8 m",
		Type:        []string{"string", "null"},
		Pattern:     words,
		PatternMessage: "a wire says a colour (" + strings.Join(codes, ", ") + ", a stripe after a slash), a size like 0.75 mm2 or 18 AWG, " +
			"a length like 2.4 m or 8 ft, and copper or aluminium; or a colour and ohms like 15 mohm",
		Examples: []string{"RD 1.0 mm2 2.8 m", "RD/GY 18 AWG 6 ft", "BK 15 mohm"},
		AllOf: []*rule{
			never("a wire has one colour; a stripe stands after a slash, as in RD/WH", after(colour, colour)),
			never("a wire has one size", after(size, size)),
			never("a wire has one length", after(length, length)),
			never("a wire has one metal", after(metal, metal)),
			never("a wire with its own ohms has no size, length or metal", after(ohms, ohms), after(ohms, other), after(other, ohms)),
		},
	}
}
