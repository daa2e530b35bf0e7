package meter

// This file is the drop staircase of a circuit in motion.

import (
	"math"

	"underload/sim"
)

// At is the staircase with what a run loses now in place of the pass under load, or of the light pass where light is set,
// and what the healthy circuit's run loses in place of its own. The other pass stays as it is at rest, and so does the
// healthy circuit's where sound is nil. A lamp has to be on the run.
func (c *Climbed) At(own, sound *sim.Run, light bool) Staircase {
	passes, n := c.passes, 1
	if light {
		n = 0
	}
	passes[n] = c.moving(own)
	if sound != nil {
		passes[n+2] = c.moving(sound)
	}
	s := c.head
	s.climb(c.b, c.way, passes, c.load)
	return s
}

// moving is a pass on a run.
func (c *Climbed) moving(r *sim.Run) pass {
	p := pass{run: r}
	if part := r.Circuit().Part(c.load); part != nil {
		p.amps = r.PartAmps(part)
	} else if len(r.Attached()) == 1 {
		p.amps = math.Abs(r.AttachedAmps(0))
	}
	return p
}
