// A few conductances changed or added anywhere, from stored unit solves: sliders, meters, jumpers.

package sparse

import "math"

// LowRank answers for a network with a few conductances changed or added, also between nodes no edge joins, without a new factorisation
// (Sherman, Morrison and Woodbury; see Golub and Van Loan, Matrix Computations, section 2.1.4). Add stores one unit solve for each place;
// Set then prices any values there in a few operations, and At reads single nodes at a cost that does not depend on the network's size.
// It belongs to a Factor and goes stale with the Factor's next Refactor, Change or Restore.
type LowRank struct {
	f      *Factor
	a, b   []int32
	column []float64 // voltages for 1 A into a and out of b, one place after the other
	cross  []float64 // [i*most+j]: drop at place i for 1 A through place j, in ohms
	system []float64
	coeff  []float64 // amps to be sent through each place
	most   int
}

// NewLowRank makes room for the given number of places.
func (f *Factor) NewLowRank(most int) *LowRank {
	return &LowRank{f: f, most: most, a: make([]int32, 0, most), b: make([]int32, 0, most), column: make([]float64, most*f.p.nodes),
		cross: make([]float64, most*most), system: make([]float64, most*most), coeff: make([]float64, most)}
}

// Reset forgets all places.
func (l *LowRank) Reset() { l.a, l.b = l.a[:0], l.b[:0] }

// Add takes up the place between nodes a and b; either may be Ground.
func (l *LowRank) Add(a, b int32) {
	f, k, n := l.f, len(l.a), l.f.p.nodes
	l.a, l.b = append(l.a, a), append(l.b, b)
	clear(f.volts)
	ohms := f.forwardPath(f.p.at(a), f.p.at(b))
	f.backward(f.volts, l.column[k*n:(k+1)*n])
	for i := range k {
		l.cross[i*l.most+k] = drop(l.column[k*n:], l.a[i], l.b[i])
		l.cross[k*l.most+i] = l.cross[i*l.most+k]
	}
	l.cross[k*l.most+k] = ohms
	l.coeff[k] = 0
}

// drop returns the voltage of node a above node b.
func drop(volts []float64, a, b int32) float64 {
	v := 0.0
	if a >= 0 {
		v = volts[a]
	}
	if b >= 0 {
		v -= volts[b]
	}
	return v
}

// Set adds more[i] siemens at place i, with emf[i] volts in series that drive a above b (nil: none), to a network whose node voltages were
// volts. To change a branch that has an EMF, give the change of its conductance and its EMF.
//
// The result is the smallest gap met: 1 + more * resistance for a single place. It is near 0 where a branch that held an island is nearly
// opened; relative errors then grow to some 1e-16 / gap, and below 1e-8 Change or Refactor should be used instead.
func (l *LowRank) Set(more, emf, volts []float64) (gap float64) {
	n, m := len(l.a), l.most
	for i, d := range more[:n] {
		drive := -drop(volts, l.a[i], l.b[i])
		if emf != nil {
			drive += emf[i]
		}
		l.coeff[i] = d * drive
		for j := range n {
			l.system[i*m+j] = d * l.cross[i*m+j]
		}
		l.system[i*m+i]++
	}
	return l.solveSystem()
}

// solveSystem solves for coeff by elimination with row exchange and returns the smallest pivot.
func (l *LowRank) solveSystem() float64 {
	n, m, s, x := len(l.a), l.most, l.system, l.coeff
	gap := math.Inf(1)
	for k := range n {
		best := k
		for i := k + 1; i < n; i++ {
			if math.Abs(s[i*m+k]) > math.Abs(s[best*m+k]) {
				best = i
			}
		}
		if best != k {
			for j := range n {
				s[k*m+j], s[best*m+j] = s[best*m+j], s[k*m+j]
			}
			x[k], x[best] = x[best], x[k]
		}
		pivot := s[k*m+k]
		gap = min(gap, math.Abs(pivot))
		if pivot == 0 {
			continue
		}
		for i := k + 1; i < n; i++ {
			ratio := s[i*m+k] / pivot
			for j := k + 1; j < n; j++ {
				s[i*m+j] -= ratio * s[k*m+j]
			}
			x[i] -= ratio * x[k]
		}
	}
	for k := n - 1; k >= 0; k-- {
		for j := k + 1; j < n; j++ {
			x[k] -= s[k*m+j] * x[j]
		}
		if s[k*m+k] == 0 {
			x[k] = 0
			continue
		}
		x[k] /= s[k*m+k]
	}
	return gap
}

// At returns the voltage of one node after the last Set, given what it was before.
func (l *LowRank) At(node int32, before float64) float64 {
	n := l.f.p.nodes
	for i := range l.a {
		before += l.coeff[i] * l.column[i*n+int(node)]
	}
	return before
}

// Apply sets after to all node voltages after the last Set, given those before. The two may be the same slice.
func (l *LowRank) Apply(before, after []float64) {
	n := l.f.p.nodes
	before, after = before[:n], after[:n]
	for i := range l.a {
		addScaled(after, before, l.coeff[i], l.column[i*n:(i+1)*n])
		before = after
	}
	if len(l.a) == 0 {
		copy(after, before)
	}
}

// addScaled sets to = from + c * x.
func addScaled(to, from []float64, c float64, x []float64) {
	from, x = from[:len(to)], x[:len(to)]
	for len(to) >= 4 && len(from) >= 4 && len(x) >= 4 {
		to[0] = from[0] + c*x[0]
		to[1] = from[1] + c*x[1]
		to[2] = from[2] + c*x[2]
		to[3] = from[3] + c*x[3]
		to, from, x = to[4:], from[4:], x[4:]
	}
	for i := range min(len(to), len(from), len(x)) {
		to[i] = from[i] + c*x[i]
	}
}
