// The nearest known name to a misspelt one.

// Package spelling finds the name a person most likely meant.
package spelling

import "strings"

// longest keeps the work small whatever is asked.
const longest = 64

// Nearest gives the name in known that is closest to word, ignoring case, and
// whether it is close enough to suggest: one slip in a name of up to four
// letters, two in a longer one. A slip is a letter added, lost, changed, or two
// neighbours swapped. Of equally near names the first in known wins.
func Nearest(word string, known []string) (string, bool) {
	if len(word) > longest {
		return "", false
	}
	w := []rune(strings.ToLower(word))
	best, fewest := "", 3
	for _, name := range known {
		if len(name) > longest {
			continue
		}
		allowed := 2
		if len(w) <= 4 {
			allowed = 1
		}
		n := []rune(strings.ToLower(name))
		if d := slips(w, n); d <= allowed && d < fewest && d < max(len(w), len(n)) {
			best, fewest = name, d
		}
	}
	return best, fewest < 3
}

// slips counts the edits between a and b (optimal string alignment).
func slips(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
