// The number before a unit: decimal point or comma, grouped thousands,
// exponents. Digits are kept as text so that a prefix moves the decimal point
// exactly instead of adding a rounding of its own.

package quantity

import (
	"strconv"
	"strings"
)

// decimal is a number as written: sign and digits with a point, times 10^exponent.
type decimal struct {
	digits   string
	exponent int
}

// float gives the nearest float64 of the number times 10^power. Text beyond
// float64 gives an infinity, which the caller's bounds refuse.
func (n decimal) float(power int) float64 {
	value, _ := strconv.ParseFloat(n.digits+"e"+strconv.Itoa(n.exponent+power), 64)
	return value
}

// farOut is the problem of a number like 1e500.
const farOut = "the exponent is far out of range"

// cutNumber takes the number off the front of text. problem is empty when it worked.
func cutNumber(text string) (n decimal, rest, problem string) {
	sign := ""
	if strings.HasPrefix(text, "-") || strings.HasPrefix(text, "+") {
		sign, text = strings.TrimPrefix(text[:1], "+"), strings.TrimLeft(text[1:], " ")
	}
	end := 0
	for end < len(text) && (isDigit(text[end]) || text[end] == '.' || text[end] == ',' || spaceInside(text, end)) {
		end++
	}
	digits, problem := plain(text[:end])
	if problem != "" {
		return decimal{}, text, problem
	}
	n = decimal{digits: sign + digits}
	text = text[end:]
	n.exponent, end = cutExponent(text)
	if n.exponent > 400 || n.exponent < -400 {
		return decimal{}, text, farOut
	}
	return n, strings.TrimLeft(text[end:], " "), ""
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// spaceInside reports whether text[i] is a single space between two digits.
func spaceInside(text string, i int) bool {
	return text[i] == ' ' && i > 0 && i+1 < len(text) && isDigit(text[i-1]) && isDigit(text[i+1])
}

// cutExponent reads e-3 at the front of text and gives its length, 0 if there is none.
func cutExponent(text string) (exponent, length int) {
	if text == "" || (text[0] != 'e' && text[0] != 'E') {
		return 0, 0
	}
	end := 1
	if end < len(text) && (text[end] == '+' || text[end] == '-') {
		end++
	}
	first := end
	for end < len(text) && isDigit(text[end]) {
		end++
	}
	if end == first {
		return 0, 0
	}
	exponent, err := strconv.Atoi(text[1:end])
	if err != nil {
		exponent = 1000 // refused by the caller as out of range
	}
	return exponent, end
}

// plain turns a written number into digits with at most one decimal point.
func plain(written string) (digits, problem string) {
	if !strings.ContainsAny(written, "0123456789") {
		return "", "no number was found"
	}
	commas, points := strings.Count(written, ","), strings.Count(written, ".")
	mark, group := ".", ","
	if commas > 0 && strings.LastIndex(written, ",") > strings.LastIndex(written, ".") {
		mark, group = ",", "."
	}
	if commas+points > 1 && (commas == 0 || points == 0) { // 1,800,000: no decimal mark in it
		mark, group = "", mark
	}
	if commas == 1 && points == 0 && couldGroup(written) {
		return "", "it can be read as " + strings.Replace(written, ",", ".", 1) + " or as " +
			strings.Replace(written, ",", "", 1) + "; write one of these"
	}
	whole, part := written, ""
	if mark != "" {
		whole, part, _ = strings.Cut(written, mark)
	}
	if strings.ContainsAny(part, ",. ") {
		return "", "the digits do not make one number"
	}
	whole, ok := ungroup(whole, group)
	if !ok {
		return "", "the digits do not make one number"
	}
	return whole + "." + part, ""
}

// couldGroup reports whether the one comma in written may be meant as a thousands mark.
func couldGroup(written string) bool {
	whole, part, _ := strings.Cut(written, ",")
	return len(part) == 3 && len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0'
}

// ungroup takes the marks or spaces out of grouped thousands; false when the groups are not of three.
func ungroup(whole, mark string) (string, bool) {
	if strings.Contains(whole, " ") {
		mark = " "
	}
	groups := strings.Split(whole, mark)
	for i, g := range groups {
		if strings.ContainsAny(g, ",. ") || (i > 0 && len(g) != 3) || (len(groups) > 1 && i == 0 && (len(g) < 1 || len(g) > 3)) {
			return "", false
		}
	}
	return strings.Join(groups, ""), true
}
