package transient

// This file saves a run and brings it back, in the middle of anything.

import "math"

// Snapshot is a run at one instant, controller and all: a run restored from it goes on bit for bit as it would have. It
// belongs to runs of the same network. The zero Snapshot may be handed to Save.
type Snapshot struct {
	seconds                    float64
	x, d, v, slope             []float64
	step, lastErr, curve, next float64
	since                      int
	rough                      bool
	recent                     recent
	lin                        *linear
	ledger                     ledger
}

// Seconds is the time of the snapshot.
func (s *Snapshot) Seconds() float64 { return s.seconds }

// Bytes is about how much room the snapshot takes.
func (s *Snapshot) Bytes() int { return 8 * (len(s.x) + len(s.d) + len(s.v) + len(s.slope) + 20) }

// Save fills a snapshot. It allocates nothing if the snapshot has been filled before.
func (r *Run) Save(s *Snapshot) {
	s.seconds, s.step, s.lastErr, s.curve, s.next = r.seconds, r.step, r.lastErr, r.curve, r.next
	s.since, s.rough, s.recent, s.lin, s.ledger = r.since, r.rough, r.recent, r.lin, r.ledger
	s.x, s.d = append(s.x[:0], r.x...), append(s.d[:0], r.d...)
	s.v, s.slope = append(s.v[:0], r.v...), append(s.slope[:0], r.slope...)
}

// Restore brings the run back to a snapshot.
func (r *Run) Restore(s *Snapshot) {
	r.seconds, r.step, r.lastErr, r.curve, r.next = s.seconds, s.step, s.lastErr, s.curve, s.next
	r.since, r.rough, r.recent, r.lin, r.ledger = s.since, s.rough, s.recent, s.lin, s.ledger
	copy(r.x, s.x)
	copy(r.d, s.d)
	copy(r.v, s.v)
	copy(r.slope, s.slope)
	r.fired = r.fired[:0]
	r.past.valid, r.w.relaid = false, false
	r.now.seconds = math.NaN()
}
