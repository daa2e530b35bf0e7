// Kirchhoff's current law, checked edge by edge, and what to do about what is left.

package sparse

// Residual sets left to the current, in amperes, that the given node voltages leave unaccounted for at each node: what is injected there
// (amps) less what its edges carry away. It goes edge by edge, so a small drop across a large conductance keeps its digits. Conductances are
// those of the last Refactor, with a pending Change.
func (f *Factor) Residual(amps, volts, left []float64) {
	copy(left, amps[:f.p.nodes])
	siemens := f.siemens
	for i, e := range f.p.ends[:len(siemens)] {
		switch a, b := e.A, e.B; {
		case a == b:
		case b < 0:
			left[a] -= siemens[i] * volts[a]
		case a < 0:
			left[b] -= siemens[i] * volts[b]
		default:
			carried := siemens[i] * (volts[a] - volts[b])
			left[a] -= carried
			left[b] += carried
		}
	}
}

// Refine improves node voltages by one step: what Residual leaves is solved for and added. work needs one place a node and is overwritten.
func (f *Factor) Refine(amps, volts, work []float64) {
	f.Residual(amps, volts, work)
	f.Solve(work)
	f.solved = false // not a Solve that SolveChanged may build on
	for i, v := range work[:len(volts)] {
		volts[i] += v
	}
}
