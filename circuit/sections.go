package circuit

// This file is the table of what a file may say beside its parts: its sections and the keys in each. The reader and
// the schema for editors are made from it, as from the table of kinds.

import (
	"slices"
	"strings"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// Section is one of the keys at the top of a file.
type Section struct {
	Name     string
	Required bool
	Says     string
	Keys     []Key // of each thing that the section names or lists; nil where it is no such section
}

// Sections lists those of a file, in the order in which a person writes them.
func Sections() []Section {
	return []Section{
		{Name: "underload", Required: true, Says: "says what the file is; always 1"},
		{Name: "title", Says: "the vehicle, and what is wrong with it"},
		{Name: "complaint", Says: "the customer's words"},
		{Name: "teaches", Says: "what the circuit is good for"},
		{Name: "ambient", Says: "how warm everything is; " + written(ambientCelsius, ambientDimension) + " where left out"},
		{Name: "tags", Says: "cautions for the whole vehicle, such as srs, hv, fuel"},
		{Name: "parts", Required: true, Says: "every thing with terminals: NAME: {is: kind, ...}"},
		{Name: "connectors", Says: "in-line connectors: those with one cavity in use must stand here, others may", Keys: connectorKeys},
		{Name: "splices", Says: "splices that are met only once, or of which there is something to say", Keys: spliceKeys},
		{Name: "paths", Required: true, Says: "what is wired to what, as a finger traces it: name: steps"},
		{Name: "grounds", Says: "ground studs", Keys: groundKeys},
		{Name: "terminals", Says: "single terminals that differ from their neighbours", Keys: terminalKeys},
		{Name: "accepted", Says: "warnings that are right here, each with the reason: a list of {rule, at, because}", Keys: acceptedKeys},
	}
}

var sections = func() []string {
	var names []string
	for _, section := range Sections() {
		names = append(names, section.Name)
	}
	return names
}()

var (
	connectorKeys = []Key{
		{Name: "place", Form: Text, Says: "where it sits, in words"},
		{Name: "terminal size", Dimension: quantity.Millimetres, Default: mediumTerminalMM, Positive: true, Says: "size of its terminals"},
		{Name: "reach", Form: Choice, Choices: reachNames(), DefaultText: cavityReach.String(), Says: "how its terminals are reached"},
		{Name: "plating", Form: Choice, Choices: platings, DefaultText: platingTold, Says: "plating of its terminals"},
		{Name: "tags", Form: Names, Says: "cautions that apply here, such as srs, hv, fuel"},
	}
	spliceKeys = []Key{
		{Name: "place", Form: Text, Says: "where it sits, in words"},
		{Name: "reach", Form: Choice, Choices: reachNames(), DefaultText: spliceReach.String(), Says: "how it is reached"},
		{Name: "leg", Dimension: quantity.Ohms, Default: spliceOhms, Positive: true, Says: "what each wire's leg adds"},
	}
	groundKeys = []Key{
		{Name: "place", Form: Text, Says: "where it sits, in words"},
		{Name: "to", Form: Text, Says: "where its metal goes: another ground or a battery terminal; nothing where a wire carries on"},
		{Name: "by", Dimension: quantity.Ohms, Default: bodyOhms, Positive: true, Says: "the metal between here and there"},
		{Name: "stud", Dimension: quantity.Ohms, Default: studOhms, Positive: true, Says: "the rings to the metal"},
		{Name: "reach", Form: Choice, Choices: reachNames(), DefaultText: studReach.String(), Says: "how it is reached"},
	}
	terminalKeys = []Key{
		{Name: "size", Dimension: quantity.Millimetres, Positive: true, Says: "size of the terminal"},
		{Name: "plating", Form: Choice, Choices: platings, DefaultText: platingTold, Says: "its plating"},
		{Name: "crimp", Dimension: quantity.Ohms, Positive: true, Says: "wire to terminal; by its size where left out"},
		{Name: "contact", Dimension: quantity.Ohms, Positive: true, Says: "terminal to pin; by its size where left out"},
		{Name: "behind", Dimension: quantity.Ohms, Positive: true, Says: "pin to what lies behind; of a cavity the second crimp"},
		{Name: "reach", Form: Choice, Choices: reachNames(), Says: "how it is reached; as the rest of its part where left out"},
	}
)

// OutputKeys are those of a module's output.
var OutputKeys = []Key{
	{Name: "pulls to", Form: Choice, Choices: []string{"ground", "supply"}, Required: true, Says: "which way it switches its pin"},
	{Name: "for", Form: Text, Required: true, Says: "the part that runs when the output is on"},
	{Name: "through", Dimension: quantity.Ohms, Default: outputOhms, Positive: true, Says: "its resistance when on"},
}

// AllKeys are the keys that a part of this kind may carry, its own first, each with what stands for it where the file
// leaves it out.
func (k *Kind) AllKeys() []Key {
	keys := append(slices.Clone(k.Keys), CommonKeys...)
	for i := range keys {
		switch keys[i].Name {
		case "reach":
			keys[i].DefaultText = partReachOf(k).String()
		case "terminal size":
			keys[i].Default = terminalMM(k)
		}
	}
	if len(k.Terminals) == 0 { // it names its pins where it says what they are for
		keys = slices.DeleteFunc(keys, func(key Key) bool { return key.Name == "pins" })
	}
	return keys
}

// keyNames lists the names of keys.
func keyNames(keys []Key) []string {
	names := make([]string, len(keys))
	for i, key := range keys {
		names[i] = key.Name
	}
	return names
}

// Limits of a file's names and texts, in characters, and of a part's pins.
const (
	MostNameLetters = mostNameLetters
	MostPathLetters = mostPathName
	MostTextLetters = mostTextRunes
	MostPins        = mostPins
	MostThrows      = mostThrows
)

// Metals are the words for a wire's metal, other spellings last.
func Metals() []string {
	return []string{string(catalog.Copper), string(catalog.Aluminium), "aluminum"}
}

// written is a value with plain spaces.
func written(value float64, dimension quantity.Dimension) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(quantity.Format(value, dimension, 0))
}
