package record

// This file is the marks beside a recording: what was done, and what a person would have noticed.

import (
	"slices"
	"sort"
)

// Mark is something that happened at an instant.
type Mark struct {
	Seconds float64
	Words   string // "KEY=run", "K2 clicks in"
	Done    bool   // somebody did it; else it happened by itself

	More    int     // how often the same happened again so soon that it is not told each time
	Through float64 // when it last did, in seconds; of no meaning while More is 0
}

// mostMarks is how many are told one by one. A relay that chatters all night must not fill the memory.
const mostMarks = 4096

type marks struct {
	all []Mark
}

// Mark notes something. Marks may come in any order.
func (r *Recording) Mark(m Mark) { r.marks.add(m) }

// Marks are those noted, in the order of time.
func (r *Recording) Marks() []Mark { return slices.Clone(r.marks.all) }

func (m *marks) add(n Mark) {
	if len(m.all) >= mostMarks && !n.Done {
		for i := len(m.all) - 1; i >= 0; i-- {
			if old := &m.all[i]; old.Words == n.Words && !old.Done {
				old.More += 1 + n.More
				old.Through = max(n.Seconds, n.Through, old.Through)
				return
			}
		}
	}
	at := sort.Search(len(m.all), func(i int) bool { return m.all[i].Seconds > n.Seconds })
	m.all = slices.Insert(m.all, at, n)
}

func (m *marks) back(seconds float64) {
	m.all = slices.DeleteFunc(m.all, func(k Mark) bool { return k.Seconds > seconds })
}

func (m *marks) forget(before float64) {
	m.all = slices.DeleteFunc(m.all, func(k Mark) bool { return k.Seconds < before && (k.More == 0 || k.Through < before) })
}

// Told folds what happened again and again into one mark each, where the same words come more than so often: "K2 clicks
// in" a hundred times is told once, with how often and until when. What somebody did is never folded.
func Told(all []Mark, often int) []Mark {
	count := map[string]int{}
	for _, m := range all {
		if !m.Done {
			count[m.Words] += 1 + m.More
		}
	}
	first := map[string]int{}
	var told []Mark
	for _, m := range all {
		if m.Done || count[m.Words] <= often {
			told = append(told, m)
			continue
		}
		at, met := first[m.Words]
		if !met {
			first[m.Words] = len(told)
			m.Through = max(m.Seconds, m.Through)
			told = append(told, m)
			continue
		}
		told[at].More += 1 + m.More
		told[at].Through = max(told[at].Through, m.Seconds, m.Through)
	}
	return told
}
