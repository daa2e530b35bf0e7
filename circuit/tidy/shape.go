package tidy

// This file says what a circuit file is made of: the order of its sections and keys, and what each value is.

import (
	"slices"

	"underload/circuit"
	"underload/circuit/quantity"
)

// form is what a value is.
type form int

const (
	word     form = iota // kept as it is
	text                 // words, which may be folded over lines
	measured             // a number with a unit
	list                 // names; one alone may stand without its list
	steps                // of a path
	keyed                // keys with values
)

// shape is how a value is laid out.
type shape struct {
	form      form
	dimension quantity.Dimension               // measured
	order     []string                         // keyed: the keys that come first, in order; others stay in theirs
	each      func(key string, v value) *shape // keyed, or steps with keys of their own: the shape of an entry
	section   bool                             // keyed: an entry a line, always
	aligned   bool                             // keyed: entries on one line have their values below one another
}

// sectionOrder is that in which people read a diagram: what there is, how it is joined, where it goes to ground, and
// then what is said of single joints.
var sectionOrder = []string{"underload", "title", "complaint", "teaches", "ambient", "tags", "parts", "connectors", "paths", "grounds", "splices", "terminals", "accepted"}

var (
	words     = &shape{form: word}
	prose     = &shape{form: text}
	names     = &shape{form: list}
	ohms      = &shape{form: measured, dimension: quantity.Ohms}
	terminal  = &shape{form: measured, dimension: quantity.Millimetres}
	path      = &shape{form: steps}
	accepted  = fields([]string{"rule", "at", "because"}, map[string]*shape{"because": prose})
	throws    = &shape{form: keyed, each: func(string, value) *shape { return names }}
	output    = fields([]string{"pulls to", "for", "through"}, map[string]*shape{"through": ohms})
	outputs   = &shape{form: keyed, aligned: true, each: func(string, value) *shape { return output }}
	connector = fields([]string{"place", "terminal size", "reach", "plating", "tags"}, map[string]*shape{"place": prose, "terminal size": terminal, "tags": names})
	splice    = fields([]string{"place", "reach", "leg"}, map[string]*shape{"place": prose, "leg": ohms})
	ground    = fields([]string{"place", "to", "by", "stud", "reach"}, map[string]*shape{"place": prose, "by": ohms, "stud": ohms})
	single    = fields([]string{"size", "plating", "crimp", "contact", "behind", "reach"},
		map[string]*shape{"size": terminal, "crimp": ohms, "contact": ohms, "behind": ohms})
)

// whole is a circuit file.
var whole = &shape{form: keyed, section: true, order: sectionOrder, each: func(key string, _ value) *shape {
	switch key {
	case "title", "complaint", "teaches":
		return prose
	case "ambient":
		return &shape{form: measured, dimension: quantity.Celsius}
	case "tags":
		return names
	case "parts":
		return section(func(_ string, v value) *shape { return part(v.is()) })
	case "connectors":
		return section(func(string, value) *shape { return connector })
	case "splices":
		return section(func(string, value) *shape { return splice })
	case "grounds":
		return section(func(string, value) *shape { return ground })
	case "terminals":
		return section(func(string, value) *shape { return single })
	case "accepted":
		return &shape{form: steps, section: true, each: func(string, value) *shape { return accepted }}
	case "paths":
		return &shape{form: keyed, section: true, each: func(string, value) *shape { return path }}
	}
	return words
}}

// section is a section of named entries.
func section(each func(string, value) *shape) *shape {
	return &shape{form: keyed, section: true, aligned: true, each: each}
}

// fields is an entry with keys of its own.
func fields(order []string, of map[string]*shape) *shape {
	return &shape{form: keyed, order: order, each: func(key string, _ value) *shape {
		if s := of[key]; s != nil {
			return s
		}
		return words
	}}
}

// parts are the shapes of the kinds, made from their table.
var parts = func() map[string]*shape {
	made := map[string]*shape{}
	for i := range circuit.Kinds {
		made[circuit.Kinds[i].Name] = kindShape(&circuit.Kinds[i])
	}
	return made
}()

// part is the shape of a part of a kind; of an unknown kind only the common keys are known.
func part(kind string) *shape {
	if s := parts[kind]; s != nil {
		return s
	}
	return kindShape(&circuit.Kind{})
}

// kindShape orders the keys of a kind: what it is, its values, then where it sits. Where a part names its own terminals
// their lists are long, and it is found more easily with its place before them.
func kindShape(kind *circuit.Kind) *shape {
	var own, common []string
	of := map[string]*shape{}
	for _, key := range kind.Keys {
		own = append(own, key.Name)
		of[key.Name] = keyShape(key)
	}
	for _, key := range circuit.CommonKeys {
		common = append(common, key.Name)
		of[key.Name] = keyShape(key)
	}
	of["place"] = prose
	namesTerminals := slices.ContainsFunc(kind.Keys, func(k circuit.Key) bool { return k.Form == circuit.Names || k.Form == circuit.Throws })
	if namesTerminals {
		return fields(append(append([]string{"is"}, common...), own...), of)
	}
	return fields(append(append([]string{"is"}, own...), common...), of)
}

func keyShape(key circuit.Key) *shape {
	switch key.Form {
	case circuit.Quantity:
		return &shape{form: measured, dimension: key.Dimension}
	case circuit.Names:
		return names
	case circuit.Throws:
		return throws
	case circuit.Outputs:
		return outputs
	}
	return words
}
