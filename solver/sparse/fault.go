// What dictionaries of single faults share: the sound network's answer, and the price of one fault.

package sparse

// Fault gives one edge another conductance, in siemens.
type Fault struct {
	Edge    int
	Siemens float64
}

// safeGap is the smallest gap (see [LowRank.Set]) at which the low-rank answer is used as it is; its relative error is 1e-16 / gap or so.
const safeGap = 1e-8

// sound is a network without fault, whose faults are to be told.
type sound struct {
	f         *Factor
	amps, emf []float64 // as given to start
	sources   []int32   // edges with an EMF
	volts     []float64 // by node
	work      []float64 // by node
	guard     float64   // faults with a smaller gap are solved exactly
}

func newSound(f *Factor) sound {
	n := f.p.nodes
	return sound{f: f, sources: make([]int32, 0, f.p.edges), volts: make([]float64, n), work: make([]float64, n), guard: safeGap}
}

// Inject sets x to the currents injected into the nodes, in amperes: amps (nil: none) and what the EMFs in series with the edges drive, in
// volts, positive where one drives A above B (nil: none). Conductances are those of the last Refactor, with a pending Change.
func (f *Factor) Inject(amps, emf, x []float64) {
	clear(x)
	copy(x, amps)
	for i, v := range emf {
		if v != 0 {
			f.drive(i, v, x)
		}
	}
}

func (f *Factor) drive(edge int, emf float64, x []float64) {
	e, amps := f.p.ends[edge], f.siemens[edge]*emf
	if e.A >= 0 {
		x[e.A] += amps
	}
	if e.B >= 0 {
		x[e.B] -= amps
	}
}

// start solves the network without fault, so that SolveChanged can build on it.
func (s *sound) start(amps, emf []float64) {
	s.f.Restore()
	s.amps, s.emf = amps, emf
	s.sources = s.sources[:0]
	for i, v := range emf {
		if v != 0 {
			s.sources = append(s.sources, int32(i))
		}
	}
	s.f.Inject(amps, emf, s.volts)
	s.f.Solve(s.volts)
}

// stop keeps a later SolveChanged from building on the Solve of start.
func (s *sound) stop() { s.f.solved = false }

// set makes the fault's change and leaves in work the currents injected with it. They are summed up afresh: taking the old current of a
// source away again would leave its rounding behind.
func (s *sound) set(fault Fault) {
	s.f.Change(fault.Edge, fault.Siemens)
	clear(s.work)
	copy(s.work, s.amps)
	for _, i := range s.sources {
		s.f.drive(int(i), s.emf[i], s.work)
	}
}

// price finds the current to be sent through a fault's edge, from the resistance between its ends. exact says that the gap is too small.
func (s *sound) price(fault Fault, ohms float64) (amps float64, exact bool) {
	e := s.f.p.ends[fault.Edge]
	more := fault.Siemens - s.f.siemens[fault.Edge]
	gap := 1 + more*ohms
	if gap < s.guard {
		return 0, true
	}
	volts := -drop(s.volts, e.A, e.B)
	if s.emf != nil {
		volts += s.emf[fault.Edge]
	}
	return more * volts / gap, false
}
