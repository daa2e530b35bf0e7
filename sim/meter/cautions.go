package meter

// This file is the cautions that go with a reading. The maker's procedure, local law and licensed practice come first.

import (
	"fmt"
	"slices"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim"
)

const (
	lampCaution    = "A load lamp is hot glass and several amps: use it on fused feeds and grounds only, never on outputs, sensors, the bus or anything made for milliamps, and for seconds at a time."
	lamp24VCaution = "This is a lamp of 24 V: one of 12 V burns out here, and then says dark of every feed."
	jumperCaution  = "Fuse a jumper at or below the wire's own fuse. Never put battery volts on an output, a sensor, the 5 V line or the bus."
	probeCaution   = "Touch a terminal from the wire side, or with the mating pin of its own series. A tip pushed into its mouth spreads it: the next fault is then yours."
)

// CautionsOf are the cautions that a list of tags brings.
func CautionsOf(tags []string) []string {
	var told []string
	for _, c := range catalog.Cautions() {
		if slices.Contains(tags, c.Tag) {
			told = append(told, c.Says)
		}
	}
	return told
}

// TagsOf are the tags of a part, and those that its kind brings by itself.
func TagsOf(p *circuit.Part) []string {
	tags := slices.Clone(p.Tags)
	switch {
	case p.Kind.Name == "battery" && !slices.Contains(tags, catalog.TagLithium):
		tags = append(tags, catalog.TagBattery)
	case starter(p):
		tags = append(tags, catalog.TagCrank)
	case p.Kind.Name == "motor" && len(tags) == 0:
		tags = append(tags, catalog.TagMotion)
	}
	return tags
}

func starter(p *circuit.Part) bool { return p.Kind.Name == "motor" && p.Text("turns") == "engine" }

// cautionsFor are those of a test: of the circuit, of what is touched, of what the circuit does meanwhile, and of the
// instrument.
func cautionsFor(b *sim.Bench, q Request, i instrument) []string {
	c := b.Circuit()
	touched := q.touches(c)
	told := CautionsOf(TagsAt(b, owners(c, touched)))
	for _, name := range touched {
		if (i.isLamp() || i.name == jumper.name) && slim(c, name) {
			told = append(told, fmt.Sprintf("%s is no feed and no ground: a lamp or a jumper there can burn what is behind it.", name))
		}
	}
	if i.leads != oneWire && slices.ContainsFunc(touched, func(name string) bool { return inMouth(c, name) }) {
		told = append(told, probeCaution)
	}
	if (i.name == testLamp.name || i.name == loadLamp.name) && c.SystemVolts() > catalog.MostTwelveVolts {
		told = append(told, lamp24VCaution)
	}
	switch i.name {
	case loadLamp.name:
		told = append(told, lampCaution)
	case jumper.name:
		told = append(told, jumperCaution)
	}
	return told
}

// touches lists what a test touches: points, a cavity, the ends of a wire.
func (q Request) touches(c *circuit.Circuit) []string {
	names := []string{q.Red, q.Black}
	if w := c.Wire(q.On); w != nil {
		names = []string{w.From.Name, w.To.Name}
	}
	return slices.DeleteFunc(names, func(name string) bool { return terminalAt(c, name) == nil })
}

// terminalAt is the terminal of a point, or of a cavity that is named without its side; nil of a splice or stud.
func terminalAt(c *circuit.Circuit, name string) *circuit.Terminal {
	if point, err := c.Point(name); err == nil {
		return point.Terminal
	}
	return c.Terminal(name)
}

// owners are the parts and connectors of some terminals.
func owners(c *circuit.Circuit, terminals []string) []string {
	var names []string
	for _, name := range terminals {
		names = append(names, terminalAt(c, name).Owner)
	}
	return names
}

// TagsAt are the tags of a circuit, of some of its parts and connectors, and of what moves, smokes or may burn as it is now.
func TagsAt(b *sim.Bench, names []string) []string {
	c := b.Circuit()
	tags := slices.Clone(c.Tags)
	for _, name := range names {
		if p := c.Part(name); p != nil {
			tags = append(tags, TagsOf(p)...)
		}
		if con := c.Connector(name); con != nil {
			tags = append(tags, con.Tags...)
		}
	}
	if c.SystemVolts() > catalog.MostTwelveVolts {
		tags = append(tags, catalog.Tag24V)
	}
	for _, p := range c.Parts {
		s := b.State(p)
		_, given := b.Overlay().RatingAmps[p] // a fault, which no caution gives away
		switch {
		case starter(p) && b.PartAmps(p) > idleAmps, p.Kind.Name == "switch" && slices.Contains(cranking, s.Position):
			tags = append(tags, catalog.TagCrank)
		case p.Kind.Name == "generator" && s.Running:
			tags = append(tags, catalog.TagExhaust)
		case p.Kind.Name == "fuse" && s.RatingAmps > p.Value("rating") && !given:
			tags = append(tags, catalog.TagFuse)
		}
	}
	return tags
}

// cranking are the positions of a key that turn the engine, whether the circuit shows its starter or not.
var cranking = []string{"crank", "start"}

// slim reports whether a terminal is made for a signal and not for a lamp's amps.
func slim(c *circuit.Circuit, name string) bool {
	t := terminalAt(c, name)
	p := c.Part(t.Owner)
	switch {
	case p == nil:
		return false
	case p.Module != nil:
		return !slices.Contains(slices.Concat(p.Module.Supply, p.Module.Wake, p.Module.Ground), t.Pin)
	}
	return p.Kind.Name == "sensor" || p.Kind.Name == "terminator"
}

// inMouth reports whether a lead at a terminal could spread it.
func inMouth(c *circuit.Circuit, name string) bool {
	point, err := c.Point(name)
	return err != nil || point.Reach != circuit.Open
}
