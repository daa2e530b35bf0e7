package circuit

// This file keeps track of which conductors are joined metal to metal, and numbers the spots this leaves.

// joints is a forest: each conductor points to another of its spot, the last one to itself.
type joints []int

// add makes a conductor that is joined to nothing yet.
func (j *joints) add() int {
	*j = append(*j, len(*j))
	return len(*j) - 1
}

// root finds the conductor that stands for a whole spot.
func (j joints) root(a int) int {
	for j[a] != a {
		j[a] = j[j[a]] // halve the way for the next time
		a = j[a]
	}
	return a
}

// join makes two conductors one spot.
func (j joints) join(a, b int) {
	if a, b = j.root(a), j.root(b); a != b {
		j[max(a, b)] = min(a, b)
	}
}

// numbered gives every conductor its spot, counted from 0 in the order the conductors were made.
func (j joints) numbered() (spots []Spot, count int) {
	spots = make([]Spot, len(j))
	for a := range j {
		if root := j.root(a); root == a {
			spots[a] = Spot(count)
			count++
		} else {
			spots[a] = spots[root] // a root is always the lowest of its spot, so it is numbered already
		}
	}
	return spots, count
}

// tail is what is joined to a terminal while paths are read.
type tail struct {
	near, far       int // conductors; meaningful where met
	nearMet, farMet bool
	nearAt, farAt   Pos // where the path first met it
	passed          Pos // where a path went through it; zero: none did
}

// nearTail gives the conductor on a terminal's harness side, made when first asked for.
func (r *reader) nearTail(t *Terminal, at Pos) int {
	end := r.tails[t]
	if !end.nearMet {
		end.near, end.nearMet, end.nearAt = r.joints.add(), true, at
	}
	return end.near
}

// farTail is nearTail for the .b side of an in-line terminal.
func (r *reader) farTail(t *Terminal, at Pos) int {
	end := r.tails[t]
	if !end.farMet {
		end.far, end.farMet, end.farAt = r.joints.add(), true, at
	}
	return end.far
}

// meeting is how often paths met a splice or stud.
type meeting struct {
	conductor int
	declared  bool
	times     int
	middle    bool // once in the middle of a path
}
