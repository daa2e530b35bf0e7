package meter

// This file is what is noticed without looking.

import (
	"strings"

	"underload/sim"
)

// Glance is what anybody beside the vehicle notices without looking closely: what loads do, a relay that chatters, a
// smell. Terminals and studs have to be looked at for what they are like (see the instrument look), and warm ones touched.
func Glance(b *sim.Bench) ([]string, error) {
	lines := works(b)
	for _, p := range b.Circuit().OfKind("relay") {
		if b.Chatters(p) {
			lines = append(lines, p.Name+" chatters: it clicks without end")
		}
	}
	warm, err := warmer(b)
	for _, line := range warm {
		if strings.HasSuffix(line, smells) {
			lines = append(lines, line)
		}
	}
	return lines, err
}

// smells is how the line of a place ends that a nose finds.
const smells = "smells"
