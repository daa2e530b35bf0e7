package command

// This file is feeds: how every pin of a part is fed and grounded, through what, when, and where to test it.

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/sim/meter"
)

// feed is a way from a pin to the battery, in words.
type feed struct {
	Terminal    string   `json:"terminal"`
	Purpose     string   `json:"purpose"`
	To          string   `json:"to"`     // "battery +" or "battery −"
	Closed      bool     `json:"closed"` // there is a way
	When        string   `json:"when"`   // it is closed
	Way         []stop   `json:"way"`    // from the pin on
	End         string   `json:"end,omitempty"`
	Others      [][]stop `json:"others,omitempty"`
	Through     string   `json:"through,omitempty"` // a load in series, where there is no way of its own
	Test        string   `json:"test,omitempty"`    // the point nearest to the pin
	TestSays    string   `json:"test_says,omitempty"`
	TestMinutes float64  `json:"test_minutes,omitempty"`
}

// stop is one thing on the way.
type stop struct {
	Name   string   `json:"name"`
	Says   string   `json:"says"`
	Shared []string `json:"shared,omitempty"` // what else takes current through it
}

func feedsCommand(p *page) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use: "feeds FILE PART [--json]", Short: "Trace every feed and ground of a part, and say where to test it",
		Long: paragraphs("Traces every supply, wake and ground pin of a part to the battery: through which wires, connectors, splices, fuses, switches and relays, when the way is closed, what else hangs on it, and the point nearest to the pin where a lead can get to with everything plugged. FILE may be the bare name of an example."),
		Args: exactly("FILE", "PART"), ValidArgsFunction: completeFile(partNames),
		RunE: func(_ *cobra.Command, args []string) error {
			c, err := open(args[0])
			if err != nil {
				return err
			}
			found, err := c.Feeds(args[1])
			if err != nil {
				return err
			}
			feeds := []feed{}
			for _, f := range found {
				feeds = append(feeds, told(c, f))
			}
			if asJSON {
				return p.json(feeds)
			}
			writeFeeds(p, c.Part(args[1]), feeds)
			for _, caution := range meter.CautionsOf(tagsOf(c, c.Part(args[1]), found)) {
				p.say("")
				p.hang("Caution: ", caution)
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "write the feeds as JSON")
	return cmd
}

// tagsOf are the tags of the vehicle, of a part, and of all that its feeds and grounds pass.
func tagsOf(c *circuit.Circuit, p *circuit.Part, feeds []circuit.Feed) []string {
	tags := slices.Concat(c.Tags, meter.TagsOf(p))
	for _, f := range feeds {
		for _, link := range f.Way {
			switch {
			case link.Part != nil:
				tags = append(tags, meter.TagsOf(link.Part)...)
			case link.Cavity != nil:
				tags = append(tags, c.Connector(link.Cavity.Owner).Tags...)
			}
		}
		if f.End != nil {
			tags = append(tags, meter.TagsOf(c.Part(f.End.Owner))...)
		}
	}
	return tags
}

// Where a feed leads, and a ground.
const plus, minus = "battery +", "battery −"

func told(c *circuit.Circuit, f circuit.Feed) feed {
	t := feed{Terminal: f.Terminal.Name, Purpose: f.Purpose, To: plus, Closed: f.End != nil, Way: stops(c, f.Way)}
	if !f.Plus {
		t.To = minus
	}
	if f.End != nil {
		t.End = f.End.Name
		t.When = f.When()
	}
	if f.Through != nil {
		t.Through = f.Through.Name
	}
	for _, way := range f.Others {
		t.Others = append(t.Others, stops(c, way))
	}
	if f.Tested {
		t.Test, t.TestSays, t.TestMinutes = f.Test.Name, f.Test.Reach.Says(), f.Test.Minutes
	}
	return t
}

func stops(c *circuit.Circuit, way []circuit.Link) []stop {
	var all []stop
	for _, link := range way {
		s := stop{Name: link.Name(), Says: link.Says(c)}
		for _, other := range link.Sharers {
			s.Shared = append(s.Shared, other.Name)
		}
		all = append(all, s)
	}
	return all
}

func writeFeeds(p *page, part *circuit.Part, feeds []feed) {
	p.say("%s, %s", p.strong(part.Name), placed(part.Kind.Name, part.Place))
	if len(feeds) == 0 {
		p.prose(2, "It has no feed and no ground of its own.")
	}
	if len(feeds) > 0 {
		p.prose(2, "Test each while it carries its load: a light shows that something connects, and no more.")
	}
	for _, f := range feeds {
		p.say("")
		p.say("%s  %s, to %s", p.strong(f.Terminal), f.Purpose, f.To)
		writeFeed(p, f)
	}
}

func writeFeed(p *page, f feed) {
	switch {
	case f.Closed:
		p.hang(map[bool]string{true: "  hot      ", false: "  closed   "}[f.To == plus], f.When)
	case f.Through != "":
		p.hang("  no way   ", fmt.Sprintf("none to %s of its own: it stands in series with %s", f.To, f.Through))
	default:
		p.hang("  no way   ", "none to "+f.To)
	}
	if f.Test != "" {
		p.hang("  test at  ", fmt.Sprintf("%s: %s, %s", f.Test, f.TestSays, minutes(f.TestMinutes)))
	}
	wide := letters(f.End)
	for _, s := range f.Way {
		wide = max(wide, letters(s.Name))
	}
	for _, s := range f.Way {
		p.hang(fmt.Sprintf("    %-*s  ", wide, s.Name), stopWords(s))
	}
	if f.End != "" {
		p.say("    %s", f.End)
	}
	for _, way := range f.Others {
		var names []string
		for _, s := range way {
			names = append(names, s.Name)
		}
		p.hang("  also by  ", strings.Join(names, " "))
	}
}

// stopWords names what else takes current there; of very many some, and how many there are.
func stopWords(s stop) string {
	if len(s.Shared) == 0 {
		return s.Says
	}
	const most = 20
	others := s.Shared
	if len(others) > most {
		others = append(slices.Clone(others[:most]), fmt.Sprintf("%d more", len(others)-most))
	}
	return s.Says + "; shared with " + strings.Join(others, ", ")
}
