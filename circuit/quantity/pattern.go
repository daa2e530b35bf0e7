// The spellings that Parse takes, as regular expressions for schemas and editors.

package quantity

import (
	"maps"
	"slices"
	"strings"
)

// The look-alikes that tidy folds into one, and the edges that it trims. Any space of print will do, here more than there.
const (
	space  = `[\t\p{Zs}]`
	spaces = space + "*"
	edges  = `[\s\p{Z}]*`
	minus  = "-\u2212\u2013"
)

// Pattern gives a regular expression, in the syntax that RE2 and ECMA 262 share, for the whole of a text that Parse
// takes as dimension d. Sizes are left to Parse: an expression cannot weigh a number. With below, a minus sign may
// stand before it.
func Pattern(d Dimension, below bool) string {
	sign := "\\+?"
	if below {
		sign = "[" + minus + "+]?"
	}
	number := sign + spaces + "(?:[0-9]{1,3}(?:" + space + "[0-9]{3})+(?:[.,][0-9]*)?|" + digits + ")" + exponent
	var forms []string
	switch d {
	case Number:
		forms = append(forms, number, number+spaces+"[/\u2044]"+spaces+number)
	case SquareMillimetres:
		forms = append(forms, gaugePattern("(?:awg|gauge|ga)", "(?:awg|gauge|ga)", "["+minus+`\t\p{Zs}]*`))
	case Ohms, Volts:
		forms = append(forms, letteredPattern(d))
	}
	if d != Number {
		forms = append(forms, number+spaces+"(?:"+unitPattern(d, spaces)+")"+spaces+"\\.?")
	}
	return "^" + edges + "(?:" + strings.Join(forms, "|") + ")" + edges + "$"
}

// WordPattern is Pattern for a value among other words, without anchors: its number and its unit are a word each, or
// one word. It has no minus sign.
func WordPattern(d Dimension) string {
	forms := []string{"\\+?(?:" + digits + ")" + exponent + "[ \t]*(?:" + unitPattern(d, "") + ")\\.?"}
	switch d {
	case SquareMillimetres:
		forms = append(forms, gaugePattern("awg", "(?:awg|gauge|ga)", "[- \t]*"))
	case Ohms, Volts:
		forms = append(forms, letteredPattern(d))
	}
	return "(?:" + strings.Join(forms, "|") + ")"
}

// digits are the numbers that plain takes but for spaced thousands: 1,800 alone could be two numbers.
const digits = `[0-9]{1,3}(?:,[0-9]{3})+\.[0-9]*|[0-9]{1,3}(?:,[0-9]{3}){2,}|[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]*|[0-9]{1,3}(?:\.[0-9]{3}){2,}` +
	`|[0-9]+\.?[0-9]*|[.,][0-9]+|0[0-9]*,[0-9]*|[0-9]{4,},[0-9]*|[0-9]{1,3},(?:[0-9]{0,2}|[0-9]{4,})`

const exponent = "(?:[eE][" + minus + "+]?[0-9]+)?"

// letteredPattern has the letter where the decimal point would be, as lettered reads it.
func letteredPattern(d Dimension) string {
	letters := slices.Sorted(maps.Keys(pointLetters[d]))
	return "[0-9]+[" + string(letters) + "][0-9]+"
}

// gaugePattern holds the wire gauges that gauge reads, the word before or after the number.
func gaugePattern(before, after, gap string) string {
	const size = `(?:\+?0*(?:[1-9]|[1-3][0-9]|40)|0{1,4}|\+0+|\+?0*[1-4][/⁄]0)`
	return anyCase(before) + gap + size + gap + "|" + gap + size + gap + anyCase(after)
}

// alike are the ways to write a character of a unit that mean the same.
var alike = map[rune]string{'Ω': "[ΩωΩ]", 'k': "[kK\u212a]", 'u': "[uU\u00b5\u03bc]", '°': "[°º]", '2': `(?:\^?2|²)`, '\'': "['′’]", '"': "[\"″]"}

func anyCase(text string) string {
	var b strings.Builder
	for _, c := range text {
		b.WriteString(letter(c))
	}
	return b.String()
}

func letter(c rune) string {
	switch other, ok := alike[c]; {
	case ok:
		return other
	case c >= 'a' && c <= 'z':
		return "[" + string(c) + string(c-'a'+'A') + "]"
	}
	return string(c)
}

// unitPattern holds every spelling of a dimension's units, in any case, with gap between the letters.
func unitPattern(d Dimension, gap string) string {
	root := &branch{}
	for s := range tables[d].exact {
		if s != "M" { // 10M of ohms, the one spelling whose case counts by itself
			root.add([]rune(strings.ToLower(s)))
		}
	}
	pattern := root.pattern(gap)
	if _, mega := tables[d].exact["M"]; mega {
		pattern += "|M"
	}
	return pattern
}

// branch is a node in a tree of spellings, so that the pattern holds their common beginnings once.
type branch struct {
	next map[rune]*branch
	ends bool
}

func (b *branch) add(letters []rune) {
	if len(letters) == 0 {
		b.ends = true
		return
	}
	first := letters[0]
	if first == 'ω' { // lower case of the unit's own letter
		first = 'Ω'
	}
	if b.next == nil {
		b.next = map[rune]*branch{}
	}
	if b.next[first] == nil {
		b.next[first] = &branch{}
	}
	b.next[first].add(letters[1:])
}

func (b *branch) pattern(gap string) string {
	var firsts []rune
	for c := range b.next {
		firsts = append(firsts, c)
	}
	slices.Sort(firsts)
	var ways []string
	for _, c := range firsts {
		next := b.next[c]
		rest := next.pattern(gap)
		if len(next.next) > 1 {
			rest = "(?:" + rest + ")"
		}
		if rest != "" {
			rest = gap + rest
		}
		if rest != "" && next.ends {
			rest = "(?:" + rest + ")?"
		}
		ways = append(ways, letter(c)+rest)
	}
	return strings.Join(ways, "|")
}
