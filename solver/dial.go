package solver

// Dial is one or more resistances to be turned.
type Dial struct{}

func (d *Dial) amps(b Branch, carried []float64, s *Solution) float64 { return 0 }
