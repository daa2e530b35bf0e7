// Package schema describes the circuit file as a JSON Schema (draft 2020-12), for editors that complete, explain and
// check YAML as one types. It is made from the tables that the reader uses. What a schema cannot say, such as that a
// path comes to every part, is left to the reader.
package schema

// This file puts the schema together: the sections of a file and what stands in each.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"unicode"

	"underload/circuit"
)

// Draft is the dialect of the schema.
const Draft = "https://json-schema.org/draft/2020-12/schema"

// JSON gives the schema as indented text.
func JSON() []byte {
	compact, err := marshal(file())
	if err != nil {
		panic("schema: " + err.Error()) // it is made of nothing but texts and numbers
	}
	var b bytes.Buffer
	if err := json.Indent(&b, compact, "", "  "); err != nil {
		panic("schema: " + err.Error())
	}
	b.WriteByte('\n')
	return visible(b.Bytes())
}

// visible writes spaces other than the plain one, and what looks like nothing, as escapes.
func visible(text []byte) []byte {
	var b bytes.Buffer
	for _, c := range string(text) {
		if c > '~' && (unicode.IsSpace(c) || !unicode.IsPrint(c)) {
			fmt.Fprintf(&b, "\\u%04x", c)
		} else {
			b.WriteRune(c)
		}
	}
	return b.Bytes()
}

// file is the rule for a whole file.
func file() *rule {
	top := &rule{
		Dialect: Draft, Title: "A vehicle circuit for underload",
		Description: "What is wired to what, typed as a finger follows the diagram. What is left out gets an ordinary value.",
		Type:        "object", Others: false,
	}
	for _, section := range circuit.Sections() {
		top.Properties.add(section.Name, sectionRule(section))
		if section.Required {
			top.Required = append(top.Required, section.Name)
		}
	}
	top.Defs = append(top.Defs, basics()...)
	top.Defs = append(top.Defs, quantities()...)
	top.Defs = append(top.Defs, steps()...)
	top.Defs.add("part", partRule())
	for i := range circuit.Kinds {
		top.Defs.add("a "+circuit.Kinds[i].Name, kindRule(&circuit.Kinds[i]))
	}
	return top
}

func sectionRule(section circuit.Section) *rule {
	r := &rule{Description: section.Says}
	switch section.Name {
	case "underload":
		r.Enum = []any{1, "1"}
		r.Default = 1
	case "ambient":
		r.Ref = at(celsius)
	case "tags":
		r.Ref = at("tags")
	case "parts":
		r.Type, r.MinProperties = "object", 1
		r.PropertyNames, r.Others = ref("name"), ref("part")
		r.AllOf = []*rule{{Not: &rule{Others: &rule{Not: &rule{
			Type: "object", Required: []string{"is"}, Properties: entries{{"is", &rule{Const: "battery"}}},
		}}}, Message: "the circuit has no battery"}}
	case "paths":
		r.Type, r.MinProperties = "object", 1
		r.PropertyNames = &rule{MinLength: 1, MaxLength: circuit.MostPathLetters}
		r.Others = ref("path")
	case "accepted":
		each := thing(section.Keys)
		each.Type = "object"
		r.Type, r.Items = []string{"array", "null"}, each
	default:
		if section.Keys == nil {
			r.Ref = at("text")
			return r
		}
		r.Type = []string{"object", "null"}
		r.PropertyNames, r.Others = ref("name"), thing(section.Keys)
		switch section.Name {
		case "grounds":
			r.Others.(*rule).Needs = map[string][]string{"by": {"to"}}
		case "terminals":
			r.PropertyNames = &rule{Pattern: "^" + name + `\.` + name + "$", PatternMessage: "a part or connector with a pin, like F7.in or C12.7"}
		}
	}
	return r
}

// thing is the rule for a mapping with these keys and no others. Nothing after the name does as well.
func thing(keys []circuit.Key) *rule {
	r := &rule{Type: []string{"object", "null"}, Others: false}
	r.take(keys)
	return r
}

// take adds the keys to a mapping's rule.
func (r *rule) take(keys []circuit.Key) {
	for _, key := range keys {
		r.Properties.add(key.Name, value(key))
		if key.Required {
			r.Required = append(r.Required, key.Name)
		}
	}
}

// partRule is the rule for one part: its kind says which keys it has.
func partRule() *rule {
	r := &rule{Type: "object", Required: []string{"is"}}
	is := &rule{}
	var lines []string
	for _, k := range circuit.Kinds {
		is.Enum = append(is.Enum, k.Name)
		lines = append(lines, k.Name+": "+k.Says)
		r.AllOf = append(r.AllOf, &rule{
			If:   &rule{Required: []string{"is"}, Properties: entries{{"is", &rule{Const: k.Name}}}},
			Then: ref("a " + k.Name),
		})
	}
	is.Description = "the kind of part\n\n" + strings.Join(lines, "\n\n")
	r.Properties.add("is", is)
	return r
}

// kindRule is the rule for the parts of one kind.
func kindRule(k *circuit.Kind) *rule {
	r := &rule{Description: k.Says, Type: "object", Others: false}
	r.take(k.AllKeys())
	for i, e := range r.Properties {
		switch e.name {
		case "is":
			r.Properties[i].rule = &rule{Const: k.Name, Description: k.Says}
		case "pins":
			r.Properties[i].rule = ownPins(k)
		case "supply", "ground":
			if k.Name == "module" {
				e.rule.Ref = at("some pins")
			}
		}
	}
	if k.Name == "socket" {
		r.AllOf = []*rule{{AnyOf: []*rule{{Required: []string{"supply"}}, {Required: []string{"ground"}}, {Required: []string{"bus"}}}, Message: "a socket has pins"}}
	}
	return r
}

// ownPins is the rule for other names of a kind's terminals: as many, and none that belongs to another of them.
func ownPins(k *circuit.Kind) *rule {
	r := &rule{
		Description: "other names for its terminals: " + strings.Join(k.Terminals, ", "),
		Type:        "array", MinItems: len(k.Terminals), MaxItems: len(k.Terminals), UniqueItems: true, Items: ref("pin"),
	}
	var slots []*rule
	for _, own := range k.Terminals {
		taken := &rule{}
		for _, other := range k.Terminals {
			if other != own {
				taken.Enum = append(taken.Enum, spellings(other)...)
			}
		}
		slots = append(slots, &rule{Not: taken, Message: "this is the name of another terminal of a " + k.Name})
	}
	r.AllOf = []*rule{{PrefixItems: slots}}
	return r
}
