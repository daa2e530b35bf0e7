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
		r := &p.runs[i]
		y, node, ohms := f.ahead, p.node[r.first:r.last], f.ohms[r.first:r.last]
		own := f.ahead[r.first:r.last][:len(ohms)]
		node = node[:len(ohms)]
		g, row := f.sum[p.nodes+int(r.entry):], p.row[r.entry:]
		switch r.length {
		case 1:
			g, row = g[:len(ohms)], row[:len(ohms)]
			for k, z := range ohms {
				t := (own[k] + x[node[k]]) * z
				own[k] = t
				y[row[k]] += g[k] * t
			}
		case 2:
			for k, z := range ohms {
				t := (own[k] + x[node[k]]) * z
				own[k] = t
				j := 2 * k
				y[row[j]] += g[j] * t
				y[row[j+1]] += g[j+1] * t
			}
		case 3:
			for k, z := range ohms {
				t := (own[k] + x[node[k]]) * z
				own[k] = t
				j := 3 * k
				y[row[j]] += g[j] * t
				y[row[j+1]] += g[j+1] * t
				y[row[j+2]] += g[j+2] * t
			}
		default:
			m := int(r.length)
			for k, z := range ohms {
				t := (own[k] + x[node[k]]) * z
				own[k] = t
				column, ends := g[:m], row[:m]
				g, row = g[m:], row[m:]
				for i, r := range ends {
					y[r] += column[i] * t
				}
			}
		}
	}
	for k := p.taped; k < int32(p.nodes); k++ {
		t := (f.ahead[k] + x[p.node[k]]) * f.ohms[k]
		f.ahead[k] = t
		f.pass(k, t, f.ahead)
	}
}

// pass adds to the columns that column k touches, in y, the current it sends them at the given voltage.
func (f *Factor) pass(k int32, volts float64, y []float64) {
	p := f.p
	column := f.column(k)
	if k >= p.dense {
		y = y[k+1:][:len(column)]
		for i, g := range column {
			y[i] += g * volts
		}
		return
	}
	for i, r := range p.row[p.begin[k]:p.begin[k+1]] {
		y[r] += column[i] * volts
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
		r := &p.runs[i]
		y, node, ohms := f.volts, p.node[r.first:r.last], f.ohms[r.first:r.last]
		from, to := ahead[r.first:r.last][:len(ohms)], f.volts[r.first:r.last][:len(ohms)]
		node = node[:len(ohms)]
		g, row := f.sum[p.nodes+int(r.entry):], p.row[r.entry:]
		switch r.length {
		case 1:
			g, row = g[:len(ohms)], row[:len(ohms)]
			for k := len(ohms) - 1; k >= 0; k-- {
				v := from[k] + ohms[k]*(g[k]*y[row[k]])
				to[k] = v
				x[node[k]] = v
			}
		case 2:
			for k := len(ohms) - 1; k >= 0; k-- {
				j := 2 * k
				v := from[k] + ohms[k]*(g[j]*y[row[j]]+g[j+1]*y[row[j+1]])
				to[k] = v
				x[node[k]] = v
			}
		case 3:
			for k := len(ohms) - 1; k >= 0; k-- {
				j := 3 * k
				v := from[k] + ohms[k]*(g[j]*y[row[j]]+g[j+1]*y[row[j+1]]+g[j+2]*y[row[j+2]])
				to[k] = v
				x[node[k]] = v
			}
		default:
			m := int(r.length)
			j := m * (len(ohms) - 1)
			for k := len(ohms) - 1; k >= 0; k-- {
				column, ends := g[j:][:m], row[j:][:m]
				j -= m
				s := 0.0
				for i, r := range ends {
					s += column[i] * y[r]
				}
				v := from[k] + ohms[k]*s
				to[k] = v
				x[node[k]] = v
			}
		}
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
