package transient

// This file folds away the nodes where nothing ever happens. A node between resistors only is replaced by the mesh
// between its neighbours once, not in every step, and its volts are found again when somebody asks.

import "slices"

// foldDegree is the most neighbours a node may have to be folded: a mesh among more of them would cost more than the
// node does. In particular a rail or a ground stud with a hundred branches stays.
const foldDegree = 4

// pair is a conductance between two unknowns, or from one to ground: b is then -1.
type pair struct{ a, b int32 }

func pairOf(a, b int32) pair {
	if a < b {
		a, b = b, a
	}
	return pair{a, b}
}

// spoke is one conductance at a folded unknown: the pair's place and the unknown at its other end, -1 for ground.
type spoke struct{ place, to int32 }

// star is a folded unknown with what was around it then.
type star struct {
	unknown int32
	spokes  []spoke
	mesh    []int32 // for every two spokes, in order, the place that gains; -1 for none
}

// folding is which unknowns are folded, in which order, and which pairs are left.
type folding struct {
	pairs []pair // of linear edges, then those that meshes add
	stars []star
	left  []int32 // unknowns that are left
	keep  []int32 // places of pairs that are left
}

// fold plans the folding of the unknowns for which fixed is false. keepAll folds none.
func fold(unknowns int, edges []pair, fixed []bool, keepAll bool) *folding {
	f := &folding{}
	place := map[pair]int32{}
	near := make([]map[int32]int32, unknowns) // neighbour -> place
	for u := range near {
		near[u] = map[int32]int32{}
	}
	add := func(p pair) int32 {
		at, ok := place[p]
		if !ok {
			at = int32(len(f.pairs))
			place[p] = at
			f.pairs = append(f.pairs, p)
		}
		near[p.a][p.b] = at
		if p.b >= 0 {
			near[p.b][p.a] = at
		}
		return at
	}
	for _, p := range edges {
		add(p)
	}
	gone := make([]bool, unknowns)
	for degree := 0; degree <= foldDegree && !keepAll; degree++ {
		for again := true; again; {
			again = false
			for u := range near {
				if fixed[u] || gone[u] || degreeOf(near[u]) > degree {
					continue
				}
				f.stars = append(f.stars, remove(int32(u), near, add))
				gone[u], again = true, true
			}
		}
	}
	for u := range near {
		if !gone[u] {
			f.left = append(f.left, int32(u))
		}
	}
	for at, p := range f.pairs {
		if !gone[p.a] && (p.b < 0 || !gone[p.b]) {
			f.keep = append(f.keep, int32(at))
		}
	}
	return f
}

// degreeOf counts neighbours without ground.
func degreeOf(near map[int32]int32) int {
	if _, grounded := near[-1]; grounded {
		return len(near) - 1
	}
	return len(near)
}

func remove(u int32, near []map[int32]int32, add func(pair) int32) star {
	s := star{unknown: u}
	for to, at := range near[u] {
		s.spokes = append(s.spokes, spoke{at, to})
	}
	slices.SortFunc(s.spokes, func(x, y spoke) int { return int(x.to) - int(y.to) })
	for _, sp := range s.spokes {
		if sp.to >= 0 {
			delete(near[sp.to], u)
		}
	}
	for i, x := range s.spokes {
		for _, y := range s.spokes[i+1:] {
			s.mesh = append(s.mesh, add(pairOf(x.to, y.to)))
		}
	}
	return s
}

// apply folds in numbers. siemens has one value a pair, those of the edges first filled in and the rest 0.
func (f *folding) apply(siemens []float64) {
	for i := range f.stars {
		s := &f.stars[i]
		total := 0.0
		for _, sp := range s.spokes {
			total += siemens[sp.place]
		}
		if total == 0 {
			continue
		}
		m := 0
		for j, x := range s.spokes {
			share := siemens[x.place] / total
			for _, y := range s.spokes[j+1:] {
				siemens[s.mesh[m]] += share * siemens[y.place]
				m++
			}
		}
	}
}

// unfold finds the volts of all folded unknowns from those of the others. One with no conductance at all is at 0 V.
func (f *folding) unfold(siemens, volts []float64) {
	for i := len(f.stars) - 1; i >= 0; i-- {
		s := &f.stars[i]
		total, amps := 0.0, 0.0
		for _, sp := range s.spokes {
			g := siemens[sp.place]
			total += g
			if sp.to >= 0 {
				amps += g * volts[sp.to]
			}
		}
		volts[s.unknown] = 0
		if total > 0 {
			volts[s.unknown] = amps / total
		}
	}
}
