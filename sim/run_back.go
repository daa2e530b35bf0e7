package sim

// This file steps a run back in time. After every step a snapshot is left, of which older ones are thinned out so that
// they fit into a bounded memory.

import (
	"slices"

	"underload/solver/transient"
)

// defaultMemory is spent on stepping back where nothing else is asked for.
const defaultMemory = 64 << 20

// mark is a place on the trail: all that a run is at an instant.
type mark struct {
	seconds float64
	age     *age
	engine  transient.Snapshot
	acts    []act
	acted   int // the number of the last act that was known then
	cues    int
	senses  senses
	warm    warmths
}

// markBytes is about what a mark takes beside its engine: of what is shared between marks a share.
const markBytes = 400

func (m *mark) bytes() int { return m.engine.Bytes() + markBytes + 32*len(m.senses.loads) }

// trail is the marks left, oldest first. The first is never thinned out.
type trail struct {
	marks []*mark
	bytes int
	most  int
}

func (t *trail) begin(r *Run) {
	switch t.most = r.options.MemoryBytes; {
	case t.most == 0:
		t.most = defaultMemory
	case t.most < 0:
		t.most = 0
	}
	t.leave(r)
}

// leave leaves a mark at the present instant.
func (t *trail) leave(r *Run) {
	if t.most == 0 && len(t.marks) > 0 {
		return
	}
	m := &mark{seconds: r.Seconds(), age: r.age, acts: r.acts, acted: r.next, cues: len(r.cues), senses: r.senses.clone(), warm: r.warm}
	r.age.run.Save(&m.engine)
	t.marks = append(t.marks, m)
	if t.bytes += m.bytes(); t.bytes > t.most {
		t.thin()
	}
}

// thin takes every other mark away but for the newest quarter, so that the past is kept ever more coarsely.
func (t *trail) thin() {
	old := len(t.marks) - len(t.marks)/4
	kept := t.marks[:1]
	for i := 2; i < len(t.marks); i++ {
		if i >= old || i%2 == 0 {
			kept = append(kept, t.marks[i])
		}
	}
	clear(t.marks[len(kept):])
	t.marks, t.bytes = kept, 0
	for _, m := range kept {
		t.bytes += m.bytes()
	}
}

// Back goes back in time by so many seconds, or to the start. What was to be done with At will be done again; what was
// done with Do after that time is undone.
func (r *Run) Back(seconds float64) error {
	return r.BackTo(r.Seconds() - seconds)
}

// StepBack goes back by one step, or over one act, as far as the memory reaches in single steps.
func (r *Run) StepBack() {
	if n := len(r.trail.marks); n > 1 {
		r.take(n - 2)
	}
}

// BackTo goes back to a time, or to the start. What was done at that very time stays done.
func (r *Run) BackTo(target float64) error {
	target = max(0, target)
	n, _ := slices.BinarySearchFunc(r.trail.marks, target, func(m *mark, at float64) int {
		if m.seconds <= at {
			return -1
		}
		return 1
	})
	r.take(max(n-1, 0))
	return r.Advance(target, nil)
}

// take restores a mark and forgets all later ones.
func (r *Run) take(n int) {
	m := r.trail.marks[n]
	clear(r.trail.marks[n+1:])
	r.trail.marks, r.trail.bytes = r.trail.marks[:n+1], 0
	for _, m := range r.trail.marks {
		r.trail.bytes += m.bytes()
	}
	r.age, r.acts, r.cues, r.senses = m.age, m.acts, r.cues[:m.cues:m.cues], m.senses.clone()
	r.warm = m.warm
	r.age.run.Restore(&m.engine)
	for _, a := range r.planned {
		if a.number > m.acted && a.seconds >= m.seconds {
			r.put(a)
		}
	}
	r.fates()
}
