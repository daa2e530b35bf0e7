package compare

// This file tells paths apart: what they now go through, where they begin and end.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"underload/circuit"
)

// mostCells bounds the table of a comparison of two paths; longer ones are told as a whole.
const mostCells = 4_000_000

func (d *differ) paths() {
	was, now := d.sameSteps()
	both(was, now, func(p *circuit.Path) string { return p.Name },
		func(p *circuit.Path) {
			d.gone["path "+p.Name] = true
			d.tell(p.Name, "removed", "", strings.Join(steps(p), ", "), "path "+p.Name+" removed")
		},
		func(p *circuit.Path) {
			d.gone["path "+p.Name] = true
			way := strings.Join(steps(p), ", ")
			d.tell(p.Name, "added", way, "", "path "+p.Name+" added: "+way)
		},
		d.path)
}

// sameSteps finds paths that only go by another name now, tells that, and gives the others.
func (d *differ) sameSteps() (was, now []*circuit.Path) {
	met := map[string]int{}
	for _, p := range append(slices.Clone(d.was.Paths), d.now.Paths...) {
		met[p.Name]++
	}
	free := map[string]*circuit.Path{}
	for _, p := range d.was.Paths {
		if met[p.Name] == 1 {
			free[strings.Join(steps(p), ", ")] = p
		}
	}
	again := map[*circuit.Path]bool{}
	for _, p := range d.now.Paths {
		way := strings.Join(steps(p), ", ")
		old := free[way]
		if met[p.Name] > 1 || old == nil {
			now = append(now, p)
			continue
		}
		delete(free, way)
		again[old] = true
		d.renamed[p.Name] = old.Name
		d.tell(p.Name, "name", p.Name, old.Name, "path "+old.Name+" now called "+p.Name)
	}
	for _, p := range d.was.Paths {
		if !again[p] {
			was = append(was, p)
		}
	}
	return was, now
}

// steps writes what a path goes through, as a file does, wires left out: B1.pos, F1, S1.
func steps(p *circuit.Path) []string {
	legs := p.Legs()
	var told []string
	for _, step := range p.Steps {
		if step.Wire != nil {
			continue
		}
		arrived, left := "", ""
		if n := len(told); n > 0 {
			arrived = legs[n-1].To
		}
		if n := len(told); n < len(legs) {
			left = legs[n].From
		}
		told = append(told, stepText(step, arrived, left))
	}
	return told
}

// stepText writes one step that is no wire.
func stepText(step circuit.Step, arrived, left string) string {
	switch {
	case step.Part != nil && step.Out == nil:
		return step.In.Name
	case step.Part != nil && len(step.Part.Terminals) == 2 && step.In == step.Part.Terminals[0] && arrived != "":
		return step.Part.Name
	case step.Part != nil:
		return step.In.Name + "-" + step.Out.Pin
	case step.Cavity != nil && arrived != "" && left != "":
		if strings.HasSuffix(arrived, ".b") {
			return step.Cavity.Name + ".b-a"
		}
		return step.Cavity.Name
	}
	return cmp.Or(arrived, left)
}

func (d *differ) path(was, now *circuit.Path) {
	before, after := steps(was), steps(now)
	if slices.Equal(before, after) {
		return
	}
	told := 0
	tell := func(text string) {
		told++
		d.tell(now.Name, "steps", strings.Join(after, ", "), strings.Join(before, ", "), "path "+now.Name+": "+text)
	}
	if before[0] != after[0] {
		tell(fmt.Sprintf("now begins at %s, was %s", after[0], before[0]))
	}
	for _, text := range through(before, after) {
		tell(text)
	}
	if a, b := before[len(before)-1], after[len(after)-1]; a != b {
		tell(fmt.Sprintf("now ends at %s, was %s", b, a))
	}
	if told == 0 {
		tell(fmt.Sprintf("now %s, was %s", strings.Join(after, ", "), strings.Join(before, ", ")))
	}
}

// through tells what lies between the ends of a path now and did not before.
func through(before, after []string) []string {
	groups := differences(before, after)
	left := map[string]bool{} // steps that stand elsewhere now
	for _, g := range groups {
		for _, step := range before[g.from:g.to] {
			left[step] = true
		}
	}
	moved := map[string]bool{}
	for _, g := range groups {
		for _, step := range after[g.now:g.end] {
			moved[step] = moved[step] || left[step]
		}
	}
	var told []string
	for _, g := range groups {
		gone := inner(before, g.from, g.to, func(step string) bool { return !moved[step] })
		came := inner(after, g.now, g.end, func(string) bool { return true })
		where := ""
		if g.end < len(after) {
			where = " before " + after[g.end]
		} else if g.now > 0 {
			where = " after " + after[g.now-1]
		}
		switch {
		case len(came) > 0 && len(gone) > 0:
			told = append(told, fmt.Sprintf("now through %s instead of %s", strings.Join(came, ", "), strings.Join(gone, ", ")))
		case len(came) > 0:
			told = append(told, "now through "+strings.Join(came, ", ")+where)
		case len(gone) > 0:
			told = append(told, "no longer through "+strings.Join(gone, ", "))
		}
	}
	return told
}

// inner gives the steps of a stretch that are not an end of the path.
func inner(steps []string, from, to int, keep func(string) bool) []string {
	var found []string
	for i := max(from, 1); i < min(to, len(steps)-1); i++ {
		if keep(steps[i]) {
			found = append(found, steps[i])
		}
	}
	return found
}

// group is a stretch that differs: before[from:to] gave way to after[now:end].
type group struct{ from, to, now, end int }

// differences finds the stretches that differ, by the longest common subsequence.
func differences(before, after []string) []group {
	head := 0
	for head < len(before) && head < len(after) && before[head] == after[head] {
		head++
	}
	tail := 0
	for tail < len(before)-head && tail < len(after)-head && before[len(before)-1-tail] == after[len(after)-1-tail] {
		tail++
	}
	a, b := before[head:len(before)-tail], after[head:len(after)-tail]
	if len(a)*len(b) > mostCells {
		return []group{{head, head + len(a), head, head + len(b)}}
	}
	common := table(a, b)
	var groups []group
	open := false
	for i, j := 0, 0; i < len(a) || j < len(b); {
		if i < len(a) && j < len(b) && a[i] == b[j] {
			i, j, open = i+1, j+1, false
			continue
		}
		if !open {
			groups = append(groups, group{head + i, head + i, head + j, head + j})
			open = true
		}
		g := &groups[len(groups)-1]
		if j == len(b) || i < len(a) && common[i+1][j] > common[i][j+1] {
			i++
			g.to++
		} else {
			j++
			g.end++
		}
	}
	return groups
}

// table holds how many steps the rests of two paths have in common.
func table(a, b []string) [][]int {
	common := make([][]int, len(a)+1)
	for i := range common {
		common[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			} else {
				common[i][j] = max(common[i+1][j], common[i][j+1])
			}
		}
	}
	return common
}
