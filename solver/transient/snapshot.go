package transient

// This file saves a run and brings it back, in the middle of anything.

import "math"

// Snapshot is a run at one instant, controller and all: a run restored from it goes on bit for bit as it would have. It
// belongs to runs of the same network. The zero Snapshot may be handed to Save.
type Snapshot struct {
	standing
	all []float64
}

// Seconds is the time of the snapshot.
func (s *Snapshot) Seconds() float64 { return s.seconds }

// Bytes is about how much room the snapshot takes.
func (s *Snapshot) Bytes() int { return 8 * (len(s.all) + 20) }

// Save fills a snapshot. It allocates nothing if the snapshot has been filled before.
func (r *Run) Save(s *Snapshot) { s.standing, s.all = r.standing, append(s.all[:0], r.all...) }

// Restore brings the run back to a snapshot.
func (r *Run) Restore(s *Snapshot) {
	r.standing = s.standing
	copy(r.all, s.all)
	r.fired = r.fired[:0]
	r.past.valid, r.w.relaid = false, false
	r.now.seconds = math.NaN()
}
