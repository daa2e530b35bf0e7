package schema

// This file describes single values: names, pins, words, and numbers with a unit.

import (
	"fmt"
	"strconv"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// name is a name without anchors.
var name = fmt.Sprintf(`[\p{L}\p{Nd}_+]{1,%d}`, circuit.MostNameLetters)

const nameMessage = "a name has letters, digits, _ and + only"

// YAML takes 5, 7.1 and true for numbers and truths where the reader takes the letters that stand there.
var (
	word  = []string{"string", "number", "boolean"}
	label = []string{"string", "integer", "boolean"}
	zero  = 0
)

func at(def string) string { return "#/$defs/" + strings.ReplaceAll(def, " ", "%20") }

func ref(def string) *rule { return &rule{Ref: at(def)} }

// spellings are the values that YAML may make of a word.
func spellings(text string) []any {
	if n, err := strconv.Atoi(text); err == nil {
		return []any{text, n}
	}
	return []any{text}
}

// basics are the rules for names and lists of them.
func basics() entries {
	named := "^" + name + "$"
	return entries{
		{"text", &rule{Type: word, MaxLength: circuit.MostTextLetters}},
		{"name", &rule{Pattern: named, PatternMessage: nameMessage}},
		{"pin", &rule{Type: label, Pattern: named, PatternMessage: nameMessage, Minimum: &zero}},
		{"pins", &rule{
			Type: append([]string{"array", "null"}, label...), Pattern: named, PatternMessage: nameMessage, Minimum: &zero,
			Items: ref("pin"), UniqueItems: true, MaxItems: circuit.MostPins,
		}},
		{"some pins", &rule{
			Type: append([]string{"array"}, label...), Pattern: named, PatternMessage: nameMessage, Minimum: &zero,
			Items: ref("pin"), UniqueItems: true, MinItems: 1, MaxItems: circuit.MostPins,
		}},
		{"two pins", &rule{Type: "array", Items: ref("pin"), UniqueItems: true, MinItems: 2, MaxItems: 2}},
		{"tag", tag()},
		{"tags", &rule{
			AnyOf:   []*rule{ref("tag"), {Type: []string{"array", "null"}, Items: ref("tag"), UniqueItems: true}},
			Message: "tags that bring cautions, like [srs, fuel]",
		}},
		{"throws", throws()},
		{"outputs", &rule{Type: []string{"object", "null"}, PropertyNames: ref("name"), Others: output()}},
		{"bulb", bulb()},
	}
}

// tag is one caution, with what it is put on.
func tag() *rule {
	r := &rule{}
	for _, c := range catalog.Cautions() {
		r.AnyOf = append(r.AnyOf, &rule{Const: c.Tag, Description: c.On})
	}
	return r
}

func output() *rule {
	r := thing(circuit.OutputKeys)
	r.Type = "object"
	return r
}

// throws are a switch's positions, two or more, one of which joins something.
func throws() *rule {
	pair := "^" + name + "-" + name + "$"
	const message = "a pair of terminals like 1-2"
	nothing := &rule{AnyOf: []*rule{{Type: "null"}, {Const: []any{}}}}
	return &rule{
		Type: "object", MinProperties: 2, MaxProperties: circuit.MostThrows, PropertyNames: ref("name"),
		Others: &rule{
			Type: []string{"array", "string", "null"}, Pattern: pair, PatternMessage: message,
			Items: &rule{Type: "string", Pattern: pair, PatternMessage: message},
		},
		AllOf: []*rule{{Not: &rule{Others: nothing}, Message: "the switch joins nothing in any position"}},
	}
}

// bulb is a type out of the catalogue, in any case, or watts, and perhaps 24 V.
func bulb() *rule {
	const of24 = `24\s*[Vv]`
	known := &rule{}
	var types []string
	for _, b := range catalog.Bulbs() {
		known.Enum = append(known.Enum, spellings(b.Name)...)
		named := strings.Join(strings.Fields(anyCase(b.Name)), `\s+`)
		types = append(types, strings.ReplaceAll(named, `24\s+[Vv]`, of24))
	}
	types = append(types, quantity.WordPattern(quantity.Watts)+`\s+`+of24)
	return &rule{
		AnyOf: []*rule{
			known,
			{Type: "string", Pattern: `^\s*(?:` + strings.Join(types, "|") + `)\s*$`},
			ref(watts),
		},
		Message: "a lamp type such as P21W, or its watts such as 55 W, and 24 V behind it for one of a 24 V vehicle",
	}
}

func anyCase(text string) string {
	var b strings.Builder
	for _, c := range text {
		if upper, lower := strings.ToUpper(string(c)), strings.ToLower(string(c)); upper != lower {
			b.WriteString("[" + upper + lower + "]")
		} else {
			b.WriteRune(c)
		}
	}
	return b.String()
}

// Names of rules for quantities that are asked for by themselves.
var (
	celsius = quantityName(quantity.Celsius, false)
	watts   = quantityName(quantity.Watts, true)
)

func quantityName(d quantity.Dimension, positive bool) string {
	if positive {
		return d.String() + " above zero"
	}
	return d.String()
}

// quantities are the rules for numbers with a unit. Only a temperature can be below zero.
func quantities() entries {
	var found entries
	for _, d := range []quantity.Dimension{quantity.Volts, quantity.Amperes, quantity.Ohms, quantity.Watts, quantity.Millimetres,
		quantity.Seconds, quantity.Farads, quantity.AmpereHours} {
		r := quantityRule(d)
		r.AllOf = []*rule{{Pattern: "[1-9]", PatternMessage: "it cannot be zero"}}
		found.add(quantityName(d, true), r)
	}
	for _, d := range []quantity.Dimension{quantity.Celsius, quantity.Percent} {
		found.add(quantityName(d, false), quantityRule(d))
	}
	return found
}

func quantityRule(d quantity.Dimension) *rule {
	message := "a number with its unit, like " + d.Examples()
	return &rule{Type: "string", Pattern: quantity.Pattern(d, d == quantity.Celsius), PatternMessage: message, Message: message}
}

// value is the rule for a key.
func value(key circuit.Key) *rule {
	r := &rule{Description: key.Says}
	switch key.Form {
	case circuit.Quantity:
		r.Ref = at(quantityName(key.Dimension, key.Positive))
		r.Examples = strings.Split(key.Dimension.Examples(), ", ")
		if key.Default != 0 {
			r.Default = typed(key.Default, key.Dimension)
		}
	case circuit.Text:
		r.Ref = at("text")
		if key.Name == "bulb" {
			r.Ref = at("bulb")
		}
	case circuit.Choice:
		for _, choice := range key.Choices {
			r.Enum = append(r.Enum, choice)
		}
		if key.DefaultText != "" {
			r.Default = key.DefaultText
		}
	case circuit.Names:
		switch key.Name {
		case "tags":
			r.Ref = at("tags")
		case "bus":
			r.Ref = at("two pins")
		default:
			r.Ref = at("pins")
		}
	case circuit.Throws:
		r.Ref = at("throws")
		r.Description += ": {off: [], on: [1-2]}"
	case circuit.Outputs:
		r.Ref = at("outputs")
		r.Description += ": {5: {pulls to: ground, for: M1}}"
	}
	if r.Default != nil {
		r.Description += fmt.Sprintf("; %v where left out", r.Default)
	}
	return r
}

// typed writes a value as a keyboard can.
func typed(value float64, d quantity.Dimension) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ", "Ω", "ohm", "µ", "u", "²", "2").Replace(quantity.Format(value, d, 0))
}
