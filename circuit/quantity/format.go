// Writing a value for people: engineering prefix, grouped thousands, a real
// minus sign, and a space that does not break between number and unit.

package quantity

import (
	"math"
	"strconv"
	"strings"
)

const (
	unitSpace  = "\u00a0" // keeps number and unit on one line
	groupSpace = "\u202f" // thin, and keeps the number on one line
	minusSign  = "\u2212"
)

var prefixSign = map[int]string{-12: "p", -9: "n", -6: "µ", -3: "m", 0: "", 3: "k", 6: "M", 9: "G"}

// Format writes value, given in the base unit of d, with digits significant
// digits and a fitting prefix: Format(0.015, Ohms, 2) is "15 mΩ". With digits 0
// or less it writes as many as the value has, so that Parse gives it back
// exactly. What is not a finite number is written in words or as ∞.
func Format(value float64, d Dimension, digits int) string {
	if !d.known() {
		panic("quantity: no such dimension")
	}
	switch {
	case math.IsNaN(value):
		return "no value"
	case math.IsInf(value, 0):
		return withUnit(signOf(value)+"∞", "", d)
	case value == 0:
		return withUnit("0", "", d)
	}
	mantissa, exponent := round(math.Abs(value), digits)
	exponent += traits[d].shown
	power := pickPrefix(exponent, traits[d].prefixes)
	return withUnit(signOf(value)+place(mantissa, exponent-power), prefixSign[power], d)
}

func signOf(value float64) string {
	if value < 0 {
		return minusSign
	}
	return ""
}

func withUnit(number, prefix string, d Dimension) string {
	if d == Number {
		return number
	}
	return number + unitSpace + prefix + traits[d].symbol
}

// round gives the significant digits of a positive value and the power of ten of the first one.
func round(value float64, digits int) (mantissa string, exponent int) {
	precision := -1
	if digits > 0 {
		precision = min(digits, 17) - 1
	}
	head, tail, _ := strings.Cut(strconv.FormatFloat(value, 'e', precision, 64), "e")
	exponent, _ = strconv.Atoi(tail)
	return strings.Replace(head, ".", "", 1), exponent
}

// pickPrefix gives the largest power in powers that leaves at least one digit before the point.
func pickPrefix(exponent int, powers []int) int {
	power := 0
	for i, p := range powers {
		if i == 0 || p <= exponent {
			power = p
		}
	}
	return power
}

// place writes the digits with the point after exponent+1 of them.
func place(mantissa string, exponent int) string {
	switch {
	case exponent > 15 || exponent < -7:
		head, tail := mantissa[:1], mantissa[1:]
		if tail != "" {
			tail = "." + tail
		}
		return head + tail + "e" + strconv.Itoa(exponent)
	case exponent < 0:
		return "0." + strings.Repeat("0", -exponent-1) + mantissa
	}
	if short := exponent + 1 - len(mantissa); short > 0 {
		mantissa += strings.Repeat("0", short)
	}
	whole, part := group(mantissa[:exponent+1]), mantissa[exponent+1:]
	if part == "" {
		return whole
	}
	return whole + "." + part
}

// group sets a thin space before every third digit from the right.
func group(whole string) string {
	var b strings.Builder
	for i := range len(whole) {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteString(groupSpace)
		}
		b.WriteByte(whole[i])
	}
	return b.String()
}
