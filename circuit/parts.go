package circuit

// This file reads the parts: what each is, its values, and its terminals.

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"underload/circuit/catalog"
)

// readParts reads the parts section.
func (r *reader) readParts(section entry) {
	for _, e := range r.entries(section.value, "parts") {
		if len(r.circuit.Parts) >= mostParts {
			r.wrong(e.at, fmt.Sprintf("there are more than %d parts", mostParts), "")
			return
		}
		if r.name(e.key, e.at) && r.claim(e.key, "part", e.at) {
			r.readPart(e)
		}
	}
}

// kinds lists the names of all kinds.
func kindNames() []string {
	names := make([]string, len(Kinds))
	for i := range Kinds {
		names[i] = Kinds[i].Name
	}
	return names
}

// readPart reads one part. Where its kind is wrong the rest of it is left alone.
func (r *reader) readPart(e entry) {
	if e.value.Kind != yaml.MappingNode {
		r.wrong(position(e.value), e.key+" must say what it is", "Write it like {is: fuse, rating: 15 A}")
		r.meant[e.key], r.kindLost = true, true
		return
	}
	given := r.entries(e.value, e.key)
	kind := r.kindOf(e, given)
	if kind == nil {
		r.meant[e.key], r.kindLost = true, true
		return
	}
	part := &Part{Name: e.key, Kind: kind, Pos: e.at, Reach: partReachOf(kind), values: map[string]float64{}, texts: map[string]string{}}
	r.circuit.Parts = append(r.circuit.Parts, part)
	r.circuit.parts[part.Name] = part
	fields := r.partFields(part, given)
	r.partKeys(part, fields)
	r.partTerminals(part, fields)
	r.partSense(part, fields)
}

// kindOf finds what a part is.
func (r *reader) kindOf(e entry, given []entry) *Kind {
	for _, field := range given {
		if field.key != "is" {
			continue
		}
		word, ok := r.text(field)
		if !ok {
			return nil
		}
		kind := KindNamed(word)
		if kind == nil {
			r.wrong(position(field.value), fmt.Sprintf("there is no kind of part called %s", clip(word)),
				r.askMeant(word, kindsMeant, kindNames(), "The kinds are "+strings.Join(kindNames(), ", ")))
		}
		return kind
	}
	r.wrong(e.at, e.key+" does not say what it is", "Write is: and one of "+strings.Join(kindNames(), ", "))
	return nil
}

// partReachOf is how a kind's terminals are reached where the file does not say.
func partReachOf(kind *Kind) Reach {
	switch kind.Name {
	case "battery":
		return batteryReach
	case "fuse":
		return fuseReach
	case "fusible link":
		return fusibleReach
	}
	return partReach
}

// partFields refuses keys that the kind does not have, and tells those it must have.
func (r *reader) partFields(part *Part, given []entry) map[string]entry {
	keys := append(append([]Key{}, part.Kind.Keys...), CommonKeys...)
	names := make([]string, len(keys))
	for i, key := range keys {
		names[i] = key.Name
	}
	fields := map[string]entry{}
	for _, e := range given {
		if !contains(names, e.key) {
			r.wrong(e.at, fmt.Sprintf("a %s has no key %s", part.Kind.Name, clip(e.key)),
				r.askMeant(e.key, keysMeant[part.Kind.Name], names, "It can have "+strings.Join(names, ", ")))
			continue
		}
		fields[e.key] = e
	}
	for _, key := range part.Kind.Keys {
		if _, ok := fields[key.Name]; key.Required && !ok {
			r.wrong(part.Pos, fmt.Sprintf("%s does not give its %s", part.Name, key.Name), "Write "+key.Name+": "+key.example())
		}
	}
	return fields
}

// example is a value a key could have.
func (k *Key) example() string {
	switch k.Form {
	case Quantity:
		return "with a value like " + k.Dimension.Examples()
	case Throws:
		return "{off: [], on: [1-2]}"
	case Names:
		return "with a list of pins like [1, 2]"
	}
	return "(" + k.Says + ")"
}

// partKeys reads the values and words of a part.
func (r *reader) partKeys(part *Part, fields map[string]entry) {
	for _, key := range part.Kind.Keys {
		e, given := fields[key.Name]
		if !given {
			continue
		}
		switch key.Form {
		case Quantity:
			if value, ok := r.quantity(e, key.Dimension, key.Positive); ok {
				part.values[key.Name] = value
			}
		case Text:
			if word, ok := r.text(e); ok {
				part.texts[key.Name] = word
			}
		case Choice:
			if word, ok := r.choice(e, key.Choices); ok {
				part.texts[key.Name] = word
			}
		}
	}
	if e, ok := fields["place"]; ok {
		part.Place, _ = r.text(e)
		r.beside(part, e)
	}
	if e, ok := fields["reach"]; ok {
		part.Reach = r.reach(e, part.Reach)
	}
	if e, ok := fields["tags"]; ok {
		part.Tags = r.tags(e)
	}
}

// partTerminals makes the terminals of a part.
func (r *reader) partTerminals(part *Part, fields map[string]entry) {
	pins := r.fixedPins(part, fields)
	switch part.Kind.Name {
	case "switch":
		if e, ok := fields["throws"]; ok {
			pins = r.readThrows(part, e)
		}
	case "module", "socket":
		pins = r.readModule(part, fields)
	}
	size, plating := terminalMM(part.Kind), platingTold
	if e, ok := fields["terminal size"]; ok {
		size, _ = r.terminalSize(e, size)
	}
	if e, ok := fields["plating"]; ok {
		if word, ok := r.choice(e, platings); ok {
			plating = word
		}
	}
	for i, pin := range pins {
		at := pin.at
		if at == (Pos{}) {
			at = part.Pos
		}
		t := &Terminal{Name: part.Name + "." + pin.key, Owner: part.Name, Pin: pin.key, Spot: NoSpot, FarSpot: NoSpot, Pos: at,
			SizeMM: size, Plating: plating, Reach: part.Reach}
		t.sizedFor(part.Kind)
		part.Terminals = append(part.Terminals, t)
		r.circuit.terminals[t.Name] = t
		r.tails[t] = &tail{}
		if i < len(part.Kind.Terminals) && part.Kind.Terminals[i] != t.Pin { // the kind's own word goes on working
			r.circuit.terminals[part.Name+"."+part.Kind.Terminals[i]] = t
		}
	}
}

// fixedPins gives the kind's own terminals, by the names the file gives them.
func (r *reader) fixedPins(part *Part, fields map[string]entry) []entry {
	pins := make([]entry, len(part.Kind.Terminals))
	for i, pin := range part.Kind.Terminals {
		pins[i] = entry{key: pin}
	}
	e, ok := fields["pins"]
	if !ok {
		return pins
	}
	given := r.pinList(e)
	switch {
	case len(pins) == 0:
		r.wrong(e.at, fmt.Sprintf("a %s names its pins where it says what they are for", part.Kind.Name), "Leave pins out")
	case len(given) != len(e.value.Content): // a name was wrong, and that was told
	case len(given) != len(pins):
		r.wrong(position(e.value), fmt.Sprintf("pins names %d of the %d terminals of a %s", len(given), len(pins), part.Kind.Name),
			"Name "+strings.Join(part.Kind.Terminals, ", ")+" in this order")
	default:
		for i, pin := range given {
			for j, own := range part.Kind.Terminals {
				if pin.key == own && i != j {
					r.wrong(pin.at, fmt.Sprintf("the name %s belongs to another terminal of a %s", own, part.Kind.Name), "The order is "+strings.Join(part.Kind.Terminals, ", "))
					return pins
				}
			}
		}
		return given
	}
	return pins
}

// pinList reads a list of pin names, each once.
func (r *reader) pinList(e entry) []entry {
	var pins []entry
	seen := map[string]bool{}
	for _, pin := range r.words(e, "pins", "[1, 2]") {
		if !r.name(pin.key, pin.at) {
			continue
		}
		if seen[pin.key] {
			r.wrong(pin.at, fmt.Sprintf("pin %s is listed twice in %s", pin.key, e.key), "")
			continue
		}
		seen[pin.key] = true
		pins = append(pins, pin)
	}
	return pins
}

// readThrows reads a switch's positions and gives its terminals in the order they are met.
func (r *reader) readThrows(part *Part, e entry) []entry {
	var pins []entry
	seen, pairs := map[string]bool{}, 0
	positions, mistakes := r.entries(e.value, "throws"), len(r.errors)
	if len(positions) > mostThrows {
		r.wrong(e.at, fmt.Sprintf("%s has more than %d positions", part.Name, mostThrows), "")
		return nil
	}
	for _, at := range positions {
		if !r.name(at.key, at.at) {
			continue
		}
		throw := Throw{Name: at.key}
		for _, word := range r.words(at, "pairs", "[1-2]") {
			pair, ok := r.pair(word)
			if !ok {
				continue
			}
			if pairs++; pairs > mostPins {
				r.wrong(word.at, fmt.Sprintf("%s joins more than %d pairs", part.Name, mostPins), "")
				return nil
			}
			throw.Pairs = append(throw.Pairs, pair)
			for _, pin := range pair {
				if !seen[pin] {
					seen[pin] = true
					pins = append(pins, entry{key: pin, at: word.at})
				}
			}
		}
		part.Throws = append(part.Throws, throw)
	}
	switch {
	case len(positions) == 0 && e.value.Kind == yaml.MappingNode || nothing(e.value):
		r.wrong(e.at, part.Name+" has no positions", "Write them like throws: {off: [], on: [1-2]}")
	case len(positions) == 1:
		r.wrong(e.at, part.Name+" has only one position", "A switch has two or more; the first is the one at rest")
	case len(pins) == 0 && len(positions) > 1 && len(r.errors) == mistakes:
		r.wrong(e.at, part.Name+" joins nothing in any position", "Write the pairs it joins, like on: [1-2]")
	}
	return pins
}

// pair reads "a-b".
func (r *reader) pair(word entry) ([2]string, bool) {
	a, b, ok := strings.Cut(word.key, "-")
	if !ok {
		r.wrong(word.at, clip(word.key)+" does not say which two terminals are joined", "Write a pair like 1-2")
		return [2]string{}, false
	}
	if !r.name(a, word.at) || !r.name(b, r.inside(word.node, len(a)+1)) {
		return [2]string{}, false
	}
	if a == b {
		r.wrong(word.at, fmt.Sprintf("%s joins a terminal with itself", clip(word.key)), "")
		return [2]string{}, false
	}
	return [2]string{a, b}, true
}

// partSense checks values against one another.
func (r *reader) partSense(part *Part, fields map[string]entry) {
	for _, rule := range []struct{ kind, lower, higher string }{
		{"module", "resets below", "runs above"},
		{"module", "asleep", "awake"},
		{"relay", "lets go", "pulls in"},
		{"battery", "volts", "charges from"},
		{"motor", "draws", "stalls at"},
	} {
		if rule.kind != part.Kind.Name || !part.Has(rule.lower) && !part.Has(rule.higher) {
			continue
		}
		lower, higher := part.Value(rule.lower), part.Value(rule.higher)
		if lower < higher || higher == 0 {
			continue
		}
		at := part.Pos
		for _, key := range []string{rule.lower, rule.higher} {
			if e, ok := fields[key]; ok {
				at = position(e.value)
			}
		}
		r.wrong(at, fmt.Sprintf("%s: %s (%g) must be less than %s (%g)", part.Name, rule.lower, lower, rule.higher, higher), "")
	}
	r.checkCatalogue(part, fields)
	r.checkCranking(part, fields)
	if e, ok := fields["reads"]; ok && part.values["reads"] > 1 {
		r.wrong(position(e.value), "reads cannot be over 100 %", "It is the share of the sensor's supply that its signal shows")
	}
}

// Cold cranking amps flow for 30 s (SAE J537, as trade pages quote it). Batteries give up about a tenth of their ampere
// hours in that time; half of them is more than any does (common practice, no source).
const (
	crankingHours = 30. / 3600
	crankingShare = 0.5
)

// checkCranking refuses a battery that could not give its cold cranking amps for as long as they are meant.
func (r *reader) checkCranking(part *Part, fields map[string]entry) {
	if part.Kind.Name != "battery" {
		return
	}
	amps, ampHours := part.Value("cold cranking"), part.Value("capacity")
	least := amps * crankingHours / crankingShare
	if amps <= 0 || ampHours <= 0 || ampHours >= least {
		return
	}
	e, ok := fields["capacity"]
	if !ok {
		e = fields["cold cranking"]
	}
	r.wrong(position(e.value), fmt.Sprintf("%s: a battery of %g Ah cannot give %g A for 30 s", part.Name, ampHours, amps),
		fmt.Sprintf("Check both: cold cranking of %g A takes a capacity of %.3g Ah or more", amps, least))
}

// checkCatalogue refuses bulbs and fuses that are not in the catalogue.
func (r *reader) checkCatalogue(part *Part, fields map[string]entry) {
	var err error
	key := "rating"
	switch part.Kind.Name {
	case "lamp":
		key = "bulb"
		if bulb := part.texts[key]; bulb != "" {
			_, err = catalog.BulbOf(bulb)
		}
	case "fuse":
		if amps := part.values[key]; amps > 0 {
			_, err = catalog.FuseOf(part.FuseType(), amps)
		}
	case "fusible link":
		if amps := part.values[key]; amps > 0 {
			_, err = catalog.FuseOf(catalog.FusibleLink, amps)
		}
	}
	if err != nil {
		wrong, hint, _ := strings.Cut(err.Error(), "; ")
		r.wrong(position(fields[key].value), wrong, sentence(hint))
	}
}

// FuseType is the build of a fuse: the file's word, or the usual one for its rating.
func (p *Part) FuseType() catalog.FuseType {
	if word := p.Text("type"); word != "" {
		return catalog.FuseType(word)
	}
	return catalog.UsualFuseType(p.Value("rating"))
}

// passes says whether current can pass inside a part between two of its terminals.
func (r *reader) passes(part *Part, a, b *Terminal) bool {
	pairs, ok := r.pairs[part]
	if !ok {
		pairs = map[[2]string]bool{}
		for _, pair := range part.Kind.Pass {
			r.addPair(pairs, part, pair)
		}
		for _, throw := range part.Throws {
			for _, pair := range throw.Pairs {
				r.addPair(pairs, part, pair)
			}
		}
		r.pairs[part] = pairs
	}
	return pairs[[2]string{a.Pin, b.Pin}]
}

func (r *reader) addPair(pairs map[[2]string]bool, part *Part, pair [2]string) {
	a, b := r.circuit.terminals[part.Name+"."+pair[0]], r.circuit.terminals[part.Name+"."+pair[1]]
	if a != nil && b != nil {
		pairs[[2]string{a.Pin, b.Pin}], pairs[[2]string{b.Pin, a.Pin}] = true, true
	}
}
