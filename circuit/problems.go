package circuit

// This file holds what is wrong with a file, each with its place, and gathers it while a file is read.

import (
	"fmt"
	"sort"
	"strings"
)

// mostProblems is how many are told of one file; a reader mends a few and reads again.
const mostProblems = 200

// Problem is one thing that is wrong with a file, or a warning about it.
type Problem struct {
	File    string
	Pos     Pos // zero where the file could not be opened
	Warning bool
	Text    string // what is wrong, without a full stop
	Hint    string // what to do about it, may be empty
}

// Error writes the problem as file:line:column: text. hint
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Pos.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", p.Pos.Line, p.Pos.Column)
	}
	b.WriteString(": ")
	if p.Warning {
		b.WriteString("warning: ")
	}
	b.WriteString(p.Text)
	if p.Hint != "" {
		b.WriteString(". " + p.Hint)
	}
	return b.String()
}

// Problems are those of one file, sorted by place.
type Problems []Problem

// Error writes one problem a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Errors are the problems for which a file is refused.
func (ps Problems) Errors() Problems { return ps.only(false) }

// Warnings are the problems with which a file is still read.
func (ps Problems) Warnings() Problems { return ps.only(true) }

func (ps Problems) only(warning bool) Problems {
	var found Problems
	for _, p := range ps {
		if p.Warning == warning {
			found = append(found, p)
		}
	}
	return found
}

// Err is the errors as one error, or nil where there are none.
func (ps Problems) Err() error {
	if errors := ps.Errors(); len(errors) > 0 {
		return errors
	}
	return nil
}

// report gathers the problems of one file.
type report struct {
	file   string
	errors Problems
	left   int // errors that were not kept
}

// wrong notes an error. Text says what is wrong; hint what to do about it.
func (r *report) wrong(at Pos, text, hint string) {
	if r.full() {
		r.left++
		return
	}
	r.errors = append(r.errors, Problem{File: r.file, Pos: at, Text: text, Hint: hint})
}

// full says that a further error would not be kept, so that no work is spent on its hint.
func (r *report) full() bool { return len(r.errors) >= mostProblems-1 }

// bad says that the file will be refused.
func (r *report) bad() bool { return len(r.errors) > 0 }

// problems gives what was gathered, sorted by place.
func (r *report) problems() Problems {
	all := append(Problems{}, r.errors...)
	if r.left > 0 {
		last := Pos{1, 1}
		for _, p := range r.errors {
			if last.Line < p.Pos.Line {
				last = p.Pos
			}
		}
		all = append(all, Problem{File: r.file, Pos: last, Text: fmt.Sprintf("there are %d more errors, not told here", r.left),
			Hint: "Mend these first"})
	}
	sort.SliceStable(all, func(i, j int) bool {
		a, b := all[i].Pos, all[j].Pos
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	return all
}
