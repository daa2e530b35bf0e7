// Solving with a factor: currents in, voltages out.

package sparse

// Solve replaces the current injected into each node, in amperes, by the node's voltage, in volts.
func (f *Factor) Solve(x []float64) {
	f.forward(x)
	f.backward(f.ahead, x)
	f.solved = f.saved.edge < 0
}

// forward passes each column's current on to the columns it touches. It leaves in ahead what each column would read if those it touches
// were at 0 V.
func (f *Factor) forward(x []float64) {
	p := f.p
	clear(f.ahead)
	for i := range p.runs {
		switch r := &p.runs[i]; r.length {
		case 1:
			f.forwardOnes(r, x)
		case 2:
			f.forwardTwos(r, x)
		case 3:
			f.forwardThrees(r, x)
		default:
			f.forwardMany(r, x)
		}
	}
	for k := p.taped; k < int32(p.nodes); k++ {
		t := (f.ahead[k] + x[p.node[k]]) * f.ohms[k]
		f.ahead[k] = t
		f.pass(k, t, f.ahead)
	}
}

// The four below are forward for runs of columns of one, two, three and any number of entries.

func (f *Factor) forwardOnes(r *run, x []float64) {
	y, ohms := f.ahead, f.ohms[r.first:r.last]
	own, node := y[r.first:r.last], f.p.node[r.first:r.last]
	g, row := f.sum[f.p.nodes+int(r.entry):], f.p.row[r.entry:]
	own, node, g, row = own[:len(ohms)], node[:len(ohms)], g[:len(ohms)], row[:len(ohms)]
	for k, z := range ohms {
		t := (own[k] + x[node[k]]) * z
		own[k] = t
		y[row[k]] += g[k] * t
	}
}

func (f *Factor) forwardTwos(r *run, x []float64) {
	y, ohms := f.ahead, f.ohms[r.first:r.last]
	own, node := y[r.first:r.last], f.p.node[r.first:r.last]
	g, row := f.sum[f.p.nodes+int(r.entry):], f.p.row[r.entry:]
	own, node = own[:len(ohms)], node[:len(ohms)]
	for k, z := range ohms {
		t := (own[k] + x[node[k]]) * z
		own[k] = t
		j := 2 * k
		y[row[j]] += g[j] * t
		y[row[j+1]] += g[j+1] * t
	}
}

func (f *Factor) forwardThrees(r *run, x []float64) {
	y, ohms := f.ahead, f.ohms[r.first:r.last]
	own, node := y[r.first:r.last], f.p.node[r.first:r.last]
	g, row := f.sum[f.p.nodes+int(r.entry):], f.p.row[r.entry:]
	own, node = own[:len(ohms)], node[:len(ohms)]
	for k, z := range ohms {
		t := (own[k] + x[node[k]]) * z
		own[k] = t
		j := 3 * k
		y[row[j]] += g[j] * t
		y[row[j+1]] += g[j+1] * t
		y[row[j+2]] += g[j+2] * t
	}
}

func (f *Factor) forwardMany(r *run, x []float64) {
	y, node, m := f.ahead, f.p.node, int(r.length)
	g, row := f.sum[f.p.nodes+int(r.entry):], f.p.row[r.entry:]
	for k := r.first; k < r.last; k++ {
		t := (y[k] + x[node[k]]) * f.ohms[k]
		y[k] = t
		column, ends := g[:m], row[:m]
		for i, r := range ends {
			y[r] += column[i] * t
		}
		g, row = g[m:], row[m:]
	}
}

// pass adds to the columns that column k touches, in y, the current it sends them at the given voltage.
func (f *Factor) pass(k int32, volts float64, y []float64) {
	p := f.p
	first, last := p.begin[k], p.begin[k+1]
	column := f.sum[p.nodes:][first:last]
	if k >= p.dense {
		y = y[k+1:][:len(column)]
		for i, g := range column {
			y[i] += g * volts
		}
		return
	}
	ends := p.row[first:last][:len(column)]
	for i, g := range column {
		y[ends[i]] += g * volts
	}
}

// backward completes the voltages ahead from the last column down, into volts, and hands them to the nodes. ahead may be volts.
func (f *Factor) backward(ahead, x []float64) {
	p := f.p
	for k := int32(p.nodes) - 1; k >= p.taped; k-- {
		v := ahead[k] + f.ohms[k]*f.received(k)
		f.volts[k] = v
		x[p.node[k]] = v
	}
	for i := len(p.runs) - 1; i >= 0; i-- {
		switch r := &p.runs[i]; r.length {
		case 1:
			f.backwardOnes(r, ahead, x)
		case 2:
			f.backwardTwos(r, ahead, x)
		case 3:
			f.backwardThrees(r, ahead, x)
		default:
			f.backwardMany(r, ahead, x)
		}
	}
}

// The four below are backward for runs of columns of one, two, three and any number of entries.

func (f *Factor) backwardOnes(r *run, ahead, x []float64) {
	y, ohms := f.volts, f.ohms[r.first:r.last]
	own, node := ahead[r.first:r.last], f.p.node[r.first:r.last]
	to := y[r.first:r.last]
	g, row := f.sum[f.p.nodes+int(r.entry):], f.p.row[r.entry:]
	own, node, to, g, row = own[:len(ohms)], node[:len(ohms)], to[:len(ohms)], g[:len(ohms)], row[:len(ohms)]
	for k := len(ohms) - 1; k >= 0; k-- {
		v := own[k] + ohms[k]*(g[k]*y[row[k]])
		to[k] = v
		x[node[k]] = v
	}
}

func (f *Factor) backwardTwos(r *run, ahead, x []float64) {
	y, ohms := f.volts, f.ohms[r.first:r.last]
	own, node := ahead[r.first:r.last], f.p.node[r.first:r.last]
	to := y[r.first:r.last]
	g, row := f.sum[f.p.nodes+int(r.entry):], f.p.row[r.entry:]
	own, node, to = own[:len(ohms)], node[:len(ohms)], to[:len(ohms)]
	for k := len(ohms) - 1; k >= 0; k-- {
		j := 2 * k
		v := own[k] + ohms[k]*(g[j]*y[row[j]]+g[j+1]*y[row[j+1]])
		to[k] = v
		x[node[k]] = v
	}
}

func (f *Factor) backwardThrees(r *run, ahead, x []float64) {
	y, ohms := f.volts, f.ohms[r.first:r.last]
	own, node := ahead[r.first:r.last], f.p.node[r.first:r.last]
	to := y[r.first:r.last]
	g, row := f.sum[f.p.nodes+int(r.entry):], f.p.row[r.entry:]
	own, node, to = own[:len(ohms)], node[:len(ohms)], to[:len(ohms)]
	for k := len(ohms) - 1; k >= 0; k-- {
		j := 3 * k
		v := own[k] + ohms[k]*(g[j]*y[row[j]]+g[j+1]*y[row[j+1]]+g[j+2]*y[row[j+2]])
		to[k] = v
		x[node[k]] = v
	}
}

func (f *Factor) backwardMany(r *run, ahead, x []float64) {
	y, node, m := f.volts, f.p.node, int(r.length)
	last := f.p.nodes + int(r.entry) + m*int(r.last-r.first)
	g, row := f.sum[:last], f.p.row[:last-f.p.nodes]
	for k := r.last - 1; k >= r.first; k-- {
		column, ends := g[len(g)-m:], row[len(row)-m:]
		g, row = g[:len(g)-m], row[:len(row)-m]
		s := 0.0
		column = column[:len(ends)]
		for i, r := range ends {
			s += column[i] * y[r]
		}
		v := ahead[k] + f.ohms[k]*s
		y[k] = v
		x[node[k]] = v
	}
}

// received returns the current that the columns touched by column k send back.
func (f *Factor) received(k int32) float64 {
	p := f.p
	column := f.column(k)
	var s, s1 float64
	if k >= p.dense {
		y := f.volts[k+1:][:len(column)]
		for len(column) >= 2 && len(y) >= 2 {
			s += column[0] * y[0]
			s1 += column[1] * y[1]
			column, y = column[2:], y[2:]
		}
		if len(column) == 1 && len(y) == 1 {
			s += column[0] * y[0]
		}
		return s + s1
	}
	for i, r := range p.row[p.begin[k]:p.begin[k+1]] {
		s += column[i] * f.volts[r]
	}
	return s
}

// Column sets x to the voltages that 1 A into node a and out of node b would make in the network with all sources off. Either may be
// Ground. Only the columns on the way from a and b to the root of the elimination tree are passed forward.
func (f *Factor) Column(a, b int32, x []float64) {
	clear(f.volts)
	f.forwardPath(f.p.at(a), f.p.at(b))
	f.backward(f.volts, x)
}

// forwardPath is forward for 1 A into column a and out of column b (-1: ground). It returns the resistance between the two, in ohms: a sum
// of squares, so without cancellation. volts must be 0 before.
func (f *Factor) forwardPath(a, b int32) float64 {
	if a == b {
		return 0
	}
	if a >= 0 {
		f.volts[a]++
	}
	if b >= 0 {
		f.volts[b]--
	}
	sum := 0.0
	for a >= 0 || b >= 0 {
		k := a
		if a < 0 || b >= 0 && b < a {
			k = b
		}
		amps := f.volts[k]
		t := amps * f.ohms[k]
		sum += amps * t
		f.volts[k] = t
		f.pass(k, t, f.volts)
		if a == k {
			a = f.p.parent[k]
		}
		if b == k {
			b = f.p.parent[k]
		}
	}
	return sum
}
