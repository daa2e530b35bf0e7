// Package sanity finds what is odd about a circuit although it is wired as a circuit must be: a fuse too large for its
// wire, a load that loses too many volts, a switch that changes nothing. The rules and their sources are in
// circuit.Rules. What a file accepts is found all the same, and marked.
package sanity

// This file runs the rules, and tells what is accepted from what is not.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
)

// Finding is one oddity.
type Finding struct {
	Rule     string
	File     string
	Pos      circuit.Pos
	At       string // what it is about: the name of a part, wire, terminal or connector
	Note     bool   // good to know, and no warning
	Text     string // what is odd, without a full stop
	Hint     string // what to do about it
	Accepted *circuit.Accepted

	also  []string // other names by which a file can accept it
	group string   // of several in one group only the worst is told, and how many more there are
	worse float64  // how bad it is, among those of its group
	more  int
}

// Stale is the rule's name of an acceptance that accepts nothing. It cannot be accepted.
const Stale = "accepted"

// String writes the finding as file:line:column: warning: rule: text (source). hint
func (f Finding) String() string {
	level := "warning"
	switch {
	case f.Accepted != nil:
		level = "accepted"
	case f.Note:
		level = "note"
	}
	text := fmt.Sprintf("%s:%d:%d: %s: %s: %s", f.File, f.Pos.Line, f.Pos.Column, level, f.Rule, f.Text)
	if f.more > 0 {
		text += fmt.Sprintf("; %d more like it", f.more)
	}
	if source := sourceOf(f.Rule); source != "" {
		text += " (" + source + ")"
	}
	switch {
	case f.Accepted != nil:
		text += ". Because: " + f.Accepted.Because
	case f.Hint != "":
		text += ". " + f.Hint
	}
	return text
}

// sourceOf is where a rule's limit is from, or "".
func sourceOf(rule string) string {
	for _, r := range circuit.Rules {
		if r.Name == rule && r.Source != (catalog.Source{}) {
			return strings.TrimPrefix(r.Source.Name+", "+string(r.Source.Seen), ", ")
		}
	}
	return ""
}

// Report is what was found, sorted by place.
type Report struct {
	Findings []Finding
	Visits   int // how many times the circuit was set up and settled
}

// Warnings are the findings that are neither accepted nor mere notes.
func (r Report) Warnings() []Finding {
	return r.only(func(f Finding) bool { return f.Accepted == nil && !f.Note })
}

// Others are the notes, and what the file accepts.
func (r Report) Others() []Finding {
	return r.only(func(f Finding) bool { return f.Accepted != nil || f.Note })
}

func (r Report) only(is func(Finding) bool) []Finding {
	return slices.DeleteFunc(slices.Clone(r.Findings), func(f Finding) bool { return !is(f) })
}

// checker holds a circuit while the rules are run over it.
type checker struct {
	c        *circuit.Circuit
	feeds    map[*circuit.Part][]circuit.Feed
	plans    map[*circuit.Part]*plan // of loads and relays: what makes them work
	rails    *rails
	findings []Finding
	visits   int
}

// Check runs every rule. The error says why the circuit cannot be brought on the bench; the report then holds what was
// found without it.
func Check(c *circuit.Circuit) (Report, error) {
	k := &checker{c: c, feeds: map[*circuit.Part][]circuit.Feed{}, plans: map[*circuit.Part]*plan{}, rails: railsOf(c)}
	ways := c.Ways()
	for _, p := range c.Parts {
		k.feeds[p] = ways.Of(p)
	}
	for _, p := range c.Parts {
		if p.Kind.Load || p.Kind.Name == "relay" {
			k.plans[p] = k.planFor(p)
		}
	}
	k.fuses()
	k.overload()
	k.returns()
	k.coils()
	k.joints()
	err := k.onTheBench()
	k.accept(err == nil)
	return Report{k.findings, k.visits}, err
}

// find notes a finding.
func (k *checker) find(f Finding) {
	f.File = k.c.File
	k.findings = append(k.findings, f)
}

// accept marks what the file accepts, tells of acceptances that nothing needs, and puts the findings in order. Where the
// circuit could not be brought on the bench, an acceptance may stand for what was not looked for.
func (k *checker) accept(whole bool) {
	for i := range k.c.Accepted {
		a, used := &k.c.Accepted[i], false
		for n := range k.findings {
			f := &k.findings[n]
			if f.Rule == a.Rule && !f.Note && (f.At == a.At || slices.Contains(f.also, a.At)) {
				used = true
				if f.Accepted == nil {
					f.Accepted = a
				}
			}
		}
		if !used && whole {
			k.find(Finding{Rule: Stale, Pos: a.Pos, At: a.At,
				Text: fmt.Sprintf("nothing here needs %q accepted at %s", a.Rule, a.At), Hint: "Take the line out"})
		}
	}
	k.findings = grouped(k.findings)
	slices.SortStableFunc(k.findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(a.Pos.Column, b.Pos.Column))
	})
}

// grouped leaves the worst of each group, those accepted apart from those that are not.
func grouped(findings []Finding) []Finding {
	type group struct {
		name, rule string
		note       bool
		accepted   *circuit.Accepted
	}
	var left []Finding
	first := map[group]int{}
	for _, f := range findings {
		if f.group == "" {
			left = append(left, f)
			continue
		}
		g := group{f.group, f.Rule, f.Note, f.Accepted}
		i, met := first[g]
		switch {
		case !met:
			first[g] = len(left)
			left = append(left, f)
		case f.worse > left[i].worse:
			f.more = left[i].more + 1
			left[i] = f
		default:
			left[i].more++
		}
	}
	return left
}
